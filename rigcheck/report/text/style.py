"""Colours of the words in a report on a terminal; the words themselves are always there."""

from __future__ import annotations

from collections.abc import Mapping

from rigcheck.report.safety_colours import RED, SIGNAL_COLOURS

__all__ = ["STYLES"]

STYLES: Mapping[str, str] = {
    "": "",
    **{word: f"bold {letters} on {ground}" for word, (ground, letters) in SIGNAL_COLOURS.items()},
    "hold": f"bold #ffffff on {RED}",
    "head": "bold",
    "stress": "bold",
    "quiet": "dim",
    "place": "cyan",
}
"""From a style word of `layout.Line` to a style of the terminal library."""
