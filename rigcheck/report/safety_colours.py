"""Colours: those of the signal words by published safety colours, the others by name of an open standard.

Red, orange, yellow, green and blue are the central colours of 49 CFR part 172, appendix A, table 1 (labels and
placards), turned into sRGB: red as published there (Munsell 7.5R 4/14), the others from memory (5YR 6/15, 5Y 8/12,
7.5G 4/9, 2.5PB 3.5/10). ANSI Z535.1 has the same Munsell notations (from memory). Other names are those of CSS
Color Level 4 (W3C). The word is always there too, so nothing is lost without colour.
"""

from __future__ import annotations

from collections.abc import Mapping

from rigcheck.rules.gravity import Signal

__all__ = ["BLUE", "GREEN", "ORANGE", "PAINTS", "RED", "SIGNAL_COLOURS", "YELLOW"]

RED, ORANGE, YELLOW, GREEN, BLUE = "#bc2221", "#e57800", "#ecc800", "#007453", "#005a98"
_WHITE, _BLACK = "#ffffff", "#000000"

SIGNAL_COLOURS: Mapping[Signal, tuple[str, str]] = {
    "danger": (RED, _WHITE),
    "warning": (ORANGE, _BLACK),
    "caution": (YELLOW, _BLACK),
    "notice": (BLUE, _WHITE),
}
"""Ground and letters of each signal word, as ANSI Z535.4 pairs them (from memory)."""

PAINTS: Mapping[str, str] = {
    "red": RED,
    "orange": ORANGE,
    "yellow": YELLOW,
    "green": GREEN,
    "blue": BLUE,
    "red-orange": "#ff4500",  # orangered
    "maroon": "#800000",
    "brown": "#8b4513",  # saddlebrown
    "grey": "#808080",
    "silver": "#c0c0c0",
    "white": _WHITE,
    "black": _BLACK,
}
"""What the colours that are stated of hoses and cylinder shoulders are drawn with."""
