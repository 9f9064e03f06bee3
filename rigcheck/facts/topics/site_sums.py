"""What a site and its buildings hold, summed over their stores and rigs, and the room that each welder has there."""

from __future__ import annotations

from typing import Any

from rigcheck.facts.figure import Figure, Look, Used, Way
from rigcheck.facts.topics.gathering import collected, joined, values_of
from rigcheck.facts.topics.store import may_hold
from rigcheck.physics.intervals import Span, added
from rigcheck.rig.thing import Thing

__all__ = ["FIGURES"]

_SORTS = {"fuel_held": "fuel", "lpg_held": "lpg", "oxygen_held": "oxygen"}


def _sum(gathered: tuple[Used, ...]) -> Span:
    return added(values_of(gathered, "x"))


def _allowed(each: Span, volume: Span, share: Span) -> Span:
    return each[0] * volume[0] / share[1], each[1] * volume[1] / share[0]


def _over(of_stores: str, *of_rigs: str) -> Any:
    """Return what gathers a fact of every store, and facts of every rig, that the thing leads to."""

    def gather(thing: Thing, look: Look) -> Any:
        sort = _SORTS.get(of_stores)
        stores = [store for store in thing.facts["stores"] if sort is None or may_hold(store, sort)]
        parts = [collected(stores, of_stores, look, "x")]
        return joined([*parts, *(collected(thing.facts["rigs"], fact, look, "x") for fact in of_rigs)])

    return gather


def _total(kind: str, name: str, symbol: str, of_stores: str, *of_rigs: str) -> Figure:
    way = Way(
        f"{symbol} = sum over stores and rigs",
        "arithmetic",
        _sum,
        gather=_over(of_stores, *of_rigs),
        validity="full and part-full cylinders each counted as full",
    )
    return Figure(kind, name, (way,))


def _all_welders(building: Thing, look: Look) -> Any:
    return collected(building.facts["rigs"], "welders", look, "x")


FIGURES: tuple[Figure, ...] = (
    _total("building", "fuel_stored", "V", "fuel_held", "fuel_spare"),
    _total("building", "lpg_stored", "m", "lpg_held", "lpg_spare"),
    _total("building", "lpg_kept", "m", "lpg_held", "lpg_spare", "lpg_connected"),
    _total("premises", "lpg_kept", "m", "lpg_held", "lpg_spare", "lpg_connected"),
    _total("premises", "oxygen_kept", "V", "oxygen_held", "oxygen_held"),
    _total("premises", "cylinders_kept", "n", "cylinders_held", "cylinders"),
    Figure("building", "welders", (Way("n = sum over rigs", "arithmetic", _sum, gather=_all_welders),)),
    Figure(
        "building",
        "lpg_allowed",
        (
            Way(
                "m = mass for each share of the building x volume / share",
                "arithmetic",
                _allowed,
                inputs={"each": "limit:lpg_mass_each", "volume": "volume", "share": "limit:lpg_room_each"},
            ),
        ),
    ),
)
"""The figures of this topic."""
