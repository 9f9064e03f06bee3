"""The rules of a pack made ready to judge under one local code on one day."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from rigcheck.condition.check import Check
from rigcheck.condition.compiler import Judge
from rigcheck.condition.wording import in_words
from rigcheck.facts.known import FactPlan, Purpose
from rigcheck.quantity.interval import Interval, worked_out
from rigcheck.quantity.wording import said_in_full, shown_number
from rigcheck.rig.thing import Thing
from rigcheck.rig.vocabulary import Kind
from rigcheck.rules.folders import label_of
from rigcheck.rules.limits import DatedLimit, in_force, told_under
from rigcheck.rules.pack import Pack
from rigcheck.rules.rule import Rule

__all__ = ["CompiledRules", "compiled_for"]


class CompiledRules:
    """The rules of a pack compiled for one local code and day, by kind of thing.

    `plan` says what works out the facts that they read; `alone`: for things that each stand by themselves.
    """

    def __init__(
        self, pack: Pack, local_code: str, limits: Mapping[str, DatedLimit], judge: Judge, purpose: Purpose, alone: bool
    ) -> None:
        """Sort the rules that apply under this code by the kind of thing that they look at."""
        self.pack, self.local_code, self.limits, self.judge = pack, local_code, limits, judge
        self.purpose, self.alone = purpose, alone
        self.compiled: dict[str, list[tuple[Rule, Check | None, Check]]] = {}
        self.by_kind: dict[str, list[Rule]] = {}
        self.spoken: dict[str, str] = {}
        for rule in self.pack.rules.values():
            if (not rule.under or self.local_code in rule.under) and self._has_limits(rule):
                self.by_kind.setdefault(rule.kind.name, []).append(rule)
        names = frozenset(name for rules in self.by_kind.values() for rule in rules for name in rule.facts)
        follows = self.pack.follows.values()
        figures = self.pack.figures.values()
        self.plan = FactPlan(self.judge, self.pack.tables, follows, names, purpose, figures, alone=alone)

    def rules_for(self, thing: Thing) -> list[tuple[Rule, Check | None, Check]]:
        """Return the rules that look at things of this kind, with their checks."""
        kept = self.compiled.get(thing.kind.name)
        if kept is None:
            kept = self.compiled[thing.kind.name] = list(self._compile(thing.kind))
        return kept

    def _compile(self, kind: Kind) -> Iterable[tuple[Rule, Check | None, Check]]:
        check = self.judge.check
        for base in kind.lineage:
            for rule in self.by_kind.get(base, ()):
                yield rule.at(kind), check(rule.concerns) if rule.concerns else None, check(rule.holds)

    def _has_limits(self, rule: Rule) -> bool:
        """A rule whose limit was withdrawn, or is not yet in force, does not apply."""
        return all(name in self.judge.limits for name in rule.limits)

    def required(self, rule: Rule) -> str:
        """Return what a rule requires, in words, with the limits in force."""
        kept = self.spoken.get(rule.name)
        if kept is None:
            kept = self.spoken[rule.name] = in_words(rule.holds, self.limit_words, rule.kind.name)
        return kept

    def limit_words(self, name: str) -> str:
        """Return a limit's value with where it comes from."""
        limit = self.limits.get(name)
        if limit is None or limit.value is None:
            return f"limit {name.replace('_', ' ')}"
        return f"{_converted(limit.value)} ({self._whose(limit)})"

    def limit_value(self, name: str) -> str:
        """Return a limit's value alone; its name where none is in force."""
        limit = self.limits.get(name)
        return self.limit_words(name) if limit is None or limit.value is None else _converted(limit.value)

    def _whose(self, limit: DatedLimit) -> str:
        whose = ""
        if limit.layer:
            sources = ", ".join(source.words for source in limit.sources)
            whose = f", set in {label_of(self.pack.folders[limit.layer])}: {sources}"
        return f"limit {limit.name.replace('_', ' ')}, {limit.local_code}{whose}"


_SEEN = ("bar", "mbar", "m", "mm", "m2", "m3", "L", "mL", "kg", "m3/h", "L/h", "degC", "N", "m/s", "%", "%/h")
_CONVERTED = ("pressure", "length", "area", "volume", "mass", "flow", "temperature", "force", "speed", "share_per_hour")


def _converted(value: Interval) -> str:
    """Return a limit as it is written; one in units of another country also in those that figures are shown in."""
    written = said_in_full(value.text)
    if value.dimension not in _CONVERTED or value.unit in _SEEN:
        return written
    shown = (
        f"{shown_number(value.lo * 1000)} mm"
        if value.unit == "in"
        else worked_out(value.lo, value.lo, value.dimension).text
    )
    return f"{written} = {shown}"


_MOST_COMPILED = 16


def compiled_for(
    pack: Pack, local_code: str, day: int, purpose: Purpose = "commissioning", *, alone: bool = False
) -> CompiledRules:
    """Return the rules of a pack compiled for a local code, a day and a purpose; they are kept with the pack.

    `alone`: for things that each stand by themselves.
    """
    compiled: dict[tuple[str, int, Purpose, bool], CompiledRules] = pack.kept.setdefault("compiled", {})
    key = local_code, day, purpose, alone
    kept = compiled.get(key)
    if kept is None:
        if len(compiled) >= _MOST_COMPILED:  # records and looks have days of their own
            compiled.clear()
        limits = in_force(pack.limits, local_code, day, pack.definitions)
        values = {name: one.value for name, one in limits.items() if one.value is not None}
        kept = CompiledRules(pack, local_code, told_under(limits, local_code), Judge(values), purpose, alone)
        compiled[key] = kept
    return kept
