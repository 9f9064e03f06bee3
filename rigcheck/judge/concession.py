"""Concessions judged, and the findings that they concede: pure, after the rest of the rig is judged.

A concession is judged by rules like any other thing. It takes effect where it runs, names a rule that may be
conceded, covers exactly one breach, and has no finding against itself that is graver than a NOTICE.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import replace

from rigcheck.condition.wording import value_words
from rigcheck.facts import establish
from rigcheck.facts.concession_facts import LED_TO, LedTo
from rigcheck.judge.compiled_rules import Bench, judge_thing
from rigcheck.judge.finding import Conceded, Finding, Found, Inspection, Question
from rigcheck.rig.thing import Rig, Thing
from rigcheck.rules.rule import GRAVITY
from rigcheck.text.faults import nearest_word
from rigcheck.text.place import Place

__all__ = ["concede"]


def concede(inspection: Inspection, rig: Rig, bench: Bench, judge: Callable[[Rig], Inspection]) -> Inspection:
    """Return an inspection with the concessions of its rig judged by `judge` and taken account of."""
    found = [_Concession(inspection, rig, bench, group.file, one) for group in rig.concessions for one in group.things]
    judged = [one.judged(inspection.day, judge) for one in found]
    conceded: dict[int, Conceded] = {}
    for one, own in zip(found, judged, strict=True):
        if one.takes_effect(own):
            conceded.setdefault(id(one.covered[0]), one.leave())
    kept = [replace(f, conceded=conceded.get(id(f))) if id(f) in conceded else f for f in inspection.findings]
    kept += (finding for own in judged for finding in own.findings)
    questions = [*inspection.questions, *(question for own in judged for question in own.questions)]
    verdicts = Counter(inspection.verdicts)
    for own in judged:
        verdicts.update(own.verdicts)
    return replace(
        inspection,
        findings=_ordered(kept),
        questions=_gravest(questions),
        verdicts=verdicts,
        held=(*inspection.held, *(held for own in judged for held in own.held)),
    )


def _ordered(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return what is conceded last, and otherwise the gravest first."""
    return tuple(sorted(findings, key=lambda f: (f.conceded is not None, -GRAVITY[f.signal], f.place, f.rule)))


def _gravest(questions: Iterable[Question]) -> tuple[Question, ...]:
    return tuple(sorted(questions, key=lambda q: (-GRAVITY[q.signal], -len(q.waiting), q.place, q.fact)))


class _Concession:
    """One concession, with what it leads to in its rig."""

    def __init__(self, inspection: Inspection, rig: Rig, bench: Bench, file: str, thing: Thing) -> None:
        self.rig, self.bench, self.file, self.thing = rig, bench, file, thing
        self.rule, self.on = str(thing.facts["rule"]), thing.facts.get("thing")
        self.covered = [f for f in inspection.findings if f.rule == self.rule and self._covers(f.thing)]
        self.led_to = self._leads_to()

    def _covers(self, label: str) -> bool:
        return self.on is None or _folded(label) == _folded(str(self.on))

    def _leads_to(self) -> LedTo:
        rule = self.bench.pack.rules.get(self.rule)
        covered = [thing for thing in self.rig.things if self._covers(thing.label)]
        return LedTo(
            rule_known=rule is not None,
            thing_known=bool(covered),
            may_be_conceded=None if rule is None else rule.concedable,
            breaches=len(self.covered),
            awaited=any(self._waits(thing) for thing in covered),
        )

    def _waits(self, thing: Thing) -> bool:
        rules = (one for one in self.bench.rules_for(thing) if one[0].name == self.rule)
        return any(judge_thing(concerns, holds, thing) == "unproven" for _, concerns, holds in rules)

    # --- the concession itself ---

    def judged(self, day: int, judge: Callable[[Rig], Inspection]) -> Inspection:
        """Return what the rules say of the concession, with what helps to mend it."""
        self.thing.facts |= {LED_TO: self.led_to, "rig": self.rig.root}
        alone = Rig(self.file, self.rig.root, (self.thing,), frozenset())
        establish(alone, day, self.bench.judge.limits, self.bench.pack.tables)
        own = judge(alone)
        return replace(own, findings=tuple(replace(f, found=(*f.found, *self._more(f))) for f in own.findings))

    def _more(self, finding: Finding) -> Iterable[Found]:
        """Yield what helps to mend the concession: the nearest known word, or else its last day."""
        facts = {found.fact for found in finding.found}
        if "rule known" in facts:
            yield from self._nearest("rule", nearest_word(self.rule, self.bench.pack.rules))
        elif "thing known" in facts:
            labels = dict.fromkeys(thing.label for thing in self.rig.things)
            yield from self._nearest("thing", nearest_word(str(self.on), labels))
        else:
            yield Found(self.thing.label, "last day", value_words(self.thing.facts["until"]), self._place("until"))

    def _nearest(self, what: str, near: str) -> Iterable[Found]:
        if near:
            yield Found(self.thing.label, f"nearest known {what}", near, self._place(what))

    def _place(self, fact: str = "") -> Place:
        where = self.thing.places.get(fact, self.thing)
        return Place(self.file, where.line, where.column)

    def takes_effect(self, own: Inspection) -> bool:
        """Return whether the one breach that is covered counts as conceded; `own`: what the rules say of it."""
        runs = self.thing.facts["until"].hi >= own.day
        sound = all(finding.signal == "notice" for finding in own.findings)
        return runs and sound and bool(self.led_to.may_be_conceded) and len(self.covered) == 1

    def leave(self) -> Conceded:
        """Return what is shown beside the finding."""
        facts = self.thing.facts
        return Conceded(str(facts["reason"]), str(facts["who"]), int(facts["until"].hi), self._place())


def _folded(label: str) -> str:
    return " ".join(label.casefold().split())
