"""True, false and unknown: the strong logic of Kleene (1952, §64).

A `Truth` has no `bool`: `if verdict:` would let what is unknown pass or fail by accident.
"""

from __future__ import annotations

from collections.abc import Iterable
from enum import Enum
from typing import Final, NoReturn

__all__ = ["FALSE", "TRUE", "UNKNOWN", "Truth", "all_of", "any_of", "as_truth", "negation"]


class Truth(Enum):
    """One of three values of a condition."""

    TRUE = "true"
    FALSE = "false"
    UNKNOWN = "unknown"

    def __bool__(self) -> NoReturn:
        raise TypeError("a Truth is one of three values; compare it with `is`")


TRUE: Final = Truth.TRUE
FALSE: Final = Truth.FALSE
UNKNOWN: Final = Truth.UNKNOWN


def as_truth(known: bool) -> Truth:
    """Return the truth of something that is known."""
    return TRUE if known else FALSE


def negation(truth: Truth) -> Truth:
    """Return not-`truth`; unknown stays unknown."""
    if truth is TRUE:
        return FALSE
    return TRUE if truth is FALSE else UNKNOWN


def all_of(truths: Iterable[Truth]) -> Truth:
    """Return the conjunction: false if one is false, else unknown if one is unknown."""
    result = TRUE
    for truth in truths:
        if truth is FALSE:
            return FALSE
        if truth is UNKNOWN:
            result = UNKNOWN
    return result


def any_of(truths: Iterable[Truth]) -> Truth:
    """Return the disjunction: true if one is true, else unknown if one is unknown."""
    result = FALSE
    for truth in truths:
        if truth is TRUE:
            return TRUE
        if truth is UNKNOWN:
            result = UNKNOWN
    return result
