"""One rig judged: what is known of it, and every verdict on it; a value of its own, beside the rig.

Inspection, figures, sheets, due dates, comparison and records read the same one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from copy import copy
from typing import Literal

from rigcheck.condition.check import Check
from rigcheck.condition.reasons import Reason, reasons
from rigcheck.condition.tree import Schema
from rigcheck.facts.known import Known, Purpose
from rigcheck.facts.witness import Witness
from rigcheck.judge.compiled_rules import CompiledRules, compiled_for
from rigcheck.judge.twins import Mates, twins_as_known, twins_of
from rigcheck.quantity.truth import FALSE, TRUE, UNKNOWN
from rigcheck.rig.register import REGISTER
from rigcheck.rig.thing import Rig, Thing
from rigcheck.rules.pack import Pack
from rigcheck.rules.rule import Rule
from rigcheck.rules.standard_rigs import presumption_of

__all__ = ["Judged", "Judgement", "Verdict", "judge", "judge_thing"]

Verdict = Literal["holds", "presumed", "broken", "unproven", "not judged", "not concerned"]
"""`not judged`: rests on what does not last, and only what lasts is judged; or on what stands around a thing that is
judged by itself.
`broken`: also by a sight that is too old to hold by: a defect stands until it is seen put right.
`presumed`: comes out without a question, but only thanks to what a standard rig says and nobody has seen."""

_STANDS = ("holds", "not concerned")


Judgement = tuple[Thing, Rule, Verdict, Schema | None]
"""The verdict of a rule on a thing; last that one of its conditions which is not known, if one is.

