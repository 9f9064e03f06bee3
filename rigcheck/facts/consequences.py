"""What follows from stated facts, drawn for one thing: the witness that a consequence is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from math import inf
from typing import Any, NamedTuple

from msgspec import Struct

from rigcheck.condition.check import Check
from rigcheck.condition.compiler import Judge
from rigcheck.condition.reasons import reasons
from rigcheck.condition.tree import FactName, Schema, inner_schemas
from rigcheck.facts.figure import Look, Wants
from rigcheck.facts.witness import Witness
from rigcheck.quantity.interval import Interval
from rigcheck.quantity.truth import FALSE, TRUE, UNKNOWN
from rigcheck.rig.thing import MISSING, Thing
from rigcheck.rules.consequence import Consequence, Derived

__all__ = ["Drawn", "drawn_by_kind"]


def drawn_by_kind(follows: Iterable[Consequence], judge: Judge) -> Mapping[tuple[str, str], list[Drawn]]:
    """Return consequences by the kind of thing that they look at and the fact that follows."""
    found: dict[tuple[str, str], list[Drawn]] = {}
    for one in follows:
        if all(name in judge.limits for name in one.rule.limits):
            reads = _reads(one.rule.holds)
            for fact in one.then:
                drawn = Drawn(one, fact, judge, judge.check(one.rule.holds), reads)
                found.setdefault((one.rule.kind.name, fact.name), []).append(drawn)
    return found


class Drawn(Struct, frozen=True):
    """One fact that follows by one consequence, ready to be looked for."""

    consequence: Consequence
    fact: Derived
    judge: Judge
    check: Check
    reads: _Reads | None

    def witness(self, thing: Thing, look: Look) -> Witness | Wants | None:
        """Return the witness, what is wanted before it is known whether it follows, or None where it does not."""
        when = self.consequence.rule.holds
        if self.reads is not None:
            _work_out(self.reads, thing, thing, look)
        truth = self.check(thing, thing)
        if truth is UNKNOWN:
            open_ones = (r for r in reasons(self.judge, when, thing, UNKNOWN) if r.value is MISSING)
            return Wants(dict.fromkeys(one for r in open_ones for one in look.wants(r.owner, r.fact)))
        if truth is FALSE:
            return None
        value = self._value(thing, look)
        if value is MISSING:
            return None
        settling = reasons(self.judge, when, thing, TRUE)
        of = next(((r.owner, r.fact) for r in settling if r.fact in r.owner.places), (thing, self.fact.name))
        return Witness(value, "follows", of, says=self.consequence.rule.claim)

    def _value(self, thing: Thing, look: Look) -> Any:
        if not self.fact.path:
            return self.fact.value
        found: Any = thing
        for step in self.fact.path:
            if not isinstance(found, Thing):
                return MISSING
            found = look.ready(found, step)
        if self.fact.how == "is" or not isinstance(found, Interval):
            return found if self.fact.how == "is" else MISSING
        ends = (found.lo, inf) if self.fact.how == "at_least" else (-inf, found.hi)
        return Interval(*ends, found.dimension)


class _Reads(NamedTuple):
    """What a condition reads, taken apart once: its check only looks, so that all of it is worked out before.

    `facts` of the value, each with what is read of it in turn; `paths` from the thing; `inner` conditions on the same
    value, or (first of the pair) on each member of a list.
    """

    facts: tuple[tuple[str, _Reads | None], ...]
    paths: tuple[tuple[str, ...], ...]
    inner: tuple[tuple[bool, _Reads], ...]


def _reads(schema: Schema) -> _Reads | None:
    facts: list[tuple[str, _Reads | None]] = []
    paths: list[tuple[str, ...]] = []
    inner: list[tuple[bool, _Reads]] = []
    for clause in schema.clauses:
        if clause.keyword == "properties":
            facts += ((name, _reads(one)) for name, one in clause.operand.schemas.items())
            continue
        if isinstance(clause.operand, FactName):
            paths.append(clause.operand.path)
        found = (_reads(one) for one in inner_schemas(clause))
        inner += ((clause.keyword in _LISTED, one) for one in found if one is not None)
    return _Reads(tuple(facts), tuple(paths), tuple(inner)) if facts or paths or inner else None


_LISTED = ("items", "prefixItems", "contains")


def _work_out(reads: _Reads, value: Any, root: Thing, look: Look) -> None:
    """Work out what a condition will read."""
    for path in reads.paths:
        _reached(path, root, look)
    if isinstance(value, Thing):
        for name, inner in reads.facts:
            found = look.ready(value, name)
            if inner is not None:
                _work_out(inner, found, root, look)
    for listed, inner in reads.inner:
        for one in value if listed and isinstance(value, tuple) else (value,):
            _work_out(inner, one, root, look)


def _reached(path: tuple[str, ...], thing: Any, look: Look) -> None:
    for step in path:
        if not isinstance(thing, Thing):
            return
        thing = look.ready(thing, step)
