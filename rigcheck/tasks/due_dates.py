"""The days on which the dated parts of a rig fall due, by the rules that bound the time since a stated day.

Pure: no clock, no disk. Which facts are dated, and for how long, stands in the vocabulary and the rules alone.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import NamedTuple

from msgspec import Struct
from msgspec.structs import replace

from rigcheck.condition.tree import every_clause
from rigcheck.condition.wording import value_words
from rigcheck.facts.dates import is_slip, months_after
from rigcheck.facts.deadlines import Deadline, deadlines
from rigcheck.judge.compiled_rules import CompiledRules
from rigcheck.judge.judged import Judged, judge
from rigcheck.quantity.interval import Interval
from rigcheck.quantity.notation import NotRead, read_quantity
from rigcheck.quantity.truth import FALSE
from rigcheck.rig.register import REGISTER
from rigcheck.rig.thing import Rig, Thing, Wanted
from rigcheck.rules.documents import Source, sources_under
from rigcheck.rules.pack import Pack
from rigcheck.rules.rule import Rule, Signal
from rigcheck.text.place import Place

__all__ = [
    "Due",
    "DueList",
    "Undated",
    "called",
    "days_left",
    "due_dates",
    "due_list_of",
    "due_order",
    "horizon",
    "within",
]


class Due(NamedTuple):
    """One part or thing that falls due: `first` is the last day (a day number) on which its date still holds.

    `last` is later than `first` where only a month or a year was stated: the day lies between them.
    `limit` is the most that the time since the stated day may be, `limit_name` the limit of `local_code` that
    it is (empty where the rule itself says it), `sources` where that number (or else the rule) was drawn from.
    `interval` counts the days from the stated day to `first`.
    `judged_under` is the local code of the rig; `because` says why a folder of one's own changed the limit.
    `later_by` names facts that are not stated and could put the day off; `presumes` those that it takes as met.
    `tag` is that of the thing, if it bears one: it is one thing in however many rigs, and `also_in` names the others.
    `on_record`: `rig` names a register, and no rig that was read has the thing.
    `daily`: it holds for a day at the most, and is done before work, not looked up in a list of months.
    """

    first: int
    last: int
    rig: str
    thing: str
    kind: str
    fact: str
    stated: str
    limit: str
    limit_name: str
    local_code: str
    judged_under: str
    because: str
    sources: tuple[Source, ...]
    rule: str
    signal: Signal
    claim: str
    put_right: str
    place: Place
    rule_place: Place
    interval: int
    later_by: tuple[str, ...] = ()
    presumes: tuple[str, ...] = ()
    tag: str = ""
    also_in: tuple[str, ...] = ()
    on_record: bool = False
    daily: bool = False

    @property
    def same_as(self) -> tuple[str, ...] | None:
        """What two dates of one tagged thing have in common, whatever rigs they were met in; None without a tag."""
        if not self.tag:
            return None
        return self.tag, self.rule, self.fact, self.stated, self.limit, self.judged_under, str(self.first)


class Undated(NamedTuple):
    """A day that a rule counts from and that is not stated; `absent`: stated that there is none."""

    rig: str
    thing: str
    kind: str
    fact: str
    ask: str
    absent: bool
    rules: tuple[str, ...]
    place: Place
    tag: str = ""
    daily: bool = False


class DueList(Struct, frozen=True):
    """What falls due on one rig, by day, and the days that are not stated."""

    rig: str
    file: str
    local_code: str
    code_stated: bool
    dues: tuple[Due, ...]
    undated: tuple[Undated, ...]


def due_dates(rig: Rig, pack: Pack, *, day: int, local_code: str = "") -> DueList:
    """Return what falls due on a rig, by the limits in force on a day (a proleptic Gregorian day number).

    `local_code` overrides the rig's own; `general` stands where neither says one.
    """
    return due_list_of(judge(rig, pack, day=day, local_code=local_code))


def due_list_of(judged: Judged) -> DueList:
    """Return what falls due on a judged rig."""
    rig, rules = judged.known.filled, judged.rules
    ends = [(rule, _unless_slip(end, judged.day)) for rule, end in _ends(judged)]
    teller = _Teller(rig, rules)
    dues = sorted((teller.due(rule, end) for rule, end in ends if end.first is not None), key=due_order)
    undated = _undated(rig, ends)
    return DueList(rig.title, rig.file, rules.local_code, judged.code_stated, tuple(dict.fromkeys(dues)), undated)


def due_order(due: Due) -> tuple[int, str, str, str, str, int, str]:
    """Return what a list of due dates is sorted by: the day; then what reads alike stands together."""
    return due.first, due.place.file, due.rule, due.fact, due.stated, due.place.line, due.thing


def days_left(due: Due, day: int) -> int:
    """Return the days from a day to the one on which something falls due; below zero once it is overdue."""
    return due.first - day


_UNITS_OF_TIME = ("age", "time")
_DAY = 86_400  # seconds


def horizon(day: int, text: str) -> int:
    """Return the day number that lies '90 d', '12 weeks' or '3 months' after a day. Raises `NotRead`."""
    span = _time(text)
    if span.dimension == "age" and span.lo == int(span.lo):
        return months_after(date.fromordinal(day), int(span.lo)).toordinal()
    if span.dimension == "age":
        raise NotRead(f"{text!r} is no whole number of months.", "Write '90d' or '3 month'.")
    return min(day + int(span.lo // _DAY), date.max.toordinal())


def within(due: Due, until: int | None) -> bool:
    """Return whether something falls due by a day; without one, everything does."""
    return until is None or due.first <= until


def _time(text: str) -> Interval:
    for dimension in _UNITS_OF_TIME:
        try:
            span = read_quantity(text, dimension)
        except NotRead:
            continue
        if span.lo == span.hi >= 0:
            return span
    raise NotRead(f"{text!r} is no time.", "Write '90d', '12 week', '3 month' or '1 year'.")


_Ends = list[tuple[Rule, Deadline]]


def _ends(judged: Judged) -> Iterator[tuple[Rule, Deadline]]:
    """Yield the ends of every thing; those of a twin are those of its first, as its own."""
    of_firsts: dict[Thing, _Ends] = {}
    doubled, at = frozenset(judged.twins.values()), judged.in_entry_of
    for thing in judged.known.things:
        first = judged.twins.get(thing)
        ends = of_firsts[first] if first is not None else list(_ends_of(thing, judged.rules))
        if thing in doubled:
            of_firsts[thing] = ends
        yield from ends if first is None else ((rule, replace(end, owner=at(thing, end.owner))) for rule, end in ends)


def _ends_of(thing: Thing, rules: CompiledRules) -> Iterator[tuple[Rule, Deadline]]:
    dated = _dated_rules(rules.pack)
    for rule, concerns, _ in rules.rules_for(thing):
        if rule.name in dated and (concerns is None or concerns(thing, thing) is not FALSE):
            for end in deadlines(rules.judge, rule.holds, thing):
                yield rule, end


def _unless_slip(end: Deadline, day: int) -> Deadline:
    """Return a deadline, as of no day where it counts from one that is still to come."""
    stated = end.owner.facts.get(end.fact)
    slip = end.first is not None and isinstance(stated, Interval) and is_slip(end.fact, stated.lo, day)
    return replace(end, first=None, last=None) if slip else end


def _dated_rules(pack: Pack) -> frozenset[str]:
    """Return the rules that name a time since a day: the walk through all others would find nothing."""
    kept: frozenset[str] | None = pack.kept.get("dated rules")
    if kept is None:
        kept = pack.kept["dated rules"] = _rules_with_a_time(pack)
    return kept


def _rules_with_a_time(pack: Pack) -> frozenset[str]:
    kinds = pack.vocabulary.kinds.values()
    times = {name for kind in kinds for name, fact in kind.facts.items() if fact.entry.from_day}
    return frozenset(rule.name for rule in pack.rules.values() if times & _named(rule))


def _named(rule: Rule) -> set[str]:
    clauses = (clause for clause in every_clause(rule.holds) if clause.keyword == "properties")
    return {name for clause in clauses for name in clause.operand.schemas}


class _Teller:
    """Tells what falls due on one rig."""

    def __init__(self, rig: Rig, bench: CompiledRules) -> None:
        self.rig, self.bench = rig, bench

    def due(self, rule: Rule, end: Deadline) -> Due:
        """Return one deadline in words."""
        assert end.first is not None and end.last is not None and end.most is not None
        limit = self.bench.limits.get(end.limit)
        return Due(
            first=end.first,
            last=end.last,
            rig=self.rig.title,
            thing=called(end.owner),
            kind=end.owner.kind.name,
            fact=_spoken(end.fact),
            stated=value_words(end.owner.facts[end.fact]),
            limit=end.most.text,
            limit_name=_spoken(end.limit),
            local_code=limit.local_code if limit else self.bench.local_code,
            judged_under=self.bench.local_code,
            because=limit.because if limit else "",
            sources=limit.sources if limit else sources_under(rule.sources, self.bench.local_code),
            rule=rule.name,
            signal=rule.signal,
            claim=rule.claim,
            put_right=rule.put_right,
            place=self.rig.place(end.owner, end.fact),
            rule_place=rule.place,
            interval=end.first - int(end.owner.facts[end.fact].lo),
            later_by=_spoken_all(end.later_by),
            presumes=_spoken_all(end.presumes),
            tag=end.owner.tag,
            on_record=self.rig.root.kind.name == REGISTER,
            daily=_is_daily(end),
        )


def _undated(rig: Rig, ends: list[tuple[Rule, Deadline]]) -> tuple[Undated, ...]:
    found: dict[tuple[Thing, str], tuple[Deadline, list[str]]] = {}
    for rule, end in ends:
        if end.first is None:
            found.setdefault((end.owner, end.fact), (end, []))[1].append(rule.name)
    return tuple(_one_undated(rig, end, tuple(dict.fromkeys(rules))) for end, rules in found.values())


def _one_undated(rig: Rig, end: Deadline, rules: tuple[str, ...]) -> Undated:
    owner = end.owner
    ask, stated = owner.kind.facts[end.fact].entry.ask, owner.facts.get(end.fact)
    if isinstance(stated, Interval):
        ask = f"{ask} {stated.text} lies after the day of this judgement."
    place = rig.place(owner, end.fact)
    kind, fact = owner.kind.name, _spoken(end.fact)
    return Undated(rig.title, called(owner), kind, fact, ask, end.absent, rules, place, owner.tag, _is_daily(end))


def _is_daily(end: Deadline) -> bool:
    """Return whether what was done counts for a day at the most; a last day that is stated itself counts on."""
    most = end.most
    return most is not None and most.dimension == "time" and 0 < most.lo <= _DAY


def called(thing: Thing) -> str:
    """Return what a thing is called: by its tag, which stays where it goes, or else by its place in the rig."""
    return f"{thing.kind.name} {thing.tag}" if thing.tag else thing.label


def _spoken_all(wanted: tuple[Wanted, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(_spoken(_day_behind(owner, fact)) for owner, fact in wanted))


def _day_behind(owner: Thing, fact: str) -> str:
    """Return the stated day behind a time that is counted from it."""
    known = owner.kind.facts.get(fact)
    return (known.entry.from_day if known else "") or fact


def _spoken(name: str) -> str:
    return name.replace("_", " ")
