"""Patterns as ECMA-262 means them, which is what JSON Schema asks for, made for Python."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

__all__ = ["EcmaPattern", "ecma_pattern"]

_LONGEST = 400  # a text of a rig is no longer
_REFUSED = re.compile(r"\\[pPkAZzBGu]|\(\?(?![:=!]|<[=!])|[*+?}]\+|(?<!\\)\[\^?\]")
_PIECE = re.compile(r"\\.|\[(?:\\.|[^\]\\])*\]|[$.]", re.DOTALL)
# White space and line ends of ECMA-262 (12.2, 12.3); Python's own \s differs either way.
_BLANKS = r"\t\n\v\f\r \u00a0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000\ufeff"
_IN_PYTHON = {
    "$": r"\Z",
    ".": r"[^\n\r\u2028\u2029]",
    r"\s": f"[{_BLANKS}]",
    r"\S": f"[^{_BLANKS}]",
}


@dataclass(frozen=True, slots=True)
class EcmaPattern:
    """A pattern as it was written, and the search for it."""

    pattern: str
    search: Callable[[str], object]


def ecma_pattern(text: str) -> EcmaPattern:
    """Return an ECMA-262 pattern. Raises ValueError where Python cannot search for the same."""
    if len(text) > _LONGEST:
        raise ValueError(f"it has more than {_LONGEST} characters")
    refused = _REFUSED.search(text)
    if refused:
        raise ValueError(f"{refused[0]!r} is not read here")
    try:
        return EcmaPattern(text, re.compile(_PIECE.sub(_in_python, text), re.ASCII).search)
    except (re.error, OverflowError, RecursionError) as error:
        raise ValueError(str(error)) from None


def _in_python(piece: re.Match[str]) -> str:
    if not piece[0].startswith("["):
        return _IN_PYTHON.get(piece[0], piece[0])
    if re.search(r"(?<!\\)(?:\\\\)*\\S", piece[0]):
        raise ValueError(r"'\S' between brackets is not read here")
    return re.sub(r"\\.", lambda escape: _BLANKS if escape[0] == r"\s" else escape[0], piece[0])
