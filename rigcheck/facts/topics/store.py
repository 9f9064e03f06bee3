"""What a store holds, counted from its cylinders where nobody added it up."""

from __future__ import annotations

from typing import Any

from rigcheck.facts.figure import Figure, Look, Used, Way
from rigcheck.facts.topics.gathering import collected, joined, values_of
from rigcheck.physics.intervals import Span, added
from rigcheck.rig.thing import Thing

__all__ = ["FIGURES", "may_hold"]


_LIQUEFIED = frozenset(("propane", "butane", "propylene", "methylacetylene-mix"))
_NO_FUEL = frozenset(("oxygen", "air", "nitrogen", "carbon-dioxide", "argon", "other"))


_OF_SORT = {
    "fuel": ("fuel_volume", "fuel_cylinders"),
    "lpg": ("lpg_mass", "lpg_cylinders"),
    "oxygen": ("oxygen_volume", "oxygen_cylinders"),
}


def may_hold(store: Thing, sort: str) -> bool:
    """Whether a store may hold a sort of gas, `fuel`, `lpg` or `oxygen`.

    One whose gases nobody stated may, and one of which an amount is stated, whatever is said of its gases.
    """
    gases = frozenset(store.facts.get("gases") or ())
    of_sort = {"fuel": gases - _LIQUEFIED - _NO_FUEL, "lpg": gases & _LIQUEFIED, "oxygen": gases & {"oxygen"}}
    return not gases or bool(of_sort[sort]) or any(fact in store.places for fact in _OF_SORT[sort])


def _counts(store: Thing, look: Look) -> Any:
    sorts = [sort for sort in ("fuel", "lpg", "oxygen") if may_hold(store, sort)]
    return joined(collected([store], f"{sort}_cylinders", look, "n") for sort in sorts)


def _counted(gathered: tuple[Used, ...]) -> Span:
    return added(values_of(gathered, "n"))


FIGURES: tuple[Figure, ...] = (
    Figure(
        "store",
        "cylinders_held",
        (Way("n = sum of the cylinders of each sort", "arithmetic", _counted, gather=_counts),),
    ),
)
"""The figures of this topic."""
