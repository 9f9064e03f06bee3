"""Why a condition came out as it did: the facts that settled it, or that it waits for.

This is the slow walk, taken only for what does not hold.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import partial
from typing import Any, NamedTuple

from rigcheck.condition.check import Check
from rigcheck.condition.compiler import Judge
from rigcheck.condition.tree import Clause, Schema
from rigcheck.quantity.alternatives import OneOf, truth_of_each
from rigcheck.quantity.truth import FALSE, TRUE, UNKNOWN, Truth, negation
from rigcheck.rig.thing import MISSING, Thing

__all__ = ["Reason", "reasons"]


class Reason(NamedTuple):
    """A fact that counts: whose it is, its name and its value; MISSING if it is not known.

    `clause`: what it does not meet, where that alone can be said of it: not one way of several, unless it is
    a thing that stands where another should.
    """

    owner: Thing
    fact: str
    value: Any
    clause: Clause | None


def reasons(judge: Judge, schema: Schema, thing: Thing, wanted: Truth) -> list[Reason]:
    """Return the facts by which `schema` is `wanted` for a thing, in order, each once; what they met comes last.

    The schema is known to come out as `wanted` for this thing.
    """
    if wanted is UNKNOWN and (names := _nothing_known(schema, thing.facts)):
        return [Reason(thing, name, MISSING, None) for name in names]
    walk = _Walk(judge, thing)
    walk.schema(schema, thing, (thing, ""), wanted)
    found: dict[tuple[Thing, str], Reason] = {}
    for reason in (*walk.found, *walk.compared):
        found.setdefault((reason.owner, reason.fact), reason)
    return list(found.values())


def _nothing_known(schema: Schema, facts: Mapping[str, Any]) -> Iterable[str]:
    """Return the facts that a condition on a thing alone asks for, where none of them is known: most questions."""
    if len(schema.clauses) != 1 or schema.clauses[0].keyword != "properties":
        return ()
    names: Mapping[str, Schema] = schema.clauses[0].operand.schemas
    return () if any(name in facts for name in names) else names


class _Way(NamedTuple):
    """What one of several conditions, or one of several things, misses; `plain`: any one of the facts is enough."""

    found: list[Reason]
    compared: list[Reason]
    plain: bool = True

    @property
    def far(self) -> tuple[int, int]:
        """How far it is from what is sought: what is another sort of thing is further than one that lacks much."""
        return sum(fact == "kind" for _, fact in self.facts), len(self.facts)

    @property
    def facts(self) -> set[tuple[Thing, str]]:
        return {(reason.owner, reason.fact) for reason in self.found}


_At = tuple[Thing, str]
_CHOICES = ("anyOf", "oneOf", "if")
_BESIDE = frozenset(("then", "else", "minContains", "maxContains"))
"""Keywords that another one beside them reads."""


class _Walk:
    """Each step below is taken for a condition that is known to come out as `wanted`, and adds to `found`."""

    def __init__(self, judge: Judge, root: Thing) -> None:
        self.judge, self.root = judge, root
        self.choosing = 0  # how many choices deep: what is missed there is one way of several
        self.mixed = 0  # how deep in a way that asks several things at once
        self.seeking = 0  # how deep in a look for one among several, of which none in particular is amiss
        self.found: list[Reason] = []
        self.compared: list[Reason] = []

    def schema(self, schema: Schema, value: Any, at: _At, wanted: Truth) -> None:
        """Find the clauses by which a schema is `wanted` for a value found at a fact."""
        clauses = schema.clauses
        for clause in clauses:
            if clause.keyword in _BESIDE:
                continue
            if len(clauses) == 1 or self.judge.check_of(schema, clause)(value, self.root) is wanted:
                _WALKS.get(clause.keyword, _Walk.leaf)(self, schema, clause, value, at, wanted)

    def leaf(self, schema: Schema, clause: Clause, value: Any, at: _At, wanted: Truth) -> None:
        """Add the value itself, or what it could not be compared with."""
        path = getattr(clause.operand, "path", None)
        missing = self._first_missing(path) if path and wanted is UNKNOWN else None
        alone = not self.choosing or (at[1] == "kind" and not self.seeking and not self.mixed)
        missed = clause if wanted is FALSE and alone else None
        self.found.append(missing or Reason(*at, value, missed))
        if path and wanted is not UNKNOWN:
            self._compare(path)

    def _compare(self, path: tuple[str, ...]) -> None:
        """Keep the fact at the end of a path, that a value was held against: a reader wants both sides."""
        owner: Any = self.root
        for step in path[:-1]:
            owner = owner.facts.get(step) if isinstance(owner, Thing) else None
        if isinstance(owner, Thing) and owner.facts.get(path[-1], MISSING) is not MISSING:
            self.compared.append(Reason(owner, path[-1], owner.facts[path[-1]], None))

    def _first_missing(self, path: tuple[str, ...]) -> Reason | None:
        """Return the first fact on a path that is not known."""
        thing: Any = self.root
        for step in path:
            if not isinstance(thing, Thing):
                return None
            value = thing.facts.get(step, MISSING)
            if value is MISSING:
                return Reason(thing, step, MISSING, None)
            thing = value
        return None

    def properties(self, schema: Schema, clause: Clause, value: Any, at: _At, wanted: Truth) -> None:
        """Go into the facts of a thing."""
        if not isinstance(value, Thing):
            return
        operand: Mapping[str, Schema] = clause.operand.schemas
        mixed = bool(self.choosing) and len(operand) > 1
        self.mixed += mixed
        self._each_of(operand, value, wanted)
        self.mixed -= mixed

    def _each_of(self, operand: Mapping[str, Schema], value: Thing, wanted: Truth) -> None:
        for name, inner in operand.items():
            found = value.facts.get(name, MISSING)
            if found is MISSING:
                if wanted is UNKNOWN:
                    self.found.append(Reason(value, name, MISSING, None))
            elif type(found) is OneOf:
                if truth_of_each(found, partial(_with_root, self.judge.check(inner), self.root)) is wanted:
                    self.found.append(Reason(value, name, found, None))
            elif self.judge.check(inner)(found, self.root) is wanted:
                self._inside(inner, found, name, wanted, value)

    def _inside(self, inner: Schema, found: Any, name: str, wanted: Truth, holder: Thing) -> None:
        before = len(self.found)
        self.schema(inner, found, (found if isinstance(found, Thing) else holder, name), wanted)
        if len(self.found) == before:
            self.found.append(Reason(holder, name, found, None))

    def joined(self, schema: Schema, clause: Clause, value: Any, at: _At, wanted: Truth) -> None:
        """Go into conditions that are joined over the same value."""
        several = clause.keyword != "allOf"
        self.choosing += several
        ways = []
        for inner in clause.operand:
            truth = self.judge.check(inner)(value, self.root)
            if truth is wanted or clause.keyword == "oneOf":
                way = self._apart(partial(self.schema, inner, value, at, truth))
                ways.append(way._replace(plain=not any(one.keyword in _CHOICES for one in inner.clauses)))
        self.choosing -= several
        missed = clause.keyword == "anyOf" and wanted is FALSE
        self._take(_without_longer(ways) if missed else ways)

    def _apart(self, walk: Callable[[], None]) -> _Way:
        """Return what a walk finds, apart from what was found before."""
        found, compared = self.found, self.compared
        self.found, self.compared = [], []
        walk()
        way = _Way(self.found, self.compared)
        self.found, self.compared = found, compared
        return way

    def _take(self, ways: Iterable[_Way]) -> None:
        for way in ways:
            self.found += way.found
            self.compared += way.compared

    def negated(self, schema: Schema, clause: Clause, value: Any, at: _At, wanted: Truth) -> None:
        """Go into a negated condition, looking for the opposite."""
        self.schema(clause.operand, value, at, negation(wanted))

    def chosen(self, schema: Schema, clause: Clause, value: Any, at: _At, wanted: Truth) -> None:
        """Go into if, then and else."""
        asked = self.judge.check(clause.operand)(value, self.root)
        if asked is UNKNOWN:
            self.schema(clause.operand, value, at, UNKNOWN)
        for branch in ("then", "else"):
            inner = schema.operand(branch)
            applies = asked is UNKNOWN or (asked is TRUE) == (branch == "then")
            if inner is not None and applies and self.judge.check(inner)(value, self.root) is wanted:
                self.schema(inner, value, at, wanted)

    def listed(self, schema: Schema, clause: Clause, value: Any, at: _At, wanted: Truth) -> None:
        """Go into the things of a list; the list itself where none of them is the reason."""
        if not isinstance(value, (list, tuple)):
            return
        operand = clause.operand if isinstance(clause.operand, tuple) else [clause.operand] * len(value)
        each = [
            (item, inner, self.judge.check(inner)(item, self.root)) for item, inner in zip(value, operand, strict=False)
        ]
        sought = self._sought(schema, clause, wanted, [truth for _, _, truth in each])
        self.seeking += clause.keyword == "contains"
        ways = [
            self._apart(partial(self.schema, inner, item, (item, ""), truth))
            for item, inner, truth in each
            if isinstance(item, Thing) and truth is sought
        ]
        self.seeking -= clause.keyword == "contains"
        missed = clause.keyword == "contains" and sought is wanted is FALSE
        self._take(_nearest(ways) if missed else ways)
        if not any(way.found for way in ways):
            self.found.append(Reason(*at, value, None))
        self._compare_words(clause, wanted)

    def _sought(self, schema: Schema, clause: Clause, wanted: Truth, truths: list[Truth]) -> Truth:
        """Return how the things came out that are the reason: where there are too many, those that are there."""
        most = schema.operand("maxContains") if clause.keyword == "contains" and wanted is FALSE else None
        return TRUE if most is not None and truths.count(TRUE) > most else wanted

    def _compare_words(self, clause: Clause, wanted: Truth) -> None:
        """Keep what the words of a list were held against."""
        inner = clause.operand.clauses if isinstance(clause.operand, Schema) else ()
        for path in (getattr(one.operand, "path", None) for one in inner):
            if path and wanted is not UNKNOWN:
                self._compare(path)


def _without_longer(ways: list[_Way]) -> list[_Way]:
    """Return ways without those that miss all that a shorter one misses, and more: they need no word of their own."""
    return [way for way in ways if not (way.plain and any(other.facts < way.facts for other in ways))]


def _nearest(ways: list[_Way]) -> list[_Way]:
    """Return what misses least: an oxygen line need not say that it is no fuel line under another pressure."""
    least = min((way.far for way in ways if way.found), default=(0, 0))
    return [way for way in ways if way.far == least]


def _with_root(check: Check, root: Thing, value: Any) -> Truth:
    return check(value, root)


_Walker = Callable[[_Walk, Schema, Clause, Any, _At, Truth], None]
_WALKS: Mapping[str, _Walker] = {
    "properties": _Walk.properties,
    "allOf": _Walk.joined,
    "anyOf": _Walk.joined,
    "oneOf": _Walk.joined,
    "not": _Walk.negated,
    "if": _Walk.chosen,
    "items": _Walk.listed,
    "prefixItems": _Walk.listed,
    "contains": _Walk.listed,
}
