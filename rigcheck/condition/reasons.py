"""Why a condition came out as it did: the facts that settled it, or that it waits for.

This is the slow walk, taken only for what does not hold.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any, NamedTuple

from rigcheck.condition.judging import Judge
from rigcheck.condition.tree import Clause, Schema
from rigcheck.rig.thing import MISSING, Thing
from rigcheck.truth import TRUE, UNKNOWN, Truth, negation

__all__ = ["Reason", "reasons"]


class Reason(NamedTuple):
    """A fact that counts: whose it is, its name and its value; MISSING if it is not known."""

    owner: Thing
    fact: str
    value: Any
    clause: Clause | None


def reasons(judge: Judge, schema: Schema, thing: Thing, wanted: Truth) -> list[Reason]:
    """Return the facts by which `schema` is `wanted` for a thing, in order, each once; what they met comes last."""
    walk = _Walk(judge, thing)
    found = {(id(r.owner), r.fact): r for r in walk.schema(schema, thing, (thing, ""), wanted)}
    for reason in walk.compared:
        found.setdefault((id(reason.owner), reason.fact), reason)
    return list(found.values())


_At = tuple[Thing, str]


class _Walk:
    def __init__(self, judge: Judge, root: Thing) -> None:
        self.judge, self.root = judge, root
        self.compared: list[Reason] = []

    def schema(self, schema: Schema, value: Any, at: _At, wanted: Truth) -> Iterator[Reason]:
        """Yield the reasons for which a schema is `wanted` for a value found at a fact."""
        for clause in schema.clauses:
            if clause.keyword in ("then", "else", "minContains", "maxContains"):
                continue
            check = self.judge.check_of(schema, clause)
            if check(value, self.root) is wanted:
                yield from self._clause(schema, clause, value, at, wanted)

    def _clause(self, schema: Schema, clause: Clause, value: Any, at: _At, wanted: Truth) -> Iterator[Reason]:
        walk = _WALKS.get(clause.keyword)
        if walk is None:
            yield from self._leaf(clause, value, at, wanted)
        else:
            yield from walk(self, schema, clause, value, at, wanted)

    def _leaf(self, clause: Clause, value: Any, at: _At, wanted: Truth) -> Iterator[Reason]:
        path = getattr(clause.operand, "path", None)
        missing = list(self._followed(path)) if path and wanted is UNKNOWN else []
        yield from missing or [Reason(*at, value, clause)]
        if path and wanted is not UNKNOWN:
            self._compare(path)

    def _compare(self, path: tuple[str, ...]) -> None:
        """Keep the fact at the end of a path, that a value was held against: a reader wants both sides."""
        owner: Any = self.root
        for step in path[:-1]:
            owner = owner.facts.get(step) if isinstance(owner, Thing) else None
        if isinstance(owner, Thing) and owner.facts.get(path[-1], MISSING) is not MISSING:
            self.compared.append(Reason(owner, path[-1], owner.facts[path[-1]], None))

    def _followed(self, path: tuple[str, ...]) -> Iterator[Reason]:
        """Yield the first fact on a path that is not known."""
        thing: Any = self.root
        for step in path:
            value = thing.facts.get(step, MISSING) if isinstance(thing, Thing) else MISSING
            if value is MISSING and isinstance(thing, Thing):
                yield Reason(thing, step, MISSING, None)
                return
            thing = value

    def properties(self, schema: Schema, clause: Clause, value: Any, at: _At, wanted: Truth) -> Iterator[Reason]:
        """Go into the facts of a thing."""
        operand: Mapping[str, Schema] = clause.operand
        for name, inner in operand.items():
            found = value.facts.get(name, MISSING) if isinstance(value, Thing) else MISSING
            if found is MISSING:
                if wanted is UNKNOWN and isinstance(value, Thing):
                    yield Reason(value, name, MISSING, clause)
            elif self.judge.check(inner)(found, self.root) is wanted:
                owner = found if isinstance(found, Thing) else value
                yield from self._inside(inner, found, (owner, name), wanted, value)

    def _inside(self, inner: Schema, found: Any, at: _At, wanted: Truth, holder: Thing) -> Iterator[Reason]:
        below = list(self.schema(inner, found, at if found is not None else (holder, at[1]), wanted))
        yield from below or [Reason(holder, at[1], found, None)]

    def joined(self, schema: Schema, clause: Clause, value: Any, at: _At, wanted: Truth) -> Iterator[Reason]:
        """Go into conditions that are joined over the same value."""
        for inner in clause.operand:
            truth = self.judge.check(inner)(value, self.root)
            if truth is wanted or clause.keyword == "oneOf":
                yield from self.schema(inner, value, at, truth)

    def negated(self, schema: Schema, clause: Clause, value: Any, at: _At, wanted: Truth) -> Iterator[Reason]:
        """Go into a negated condition, looking for the opposite."""
        yield from self.schema(clause.operand, value, at, negation(wanted))

    def chosen(self, schema: Schema, clause: Clause, value: Any, at: _At, wanted: Truth) -> Iterator[Reason]:
        """Go into if, then and else."""
        asked = self.judge.check(clause.operand)(value, self.root)
        if asked is UNKNOWN:
            yield from self.schema(clause.operand, value, at, UNKNOWN)
        for branch in ("then", "else"):
            inner = schema.operand(branch)
            applies = asked is UNKNOWN or (asked is TRUE) == (branch == "then")
            if inner is not None and applies:
                yield from self.schema(inner, value, at, wanted)

    def listed(self, schema: Schema, clause: Clause, value: Any, at: _At, wanted: Truth) -> Iterator[Reason]:
        """Go into the things of a list; the list itself where none of them is the reason."""
        if not isinstance(value, (list, tuple)):
            return
        operand = clause.operand if isinstance(clause.operand, tuple) else [clause.operand] * len(value)
        below: list[Reason] = []
        for item, inner in zip(value, operand, strict=False):
            if isinstance(item, Thing) and self.judge.check(inner)(item, self.root) is wanted:
                below += self.schema(inner, item, (item, ""), wanted)
        yield from below or [Reason(*at, value, clause)]
        self._compare_words(clause, wanted)

    def _compare_words(self, clause: Clause, wanted: Truth) -> None:
        """Keep what the words of a list were held against."""
        inner = clause.operand.clauses if isinstance(clause.operand, Schema) else ()
        for path in (getattr(one.operand, "path", None) for one in inner):
            if path and wanted is not UNKNOWN:
                self._compare(path)


_Walker = Callable[[_Walk, Schema, Clause, Any, _At, Truth], Iterator[Reason]]
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
