"""Which figures decide a rig: those that its rules read, gravest and nearest to their bounds first."""

from __future__ import annotations

from collections.abc import Iterator
from math import inf
from typing import Any, NamedTuple

from rigcheck.condition.tree import Clause, FactName, LimitName, Literal, Schema, inner_schemas
from rigcheck.judge.judged import Judged, Verdict
from rigcheck.quantity.interval import Interval
from rigcheck.rig.thing import MISSING, Thing, Wanted
from rigcheck.rules.rule import SIGNALS, Rule

__all__ = ["Decision", "decisions_of"]

_ORDER: tuple[Verdict, ...] = ("broken", "unproven", "presumed", "holds")
_HELD = ("presumed", "holds")
_WITH_EASE = 0.5  # share of value or bound between the two
_BOUNDS = ("minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum")


class Decision(NamedTuple):
    """What a rule makes of a figure; `far`: how far it lies from the bound, as a share of the greater of the two."""

    verdict: Verdict
    rule: Rule
    far: float

    @property
    def rank(self) -> tuple[int, bool, int, float]:
        """Order by which the figures that decide come first: verdict, whether it held with ease, signal, nearness."""
        held = self.verdict in _HELD
        place = len(_ORDER) if held else _ORDER.index(self.verdict)
        return place, held and self.far > _WITH_EASE, SIGNALS.index(self.rule.signal), self.far


def decisions_of(judged: Judged) -> dict[Wanted, list[Decision]]:
    """Return what rules make of each figure that they read, the gravest first; the figure that decides most first."""
    found: dict[Wanted, list[Decision]] = {}
    for thing, rule, verdict, _ in judged.judgements():
        if verdict not in _ORDER:
            continue
        near: dict[Wanted, float] = {}
        for one, far in _read(rule.holds, thing, _At(thing, ""), judged):
            near[one] = min(far, near.get(one, inf))
        for one, far in near.items():
            found.setdefault(one, []).append(Decision(verdict, rule, far))
    for decisions in found.values():
        decisions.sort(key=lambda one: one.rank)
    return dict(sorted(found.items(), key=lambda item: item[1][0].rank))


class _At(NamedTuple):
    """The thing that a condition is over, and the name of the fact of it; none where it is over the thing itself."""

    thing: Thing
    fact: str


def _read(schema: Schema, root: Thing, at: _At, judged: Judged) -> Iterator[tuple[Wanted, float]]:
    """Yield every figure that a condition reads, with how far it is from the bound that it is held against."""
    for clause in schema.clauses:
        if clause.keyword == "properties":
            for name, inner in clause.operand.schemas.items():
                yield from _stepped(inner, root, at.thing, name, judged)
        elif clause.keyword in _BOUNDS and at.fact:
            yield from _bounded(clause, root, at, judged)
        else:
            for inner in inner_schemas(clause):
                yield from _read(inner, root, at, judged)
    if at.fact in at.thing.workings:
        yield (at.thing, at.fact), inf


def _stepped(schema: Schema, root: Thing, thing: Thing, name: str, judged: Judged) -> Iterator[tuple[Wanted, float]]:
    value = thing.facts.get(name)
    ends = value if isinstance(value, tuple) else (value,)
    things = [one for one in ends if isinstance(one, Thing)]
    for one in things:
        yield from _read(schema, root, _At(one, ""), judged)
    if not things:
        yield from _read(schema, root, _At(thing, name), judged)


def _bounded(clause: Clause, root: Thing, at: _At, judged: Judged) -> Iterator[tuple[Wanted, float]]:
    owner, bound = _bound(clause.operand, root, judged)
    value = at.thing.facts.get(at.fact)
    far = inf
    if isinstance(value, Interval) and isinstance(bound, Interval):
        far = _apart(value, bound)
    for one in ((at.thing, at.fact), owner):
        if one is not None and one[1] in one[0].workings:
            yield one, far


def _bound(operand: Any, root: Thing, judged: Judged) -> tuple[Wanted | None, Any]:
    """Return what a bound is, with the fact of which thing it is, if it is one."""
    if isinstance(operand, Literal):
        return None, operand.value
    if isinstance(operand, LimitName):
        limit = judged.rules.limits.get(operand.name)
        return None, None if limit is None else limit.value
    thing: Any = root
    assert isinstance(operand, FactName)
    for name in operand.path[:-1]:
        thing = thing.facts.get(name, MISSING)
        if not isinstance(thing, Thing):
            return None, None
    return (thing, operand.path[-1]), thing.facts.get(operand.path[-1])


def _apart(value: Interval, bound: Interval) -> float:
    gap = max(0.0, value.lo - bound.hi, bound.lo - value.hi)
    size = max(abs(value.lo), abs(value.hi), abs(bound.lo), abs(bound.hi))
    return gap / size if size > 0.0 else 0.0
