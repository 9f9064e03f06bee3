"""What is asked of a judged rig: facts that are not known, with the rules that wait for each."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from operator import itemgetter
from typing import NamedTuple

from rigcheck.condition.reasons import Reason, reasons
from rigcheck.condition.tree import Schema
from rigcheck.condition.wording import value_words
from rigcheck.facts.explanation import show_working, witness_words
from rigcheck.judge.disputes import Dispute, Disputes, rests_on
from rigcheck.judge.finding import Question, ThingRef, Waiting, ref_of
from rigcheck.judge.judged import Judged
from rigcheck.quantity.interval import Interval
from rigcheck.quantity.truth import FALSE, UNKNOWN
from rigcheck.quantity.wording import shown_day
from rigcheck.rig.spelling import what_to_write
from rigcheck.rig.thing import MISSING, Thing
from rigcheck.rig.vocabulary import Kind
from rigcheck.rules.looks import look_title, looks_of
from rigcheck.rules.rule import GRAVITY, Rule

__all__ = ["Asked", "Open"]


class Open(NamedTuple):
    """A fact that is asked after, why in words where what is known of it is too coarse, and the rules that wait."""

    reason: Reason
    close: str
    rules: dict[str, Rule]

    @property
    def gravity(self) -> int:
        """How grave the gravest rule is that waits."""
        return max(GRAVITY[rule.signal] for rule in self.rules.values())


class _Spoken(NamedTuple):
    """What every question after a fact of a kind says: its question, what to write, the title of the look."""

    ask: str
    write: str
    look: str


class Asked:
    """The facts that the rules of a judged rig wait for, taken in rule by rule."""

    def __init__(self, judged: Judged, disputes: Disputes | None = None) -> None:
        self.judged, self.rig, self.rules = judged, judged.rig, judged.rules
        self.disputes = Disputes(judged) if disputes is None else disputes
        self.refs: dict[Thing, ThingRef] = {}
        self._open: dict[tuple[Thing, str, str], Open] = {}
        self._left_to_site = _by_kind(judged.rig.on_site)
        self._put_down = {(one.thing.path, one.fact): one for one in judged.rig.put_down}

    def take(self, rule: Rule, thing: Thing, unknown: Schema) -> None:
        """Keep the facts that a rule waits for, by that one of its conditions which is not known."""
        if thing in self.judged.twins:  # the same as of the first of its sort: `questions` has it
            return
        for reason in reasons(self.rules.judge, unknown, thing, UNKNOWN):
            disputes = self.disputes.behind(reason.owner, reason.fact)
            for dispute in disputes:
                dispute.hold_open(rule)
                self._wait(Reason(*dispute.asked, MISSING, None), self._disagree_words(dispute), rule)
            for wanted in () if disputes else self._stated(reason):
                if self.rules.plan.asks(wanted.owner.kind, wanted.fact):
                    self._wait(wanted, self._too_close(wanted, rule), rule)

    def once_more(self, rule: Rule, as_seen: Thing) -> None:
        """Ask for what a rule was broken by when it was last seen, which is too long ago to hold by."""
        of = self.judged.known.of
        waiting = [(one.owner, one.fact) for one in reasons(self.rules.judge, rule.holds, as_seen, FALSE)]
        met = set(waiting)
        while waiting:
            owner, fact = waiting.pop()
            if fact in owner.said and owner.origin in of:
                self._wait(Reason(of[owner.origin], fact, MISSING, None), "", rule)
                continue
            more = [one for one in rests_on(owner, fact) if one not in met]  # it was worked out of what was seen
            met.update(more)
            waiting += more

    def in_order(self) -> Iterator[Open]:
        """Yield what is asked, the gravest first, and of those what most rules wait for; of twins, of the first."""
        place = self.rig.place
        for alike in self._by_gravity():
            yield from sorted(alike, key=lambda one: (place(one.reason.owner, one.reason.fact), one.reason.fact))

    def _by_gravity(self) -> Iterator[list[Open]]:
        alike: dict[tuple[int, int], list[Open]] = {}
        for one in self._open.values():
            alike.setdefault((-one.gravity, -len(one.rules)), []).append(one)
        yield from (alike[key] for key in sorted(alike))

    def questions(self) -> tuple[Question, ...]:
        """Return the questions of a report."""
        if self.judged.twins:
            return tuple(self._of_sorts())
        return tuple(self._question(*one) for one in self.in_order())

    def _of_sorts(self) -> Iterator[Question]:
        """Yield what is asked of things of a register, and likewise of all others of which the same is known."""
        like: dict[Thing, list[Thing]] = {}
        for thing, first in self.judged.twins.items():
            like.setdefault(first, []).append(thing)
        number = {thing: at for at, thing in enumerate(self.judged.known.things)}
        for alike in self._by_gravity():
            rows = []
            for one in alike:
                said, fact = self._question(*one), one.reason.fact
                owners = (one.reason.owner, *like.get(one.reason.owner, ()))
                rows += [(self.rig.place(owner, fact), fact, number[owner], owner, said) for owner in owners]
            rows.sort(key=itemgetter(0, 1, 2))
            for place, _, _, owner, said in rows:  # 300,000 of them: what differs is put in, and no more is asked
                ref, more = self.ref(owner), (said.waiting, said.too_close, said.left_open, said.working, said.kind)
                yield Question(ref.label, said.fact, said.ask, place, *more, ref, said.write, said.look)

    def ref(self, thing: Thing) -> ThingRef:
        """Return what a thing is referred to by; many questions are put about one thing."""
        kept = self.refs.get(thing)
        if kept is None:
            kept = self.refs[thing] = ref_of(thing)
        return kept

    def waiting(self, rules: Mapping[str, Rule]) -> tuple[Waiting, ...]:
        """Return the rules that wait for a fact, the gravest first; there is one of a rule for all rigs of a pack."""
        kept: dict[tuple[str, str, str], Waiting] = self.rules.pack.kept.setdefault("waiting", {})
        found = []
        for name, rule in rules.items():
            key = name, rule.signal, rule.claim  # some kinds sharpen a rule
            one = kept.get(key)
            if one is None:
                one = kept[key] = Waiting(rule.name, rule.signal, rule.claim, rule.place)
            found.append(one)
        if len(found) > 1:
            found.sort(key=lambda one: (-GRAVITY[one.signal], one.rule))
        return tuple(found)

    def ask_words(self, reason: Reason) -> str:
        """Return the question of a fact; one that no formula could give is asked for by its name."""
        return self._spoken(reason.owner.kind, reason.fact).ask + self._without_formula(reason)

    # --- what a rule waits for ---

    def _wait(self, wanted: Reason, close: str, rule: Rule) -> None:
        key = (wanted.owner, wanted.fact, close)
        kept = self._open.get(key)
        if kept is None:
            kept = self._open[key] = Open(wanted, close, {})
        before = kept.rules.get(rule.name)
        if before is None or GRAVITY[before.signal] < GRAVITY[rule.signal]:  # a kind may have sharpened it
            kept.rules[rule.name] = rule

    def _disagree_words(self, dispute: Dispute) -> str:
        said = [f"{value_words(one.value)} ({witness_words(self.rig, one)})" for one in dispute.witnesses]
        return f"{' against '.join(said)}: these do not agree"

    def _stated(self, reason: Reason) -> list[Reason]:
        """Return the stated facts that a computed fact waits for; a stated fact is itself."""
        owner, name, value, _ = reason
        if isinstance(value, Interval) and value.open_ended:  # only a bound is known: that is no measured value
            reason = Reason(owner, name, value := MISSING, None)
        if value is MISSING and (wants := owner.wanting.get(name)):
            return [Reason(wanted, fact, MISSING, None) for wanted, fact in wants]
        fact = owner.kind.facts.get(name)
        day = fact.entry.from_day if fact else ""
        return [Reason(owner, day, value, None) if day else reason]  # the day behind an age that is too close to call

    def _too_close(self, reason: Reason, rule: Rule) -> str:
        if not isinstance(reason.value, Interval):
            return ""
        return f"{value_words(reason.value)} against: {self.rules.required(rule)}"

    # --- questions ---

    def _question(self, reason: Reason, close: str, rules: Mapping[str, Rule]) -> Question:
        owner, ref = reason.owner, self.ref(reason.owner)
        spoken = self._spoken(owner.kind, reason.fact)
        working = owner.workings.get(reason.fact) if close else None
        return Question(
            thing=ref.label,
            fact=reason.fact,
            ask=spoken.ask + self._without_formula(reason) + _last_seen(reason) + self._not_told(owner, reason.fact),
            place=self.rig.place(owner, reason.fact),
            waiting=self.waiting(rules),
            too_close=close,
            left_open=bool(self._left_to_site) and self._left_open(owner.kind, reason.fact),
            working=None if working is None else show_working(self.rig, working, self.rules.limits),
            kind=owner.kind.name,
            at=ref,
            write=spoken.write,
            look=spoken.look,
        )

    def _not_told(self, owner: Thing, fact: str) -> str:
        """Return who could not tell a fact when it was looked at, why, and who could know it."""
        said = self._put_down.get((owner.path, fact))
        if said is None:
            return ""
        looks = looks_of(self.rules.pack)
        because = looks.cannot_tell.get(said.because, said.because)
        look = next(iter(looks.answering(owner.kind.lineage, fact)), None)
        who = f" Who could know: {look.who}." if look is not None and look.who else ""
        return f" Not told by {said.by} on {shown_day(said.day)}: “{because}”.{who}"

    def _spoken(self, kind: Kind, name: str) -> _Spoken:
        """Return what is the same in all rigs that are judged by a pack."""
        kept: dict[tuple[str, str], _Spoken] = self.rules.pack.kept.setdefault("questions", {})
        found = kept.get((kind.name, name))
        if found is None:
            fact = kind.facts.get(name)
            stated = fact is not None and not fact.computed
            ask = fact.entry.ask if fact is not None else ""
            write = what_to_write(fact) if fact is not None and stated else ""
            ask = ask or f"What is the {name.replace('_', ' ')}?"
            found = kept[kind.name, name] = _Spoken(ask, write, look_title(self.rules.pack, kind.lineage, name))
        return found

    def _without_formula(self, reason: Reason) -> str:
        """Return what a question says besides: why nothing was worked out, or what is wrong with a stated day."""
        fact = reason.owner.kind.facts.get(reason.fact)
        if fact is None:
            return ""
        if not fact.entry.ask:
            working = reason.owner.workings.get(reason.fact)
            where = f" The formula holds only so: {working.way.validity}" if working and working.way.validity else ""
            if isinstance(reason.value, Interval):
                return f" It came out too roughly to say: state more closely what it rests on.{where}"
            return f" It cannot be worked out here.{where}"
        stated = reason.owner.facts.get(reason.fact, MISSING)
        later = reason.value is MISSING and isinstance(stated, Interval) and stated.dimension == "day"
        return f" {stated.text} lies after the day of this judgement." if later else ""

    def _left_open(self, kind: Kind, fact: str) -> bool:
        """Return whether the rig leaves a fact to the site on purpose."""
        return any(fact in self._left_to_site.get(one, ()) for one in kind.lineage)


def _last_seen(reason: Reason) -> str:
    """Return since when a fact is not known that was seen once; a walk offers nobody an earlier sight."""
    seen = [one for one in reason.owner.witnesses.get(reason.fact, ()) if one.basis == "seen" and one.day is not None]
    if reason.value is not MISSING or not seen:
        return ""
    last = max(seen, key=lambda one: one.day)
    by = f" by {last.by}" if last.by else ""
    return f" Last seen {shown_day(last.day)}{by}: {value_words(last.value)}; that is too long ago to go by."


def _by_kind(names: Iterable[str]) -> Mapping[str, set[str]]:
    """Return the facts in `names`, written as `hose.made`, by kind."""
    sorted_out: dict[str, set[str]] = {}
    for name in names:
        kind, _, fact = name.partition(".")
        sorted_out.setdefault(kind, set()).add(fact)
    return sorted_out
