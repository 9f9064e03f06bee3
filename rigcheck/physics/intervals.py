"""Intervals of numbers: what they come to together, and how a figure carries them.

A figure that never turns back in an argument takes its least and greatest value at that argument's ends. Beside
each function stands in which arguments that is so:

    @monotone(rises=("usable",), falls=("flow",))
    def endurance(*, usable: float, flow: float) -> float | None: ...

    carried(endurance)(usable=(8.0, 12.0), flow=(2.0, 4.0))

An argument in neither is passed on as it is, so it may be a word but no interval.
A name with a dot is a number in an argument that is a value of several: `hose.bore`; `carried` takes none.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import cache
from typing import NamedTuple, TypeVar

__all__ = [
    "Directions",
    "Span",
    "added",
    "carried",
    "directions_of",
    "divided",
    "give_or_take",
    "hull",
    "monotone",
    "multiplied",
]

Span = tuple[float, float]
"""Least and greatest value, in that order."""


class Directions(NamedTuple):
    """The arguments that a function rises with, and those that it falls with."""

    rises: tuple[str, ...]
    falls: tuple[str, ...]


_Figure = TypeVar("_Figure", bound=Callable[..., object])


def monotone(*, rises: tuple[str, ...] = (), falls: tuple[str, ...] = ()) -> Callable[[_Figure], _Figure]:
    """Say of a function in which of its arguments it never turns back."""

    def said(function: _Figure) -> _Figure:
        function.__dict__["directions"] = Directions(rises, falls)
        return function

    return said


def directions_of(function: Callable[..., object]) -> Directions:
    """Return the arguments that a figure rises with, and those that it falls with.

    Raises KeyError where nothing is said of it: then no interval may be carried through it.
    """
    found = function.__dict__.get("directions")
    if not isinstance(found, Directions):
        raise KeyError(function.__name__)
    return found


@cache
def carried(function: Callable[..., float | None]) -> Callable[..., Span | None]:
    """Return `function` made ready for intervals.

    The returned function takes keyword arguments: (lo, hi) for those in which it rises or falls, anything else as is.
    It returns (lo, hi), or None where either end is outside the figure's validity.
    Raises KeyError where nothing is said of its directions.
    """
    rising, falling = (tuple(name for name in way if "." not in name) for way in directions_of(function))

    def spread(**arguments: object) -> Span | None:
        least = function(**_ends(arguments, low=rising, high=falling))
        greatest = function(**_ends(arguments, low=falling, high=rising))
        return None if least is None or greatest is None else (least, greatest)

    return spread


def _ends(arguments: Mapping[str, object], low: tuple[str, ...], high: tuple[str, ...]) -> dict[str, object]:
    chosen = dict(arguments)
    for place, names in ((0, low), (1, high)):
        for name in names:
            pair = arguments[name]
            chosen[name] = pair[place] if isinstance(pair, tuple) else pair
    return chosen


def added(spans: Iterable[Span]) -> Span:
    """Return the sum of values, least with least and greatest with greatest."""
    listed = list(spans)
    return sum(lo for lo, _ in listed), sum(hi for _, hi in listed)


def multiplied(one: Span, other: Span) -> Span:
    """Return the product of two values that are not below zero."""
    return one[0] * other[0], one[1] * other[1]


def divided(upper: Span, lower: Span) -> Span | None:
    """Return the quotient of two values that are not below zero; None where the divisor may be zero."""
    return (upper[0] / lower[1], upper[1] / lower[0]) if lower[0] > 0.0 else None


def hull(spans: Iterable[Span]) -> Span:
    """Return the least and greatest of several values."""
    listed = list(spans)
    return min(lo for lo, _ in listed), max(hi for _, hi in listed)


def give_or_take(value: float | None, share: float) -> Span | None:
    """Return the interval of a value that is good to within a share of itself, as `ROUGHNESS` of a module says.

    `share`: no unit, from 0.

    >>> give_or_take(10.0, 0.2)
    (8.0, 12.0)
    """
    if value is None:
        return None
    margin = abs(value) * share
    return value - margin, value + margin
