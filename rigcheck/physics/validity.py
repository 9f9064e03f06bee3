"""Where a figure holds: outside its ranges a figure is unknown (None), never extrapolated."""

from __future__ import annotations

from math import isfinite

__all__ = ["above_zero", "from_zero", "within"]


def within(value: float, low: float, high: float) -> bool:
    """Return whether a value lies from `low` to `high`, both included; not-a-number does not."""
    return low <= value <= high


def above_zero(*values: float) -> bool:
    """Return whether every value is finite and above zero."""
    return all(isfinite(value) and value > 0.0 for value in values)


def from_zero(*values: float) -> bool:
    """Return whether every value is finite and not below zero."""
    return all(isfinite(value) and value >= 0.0 for value in values)
