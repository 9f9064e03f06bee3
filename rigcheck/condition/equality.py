"""Equality of values as JSON Schema means it (core 4.2.2), carried over to intervals."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rigcheck.quantity.interval import Interval, equal_to
from rigcheck.quantity.truth import FALSE, Truth, all_of, any_of, as_truth, negation

__all__ = ["among", "distinct", "same_value"]


def same_value(one: Any, other: Any) -> Truth:
    """Return whether two values are equal: `true` is not 1, 1 is 1.0, unknown if too close."""
    if isinstance(one, Interval) and isinstance(other, Interval):
        return equal_to(one, other)
    if isinstance(one, bool) or isinstance(other, bool):
        return as_truth(one is other)
    if isinstance(one, (list, tuple)) and isinstance(other, (list, tuple)):
        return _same_items(one, other)
    if isinstance(one, Mapping) and isinstance(other, Mapping):
        return _same_entries(one, other)
    return as_truth((type(one) is type(other) and one == other) or _same_number(one, other))


def among(value: Any, choices: tuple[Any, ...]) -> Truth:
    """Return whether a value equals one of the choices."""
    return any_of(same_value(value, choice) for choice in choices)


def distinct(items: Any) -> Truth:
    """Return whether no two items are equal."""
    pairs = ((one, items[j]) for i, one in enumerate(items) for j in range(i))
    return all_of(negation(same_value(one, other)) for one, other in pairs)


def _same_number(one: Any, other: Any) -> bool:
    numbers = (int, float)
    return isinstance(one, numbers) and isinstance(other, numbers) and one == other


def _same_items(one: Any, other: Any) -> Truth:
    if len(one) != len(other):
        return FALSE
    return all_of(same_value(a, b) for a, b in zip(one, other, strict=True))


def _same_entries(one: Mapping[str, Any], other: Mapping[str, Any]) -> Truth:
    if one.keys() != other.keys():
        return FALSE
    return all_of(same_value(one[key], other[key]) for key in one)
