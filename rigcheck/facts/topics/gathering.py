"""Inputs gathered for a figure: one fact of several things, what is stated as it is, the cylinders that feed a line."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

from rigcheck.facts.figure import Look, Used, Wants, Way
from rigcheck.physics.contents import BASE_STATES
from rigcheck.physics.intervals import Span
from rigcheck.quantity.interval import Interval
from rigcheck.rig.thing import MISSING, Thing

__all__ = [
    "ATMOSPHERE",
    "BASE",
    "absolute",
    "as_stated",
    "collected",
    "cylinders_of",
    "joined",
    "of_cylinders",
    "one_answer",
    "values_of",
]

ATMOSPHERE = 101_325.0
"""Pa; stands for the air around the rig, as gauges read from it."""

BASE = BASE_STATES["15 degC, 1.01325 bar"]
"""The base state of every volume and flow that is worked out."""


_ALWAYS: Mapping[str, tuple[Any, ...]] = {}


def absolute(gauge: Span) -> Span:
    """Return gauge pressures as absolute ones, Pa."""
    return gauge[0] + ATMOSPHERE, gauge[1] + ATMOSPHERE


def one_answer(answers: Iterable[bool | None]) -> bool | None:
    """Return what all answers agree on; None where they differ or one is unknown."""
    found = set(answers)
    return found.pop() if len(found) == 1 else None


def as_stated(
    fact: str, *, asks: bool = False, only: Mapping[str, tuple[Any, ...]] = _ALWAYS, alone: bool = False
) -> Way:
    """Return the way that takes a stated fact of the thing, or of one that it leads to, as it is.

    `alone`: what else the figure is worked out from is no knowledge of this very thing (the air around a
    cylinder, the rows of some table), so that it is no witness against what was measured.
    """
    return Way(
        "as stated", "stated", lambda stated: stated, inputs={"stated": fact}, only=only, asks=asks, stated=not alone
    )


def collected(things: Sequence[Thing], fact: str, look: Look, name: str) -> tuple[Used, ...] | Wants:
    """Return one fact of several things as inputs, or what is wanted for those that lack it."""
    found = [(thing, look.fact(thing, fact)) for thing in things]
    wanted = [one for thing, value in found if value is MISSING for one in look.wants(thing, fact)]
    if wanted:
        return Wants(dict.fromkeys(wanted))
    return tuple(Used(name, thing, fact, value) for thing, value in found)


def joined(parts: Iterable[tuple[Used, ...] | Wants]) -> tuple[Used, ...] | Wants:
    """Return the inputs of several gatherings as one, or all that is wanted for those that lack some."""
    listed = list(parts)
    wanted = [one for part in listed if isinstance(part, Wants) for one in part]
    if wanted:
        return Wants(dict.fromkeys(wanted))
    return tuple(used for part in listed if not isinstance(part, Wants) for used in part)


def values_of(gathered: Iterable[Used], name: str) -> list[Span]:
    """Return the intervals of the gathered inputs called `name`."""
    return [(u.value.lo, u.value.hi) for u in gathered if u.name == name and type(u.value) is Interval]


def cylinders_of(line: Thing) -> list[Thing]:
    """Return the cylinders that feed a line: those in it that are neither empty nor out of use."""
    parts: Iterable[Thing] = line.facts.get("parts", ())
    return [part for part in parts if "cylinder" in part.kind.lineage and _feeds(part)]


def _feeds(cylinder: Thing) -> bool:
    return cylinder.facts.get("empty") is not True and cylinder.facts.get("in_use") is not False


Gatherer = Callable[[Thing, Look], Any]


def of_cylinders(fact: str, name: str) -> Gatherer:
    """Return what gathers a fact of every cylinder that feeds a line; the way does not apply without cylinders."""

    def gather(line: Thing, look: Look) -> Any:
        cylinders = cylinders_of(line)
        return collected(cylinders, fact, look, name) if cylinders else None

    return gather
