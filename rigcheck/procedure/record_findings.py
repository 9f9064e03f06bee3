"""Findings and questions about the steps of a record, gathered while it is judged."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from msgspec import Struct, field

from rigcheck.judge.compiled_rules import CompiledRules
from rigcheck.judge.inspection import Finding, Found, Question, Verdict, Waiting
from rigcheck.procedure.expansion import Expansion, Instance
from rigcheck.procedure.record_reader import Done, Record
from rigcheck.procedure.step_words import Speaker
from rigcheck.rig.thing import Thing
from rigcheck.rules.documents import sources_under
from rigcheck.rules.rule import GRAVITY, Signal
from rigcheck.rules.steps import Step
from rigcheck.text.place import Place

__all__ = ["Telling", "entry_words"]


class Telling(Struct):
    """What a record is judged with, and what was found so far."""

    record: Record
    expansion: Expansion
    speaker: Speaker
    bench: CompiledRules
    findings: list[Finding] = field(default_factory=list)
    counts: Counter[Verdict] = field(default_factory=Counter)
    _asked: dict[tuple[str, str, Place, str], Question] = field(default_factory=dict)

    @property
    def questions(self) -> list[Question]:
        """The questions, gravest first."""
        return sorted(self._asked.values(), key=lambda q: (-GRAVITY[q.signal], q.place, q.fact))

    def held(self, count: int = 1) -> None:
        """Count checks that held."""
        self.counts["holds"] += count

    def finding(
        self, instance: Instance, place: Place, found: Iterable[tuple[str, str, Place]], required: str
    ) -> Finding:
        """Return a finding about a step; `found` is what, its value, and where it is written."""
        step, thing = instance.step, self.whose(instance)
        return Finding(
            rule=self.rule(step),
            signal=step.signal,
            claim=self.speaker.do(instance),
            thing=thing,
            place=place,
            found=tuple(Found(thing, what, value, at) for what, value, at in found),
            required=required,
            harm=step.hazard,
            put_right=step.put_right,
            sources=sources_under(step.sources, self.expansion.local_code),
            limits=(),
            rule_place=step.place,
        )

    def tell(self, finding: Finding) -> None:
        """Keep a finding."""
        self.counts["broken"] += 1
        self.findings.append(finding)

    def ask(
        self,
        step: Step,
        thing: str,
        fact: str,
        ask: str,
        place: Place,
        too_close: str = "",
        *,
        signal: Signal | None = None,
    ) -> None:
        """Keep a question; a step that waits for the same answer joins it. `signal`: that of the step, unless said."""
        key = (thing, fact, place, too_close)
        waiting = Waiting(self.rule(step), signal or step.signal, step.do, step.place)
        first = self._asked.get(key)
        waits = dict.fromkeys((*(first.waiting if first else ()), waiting))
        self._asked[key] = Question(thing, fact, ask, place, tuple(waits), too_close=too_close)

    def ask_too(self, question: Question) -> None:
        """Keep a question of the rig's own inspection."""
        self.counts["unproven"] += 1
        self._asked[(question.thing, question.fact, question.place, question.too_close)] = question

    def ask_of_rig(self, step: Step, owner: Thing, name: str) -> None:
        """Ask for a fact of the rig: for what it is worked out from, where it is computed."""
        rig = self.expansion.rig
        for whose, fact in owner.wanting.get(name) or ((owner, name),):
            known = whose.kind.facts.get(fact)
            ask = known.entry.ask if known and known.entry.ask else f"What is the {fact.replace('_', ' ')}?"
            self.ask(step, whose.label, fact, ask, rig.place(whose, fact))

    def whose(self, instance: Instance) -> str:
        """Return the thing that a step is done to, or the rig."""
        return instance.called or "rig"

    def rule(self, step: Step) -> str:
        """Return the name that a step has among the rules."""
        return f"procedures/{self.expansion.procedure.name}/{step.name}"


def entry_words(done: Done) -> str:
    """Return a recorded step with its line in the record."""
    return f"{done.instance.label} (line {done.place.line})"