What was broken when it was last seen, too long ago to go by, is broken and has such a condition too."""


class Judged:
    """A rig with what is known of it on a day under a local code; `code_stated`: somebody said under which.

    Nothing of it changes: facts that are asked for later are worked out from the same statements.
    `twins`: of a register, the things that come out like an earlier one of which the same is known.
    """

    def __init__(self, rig: Rig, rules: CompiledRules, day: int, code_stated: bool) -> None:
        self.rig, self.rules, self.day, self.code_stated = rig, rules, day, code_stated
        presumed = presumption_of(rig, rules.pack)
        self._unseen = frozenset(thing for thing, names in (presumed or {}).items() if "kind" in names)
        alone = rules.alone and presumed is None and not rules.rules_for(rig.root)
        twins = twins_of(rig, rules.plan.names) if alone else {}
        self.known = Known(rig, rules.plan, day, presumed=presumed, later=twins)
        self._seen = None if presumed is None else Known(rig, rules.plan, day, presumed)
        old = self.known.look.outlived or (self._seen is not None and self._seen.look.outlived)
        self._last = Known(rig, rules.plan, day, presumed=presumed, as_last_seen=True) if old else None
        if self._last is not None:  # what was seen long ago is told by its own sights
            self.known.take_in([self.known.of[thing] for thing in twins])
            twins = {}
        self.twins: Mapping[Thing, Thing] = twins_as_known(self.known, twins) if twins else {}
        self._mates = Mates(self.known.root, self.twins)
        self._broken_by: dict[tuple[str, Thing], list[Reason]] = {}

    def judgements(self, things: Iterable[Thing] | None = None) -> Iterator[Judgement]:
        """Yield the verdict of every rule on every thing that it looks at, in the order of the file."""
        every = self.known.things if things is None else things
        return self._by_sort(every) if self.twins else self._one_by_one(every)

    def _by_sort(self, things: Iterable[Thing]) -> Iterator[Judgement]:
        """Judge the first of each sort, and yield what comes out for the others too."""
        doubled = frozenset(self.twins.values())
        kept: dict[Thing, list[tuple[Rule, Verdict, Schema | None]]] = {}
        for thing in things:
            first = self.twins.get(thing, thing)
            rows = kept.get(first)
            if rows is None:
                rows = [row[1:] for row in self._one_by_one((first,))]
                if first in doubled:
                    kept[first] = rows
            for rule, verdict, unknown in rows:
                yield thing, rule, verdict, unknown

    def _one_by_one(self, things: Iterable[Thing]) -> Iterator[Judgement]:
        # The one loop that judges: 800 turns a rig, so that `judge_thing` stands in it and plain tuples come out.
        rules_for, presuming = self.rules.rules_for, self._seen is not None
        partial, last = self.rules.plan.timeless or self.rules.alone, self._last
        for thing in things:
            for rule, concerns, holds in rules_for(thing):
                verdict: Verdict
                unknown = None
                if concerns is not None and (concerned := concerns(thing, thing)) is not TRUE:
                    if concerned is FALSE:
                        verdict = "not concerned"
                    else:
                        verdict, unknown = "unproven", rule.concerns
                elif (held := holds(thing, thing)) is TRUE:
                    verdict = "holds"
                elif held is FALSE:
                    verdict = "broken"
                else:
                    verdict, unknown = "unproven", rule.holds
                if partial and unknown is not None and not self._is_asked(thing, unknown):
                    verdict, unknown = "not judged", None
                if presuming and verdict in _STANDS and self._is_presumed(thing, rule, concerns, holds, verdict):
                    verdict = "presumed"
                if last is not None and verdict != "broken" and self._was_broken(thing, concerns, holds):
                    verdict = "broken"  # and what it waits for now is still asked after
                yield thing, rule, verdict, unknown

    def _is_asked(self, thing: Thing, unknown: Schema) -> bool:
        """Whether what is not known of a condition is, at least in part, something that is asked for."""
        plan = self.rules.plan
        for reason in reasons(self.rules.judge, unknown, thing, UNKNOWN):
            wanted = reason.owner.wanting.get(reason.fact) or ((reason.owner, reason.fact),)
            if any(plan.asks(owner.kind, name) for owner, name in wanted):
                return True
        return False

    def _is_presumed(self, thing: Thing, rule: Rule, concerns: Check | None, holds: Check, verdict: Verdict) -> bool:
        """Whether a verdict comes out otherwise where what is only presumed is left out.

        Nothing holds on a thing that nobody has looked at, whatever stands around it.
        """
        if self._seen is None or thing.origin is None:
            return False
        if verdict == "holds" and thing.origin in self._unseen:
            return True
        twin = self._seen.of.get(thing.origin)
        return twin is not None and judge_thing(concerns, holds, twin) != verdict

    def _was_broken(self, thing: Thing, concerns: Check | None, holds: Check) -> bool:
        """Whether a rule was broken when its facts were last seen, which nobody has seen put right since."""
        twin = self._last.of.get(thing.origin) if self._last is not None and thing.origin is not None else None
        return twin is not None and judge_thing(concerns, holds, twin) == "broken"

    def broken_by(self, rule: Rule, thing: Thing) -> list[Reason]:
        """Return what breaks a rule on a thing; of a twin what breaks it on its first, as its own."""
        first = self.twins.get(thing)
        if first is None:
            return reasons(self.rules.judge, rule.holds, thing, FALSE)
        kept = self._broken_by.get((rule.name, first))
        if kept is None:
            kept = self._broken_by[rule.name, first] = reasons(self.rules.judge, rule.holds, first, FALSE)
        return [one._replace(owner=self.in_entry_of(thing, one.owner)) for one in kept]

    def in_entry_of(self, twin: Thing, thing: Thing) -> Thing:
        """Return what stands in the entry of a twin where a thing does in the entry of its first."""
        return self._mates.of(thing, twin)

    def where_broken(self, rule: Rule, thing: Thing) -> Thing:
        """Return the thing by whose facts a rule is broken: as it is known, or else as it was last seen."""
        if self._last is None or thing.origin is None or self.rules.judge.check(rule.holds)(thing, thing) is FALSE:
            return thing
        return self._last.of.get(thing.origin, thing)

    def disputes(self) -> Iterator[tuple[Thing, str, tuple[Witness, ...]]]:
        """Yield the facts on which statements disagree, and those on which the last sights did and nobody knows now."""
        for thing in self.known.things:
            yield from ((thing, name, witnesses) for name, witnesses in thing.disputes.items())
        for twin in self._last.things if self._last is not None else ():
            thing = self.known.of[twin.origin]  # type: ignore[index]
            for name, witnesses in twin.disputes.items():
                if name not in thing.facts and all(one.basis == "seen" for one in witnesses):
                    yield thing, name, tuple(one._replace(of=(thing, name)) for one in witnesses)

    def verdicts(self) -> Mapping[tuple[Thing, str], Verdict]:
        """Return every verdict by thing and name of the rule."""
        return {(thing, rule.name): verdict for thing, rule, verdict, _ in self.judgements()}

    def unpresumed(self) -> Judged:
        """Return the same rig judged by what somebody has said or seen alone; itself where nothing is presumed."""
        if self._seen is None:
            return self
        bare = copy(self)
        bare.known, bare._seen, bare._unseen = self._seen, None, frozenset()
        return bare

    def take_apart(self) -> None:
        """Give the memory back at once, where many rigs are judged; nothing of it is of use any more."""
        self.known.take_apart()
        for twin in (self._seen, self._last):
            if twin is not None:
                twin.take_apart()
        self.rig.take_apart()


def judge(rig: Rig, pack: Pack, *, day: int, local_code: str = "", purpose: Purpose = "commissioning") -> Judged:
    """Return a rig judged by a pack on a day (a proleptic Gregorian day number) for a purpose.

    `local_code` overrides the rig's own; `general` stands where neither says one.
    Raises `Refused` where the rig says that it was begun from a standard rig that there is not.
    """
    stated = rig.root.facts.get("local_code")
    code = local_code or (stated if isinstance(stated, str) else "general")
    rules = compiled_for(pack, code, day, purpose, alone=rig.root.kind.name == REGISTER)
    return Judged(rig, rules, day, bool(local_code or stated))


def judge_thing(concerns: Check | None, holds: Check, thing: Thing) -> Verdict:
    """Return the verdict of a rule on a thing; unknown concern is unproven, not unconcerned."""
    if concerns is not None and (concerned := concerns(thing, thing)) is not TRUE:
        return "not concerned" if concerned is FALSE else "unproven"
    held = holds(thing, thing)  # compared by identity: an Enum is slow to hash
    if held is TRUE:
        return "holds"
    return "broken" if held is FALSE else "unproven"
