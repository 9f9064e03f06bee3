"""Every computed fact of a rig worked out for a day: dates, the order of parts, figures."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any, NamedTuple

from rigcheck.facts.conceding import CONCESSION_FACTS
from rigcheck.facts.dates import time_since
from rigcheck.facts.figures import FIGURES
from rigcheck.facts.order import ORDER_FACTS
from rigcheck.facts.working import Figure, Used, Wants, Way, Working
from rigcheck.quantity import Interval, worked_out
from rigcheck.rig.fact import Fact
from rigcheck.rig.thing import MISSING, Rig, Thing
from rigcheck.rig.vocabulary import Kind, Vocabulary

__all__ = ["establish", "uncomputed"]

_Work = Callable[[Thing, "_Reckoner"], Any]
_Tables = Mapping[str, tuple[Any, ...]]
_NO_LIMITS: Mapping[str, Interval] = {}
_NO_TABLES: _Tables = {}
_UNDER_WAY = Wants()


def establish(
    rig: Rig,
    day: int,
    limits: Mapping[str, Interval] = _NO_LIMITS,
    tables: _Tables = _NO_TABLES,
    names: frozenset[str] | None = None,
) -> None:
    """Fill in the computed facts of a rig for a day (a day number), in place of earlier ones.

    `limits`: those in force, by name; `tables`: rows of published tables, as a pack holds them;
    `names`: the facts that are wanted, with what they are worked out from; all of them unless said.
    """
    reckoner = _Reckoner(day, limits, tables)
    for thing in rig.things:
        for name in _work_of(thing.kind):
            thing.facts.pop(name, None)
        thing.wanting.clear()
        thing.workings.clear()
    for thing in rig.things:
        facts, wanting = thing.facts, thing.wanting
        for name, work in _work_of(thing.kind).items():
            if (names is None or name in names) and name not in facts and name not in wanting:
                reckoner.work_out(work, thing, name)


def uncomputed(vocabulary: Vocabulary) -> Iterator[str]:
    """Yield the facts that are declared as computed and that nothing computes."""
    for kind in vocabulary.kinds.values():
        work = _work_of(kind)
        for fact in kind.facts.values():
            if fact.computed and fact.name != "kind" and fact.name not in work:
                yield f"{kind.name}.{fact.name}"


_WORK: dict[int, tuple[Kind, dict[str, _Work]]] = {}


def _work_of(kind: Kind) -> dict[str, _Work]:
    kept = _WORK.get(id(kind))
    if kept is None or kept[0] is not kind:
        work = {fact.name: _function(kind, fact) for fact in kind.facts.values() if fact.computed}
        kept = _WORK[id(kind)] = (kind, {name: f for name, f in work.items() if f is not None})
    return kept[1]


def _function(kind: Kind, fact: Fact) -> _Work | None:
    if fact.entry.from_day:
        return time_since(fact.entry.from_day, fact.measure)
    for ancestor in kind.lineage:
        key = (ancestor, fact.name)
        if key in ORDER_FACTS:
            return ORDER_FACTS[key]
        if key in CONCESSION_FACTS:
            return CONCESSION_FACTS[key]
        if key in FIGURES:
            return _figure_work(FIGURES[key], fact.measure)
    return None


def _figure_work(figure: Figure, measure: str) -> _Work:
    return lambda thing, reckoner: reckoner.work(figure, measure, thing)


class _Reckoner:
    """Looks facts up, and works out those that are computed, each once a thing."""

    def __init__(self, day: int, limits: Mapping[str, Interval], tables: _Tables) -> None:
        self.day, self.limits, self.tables = day, limits, tables

    def fact(self, thing: Thing, name: str) -> Any:
        """Return the value of a fact, or MISSING."""
        found = thing.facts.get(name, MISSING)
        if found is not MISSING or name in thing.wanting:
            return found
        work = _work_of(thing.kind).get(name)
        return MISSING if work is None else self.work_out(work, thing, name)

    def work_out(self, work: _Work, thing: Thing, name: str) -> Any:
        """Return what a computed fact comes to, or MISSING; kept with the thing either way."""
        thing.wanting[name] = _UNDER_WAY  # what leads back here finds it missing
        found = work(thing, self)
        if type(found) is Wants:
            thing.wanting[name] = found
            return MISSING
        del thing.wanting[name]
        thing.facts[name] = found
        return found

    def wants(self, thing: Thing, name: str) -> Wants:
        """Return what a missing fact waits for."""
        return Wants(thing.wanting.get(name) or ((thing, name),))

    def limit(self, name: str) -> Any:
        """Return a limit, or MISSING."""
        return self.limits.get(name, MISSING)

    def table(self, name: str) -> tuple[Any, ...]:
        """Return the rows of a file of published tables; none where there is no such file."""
        return self.tables.get(name, ())

    def work(self, figure: Figure, measure: str, thing: Thing) -> Any:
        """Return the figure's value by the first way that can be gone, or what it wants."""
        wanted: Wants | None = None
        unasked: Wants | None = None
        for way in figure.ways:
            used = self._inputs(way, thing)
            if isinstance(used, Wants) and way.asks:
                wanted = wanted if wanted is not None else used
            elif isinstance(used, Wants):
                unasked = unasked if unasked is not None else used
            elif used is not None:
                value = _valued(_worked(way, used), measure)
                thing.workings[figure.name] = Working(figure, way, used, value)
                if value is not None:
                    return value
        return wanted or unasked or Wants()

    def _inputs(self, way: Way, thing: Thing) -> tuple[Used, ...] | Wants | None:
        plan = _plan_of(way)
        for reached, words in plan.only:
            used = self._input(reached, thing)
            if used is None or type(used) is Wants:
                return used
            if used.value not in words:  # type: ignore[union-attr]
                return None
        found: list[Used] = []
        wanted: list[Any] = []
        for reached in plan.inputs:
            used = self._input(reached, thing)
            if used is None:
                return None
            if type(used) is Wants:
                wanted += used
            else:
                found.append(used)  # type: ignore[arg-type]
        if wanted:
            return Wants(dict.fromkeys(wanted))
        gathered = way.gather(thing, self) if way.gather else ()
        if gathered is None or isinstance(gathered, Wants):
            return gathered
        return (*found, *gathered)

    def _input(self, reached: _Reached, thing: Thing) -> Used | Wants | None:
        """Return the fact at the end of a path; None where a neighbour or the value is none."""
        name, steps, fact = reached
        if steps is None:
            limit = self.limits.get(fact, MISSING)
            return None if limit is MISSING else Used(name, None, fact, limit)
        owner = thing
        for step in steps:
            following = self.fact(owner, step)
            if following is MISSING:
                return self.wants(owner, step)
            if type(following) is not Thing:
                return None
            owner = following
        value = self.fact(owner, fact)
        if value is MISSING:
            return self.wants(owner, fact)
        return None if value is None else Used(name, owner, fact, value)


