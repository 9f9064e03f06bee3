"""Statements of one rig that do not agree: what each says, and the rules that the disagreement keeps open."""

from __future__ import annotations

from collections.abc import Iterator

from rigcheck.facts.witness import Witness
from rigcheck.judge.judged import Judged
from rigcheck.rig.thing import Thing, Wanted
from rigcheck.rules.rule import GRAVITY, Rule, Signal

__all__ = ["DISAGREEMENT", "Dispute", "Disputes", "rests_on"]

DISAGREEMENT = "disagreement"
"""The kind of thing that a disagreement is to the rules that look at one."""


class Dispute:
    """One fact of which statements disagree; `rules` are those that it keeps open."""

    def __init__(self, thing: Thing, name: str, witnesses: tuple[Witness, ...]) -> None:
        self.thing, self.name, self.witnesses = thing, name, witnesses
        self.rules: dict[str, Rule] = {}

    def hold_open(self, rule: Rule) -> None:
        """Take in a rule that it keeps open; of one that a kind sharpens, the graver."""
        before = self.rules.get(rule.name)
        if before is None or GRAVITY[before.signal] < GRAVITY[rule.signal]:
            self.rules[rule.name] = rule

    @property
    def asked(self) -> Wanted:
        """The fact that is asked after: the one that somebody stated, if there is one."""
        stated = (one.of for one in self.witnesses if one.basis not in ("worked out", "follows"))
        return next(stated, (self.thing, self.name))

    def signal(self, least: Signal) -> Signal:
        """Return how grave it is: as the gravest rule that it keeps open, and no less than `least`."""
        return max((least, *(rule.signal for rule in self.rules.values())), key=GRAVITY.__getitem__)


class Disputes:
    """Every dispute of a judged rig, by the fact that it is about."""

    def __init__(self, judged: Judged) -> None:
        self._by_fact = {(thing, name): Dispute(thing, name, witnesses) for thing, name, witnesses in judged.disputes()}

    def __iter__(self) -> Iterator[Dispute]:
        return iter(self._by_fact.values())

    def behind(self, owner: Thing, fact: str) -> list[Dispute]:
        """Return the disputes that a fact rests on, directly or through what it was worked out from."""
        if not self._by_fact:
            return []
        found: list[Dispute] = []
        waiting, met = [(owner, fact)], {(owner, fact)}
        while waiting:
            thing, name = waiting.pop()
            dispute = self._by_fact.get((thing, name))
            if dispute is not None:
                found.append(dispute)
                continue
            for one in rests_on(thing, name):
                if one not in met:
                    met.add(one)
                    waiting.append(one)
        return found


def rests_on(thing: Thing, name: str) -> Iterator[Wanted]:
    """Yield the facts that a fact was worked out from, waits for, or counts from."""
    working = thing.workings.get(name)
    if working is not None:
        yield from ((used.owner, used.fact) for used in working.used if used.owner is not None)
    yield from thing.wanting.get(name, ())
    fact = thing.kind.facts.get(name)
    if fact is not None and fact.entry.from_day:
        yield thing, fact.entry.from_day
