"""A rig judged by a pack on a day: findings, questions, and the state of the rig.

Pure: no clock, no disk. What holds is only counted; what does not is explained.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping

from rigcheck.condition.reasons import Reason, reasons
from rigcheck.condition.tree import Schema
from rigcheck.condition.wording import fact_words, relation_words, value_words
from rigcheck.facts.explanation import ShownWorking, show_working
from rigcheck.judge.compiled_rules import Bench, Verdict, judge_thing, rig_on_bench
from rigcheck.judge.finding import Finding, Found, Held, Inspection, Question, State, Waiting
from rigcheck.quantity.interval import Interval
from rigcheck.quantity.truth import FALSE, TRUE, UNKNOWN
from rigcheck.rig.thing import MISSING, Rig, Thing
from rigcheck.rig.vocabulary import Kind
from rigcheck.rules.documents import sources_under
from rigcheck.rules.pack import Loosened, Pack
from rigcheck.rules.rule import GRAVITY, Rule
from rigcheck.text.place import Place

__all__ = [
    "Finding",
    "Found",
    "Held",
    "Inspection",
    "Question",
    "State",
    "Verdict",
    "Waiting",
    "inspect_rig",
    "judge_thing",
]


def inspect_rig(rig: Rig, pack: Pack, *, day: int, local_code: str = "", tell_holds: bool = False) -> Inspection:
    """Return what the rules of `pack` say of a rig on a day (a proleptic Gregorian day number).

    `local_code` overrides the rig's own; `general` stands where neither says one.
    `tell_holds`: also name every check that held.
    Concessions that the rig carries are judged too, and taken account of.
    """
    bench, stated = rig_on_bench(rig, pack, day=day, local_code=local_code)
    inspection = _Inspector(rig, bench, tell_holds).inspect(day, stated)
    if not rig.concessions:
        return inspection
    from rigcheck.judge.concession import concede  # most rigs are inspected without it

    return concede(inspection, rig, bench, lambda part: _Inspector(part, bench, tell_holds).inspect(day, stated))


class _Inspector:
    def __init__(self, rig: Rig, bench: Bench, tell_holds: bool = False) -> None:
        self.rig, self.bench, self.tell_holds = rig, bench, tell_holds
        self.held: list[Held] = []
        self.findings: list[Finding] = []
        self.asked: dict[tuple[int, str, str], tuple[Reason, dict[str, Rule], str]] = {}
        self.waiters: dict[str, Waiting] = {}
        self.labels: dict[Thing, str] = {}
        self.open_facts = _by_kind(rig.on_site)

    def inspect(self, day: int, code_stated: bool) -> Inspection:
        rules_for, tell_holds = self.bench.rules_for, self.tell_holds
        held_count = unproven = unconcerned = 0
        for thing in self.rig.things:
            for rule, concerns, holds in rules_for(thing):  # as `judge_thing`, without a call for each
                if concerns is not None and (concerned := concerns(thing, thing)) is not TRUE:
                    if concerned is FALSE:
                        unconcerned += 1
                    elif rule.concerns is not None:
                        unproven += 1
                        self._ask(rule, thing, rule.concerns)
                elif (held := holds(thing, thing)) is TRUE:
                    held_count += 1
                    if tell_holds:
                        self.held.append(Held(rule.name, rule.claim, thing.label, self.rig.place(thing)))
                elif held is FALSE:
                    self.findings.append(self._finding(rule, thing))
                else:
                    unproven += 1
                    self._ask(rule, thing, rule.holds)
        broken = len(self.findings)
        counts: dict[Verdict, int] = {"holds": held_count, "broken": broken, "unproven": unproven}
        counts["not concerned"] = unconcerned
        self.findings.sort(key=lambda f: (-GRAVITY[f.signal], f.place, f.rule))
        return Inspection(
            rig=self.rig.name,
            file=self.rig.file,
            day=day,
            local_code=self.bench.local_code,
            code_stated=code_stated,
            findings=tuple(self.findings),
            questions=self._questions(),
            verdicts={verdict: count for verdict, count in counts.items() if count},
            loosened=self._loosened(),
            replaced=self.bench.pack.replaced,
            pack=self.bench.pack.digest,
            held=tuple(self.held),
        )

    def _loosened(self) -> tuple[Loosened, ...]:
        used = self.bench.limits.values()
        return tuple(one for one in self.bench.pack.loosened if one.limit in used)

    # --- findings ---

    def _finding(self, rule: Rule, thing: Thing) -> Finding:
        broken = reasons(self.bench.judge, rule.holds, thing, FALSE)
        return Finding(
            rule=rule.name,
            signal=rule.signal,
            claim=rule.claim,
            thing=thing.label,
            place=self._place(broken, thing),
            found=tuple(self._found(reason, thing, rule.facts) for reason in broken),
            required=self.bench.required(rule),
            harm=rule.harm,
            put_right=rule.put_right,
            sources=sources_under(rule.sources, self.bench.local_code),
            limits=tuple(self.bench.limits[name] for name in rule.limits),
            rule_place=rule.place,
        )

    def _place(self, broken: list[Reason], thing: Thing) -> Place:
        """Return where the breach is written: at a fact of the thing itself, at any other, or else at the thing."""
        written = [r for r in broken if r.fact in r.owner.places]
        first = next((r for r in written if r.owner is thing), written[0] if written else None)
        return self.rig.place(first.owner, first.fact) if first else self.rig.place(thing)

    def _found(self, reason: Reason, thing: Thing, facts: Container[str]) -> Found:
        if reason.fact == "kind":  # the wrong part stands there: name it
            relation = relation_words(thing, reason.owner, facts) or "there"
            place = self.rig.place(reason.owner)
            return Found(thing.label, relation, reason.owner.label, place, sort="neighbour")
        return Found(
            thing=reason.owner.label,
            fact=fact_words(reason.fact),
            value=value_words(reason.value),
            place=self.rig.place(reason.owner, reason.fact),
            working=self._working(reason),
            sort="quantity" if isinstance(reason.value, Interval) else "word",
        )

    def _working(self, reason: Reason) -> ShownWorking | None:
        working = reason.owner.workings.get(reason.fact)
        return None if working is None else show_working(self.rig, working, self.bench.limits)

    # --- questions ---

    def _ask(self, rule: Rule, thing: Thing, unknown: Schema) -> None:
        """Keep the facts that a rule waits for, by that one of its conditions which is not known."""
        for reason in reasons(self.bench.judge, unknown, thing, UNKNOWN):
            for wanted in self._stated(reason):
                close = self._too_close(wanted, rule)
                key = (id(wanted.owner), wanted.fact, close)
                self.asked.setdefault(key, (wanted, {}, close))[1][rule.name] = rule

    def _stated(self, reason: Reason) -> list[Reason]:
        """Return the stated facts that a computed fact waits for; a stated fact is itself."""
        owner, name, value, _ = reason
        if value is MISSING and (wants := owner.wanting.get(name)):
            return [Reason(wanted, fact, MISSING, None) for wanted, fact in wants]
        fact = owner.kind.facts.get(name)
        day = fact.entry.from_day if fact else ""
        return [Reason(owner, day, value, None) if day else reason]  # the day behind an age that is too close to call

    def _too_close(self, reason: Reason, rule: Rule) -> str:
        if not isinstance(reason.value, Interval):
            return ""
        return f"{value_words(reason.value)} against: {self.bench.required(rule)}"

    def _questions(self) -> tuple[Question, ...]:
        questions = [self._question(*one) for one in self.asked.values()]
        questions.sort(key=lambda q: (-GRAVITY[q.signal], -len(q.waiting), q.place, q.fact))
        return tuple(questions)

    def _question(self, reason: Reason, rules: Mapping[str, Rule], close: str) -> Question:
        owner = reason.owner
        waiting = [self._waiting(rule) for rule in rules.values()]
        waiting.sort(key=lambda w: (-GRAVITY[w.signal], w.rule))
        return Question(
            thing=self._label(owner),
            fact=reason.fact,
            ask=self._ask_words(reason),
            place=self.rig.place(owner, reason.fact),
            waiting=tuple(waiting),
            too_close=close,
            left_open=self._left_open(owner.kind, reason.fact),
            working=self._working(reason) if close else None,
            kind=owner.kind.name,
        )

    def _waiting(self, rule: Rule) -> Waiting:
        kept = self.waiters.get(rule.name)
        if kept is None:
            kept = self.waiters[rule.name] = Waiting(rule.name, rule.signal, rule.claim, rule.place)
        return kept

    def _label(self, thing: Thing) -> str:
        """Return what a thing is called; many questions are put about one thing."""
        kept = self.labels.get(thing)
        if kept is None:
            kept = self.labels[thing] = thing.label
        return kept

    def _ask_words(self, reason: Reason) -> str:
        """Return the question of a fact; one that no formula could give is asked for by its name."""
        fact, spoken = reason.owner.kind.facts.get(reason.fact), reason.fact.replace("_", " ")
        if fact is None or fact.entry.ask:
            return fact.entry.ask + self._after_the_day(reason) if fact else f"What is the {spoken}?"
        working = reason.owner.workings.get(reason.fact)
        where = f" The formula holds only so: {working.way.validity}" if working and working.way.validity else ""
        return f"What is the {spoken}? It cannot be worked out here.{where}"

    def _after_the_day(self, reason: Reason) -> str:
        """Return what is wrong with a day that is stated and yet asked for."""
        stated = reason.owner.facts.get(reason.fact, MISSING)
        later = reason.value is MISSING and isinstance(stated, Interval) and stated.dimension == "day"
        return f" {stated.text} lies after the day of this judgement." if later else ""

    def _left_open(self, kind: Kind, fact: str) -> bool:
        """Return whether the rig leaves a fact to the site on purpose."""
        return any(fact in self.open_facts.get(one, ()) for one in kind.lineage)


def _by_kind(names: Iterable[str]) -> Mapping[str, set[str]]:
    """Return the facts in `names`, written as `hose.made`, by kind."""
    sorted_out: dict[str, set[str]] = {}
    for name in names:
        kind, _, fact = name.partition(".")
        sorted_out.setdefault(kind, set()).add(fact)
    return sorted_out
