"""Signal words: how grave what a rule finds is."""

from __future__ import annotations

from typing import Literal

__all__ = ["GRAVITY", "SIGNALS", "Signal"]

Signal = Literal["danger", "warning", "caution", "notice"]
SIGNALS: tuple[Signal, ...] = ("danger", "warning", "caution", "notice")
"""Signal words, gravest first, as ANSI Z535.4 and ISO 3864-2 define them (from memory)."""
GRAVITY = {signal: len(SIGNALS) - number for number, signal in enumerate(SIGNALS)}
