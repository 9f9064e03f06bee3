"""How wide letters come out, measured: the table beside this module says from which face and how.

Arial, Helvetica and Liberation Sans have the same widths. Where none of them is at hand, a row is given its measured
length (`textLength` of SVG), so that another face is set closer and no row runs into its neighbour.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from unicodedata import combining, east_asian_width

__all__ = ["ASCENT", "DESCENT", "FACE", "all_measured", "text_width"]

FACE = "Helvetica, Arial, 'Liberation Sans', sans-serif"
"""The faces that are asked for."""
ASCENT, DESCENT = 0.905, 0.212
"""How far letters reach above and below their line, in parts of their size (table hhea of the measured face)."""

_OTHERS, _WIDE = 0.9, 1.1  # in parts of the size: letters that were not measured, and full-width ones


@cache
def _widths(*, bold: bool) -> Mapping[str, float]:
    table = json.loads(Path(__file__).with_suffix(".json").read_text(encoding="utf-8"))
    groups = table["bold" if bold else "regular"].items()
    return {letter: int(width) / 1000 for width, letters in groups for letter in letters}


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """Return the width of one row, in units of the drawing."""
    known = _widths(bold=bold)
    return sum(known[letter] if letter in known else _unmeasured(letter) for letter in text) * size


def all_measured(text: str, *, bold: bool = False) -> bool:
    """Return whether every letter was measured: only then a row may be given its length."""
    return _widths(bold=bold).keys() >= set(text)


def _unmeasured(letter: str) -> float:
    if combining(letter):
        return 0.0
    return _WIDE if east_asian_width(letter) in "WF" or ord(letter) > 0x2FFF else _OTHERS
