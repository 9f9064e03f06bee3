"""Find where a function crosses zero, and where something that worked stops working."""

from __future__ import annotations

from collections.abc import Callable

__all__ = ["crossing", "last_true"]

_HALVINGS = 200


def crossing(function: Callable[[float], float], low: float, high: float) -> float | None:
    """Return where a continuous function changes sign between two places, or None where it does not.

    Bisection down to the last bit: slower than Newton's method, but it cannot leave the bracket.

    >>> crossing(lambda x: x * x - 4.0, 0.0, 5.0)
    2.0
    """
    at_low, at_high = function(low), function(high)
    if at_low == 0.0:
        return low
    if at_high == 0.0:
        return high
    if not at_low * at_high < 0.0:
        return None
    return _halved(function, low, high, at_low > 0.0)


def _halved(function: Callable[[float], float], low: float, high: float, low_is_above: bool) -> float:
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        if middle in (low, high):
            return middle
        value = function(middle)
        if value == 0.0:
            return middle
        if (value > 0.0) == low_is_above:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


def last_true(holds: Callable[[float], bool], true_end: float, false_end: float) -> float | None:
    """Return the last place, going from one end to the other, at which a statement still holds.

    None where it does not hold at the first end, or still holds at the other: the answer lies outside.
    The statement must change once at most between the ends.

    >>> round(last_true(lambda x: x * x <= 2.0, 0.0, 5.0), 6)
    1.414214
    """
    if not holds(true_end) or holds(false_end):
        return None
    for _ in range(_HALVINGS):
        middle = 0.5 * (true_end + false_end)
        if middle in (true_end, false_end):
            break
        true_end, false_end = (middle, false_end) if holds(middle) else (true_end, middle)
    return true_end
