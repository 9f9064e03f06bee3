"""Carry intervals through a figure by its end points.

A figure that never turns back in an argument takes its least and greatest value at that argument's ends.
Each module of figures declares this for its own functions in two constants, each a mapping from
a function's name to names of its arguments:

    RISES_WITH = {"torch_oxygen": ("fuel_flow",)}
    FALLS_WITH = {"endurance": ("flow",)}

An argument in neither is passed on as it is, so it may be a word but no interval.
A name with a dot is a number in an argument that is a value of several: `hose.bore`; `by_end_points` takes none.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping

__all__ = ["Span", "by_end_points", "directions_of", "give_or_take"]

Span = tuple[float, float]
"""Least and greatest value, in that order."""


def by_end_points(
    function: Callable[..., float | None],
    rising: tuple[str, ...] = (),
    falling: tuple[str, ...] = (),
) -> Callable[..., Span | None]:
    """Return `function` made ready for intervals.

    The returned function takes keyword arguments: (lo, hi) for those in `rising` and `falling`, anything else as is.
    It returns (lo, hi), or None where either end is outside the figure's validity.

    >>> by_end_points(lambda *, flow, time: flow * time, rising=("flow", "time"))(flow=(1.0, 2.0), time=(10.0, 11.0))
    (10.0, 22.0)
    """

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


def directions_of(function: Callable[..., float | None]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return the arguments that a figure rises with, and those that it falls with, as its module declares them.

    Raises KeyError where the module declares nothing for it: then no interval may be carried through it.
    """
    module = vars(sys.modules[function.__module__])
    name = function.__name__
    declared: tuple[Mapping[str, tuple[str, ...]], ...] = module["RISES_WITH"], module["FALLS_WITH"]
    if not any(name in mapping for mapping in declared):
        raise KeyError(name)
    return declared[0].get(name, ()), declared[1].get(name, ())


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
