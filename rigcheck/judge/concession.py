"""Concessions: what each leads to in its judged rig, and whether it takes effect.

A concession is judged by rules like any other thing. It takes effect where it runs, names a rule that may be
conceded, covers exactly one breach, and has no finding against itself that is graver than a NOTICE.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator

from rigcheck.condition.wording import value_words
from rigcheck.facts.concession_facts import LED_TO, LedTo
from rigcheck.judge.finding import Conceded, Finding, Found
from rigcheck.judge.judged import Judged
from rigcheck.quantity.interval import Interval
from rigcheck.rig.thing import Thing
from rigcheck.rig.thing_names import NamedThings, is_named_for_good, is_same_name
from rigcheck.text.faults import nearest_name, nearest_word

__all__ = ["Grant", "granted"]


def granted(judged: Judged, findings: Collection[Finding], awaited: Collection[tuple[Thing, str]]) -> list[Grant]:
    """Return the concessions of a rig with what they lead to, ready to be judged themselves.

    `awaited`: the rules that wait for an answer, each with its thing.
    """
    things = [one for group in judged.rig.concessions for one in group.things]
    named = NamedThings(judged.known.things if things else ())
    grants = [
        Grant(judged, thing, findings, awaited, named, hints=number < _MOST_HINTS)
        for number, thing in enumerate(things)
    ]
    judged.known.take_in([grant.thing for grant in grants])
    return grants


_MOST_HINTS = 20
"""Concessions for which the nearest known word is looked for: that takes time, and nobody reads a thousand."""


class Grant:
    """One concession, with what it leads to in its rig; `thing` is what the rules look at, `hints`: tell what helps."""

    def __init__(
        self,
        judged: Judged,
        thing: Thing,
        findings: Iterable[Finding],
        awaited: Collection[tuple[Thing, str]],
        named: NamedThings,
        *,
        hints: bool,
    ) -> None:
        self.judged, self.thing, self.hints = judged, thing.open_copy(), hints
        self.rule, self.on = str(thing.facts["rule"]), thing.facts.get("thing")
        self.things = things = list(named.things) if self.on is None else named.called(str(self.on))
        paths = {one.path for one in things}
        self.covered = [one for one in findings if one.rule == self.rule and one.at.path in paths]
        rule = judged.rules.pack.rules.get(self.rule)
        self.led_to = LedTo(
            rule_known=rule is not None,
            thing_known=bool(things),
            may_be_conceded=None if rule is None else rule.concedable,
            breaches=len(self.covered),
            awaited=any((one, self.rule) in awaited for one in things),
            named_for_good=self.on is None or any(is_named_for_good(str(self.on), one) for one in things),
            thing_unchanged=all(map(self._is_unchanged, things)),
        )
        self.thing.facts |= {LED_TO: self.led_to, "rig": judged.known.root}

    def _is_unchanged(self, thing: Thing) -> bool:
        """Whether a thing is as the concession says that it was, as far as it says so."""
        was, is_now = self.thing.facts, thing.facts
        made, known = was.get("thing_made"), is_now.get("made")
        same_date = made is None or (isinstance(known, Interval) and known.lo <= made.hi and made.lo <= known.hi)
        same_tag = is_same_name(str(was.get("thing_tag", thing.tag)), thing.tag)
        return same_date and same_tag and was.get("thing_place", thing.path) == thing.path

    def more(self, finding: Finding) -> Iterator[Found]:
        """Yield what helps to mend the concession: the nearest known word, or else its last day."""
        facts = {found.fact for found in finding.found}
        if not self.hints:
            return
        if "rule known" in facts:
            yield from self._nearest("rule", nearest_name(self.rule, self.judged.rules.pack.rules))
        elif "thing known" in facts:
            things = self.judged.known.things
            called = [word for one in things for word in (one.label, one.tag, str(one.facts.get("name", ""))) if word]
            yield from self._nearest("thing", nearest_word(str(self.on), dict.fromkeys(called)))
        elif "named for good" in facts:
            yield from self._named_better()
        else:
            place = self.judged.rig.place(self.thing, "until")
            until = self.thing.facts["until"]
            yield Found(
                self.thing.label, "last day", value_words(until), place, ends=(until.lo, until.hi), graver="less"
            )

    def _named_better(self) -> Iterator[Found]:
        for thing in self.things if self.on is not None else ():
            place = self.judged.rig.place(self.thing, "thing")
            yield Found(self.thing.label, "lasting name", thing.tag or thing.path, place)

    def _nearest(self, what: str, near: str) -> Iterator[Found]:
        if near:
            yield Found(self.thing.label, f"nearest known {what}", near, self.judged.rig.place(self.thing, what))

    def takes_effect(self, own: Iterable[Finding]) -> bool:
        """Return whether the one breach that is covered counts as conceded; `own`: what is found against itself."""
        runs = self.thing.facts["until"].hi >= self.judged.day
        sound = all(finding.signal == "notice" for finding in own)
        return runs and sound and bool(self.led_to.may_be_conceded) and len(self.covered) == 1

    def leave(self) -> Conceded:
        """Return what is shown beside the finding."""
        facts = self.thing.facts
        return Conceded(
            str(facts["reason"]), str(facts["who"]), int(facts["until"].hi), self.judged.rig.place(self.thing)
        )
