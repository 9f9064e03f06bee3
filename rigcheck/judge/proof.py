"""Proof of a rule: its cases give their verdicts, and no part of it is idle.

A part is idle when it can be changed and no case notices: a limit nudged, a comparison turned
round, a clause dropped. A consequence that gives way names nothing that breaks a rule.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from msgspec import Struct
from msgspec.structs import replace

from rigcheck.condition.compiler import Judge
from rigcheck.condition.tree import (
    NUMBER_KEYWORDS,
    Clause,
    LimitName,
    Literal,
    Properties,
    Schema,
    every_clause,
)
from rigcheck.judge.judged import judge_thing
from rigcheck.quantity.interval import Interval
from rigcheck.quantity.truth import FALSE
from rigcheck.quantity.units import find_unit
from rigcheck.rig.thing import Thing
from rigcheck.rig.vocabulary import Kind
from rigcheck.rig.vocabulary_file import HeldEntry, RelatedEntry
from rigcheck.rules.cases import Case, read_cases
from rigcheck.rules.consequence import Consequence
from rigcheck.rules.limits import in_force
from rigcheck.rules.pack import Pack
from rigcheck.rules.rule import Rule
from rigcheck.text.place import Place

__all__ = ["FailedCase", "IdlePart", "Proof", "prove_rule"]

_NUDGE = 0.02
_TURNED = {
    "minimum": "maximum",
    "maximum": "minimum",
    "exclusiveMinimum": "exclusiveMaximum",
    "exclusiveMaximum": "exclusiveMinimum",
}
_LEAVES = frozenset({*NUMBER_KEYWORDS, "const", "enum", "pattern", "minLength", "maxLength"}) | {
    "type",
    "minItems",
    "maxItems",
    "uniqueItems",
    "required",
    "contains",
}


class FailedCase(Struct, frozen=True):
    """A case that came out otherwise than it says."""

    case: str
    wanted: str
    got: str
    place: Place


class IdlePart(Struct, frozen=True):
    """A change of the rule that no case noticed."""

    change: str
    place: Place


class Proof(Struct, frozen=True):
    """What came out of proving one rule."""

    rule: str
    cases: int
    changes: int
    failed: tuple[FailedCase, ...]
    idle: tuple[IdlePart, ...]


class _Change(Struct, frozen=True):
    words: str
    place: Place
    concerns: Schema | None
    holds: Schema
    nudged: tuple[str, float] | None = None  # a limit, and the sign and size of its nudge


def prove_rule(rule: Rule, pack: Pack, day: int) -> Proof:
    """Return the proof of a rule with the limits of a day. Raises `Refused` for faulty cases."""
    cases = read_cases(rule, pack.vocabulary)
    bench = _Proving(rule, pack, day, cases)
    plain = _Change("", rule.place, rule.concerns, rule.holds)
    failed = [
        FailedCase(case.name, case.verdict, got, case.place)
        for case, got in bench.outcomes(plain)
        if got != case.verdict
    ]
    if rule.name in pack.follows:
        failed += _breaches(pack.follows[rule.name], pack, bench)
    changes = list(_changes(rule, bench))
    idle = [IdlePart(c.words, c.place) for c in changes if not bench.notices(c)]
    return Proof(rule.name, len(cases), len(changes), tuple(failed), tuple(idle))


class _Proving:
    def __init__(self, rule: Rule, pack: Pack, day: int, cases: Iterable[Case]) -> None:
        self.rule, self.cases, self.day = rule, tuple(cases), day
        codes = {case.under for case in self.cases} | {"general"}
        self.limits = {code: _values(pack, code, day) for code in codes}
        self._judges: dict[str, Judge] = {code: Judge(v) for code, v in self.limits.items()}

    def limits_under(self, code: str, pack: Pack) -> Mapping[str, Interval]:
        if code not in self.limits:
            self.limits[code] = _values(pack, code, self.day)
        return self.limits[code]

    def outcomes(self, change: _Change) -> Iterator[tuple[Case, str]]:
        for case in self.cases:
            yield case, self._outcome(change, case)

    def _outcome(self, change: _Change, case: Case) -> str:
        judge = self._judge(change, case.under)
        concerns = judge.check(change.concerns) if change.concerns else None
        return judge_thing(concerns, judge.check(change.holds), case.thing)

    def _judge(self, change: _Change, code: str) -> Judge:
        if change.nudged is None:
            return self._judges[code]
        name, factor = change.nudged
        limits = dict(self.limits[code])
        if name in limits:
            limits[name] = _nudged(limits[name], factor)
        return Judge(limits)

    def notices(self, change: _Change) -> bool:
        return any(got != case.verdict for case, got in self.outcomes(change))


def _breaches(consequence: Consequence, pack: Pack, bench: _Proving) -> Iterator[FailedCase]:
    """Yield each rule that is broken by what follows in a case, wherever it concerns the thing at all.

    What gives way counts only while nobody states the fact: a danger would be told of somebody who said nothing.
    """
    for case in bench.cases if consequence.gives_way else ():
        if case.verdict != "holds":
            continue
        for derived in consequence.then:
            if not derived.path:
                case.thing.facts[derived.name] = derived.value
        names = [derived.name for derived in consequence.then if not derived.path]
        for rule in pack.rules.values():
            if any(name in rule.facts for name in names) and _breaks(rule, pack, bench, case.thing):
                yield FailedCase(case.name, "in breach of no rule", f"in breach of {rule.name}", case.place)


def _breaks(rule: Rule, pack: Pack, bench: _Proving, thing: Thing) -> bool:
    """Return whether a rule is broken by what is known of a thing, or of one that leads to it, if it concerns it."""
    judge = Judge(bench.limits_under((rule.under or ("general",))[0], pack))
    holds, concerns = judge.check(rule.holds), judge.check(rule.concerns) if rule.concerns else None
    return any(
        holds(one, one) is FALSE and (concerns is None or concerns(one, one) is not FALSE)
        for one in _seen_from(rule.kind, thing)
    )


def _seen_from(kind: Kind, thing: Thing) -> Iterator[Thing]:
    """Yield a thing as one of a kind that a rule looks at, or else each thing of that kind that leads to it."""
    if kind.name in thing.kind.lineage:
        yield thing
        return
    led_to: list[tuple[str, RelatedEntry | HeldEntry]] = [*kind.related.items(), *kind.holds.items()]
    for name, entry in led_to:
        if entry.kind in thing.kind.lineage:
            outer = Thing(kind, kind.name, None, 0, 0)
            outer.facts[name] = (thing,) if entry.many else thing
            yield outer


def _values(pack: Pack, code: str, day: int) -> Mapping[str, Interval]:
    standing = in_force(pack.limits, code, day, pack.definitions)
    return {name: one.value for name, one in standing.items() if one.value is not None}


def _nudged(value: Interval, sign: float) -> Interval:
    """Return a value moved by a fiftieth; by one for a count, by one unit for zero."""
    step = max(abs(value.hi - _offset(value)), 0.0) * _NUDGE
    if value.dimension == "count":
        step = 1.0
    elif step == 0.0:
        step = _unit_size(value)
    moved = value.hi + sign * step
    return Interval(moved, moved, value.dimension, value.text, value.unit, 0.0)


def _offset(value: Interval) -> float:
    """Return the zero of the unit in base units: a temperature is nudged from its own zero."""
    unit = find_unit(value.unit) if value.unit else None
    return float(unit.offset * unit.factor) if unit else 0.0


def _unit_size(value: Interval) -> float:
    unit = find_unit(value.unit) if value.unit else None
    return float(unit.factor) if unit else 1.0


# --- changes ---


def _changes(rule: Rule, bench: _Proving) -> Iterator[_Change]:
    for name in rule.limits:
        for sign, way in ((1.0, "raised"), (-1.0, "lowered")):
            words = f"limit {name} {way} by a fiftieth"
            yield _Change(words, _limit_place(rule, name), rule.concerns, rule.holds, (name, sign))
    for part in ("concerns", "holds"):
        schema = getattr(rule, part)
        for clause in every_clause(schema) if schema else ():
            if clause.at is not None:  # clauses that the reader put in have none
                yield from _clause_changes(rule, part, clause)


def _limit_place(rule: Rule, name: str) -> Place:
    for schema in (rule.concerns, rule.holds):
        for clause in every_clause(schema) if schema else ():
            if isinstance(clause.operand, LimitName) and clause.operand.name == name:
                return _place(rule, clause)
    return rule.place


def _place(rule: Rule, clause: Clause) -> Place:
    return Place(rule.place.file, *clause.at) if clause.at else rule.place


def _clause_changes(rule: Rule, part: str, clause: Clause) -> Iterator[_Change]:
    if clause.keyword in _LEAVES:
        yield _change(rule, part, clause, None, f"{clause.keyword} dropped")
    if clause.keyword in _TURNED:
        turned = replace(clause, keyword=_TURNED[clause.keyword])
        yield _change(rule, part, clause, turned, f"{clause.keyword} turned round")
    value = clause.operand.value if isinstance(clause.operand, Literal) else None
    if clause.keyword in NUMBER_KEYWORDS and isinstance(value, Interval):
        for sign, way in ((1.0, "raised"), (-1.0, "lowered")):
            moved = replace(clause, operand=Literal(_nudged(value, sign)))
            yield _change(rule, part, clause, moved, f"{value.text} {way}")


def _change(rule: Rule, part: str, old: Clause, new: Clause | None, words: str) -> _Change:
    schemas = {"concerns": rule.concerns, "holds": rule.holds}
    schemas[part] = _with(schemas[part] or Schema(), old, new)
    holds = schemas["holds"]
    assert holds is not None
    return _Change(words, _place(rule, old), schemas["concerns"], holds)


def _with(schema: Schema, old: Clause, new: Clause | None) -> Schema:
    """Return the schema with one clause, found by identity, replaced or dropped."""
    clauses = []
    for clause in schema.clauses:
        if clause is not old:
            clauses.append(replace(clause, operand=_operand_with(clause.operand, old, new)))
        elif new is not None:
            clauses.append(new)
    return Schema(tuple(clauses), schema.always)


def _operand_with(operand: object, old: Clause, new: Clause | None) -> object:
    if isinstance(operand, Schema):
        return _with(operand, old, new)
    if isinstance(operand, Properties):
        return Properties({name: _with(inner, old, new) for name, inner in operand.schemas.items()})
    if isinstance(operand, tuple) and operand and isinstance(operand[0], Schema):
        return tuple(_with(inner, old, new) for inner in operand)
    return operand
