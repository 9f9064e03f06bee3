"""Every computed fact of a rig worked out for a day: dates, the order of parts, figures."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from rigcheck.facts.concession_facts import CONCESSION_FACTS
from rigcheck.facts.dates import time_since
from rigcheck.facts.evaluation import Reckoner, Work, work_of_figure
from rigcheck.facts.neighbours import ORDER_FACTS
from rigcheck.facts.registry import FIGURES
from rigcheck.quantity.interval import Interval
from rigcheck.rig.fact import Fact
from rigcheck.rig.thing import Rig, Thing
from rigcheck.rig.vocabulary import Kind, Vocabulary

__all__ = ["establish", "uncomputed"]

_NO_LIMITS: Mapping[str, Interval] = {}
_NO_TABLES: Mapping[str, tuple[Any, ...]] = {}


def establish(
    rig: Rig,
    day: int,
    limits: Mapping[str, Interval] = _NO_LIMITS,
    tables: Mapping[str, tuple[Any, ...]] = _NO_TABLES,
    names: frozenset[str] | None = None,
) -> None:
    """Fill in the computed facts of a rig for a day (a day number), in place of earlier ones.

    `limits`: those in force, by name; `tables`: rows of published tables, as a pack holds them;
    `names`: the facts that are wanted, with what they are worked out from; all of them unless said.
    """
    reckoner = Reckoner(day, limits, tables, _work_of)
    for thing in rig.things:
        if thing.established:
            _forget(thing)
        thing.established = True
    chosen = _CHOSEN.setdefault(names, {})
    for thing in rig.things:
        facts, wanting = thing.facts, thing.wanting
        for name, work in chosen.get(thing.kind) or _choose(chosen, thing.kind, names):
            if name not in facts and name not in wanting:
                reckoner.work_out(work, thing, name)


def _forget(thing: Thing) -> None:
    """Take the computed facts of another day away."""
    for name in _work_of(thing.kind):
        thing.facts.pop(name, None)
    thing.wanting.clear()
    thing.workings.clear()


def uncomputed(vocabulary: Vocabulary) -> Iterator[str]:
    """Yield the facts that are declared as computed and that nothing computes."""
    for kind in vocabulary.kinds.values():
        work = _work_of(kind)
        for fact in kind.facts.values():
            if fact.computed and fact.name != "kind" and fact.name not in work:
                yield f"{kind.name}.{fact.name}"


_WORK: dict[Kind, dict[str, Work]] = {}
_Chosen = tuple[tuple[str, Work], ...]
_CHOSEN: dict[frozenset[str] | None, dict[Kind, _Chosen]] = {}


def _work_of(kind: Kind) -> dict[str, Work]:
    """Return what works out each computed fact of a kind."""
    kept = _WORK.get(kind)
    if kept is None:
        work = {fact.name: _function(kind, fact) for fact in kind.facts.values() if fact.computed}
        kept = _WORK[kind] = {name: found for name, found in work.items() if found is not None}
    return kept


def _choose(chosen: dict[Kind, _Chosen], kind: Kind, names: frozenset[str] | None) -> _Chosen:
    """Return the facts of a kind that are wanted, each with what works it out, and keep them among the chosen."""
    work = _work_of(kind).items()
    found = chosen[kind] = tuple((name, one) for name, one in work if names is None or name in names)
    return found


def _function(kind: Kind, fact: Fact) -> Work | None:
    if fact.entry.from_day:
        return time_since(fact.entry.from_day, fact.measure)
    for ancestor in kind.lineage:
        key = (ancestor, fact.name)
        if key in ORDER_FACTS:
            return ORDER_FACTS[key]
        if key in CONCESSION_FACTS:
            return CONCESSION_FACTS[key]
        if key in FIGURES:
            return work_of_figure(FIGURES[key], fact.measure)
    return None
