"""A judged rig told: findings, questions, and the state of the rig.

Pure: no clock, no disk. What holds is only counted; what does not is explained.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Iterable, Mapping
from datetime import date

from msgspec.structs import replace

from rigcheck.condition.reasons import Reason
from rigcheck.condition.tree import Literal
from rigcheck.condition.wording import bound_words, fact_words, listed_words, relation_words, value_words
from rigcheck.facts.explanation import ShownWorking, statement_words
from rigcheck.judge.asked import Asked
from rigcheck.judge.breach_wording import Graver
from rigcheck.judge.concession import granted
from rigcheck.judge.disagreement_findings import disagreements, shown_working
from rigcheck.judge.disputes import Disputes
from rigcheck.judge.finding import (
    Conceded,
    Finding,
    Found,
    Held,
    Inspection,
    Question,
    State,
    Waiting,
)
from rigcheck.judge.judged import Judged, Judgement, Verdict, judge, judge_thing
from rigcheck.quantity.interval import Interval
from rigcheck.rig.premises import PREMISES
from rigcheck.rig.shared_tags import tags_of
from rigcheck.rig.thing import Rig, Statement, Thing
from rigcheck.rules.documents import sources_under
from rigcheck.rules.pack import Pack
from rigcheck.rules.rule import GRAVITY, Rule, Signal
from rigcheck.rules.standard_rigs import changed_since
from rigcheck.text.address import beside
from rigcheck.text.place import Place

__all__ = [
    "Finding",
    "Found",
    "Held",
    "Inspection",
    "Inspector",
    "Question",
    "State",
    "Verdict",
    "Waiting",
    "explain",
    "inspect_rig",
    "judge_thing",
]


def inspect_rig(rig: Rig, pack: Pack, *, day: int, local_code: str = "", tell_holds: bool = False) -> Inspection:
    """Return what the rules of `pack` say of a rig on a day (a proleptic Gregorian day number).

    `local_code` overrides the rig's own; `general` stands where neither says one.
    `tell_holds`: also name every check that held.
    Concessions that the rig carries are judged too, and taken account of.
    """
    return explain(judge(rig, pack, day=day, local_code=local_code), tell_holds=tell_holds)


def explain(judged: Judged, *, tell_holds: bool = False, presumed_holds: Signal | None = None) -> Inspection:
    """Return what a judged rig comes to: see `inspect_rig`.

    `presumed_holds`: the signal word from which on a check that is only presumed puts the rig on hold.
    """
    return Inspector(judged, tell_holds).inspect(presumed_holds)


class Inspector:
    """One look at all verdicts of a judged rig.

    Afterwards `asked` has what they wait for, and `not_shown` counts, by signal word, those that nobody has shown.
    """

    def __init__(self, judged: Judged, tell_holds: bool = False) -> None:
        self.judged, self.rig, self.rules, self.tell_holds = judged, judged.rig, judged.rules, tell_holds
        self.held: list[Held] = []
        self.findings: list[Finding] = []
        self.awaited: set[tuple[Thing, str]] = set()
        self.counts: Counter[Verdict] = Counter()
        self.presumed: Counter[Signal] = Counter()
        self.not_shown: Counter[Signal] = Counter()
        self.disputes = Disputes(judged)
        self.asked = Asked(judged, self.disputes)

    def found(self) -> tuple[Finding, ...]:
        """Return the findings, what stands under a concession last, the gravest first."""
        self._look_at(self.judged.judgements())
        self.not_shown.update(self.presumed)
        self.findings += disagreements(self.judged, self.disputes, self.asked, self.counts)
        findings = self._conceded() if self.rig.concessions else self.findings
        return tuple(sorted(findings, key=lambda f: (f.conceded is not None, -GRAVITY[f.signal], f.place, f.rule)))

    def inspect(self, presumed_holds: Signal | None = None) -> Inspection:
        """Return what a report tells."""
        findings = self.found()
        return Inspection(
            rig=self.rig.name,
            file=self.rig.file,
            day=self.judged.day,
            local_code=self.rules.local_code,
            code_stated=self.judged.code_stated,
            findings=findings,
            questions=self.asked.questions(),
            verdicts={verdict: self.counts[verdict] for verdict in _COUNTED if self.counts[verdict]},
            laid=self.rules.pack.laid,
            pack=self.rules.pack.digest,
            held=tuple(self.held),
            begun_from=self.rig.begun_from.name if self.rig.begun_from else "",
            standard_changed=changed_since(self.rig, self.rules.pack),
            about=self.rig.root.kind.name,
            presumed=self.presumed,
            presumed_holds=presumed_holds,
            purpose=self.rules.purpose,
            unread=self.rig.unread,
            invented=self.rig.invented,
            withdrawn=self.rig.withdrawn,
            tags=tags_of(self.rig),
            site=_site_file(self.rig),
            register=self.rig.register,
            settings=self.rig.settings,
            gone=self.rig.gone,
            seen_by_place=self.rig.seen_by_place,
        )

    def _look_at(self, judgements: Iterable[Judgement]) -> None:
        """Count verdicts, and keep what is broken and what is asked."""
        counts: dict[Verdict, int] = dict.fromkeys(_COUNTED, 0)  # a Counter would take as long as the rules
        for thing, rule, verdict, unknown in judgements:
            counts[verdict] += 1
            if verdict == "broken":
                self.findings.append(self._finding(rule, thing))
                if unknown is not None:
                    self.asked.take(rule, thing, unknown)
            elif unknown is not None:
                if self.rig.concessions:  # nothing else reads it
                    self.awaited.add((thing, rule.name))
                self.not_shown[rule.signal] += 1
                self.asked.take(rule, thing, unknown)
            elif verdict == "presumed":
                self.presumed[rule.signal] += 1
                if self.tell_holds:
                    self.held.append(Held(rule.name, rule.claim, thing.label, self.rig.place(thing), presumed=True))
            elif self.tell_holds and verdict == "holds":
                self.held.append(Held(rule.name, rule.claim, thing.label, self.rig.place(thing)))
        self.counts.update(counts)

    # --- concessions ---

    def _conceded(self) -> list[Finding]:
        """Judge the concessions; return the findings with leave on those that one of them covers."""
        found, self.findings = self.findings, []
        own: list[Finding] = []
        leave: dict[Finding, Conceded] = {}
        for grant in granted(self.judged, found, self.awaited):
            self._look_at(self.judged.judgements([grant.thing]))
            if grant.takes_effect(self.findings):
                leave.setdefault(grant.covered[0], grant.leave())
            own += (replace(f, found=(*f.found, *grant.more(f))) for f in self.findings)
            self.findings = []
        return [replace(f, conceded=leave[f]) if f in leave else f for f in found] + own

    # --- findings ---

    def _finding(self, rule: Rule, thing: Thing) -> Finding:
        now, thing = thing, self.judged.where_broken(rule, thing)
        if thing is not now:
            self.asked.once_more(rule, thing)
        broken = self.judged.broken_by(rule, thing)
        return Finding(
            rule=rule.name,
            signal=rule.signal,
            claim=rule.claim,
            thing=self.asked.ref(now).label,
            place=self._place(broken, thing),
            found=_near(self._found(reason, thing, rule.facts) for reason in broken),
            required=self.rules.required(rule),
            harm=rule.harm,
            put_right=rule.put_right,
            sources=sources_under(rule.sources, self.rules.local_code),
            limits=tuple(self.rules.limits[name] for name in rule.limits),
            rule_place=rule.place,
            at=self.asked.ref(now),
        )

    def _place(self, broken: list[Reason], thing: Thing) -> Place:
        """Return where the breach is written: at a fact of the thing itself, at any other, or else at the thing."""
        written = [r for r in broken if r.fact in r.owner.places or _elsewhere(r) is not None]
        first = next((r for r in written if r.owner is thing), written[0] if written else None)
        return self._where(first) if first else self.rig.place(thing)

    def _where(self, reason: Reason) -> Place:
        said = _elsewhere(reason)
        return said.place if said is not None else self.rig.place(reason.owner, reason.fact)

    def _found(self, reason: Reason, thing: Thing, facts: Container[str]) -> Found:
        if reason.fact == "kind":  # the wrong part stands there: name it
            relation = relation_words(thing, reason.owner, facts) or _FAR
            place = self.rig.place(reason.owner)
            return Found(thing.label, relation, reason.owner.label, place, None, "neighbour", _wanted(reason))
        said, working = _elsewhere(reason), self._working(reason)
        by = statement_words(said) if said is not None else _behind(reason, working)
        return Found(
            thing=reason.owner.label,
            fact=fact_words(reason.fact),
            value=f"{value_words(reason.value)}{f' ({by})' if by else ''}",
            place=self._where(reason),
            working=working,
            sort="quantity" if isinstance(reason.value, Interval) else "word",
            bound=bound_words(reason.clause, self.rules.limit_value) if reason.clause is not None else "",
            follows_from=self._stem(reason),
            ends=(reason.value.lo, reason.value.hi) if isinstance(reason.value, Interval) else None,
            graver=_GRAVER.get(reason.clause.keyword, "") if reason.clause is not None else "",
            counted_from=_first_day(reason),
        )

    def _stem(self, reason: Reason) -> tuple[Place, str, str] | None:
        """Return the statement that a fact follows from, where it does."""
        heard = reason.owner.witnesses.get(reason.fact, ())
        of = next((one.of for one in heard if one.basis == "follows" and one.value == reason.value), None)
        if of is None or of == (reason.owner, reason.fact):
            return None
        owner, name = of
        return self.rig.place(owner, name), fact_words(name), value_words(owner.facts.get(name))

    def _working(self, reason: Reason) -> ShownWorking | None:
        return shown_working(self.judged, reason.owner, reason.fact)


_COUNTED: tuple[Verdict, ...] = ("holds", "presumed", "broken", "unproven", "not judged", "not concerned")


_MOST_BEHIND = 3
_GRAVER: Mapping[str, Graver] = {
    "maximum": "more",
    "exclusiveMaximum": "more",
    "minimum": "less",
    "exclusiveMinimum": "less",
}
_FAR = "there"


def _near(found: Iterable[Found]) -> tuple[Found, ...]:
    """Return what was found without things far off in the flow, where something nearer is told too."""
    every = tuple(found)
    return tuple(one for one in every if one.fact != _FAR) or every


def _first_day(reason: Reason) -> str:
    """Return the day that a time is counted from or to, as 2026-11-25; nothing where it is none such."""
    fact = reason.owner.kind.facts.get(reason.fact)
    day = reason.owner.facts.get(fact.counted_from) if fact is not None and fact.counted_from else None
    return date.fromordinal(int(day.lo)).isoformat() if isinstance(day, Interval) else ""


def _wanted(reason: Reason) -> str:
    """Return the kinds of thing that should stand where another one does; nothing where they are many."""
    operand = reason.clause.operand if reason.clause is not None else ()
    kinds = [
        value_words(one.value)
        for one in (operand if isinstance(operand, tuple) else (operand,))
        if isinstance(one, Literal)
    ]
    return listed_words(kinds, "or") if len(kinds) <= _MOST_BEHIND else ""


def _behind(reason: Reason, working: ShownWorking | None) -> str:
    """Return the numbers behind a yes or no that was worked out: 'no' alone would not say which number is meant."""
    if working is None or not isinstance(reason.value, bool):
        return ""
    numbers = [one for one in working.inputs if one.value and one.value[0] in "0123456789-"]
    told = dict.fromkeys(f"{one.fact or one.symbol} {one.value}" for one in numbers)
    return ", ".join([*told][:_MOST_BEHIND])


def _elsewhere(reason: Reason) -> Statement | None:
    """Return what another file says of a fact, the register, a look or a record, where that is what counts."""
    said = reason.owner.said.get(reason.fact, ())
    counts = [one for one in said if one.value == reason.value]
    return max(counts, key=lambda one: (one.basis == "seen", one.day or 0)) if counts else None


def _site_file(rig: Rig) -> str:
    """Return the file of the site that a rig stands at, or that it is itself; nothing where it names none."""
    if rig.root.kind.name == PREMISES:
        return rig.file
    return beside(rig.file, rig.stands_at) if rig.stands_at else ""
