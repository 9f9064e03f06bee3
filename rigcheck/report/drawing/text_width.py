"""How wide a row of words comes out, and rows that fit a width: so that no two labels can overlap.

The widths are those of the Helvetica metrics (from memory), with a share on top, because other faces run wider.
"""

from __future__ import annotations

from unicodedata import combining, east_asian_width

from rigcheck.report.drawing.svg import plain

__all__ = ["FACE", "fitted_rows", "text_width"]

FACE = "Helvetica, Arial, 'Liberation Sans', sans-serif"
"""The faces that are asked for; all have the same widths, and what stands in for them is reckoned with."""

_THOUSANDTHS = {
    " ,.:;/!ft": 278,
    "()-“”r": 333,
    "ijl'|": 222,
    "ckvxyzsJ": 500,
    "mM%&@—": 889,
    "w": 722,
    "FLTZ": 611,
    "ABEKPSVXY": 667,
    "CDHNRU": 722,
    "GOQ": 778,
    "W": 944,
    "±+=<>~×÷": 584,
}
_WIDTHS = {letter: width / 1000 for letters, width in _THOUSANDTHS.items() for letter in letters}
_OTHERS, _WIDE = 0.6, 1.1  # in parts of the size: letters that are not listed, and full-width ones
_SPARE, _BOLD = 1.15, 1.16
_ELLIPSIS = "…"


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """Return the width of one row, in units of the drawing; no less than it comes out in a usual face."""
    total = sum(map(_letter_width, text))
    return total * size * _SPARE * (_BOLD if bold else 1.0)


def _letter_width(letter: str) -> float:
    if letter in _WIDTHS:
        return _WIDTHS[letter]
    if letter.isascii():
        return 0.56 if letter.isalnum() else _OTHERS
    if combining(letter):
        return 0.0
    return _WIDE if east_asian_width(letter) in "WF" or ord(letter) > 0x2FFF else 0.8


def fitted_rows(text: str, width: float, size: float, *, bold: bool = False, most: int = 0) -> list[str]:
    """Return rows that are no wider than `width`; words too long for one are broken.

    `most`: how many rows at the most, the last then ends in an ellipsis; 0 for as many as it takes.
    """
    rows: list[str] = []
    for word in plain(text).split(" "):
        joined = f"{rows[-1]} {word}" if rows else word
        if rows and text_width(joined, size, bold=bold) <= width:
            rows[-1] = joined
        else:
            rows += _broken(word, width, size, bold)
    if not most or len(rows) <= most:
        return rows
    return [*rows[: most - 1], _shortened(rows[most - 1], width, size, bold)]


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
