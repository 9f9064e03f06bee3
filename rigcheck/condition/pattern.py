"""Patterns as ECMA-262 means them, which is what JSON Schema asks for, searched for in time that grows with the text.

An engine that tries one way after another can take longer than anybody waits: `^(a+)+$` needs a year for forty
letters. RE2 (automata, after Thompson) does not, and refuses the few patterns that it could not bound.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cached_property

from msgspec import Struct

__all__ = ["EcmaPattern", "ecma_pattern"]

_LONGEST = 400  # a text of a rig is no longer
_REFUSED = re.compile(r"\\[pPkAZzBGuCQE]|\(\?(?!:)|[*+?}]\+|(?<!\\)\[\^?\]|\[\[:")
_PIECE = re.compile(r"\\x[0-9A-Fa-f]{2}|\\.|\[(?:\\.|[^\]\\])*\]|[$.]", re.DOTALL)
# White space and line ends of ECMA-262 (12.2, 12.3); the engine's own \s differs.
_BLANKS = r"\t\n\v\f\r \x{00a0}\x{1680}\x{2000}-\x{200a}\x{2028}\x{2029}\x{202f}\x{205f}\x{3000}\x{feff}"
_IN_ENGINE = {
    "$": r"\z",
    ".": r"[^\n\r\x{2028}\x{2029}]",
    r"\s": f"[{_BLANKS}]",
    r"\S": f"[^{_BLANKS}]",
}


class EcmaPattern(Struct, frozen=True, dict=True, tag="pattern"):
    """A pattern as it was written, and the search for it."""

    pattern: str

    @cached_property
    def search(self) -> Callable[[str], object]:
        """The search, made when it is first asked for: few rules have a pattern, and the engine is slow to load."""
        import re2

        options = re2.Options()
        options.log_errors = False
        search: Callable[[str], object] = re2.compile(_PIECE.sub(_in_engine, self.pattern), options).search
        return search


def ecma_pattern(text: str) -> EcmaPattern:
    """Return an ECMA-262 pattern. Raises ValueError where the same cannot be searched for in bounded time."""
    if len(text) > _LONGEST:
        raise ValueError(f"it has more than {_LONGEST} characters")
    refused = _REFUSED.search(text)
    if refused:
        raise ValueError(f"{refused[0]!r} is not read here")
    import re2

    made = EcmaPattern(text)
    try:
        made.search("")
    except re2.error as error:
        told = error.args[0] if error.args else ""
        raise ValueError(told.decode("utf-8", "replace") if isinstance(told, bytes) else str(told)) from None
    return made


def _in_engine(piece: re.Match[str]) -> str:
    if not piece[0].startswith("["):
        return _IN_ENGINE.get(piece[0], piece[0])
    if re.search(r"(?<!\\)(?:\\\\)*\\S", piece[0]):
        raise ValueError(r"'\S' between brackets is not read here")
    return re.sub(r"\\.", lambda escape: _BLANKS if escape[0] == r"\s" else escape[0], piece[0])
