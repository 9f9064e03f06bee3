"""What is found where those who say something of a rig do not agree: over a fact, or over whether a part is there."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from rigcheck.condition.wording import fact_words, value_words
from rigcheck.facts.explanation import ShownWorking, basis_words, show_working
from rigcheck.facts.witness import Witness
from rigcheck.judge.asked import Asked
from rigcheck.judge.disputes import DISAGREEMENT, Dispute, Disputes
from rigcheck.judge.finding import Finding, Found
from rigcheck.judge.judged import Judged, Verdict
from rigcheck.quantity.interval import Interval
from rigcheck.quantity.wording import shown_day
from rigcheck.rig.put_down import PutDown
from rigcheck.rig.thing import Thing
from rigcheck.rules.looks import looks_of
from rigcheck.rules.rule import GRAVITY, Rule

__all__ = ["disagreements", "shown_working"]

_NOT_SHOWN = ("unproven", "presumed")


def disagreements(judged: Judged, disputes: Disputes, asked: Asked, counts: Counter[Verdict]) -> list[Finding]:
    """Return a finding for each fact of which statements disagree, and for each part that somebody says is not there.

    Each is as grave as the gravest rule that it leaves open. The verdicts that it takes are added to `counts`.
    """
    teller = _Teller(judged, asked, counts)
    return [*teller.disputed(disputes), *teller.not_there()]


def shown_working(judged: Judged, owner: Thing, fact: str) -> ShownWorking | None:
    """Return the working of a fact as a report shows it; nothing where it was not worked out."""
    working = owner.workings.get(fact)
    return None if working is None else show_working(judged.rig, working, judged.rules.limits)


class _Teller:
    def __init__(self, judged: Judged, asked: Asked, counts: Counter[Verdict]) -> None:
        self.judged, self.rig, self.asked, self.counts = judged, judged.rig, asked, counts

    def disputed(self, disputes: Disputes) -> Iterator[Finding]:
        """Yield a finding for every fact of which statements disagree."""
        for dispute in disputes:
            for rule in self._broken_over(dispute.asked[0]):
                yield self._disputed(rule, dispute)

    def not_there(self) -> Iterator[Finding]:
        """Yield a finding for each part of the standard rig of which somebody said last that it is not there.

        Whether none belongs there is not known, so that it is as grave as the gravest rule that it leaves open.
        """
        if not self.rig.put_down:
            return
        absent = looks_of(self.judged.rules.pack).absent
        filled = {thing.path: thing for thing in self.judged.known.filled.things}
        gone = {one.thing.path: one for one in self.rig.put_down if one.because == absent and one.may_be_absent}
        for path, one in gone.items():
            for rule in self._broken_over(filled[path]):
                yield self._not_there(rule, filled[path], one)

    def _broken_over(self, owner: Thing) -> Iterator[Rule]:
        """Yield the rules that are broken by a disagreement over a thing."""
        kind = self.judged.rules.pack.vocabulary.kinds.get(DISAGREEMENT)
        if kind is None:  # a vocabulary of one's own
            return
        thing = Thing(kind, DISAGREEMENT, owner, owner.line, owner.column).open_copy()
        self.judged.known.take_in([thing])
        for _, rule, verdict, _ in self.judged.judgements([thing]):
            self.counts[verdict] += 1
            if verdict == "broken":
                yield rule

    def _not_there(self, rule: Rule, thing: Thing, said: PutDown) -> Finding:
        ref, key = self.asked.ref(thing), thing.kind.name.replace(" ", "_")
        open_ = (one.signal for _, one, verdict, _ in self.judged.judgements([thing]) if verdict in _NOT_SHOWN)
        seen = f"seen {shown_day(said.day)} by {said.by}"
        begun = self.rig.begun_from.name if self.rig.begun_from is not None else ""
        return Finding(
            rule=rule.name,
            signal=max((rule.signal, *open_), key=GRAVITY.__getitem__),
            claim=rule.claim,
            thing=ref.label,
            place=said.place,
            found=(
                Found(ref.label, f"in the standard rig {begun}", "there", self.rig.place(thing)),
                Found(ref.label, seen, "not there", said.place),
            ),
            required="the part, or a description that says none",
            harm="Either the part is missing, and with it what it holds back, or the description is of another rig.",
            put_right=f"Fit it before gas is let on. If none belongs there, write '{key}: none', and have that judged.",
            sources=rule.sources,
            limits=(),
            rule_place=rule.place,
            at=ref,
        )

    def _disputed(self, rule: Rule, dispute: Dispute) -> Finding:
        owner, name = dispute.asked
        return Finding(
            rule=rule.name,
            signal=dispute.signal(rule.signal),
            claim=rule.claim,
            thing=self.asked.ref(owner).label,
            place=self.rig.place(owner, name),
            found=tuple(self._said(one, dispute.name) for one in dispute.witnesses),
            required=f"one {fact_words(name)}, whoever says it",
            harm=rule.harm,
            put_right=rule.put_right,
            sources=rule.sources,
            limits=(),
            rule_place=rule.place,
            at=self.asked.ref(owner),
        )

    def _said(self, witness: Witness, disputed: str) -> Found:
        owner, name = witness.of
        worked, follows = witness.basis == "worked out", witness.basis == "follows"
        value = value_words(witness.value)
        return Found(
            thing=self.asked.ref(owner).label,
            fact=f"{fact_words(disputed if follows else name)}, {basis_words(witness)}",
            value=f"{value} ({witness.says.rstrip('.')})" if follows else value,
            place=self.rig.place(owner, name),
            working=shown_working(self.judged, owner, name) if worked else None,
            sort="quantity" if isinstance(witness.value, Interval) else "word",
        )
