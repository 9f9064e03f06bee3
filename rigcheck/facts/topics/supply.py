"""What the supply of a line and a manifold holds, all cylinders taken together, and what must stay in them."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from rigcheck.facts.figure import Figure, Look, Used, Way
from rigcheck.facts.topics.gathering import as_stated, collected, of_cylinders
from rigcheck.physics.intervals import Span, added
from rigcheck.rig.thing import Thing

__all__ = ["FIGURES"]


_ROUNDED = (0.05, "contents are read off a chart for 15 degC, and rounded")


def _sum(gathered: tuple[Used, ...]) -> Span:
    return added([(one.value.lo, one.value.hi) for one in gathered])


def _no_more_than(stated: Span, gathered: tuple[Used, ...]) -> Span:
    """Return a sum that is held under what is stated: no more can be drawn than there is."""
    low, high = _sum(gathered)
    return min(low, stated[0]), min(high, stated[1])


_SUPPLY = Figure(
    "line",
    "content",
    (
        as_stated("supply_content"),
        Way("V = sum of the cylinders' contents", "arithmetic", _sum, gather=of_cylinders("content", "V")),
    ),
    *_ROUNDED,
)

_USABLE_SUPPLY = Figure(
    "line",
    "usable_content",
    (
        Way(
            "V = the lesser of what is stated to be in the cylinders and the sum of what can be drawn from them",
            "arithmetic",
            _no_more_than,
            inputs={"stated": "supply_content"},
            gather=of_cylinders("usable_content", "V"),
            validity="cylinders coupled at one pressure",
            asks=False,
        ),
        Way(
            "V = sum of what can be drawn from the cylinders",
            "arithmetic",
            _sum,
            gather=of_cylinders("usable_content", "V"),
            validity="cylinders coupled at one pressure",
        ),
    ),
)


def _coupled(fact: str, name: str) -> Callable[[Thing, Look], Any]:
    """Return what gathers a fact of every cylinder coupled to a manifold, empty ones too: they come back full."""

    def gather(manifold: Thing, look: Look) -> Any:
        parts = manifold.facts["line"].facts.get("parts", ())
        cylinders = [part for part in parts if "cylinder" in part.kind.lineage]
        return collected(cylinders, fact, look, name) if cylinders else None

    return gather


def _held(name: str, stated: str, fact: str, formula: str) -> Figure:
    total = Way(formula, "arithmetic", _sum, gather=_coupled(fact, formula[0]), asks=False)
    return Figure("manifold", name, (as_stated(stated, asks=True), total), *_ROUNDED)


FIGURES: tuple[Figure, ...] = (
    _SUPPLY,
    _USABLE_SUPPLY,
    _held("full_content", "capacity", "full_content", "V = sum of the full cylinders' contents"),
    _held("full_mass", "capacity_mass", "full_contents_mass", "m = sum of the full cylinders' masses"),
)
"""The figures of this topic."""
