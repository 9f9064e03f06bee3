"""Until when a condition can go on being met: the upper bounds that it puts on the time since stated days.

Only what passes by itself is followed: the days. Everything else is taken as it is today.
Of several alternatives that would do, the one that lasts longest counts.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any, NamedTuple

from msgspec import Struct
from msgspec.structs import replace

from rigcheck.condition.compiler import Judge
from rigcheck.condition.tree import Clause, LimitName, Schema, inner_schemas
from rigcheck.facts.dates import last_day
from rigcheck.quantity.interval import Interval
from rigcheck.quantity.truth import FALSE, TRUE, UNKNOWN, Truth, all_of, any_of, negation
from rigcheck.rig.thing import MISSING, Thing, Wanted

__all__ = ["Bound", "Deadline", "deadlines", "upper_bounds"]


class Bound(NamedTuple):
    """The most that the time since a day may be; `strict`: it must be less."""

    operand: Any
    strict: bool


class Deadline(Struct, frozen=True):
    """One stated day (or one that is not stated) and the last days that follow from it.

    `first` and `last` are day numbers, further apart where a month or a year was stated; both are
    None where no day is known. `absent`: it is stated that there is no such day.
    `later_by`: facts that are not known and that could put it off.
    `presumes`: facts that are not known and that it takes to be as they must be.
    """

    owner: Thing
    fact: str
    limit: str = ""
    most: Interval | None = None
    first: int | None = None
    last: int | None = None
    absent: bool = False
    later_by: tuple[Wanted, ...] = ()
    presumes: tuple[Wanted, ...] = ()


def deadlines(judge: Judge, condition: Schema, thing: Thing) -> tuple[Deadline, ...]:
    """Return what a condition over a thing waits for to pass; nothing where it lasts for ever."""
    return _Walk(judge, thing).schema(condition, thing, True).terms


def upper_bounds(schema: Schema, upward: bool = True) -> Iterator[Bound]:
    """Yield the bounds above a value in a condition over it; `upward` is False inside a `not`."""
    for clause in schema.clauses:
        keyword = clause.keyword
        if keyword in (_ABOVE if upward else _BELOW):
            yield Bound(clause.operand, keyword in ("exclusiveMaximum", "minimum"))
        for inner in inner_schemas(clause):
            yield from upper_bounds(inner, upward != (keyword == "not"))


_ABOVE = ("maximum", "exclusiveMaximum")
_BELOW = ("minimum", "exclusiveMinimum")  # negated, they bound from above


class _Result(NamedTuple):
    """Whether all but the days is met, the days, and what of the rest is not known."""

    gate: Truth = TRUE
    terms: tuple[Deadline, ...] = ()
    open: tuple[Wanted, ...] = ()

    @property
    def first(self) -> int | None:
        """The first of its days; None where one of them is not known."""
        days = [term.first for term in self.terms]
        return None if None in days else min(day for day in days if day is not None)


class _Walk:
    """One walk through a condition over a thing."""

    def __init__(self, judge: Judge, root: Thing) -> None:
        self.judge, self.root = judge, root

    def schema(self, schema: Schema, value: Any, positive: bool) -> _Result:
        """Return the result of a condition over a value, or of its opposite."""
        if schema.always is not None:
            return _Result(TRUE if schema.always is positive else FALSE)
        own = [c for c in schema.clauses if c.keyword not in ("then", "else", "minContains", "maxContains")]
        return _joined((self._clause(schema, clause, value, positive) for clause in own), positive)

    def _clause(self, schema: Schema, clause: Clause, value: Any, positive: bool) -> _Result:
        walk = _WALKS.get(clause.keyword)
        if walk is not None:
            return walk(self, schema, clause, value, positive)
        truth = self.judge.check_of(schema, clause)(value, self.root)
        return _Result(truth if positive else negation(truth))

    def properties(self, schema: Schema, clause: Clause, value: Any, positive: bool) -> _Result:
        """Go into the facts of a thing."""
        if not isinstance(value, Thing):
            return _Result()
        operand: Mapping[str, Schema] = clause.operand.schemas
        return _joined((self._fact(value, name, inner, positive) for name, inner in operand.items()), positive)

    def _fact(self, owner: Thing, name: str, inner: Schema, positive: bool) -> _Result:
        fact = owner.kind.facts.get(name)
        day_fact = fact.entry.from_day if fact is not None else ""
        bounds = list(upper_bounds(inner, positive)) if day_fact else []
        if fact is not None and bounds:
            return self._dated(owner, day_fact, fact.measure, inner, bounds, positive)
        found = owner.facts.get(name, MISSING)
        if found is MISSING:
            return _Result(UNKNOWN, open=((owner, name),))
        result = self.schema(inner, found, positive)
        return result._replace(open=((owner, name),)) if result.gate is UNKNOWN and not result.open else result

    def _dated(
        self, owner: Thing, day_fact: str, measure: str, inner: Schema, bounds: list[Bound], positive: bool
    ) -> _Result:
        day = owner.facts.get(day_fact, MISSING)
        if day is None:
            truth = self.judge.check(inner)(None, self.root)
            met = (truth if positive else negation(truth)) is TRUE
            return _Result() if met else _Result(terms=(Deadline(owner, day_fact, absent=True),))
        ends = [self._end(owner, day_fact, measure, day, bound) for bound in bounds]
        return _Result(terms=(min(ends, key=_first_end),))

    def _end(self, owner: Thing, day_fact: str, measure: str, day: Any, bound: Bound) -> Deadline:
        most = self.judge.resolved(bound.operand)(self.root)
        limit = bound.operand.name if isinstance(bound.operand, LimitName) else ""
        if not isinstance(day, Interval) or not isinstance(most, Interval):
            return Deadline(owner, day_fact, limit, most if isinstance(most, Interval) else None)
        first = last_day(int(day.lo), most.lo, measure, strict=bound.strict)
        last = last_day(int(day.hi), most.hi, measure, strict=bound.strict)
        return Deadline(owner, day_fact, limit, most, first, last)

    def all_of(self, schema: Schema, clause: Clause, value: Any, positive: bool) -> _Result:
        """Go into conditions that must all be met."""
        return _joined((self.schema(inner, value, positive) for inner in clause.operand), positive)

    def any_of(self, schema: Schema, clause: Clause, value: Any, positive: bool) -> _Result:
        """Go into conditions of which one must be met."""
        return _joined((self.schema(inner, value, positive) for inner in clause.operand), not positive)

    def negated(self, schema: Schema, clause: Clause, value: Any, positive: bool) -> _Result:
        """Go into a condition that must not be met."""
        return self.schema(clause.operand, value, not positive)

    def chosen(self, schema: Schema, clause: Clause, value: Any, positive: bool) -> _Result:
        """Go into `then` or `else`; into both where it is not known which applies."""
        asked = self.judge.check(clause.operand)(value, self.root)
        names = [name for name, skipped in (("then", FALSE), ("else", TRUE)) if asked is not skipped]
        inner = [schema.operand(name) for name in names]
        found = [self.schema(one, value, positive) if one else _Result(TRUE if positive else FALSE) for one in inner]
        return _joined(found, positive=True)

    def items(self, schema: Schema, clause: Clause, value: Any, positive: bool) -> _Result:
        """Go into every thing of a list."""
        listed = value if isinstance(value, (list, tuple)) else ()
        start = len(schema.operand("prefixItems") or ())
        return _joined((self.schema(clause.operand, one, positive) for one in listed[start:]), positive)

    def contains(self, schema: Schema, clause: Clause, value: Any, positive: bool) -> _Result:
        """Go into the things of a list of which one must meet a condition; counts are judged as they are today."""
        counted = schema.operand("minContains") is not None or schema.operand("maxContains") is not None
        if counted or not isinstance(value, (list, tuple)):
            truth = self.judge.check_of(schema, clause)(value, self.root)
            return _Result(truth if positive else negation(truth))
        return _joined((self.schema(clause.operand, one, positive) for one in value), not positive)


_WALKS: Mapping[str, Callable[[_Walk, Schema, Clause, Any, bool], _Result]] = {
    "properties": _Walk.properties,
    "allOf": _Walk.all_of,
    "anyOf": _Walk.any_of,
    "oneOf": _Walk.any_of,
    "not": _Walk.negated,
    "if": _Walk.chosen,
    "items": _Walk.items,
    "contains": _Walk.contains,
}


def _joined(results: Iterable[_Result], positive: bool) -> _Result:
    return _every(list(results)) if positive else _longest(list(results))


def _every(results: list[_Result]) -> _Result:
    """Join results that must all be met: each day counts."""
    return _Result(
        all_of(result.gate for result in results),
        tuple(term for result in results for term in result.terms),
        tuple(dict.fromkeys(one for result in results for one in result.open)),
    )


def _longest(results: list[_Result]) -> _Result:
    """Join results of which one must be met: the one that lasts longest counts, those in doubt last."""
    live = [result for result in results if result.gate is not FALSE]
    dated = [result for result in live if result.terms]
    if not dated or any(result.gate is TRUE and not result.terms for result in live):
        return _Result(any_of(r.gate for r in results), open=_open_facts(live))
    known = [result for result in dated if result.first is not None]
    sure = [result for result in known if result.gate is TRUE]
    if not known:
        return _Result(terms=_unstated(dated))
    best = max(sure, key=_first_of) if sure else min(known, key=_first_of)
    others = tuple(one for result in live if result is not best for one in _unknown(result))
    presumes = best.open if best.gate is UNKNOWN else ()
    told = (replace(t, later_by=t.later_by + others, presumes=t.presumes + presumes) for t in best.terms)
    return _Result(terms=tuple(told))


def _unstated(dated: list[_Result]) -> tuple[Deadline, ...]:
    """Return the days that are not stated; those stated to be absent only where there is nothing else."""
    terms = [term for result in dated for term in result.terms if term.first is None]
    return tuple(term for term in terms if not term.absent) or tuple(terms)


def _unknown(result: _Result) -> tuple[Wanted, ...]:
    lacking = tuple((t.owner, t.fact) for t in result.terms if t.first is None and not t.absent)
    return lacking + result.open


def _open_facts(results: list[_Result]) -> tuple[Wanted, ...]:
    return tuple(dict.fromkeys(one for result in results for one in result.open))


def _first_of(result: _Result) -> int:
    return result.first or 0


def _first_end(end: Deadline) -> int:
    return -1 if end.first is None else end.first
