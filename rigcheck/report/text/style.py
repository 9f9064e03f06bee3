"""Colours of the words in a report.

Signal words have the colours of ANSI Z535.4 (red, orange, yellow, blue); the words themselves
are always there, so nothing is lost without colour.
"""

from __future__ import annotations

from collections.abc import Mapping

__all__ = ["STYLES"]

STYLES: Mapping[str, str] = {
    "": "",
    "danger": "bold white on #b00020",
    "warning": "bold black on #ff8c00",
    "caution": "bold black on #ffd400",
    "notice": "bold white on #1f5fbf",
    "hold": "bold #ff5040",
    "head": "bold",
    "stress": "bold",
    "quiet": "dim",
    "place": "cyan",
}
"""From a style word of `layout.Line` to a style of the terminal library."""