class _Reached(NamedTuple):
    """An input's name, the things that its path leads over, and the fact at the end; no things: a limit."""

    name: str
    steps: tuple[str, ...] | None
    fact: str


class _Plan(NamedTuple):
    """A way with its paths taken apart, once for all rigs."""

    way: Way
    only: tuple[tuple[_Reached, tuple[Any, ...]], ...]
    inputs: tuple[_Reached, ...]


_PLANS: dict[int, _Plan] = {}


def _plan_of(way: Way) -> _Plan:
    kept = _PLANS.get(id(way))
    if kept is None:
        only = tuple((_reached("", path), words) for path, words in way.only.items())
        inputs = tuple(_reached(name, path) for name, path in way.inputs.items())
        kept = _PLANS[id(way)] = _Plan(way, only, inputs)
    return kept


def _reached(name: str, path: str) -> _Reached:
    if path.startswith("limit:"):
        return _Reached(name, None, path.removeprefix("limit:"))
    *steps, fact = path.split(".")
    return _Reached(name, tuple(steps), fact)


def _worked(way: Way, used: tuple[Used, ...]) -> Any:
    arguments = {one.name: _argument(one.value) for one in used if one.name in way.inputs}
    if way.gather is not None:
        arguments["gathered"] = tuple(one for one in used if one.name not in way.inputs)
    return way.work_out(**arguments)


def _argument(value: Any) -> Any:
    return (value.lo, value.hi) if type(value) is Interval else value


def _valued(result: Any, measure: str) -> Any:
    if isinstance(result, tuple) and measure not in ("words", "several_words"):
        lo, hi = result
        return worked_out(lo, hi, measure)
    return result
