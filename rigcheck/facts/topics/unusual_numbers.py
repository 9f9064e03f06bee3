"""Whether a stated number lies where such numbers mostly lie."""

from __future__ import annotations

from typing import Any

from rigcheck.facts.figure import Figure, Look, Used, Way
from rigcheck.quantity.interval import Interval
from rigcheck.rig.thing import Thing

__all__ = ["FIGURES"]


def _number_of(thing: Thing, look: Look) -> Any:
    """Gather the number, and the ends between which the vocabulary says that it mostly lies."""
    owner, name = thing.parent, thing.key.replace(" ", "_")
    fact = owner.kind.facts.get(name) if owner is not None else None
    value = owner.facts.get(name) if owner is not None else None
    if fact is None or fact.range is None or fact.range.usual is None or not isinstance(value, Interval):
        return None
    least, greatest = fact.range.usual
    return (
        Used("x", owner, name, value),
        Used("least", None, "least usual value", least),
        Used("greatest", None, "greatest usual value", greatest),
    )


def _is_usual(gathered: tuple[Used, ...]) -> bool:
    """Return whether both ends of the number lie between the usual ones."""
    value, least, greatest = (used.value for used in gathered)
    return bool(least.lo <= value.lo and value.hi <= greatest.hi)


FIGURES: tuple[Figure, ...] = (
    Figure(
        "unusual number",
        "usual",
        (Way("least <= x <= greatest", "common practice", _is_usual, gather=_number_of),),
    ),
)
"""The figures of this topic."""
