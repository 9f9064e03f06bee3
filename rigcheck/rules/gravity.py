"""Signal words: how grave what a rule finds is."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

__all__ = ["GRAVITY", "SIGNALS", "Signal", "reaches"]

Signal = Literal["danger", "warning", "caution", "notice"]
SIGNALS: tuple[Signal, ...] = ("danger", "warning", "caution", "notice")
"""Signal words, gravest first, as ANSI Z535.4 and ISO 3864-2 define them (from memory)."""
GRAVITY = {signal: len(SIGNALS) - number for number, signal in enumerate(SIGNALS)}


def reaches(least: Signal | None, signals: Iterable[Signal]) -> bool:
    """Return whether one of the words is `least` or graver; without a least one, none is."""
    return least is not None and any(GRAVITY[signal] >= GRAVITY[least] for signal in signals)
