"""A fact of which statements disagree: one of several values, and nobody knows which."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from rigcheck.quantity.truth import UNKNOWN, Truth

__all__ = ["OneOf", "truth_of_each"]


class OneOf:
    """Values (words, yes or no, several words) that different statements give one fact; at least two."""

    __slots__ = ("values",)

    def __init__(self, values: tuple[Any, ...]) -> None:
        self.values = values

    def __repr__(self) -> str:
        return f"OneOf{self.values!r}"

    def __eq__(self, other: object) -> bool:
        return self.values == other.values if isinstance(other, OneOf) else NotImplemented

    def __hash__(self) -> int:
        return hash(self.values)


def truth_of_each(found: OneOf, check: Callable[[Any], Truth]) -> Truth:
    """Return what a check comes to whichever of the values is true; unknown where that makes a difference."""
    truths = {check(value) for value in found.values}
    return truths.pop() if len(truths) == 1 else UNKNOWN
