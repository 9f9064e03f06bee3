"""Where a rig departs from its standard rig though that does not let it, for standard rigs that say `may_differ`.

Each such place becomes a thing, so that a rule can look at it. What is told anew of each rig (pressures set, days,
who looked) is the rig's own and no departure; a fact that only one of the two states is none either.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from rigcheck.rig.matching import Pair, match_rigs, same_as_stated, stated_facts
from rigcheck.rig.thing import Rig, Thing

__all__ = ["Departure", "departures_of"]


class Departure(NamedTuple):
    """One place: what to call it, and the thing and fact where it is written (no fact: a part more, or one less)."""

    called: str
    thing: Thing | None
    fact: str = ""


def departures_of(rig: Rig, standard: Rig) -> Iterator[Departure]:
    """Yield where a rig is otherwise than its standard rig, and may not be."""
    for pair in match_rigs(standard, rig):
        yield from _of_one(pair, standard.may_differ)


def _of_one(pair: Pair, may_differ: frozenset[str]) -> Iterator[Departure]:
    before, after = pair.before, pair.after
    thing = after or before
    if thing is None:
        return
    keys = [base.replace(" ", "_") for base in thing.kind.lineage]
    if before is None or after is None:
        if "part" in thing.kind.lineage and may_differ.isdisjoint(keys):
            how = "which the standard rig has not" if before is None else "which is in the standard rig"
            yield Departure(f"{thing.label}, {how}", after)
        return
    was = stated_facts(before)
    for name, standard in was.items():
        fact = after.kind.facts[name]
        if fact.is_told_anew or fact.measure == "day" or not may_differ.isdisjoint(f"{key}.{name}" for key in keys):
            continue
        if any(not same_as_stated(standard, value) for value in _said(after, name)):
            yield Departure(f"{after.label}, {fact.label} (in the standard rig {_words(standard)})", after, name)


def _said(thing: Thing, name: str) -> list[Any]:
    """Return what is said of a fact in the description, and on record."""
    stated = [thing.facts[name]] if name in thing.facts and name in thing.places else []
    return [*stated, *(one.value for one in thing.said.get(name, ()) if one.basis == "on record")]


def _words(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return ", ".join(map(str, value)) if isinstance(value, tuple) else str(getattr(value, "text", value))
