"""Rows of words that fit a width, so that no two labels can overlap; no word is torn while it can be made to fit."""

from __future__ import annotations

import re
from collections.abc import Iterator
from xml.etree.ElementTree import Element

from rigcheck.report.drawing.letter_widths import text_width
from rigcheck.report.drawing.svg import Point, plain, words

__all__ = ["fitted_rows", "paragraph"]

_BETWEEN = re.compile(r"(?<!\d)(?<!finding) | (?![A-Za-z%°\d])")
"""Blanks at which a row may end: not between a number and its unit, nor in 'finding 8'."""
_ELLIPSIS = "…"


def fitted_rows(text: str, width: float, size: float, *, bold: bool = False, most: int = 0) -> list[str]:
    """Return rows that are no wider than `width`; words too long for one are broken.

    `most`: how many rows at the most, the last then ends in an ellipsis; 0 for as many as it takes.
    """
    rows: list[str] = []
    for word in _words(plain(text), width, size, bold):
        joined = f"{rows[-1]} {word}" if rows else word
        if rows and text_width(joined, size, bold=bold) <= width:
            rows[-1] = joined
        else:
            rows += _broken(word, width, size, bold)
    if not most or len(rows) <= most:
        return rows
    return [*rows[: most - 1], _shortened(rows[most - 1], width, size, bold)]


def _words(text: str, width: float, size: float, bold: bool) -> Iterator[str]:
    """Yield words, a number with its unit as one, as long as both have room in a row."""
    for word in _BETWEEN.split(text):
        yield from [word] if text_width(word, size, bold=bold) <= width else word.split(" ")


def _broken(word: str, width: float, size: float, bold: bool) -> list[str]:
    pieces = [""]
    for letter in word:
        if pieces[-1] and text_width(pieces[-1] + letter, size, bold=bold) > width:
            pieces.append("")
        pieces[-1] += letter
    return pieces


def _shortened(row: str, width: float, size: float, bold: bool) -> str:
    while row and text_width(row + _ELLIPSIS, size, bold=bold) > width:
        row = row[:-1]
    return row + _ELLIPSIS


def paragraph(
    at: Point, text: str, width: float, *, size: float = 12, bold: bool = False
) -> tuple[list[Element], float]:
    """Return rows of words from `at` down, no wider than `width`, and the height that they take."""
    step = size * 1.3
    rows = fitted_rows(text, width, size, bold=bold)
    made = [words((at[0], at[1] + (n + 0.8) * step), row, size=size, bold=bold) for n, row in enumerate(rows)]
    return made, step * len(rows)
