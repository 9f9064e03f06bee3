"""A text as YAML reads it back, in quotes where it would be read as something else."""

from __future__ import annotations

import json
import re

__all__ = ["scalar_text"]

_PLAIN = re.compile(r"[A-Za-z0-9][A-Za-z0-9 ./%°±-]*")
_READ_OTHERWISE = frozenset({"true", "false", "yes", "no", "null", "on", "off"})


def scalar_text(text: str) -> str:
    """Return a text as it is written inside a list or a mapping on one line."""
    plain = _PLAIN.fullmatch(text) and text.casefold() not in _READ_OTHERWISE and not text.endswith(" ")
    return text if plain else json.dumps(text, ensure_ascii=False)
