"""Who says a fact, from what, on which day; and what several witnesses of one fact come to together.

A later sight replaces an earlier one, but one of every thing of a kind none of this very thing; anything replaces
what is presumed. Otherwise witnesses stand side by side. Words agree where they are the same; quantities
agree where their normalised error is at most 1 (E_n of ISO 13528, from memory; the tolerance that a figure declares
for its model counts into it). Where they agree, the better known one counts, and never an interval narrower than
both: two intervals that merely overlap prove nothing. Where they do not, the fact is one of several words, or
anything between the least and the greatest value.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, Literal, NamedTuple

from rigcheck.quantity.alternatives import OneOf
from rigcheck.quantity.interval import Interval
from rigcheck.quantity.notation import half_last_digit
from rigcheck.rig.thing import Thing
from rigcheck.text.place import Place

__all__ = ["Basis", "Witness", "as_stated", "heard", "settled"]

Basis = Literal["seen", "on record", "written", "presumed", "follows", "worked out"]
"""Looked at or measured; a register, certificate or tag; the description, with no day; a standard rig, and nobody
looked; a consequence of other facts; a figure."""


class Witness(NamedTuple):
    """One statement of a fact.

    `of`: whose fact it is, and under which name it is stated there (a stated mass stands beside the one that is
    worked out). `day` is a day number, None where none is known; `by` a role; `place` where it is written;
    `says` the sentence of a consequence, or the formula of a figure; `of_many`: said of every thing of a kind;
    `elsewhere`: of this one, at another rig.
    """

    value: Any
    basis: Basis
    of: tuple[Thing, str]
    day: int | None = None
    by: str = ""
    place: Place | None = None
    says: str = ""
    of_many: bool = False
    elsewhere: bool = False


def as_stated(thing: Thing, name: str) -> Witness:
    """Return the witness of a fact that the description states: seen where somebody says so."""
    value, seen = thing.facts[name], thing.last_seen
    if seen is not None:
        return Witness(value, "seen", (thing, name), seen.day, seen.by)
    return Witness(value, "presumed" if name in thing.presumed else "written", (thing, name))


def heard(witnesses: Iterable[Witness], *, passing: bool = False) -> list[Witness]:
    """Return the witnesses that count: the latest sight, and anything rather than a presumption.

    What was last seen of a thing itself stands beside what was said of every one later: who says that all are sound
    has not said that he looked at the one that was not.

    `passing`: the fact does not last, so that a sight of it counts rather than what was written without a day.
    """
    listed = list(witnesses)
    if any(one.basis != "presumed" for one in listed):
        listed = [one for one in listed if one.basis != "presumed"]
    days = [one.day for one in listed if one.basis == "seen" and one.day is not None]
    if days:
        own = [one.day for one in listed if one.basis == "seen" and one.day is not None and not one.of_many]
        listed = [
            one
            for one in listed
            if one.basis != "seen" or one.day == max(days) or (not one.of_many and one.day == max(own))
        ]
    if days and passing:
        listed = [one for one in listed if one.basis not in ("written", "on record")]
    return listed


def settled(witnesses: Iterable[Witness], tolerance: float = 0.0) -> tuple[Any, bool]:
    """Return what witnesses of one fact come to together, and whether they agree.

    `tolerance`: by how large a share of its value the model behind a worked-out quantity may be wrong.
    """
    listed = list(witnesses)
    value = listed[0].value
    agreed = True
    for other in listed[1:]:
        if type(value) is Interval and type(other.value) is Interval:
            value, agree = _quantities(value, other.value, tolerance)
            agreed = agreed and agree
        elif value != other.value:
            value, agreed = OneOf(tuple(dict.fromkeys((*_values(value), other.value)))), False
    return value, agreed


def _values(value: Any) -> tuple[Any, ...]:
    return value.values if isinstance(value, OneOf) else (value,)


def _quantities(one: Interval, other: Interval, tolerance: float) -> tuple[Interval, bool]:
    """Return the better known of two quantities that agree, or the hull of two that do not."""
    if one.open_ended or other.open_ended:  # a bound, "at least as old as its last test": it holds or it does not
        if one.hi < other.lo or other.hi < one.lo:
            return Interval(min(one.lo, other.lo), max(one.hi, other.hi), one.dimension), False
        return (other if one.open_ended else one), True
    spread = _half_width(one) ** 2 + _half_width(other) ** 2
    spread += (tolerance * max(abs(_middle(one)), abs(_middle(other)))) ** 2
    apart = abs(_middle(one) - _middle(other))
    if apart * apart <= spread:
        return (one if one.hi - one.lo <= other.hi - other.lo else other), True
    return Interval(min(one.lo, other.lo), max(one.hi, other.hi), one.dimension), False


def _middle(value: Interval) -> float:
    return (value.lo + value.hi) / 2.0


def _half_width(value: Interval) -> float:
    """Return how far a quantity may lie off its middle: as stated, or as far as its written digits go."""
    return max((value.hi - value.lo) / 2.0, half_last_digit(value))
