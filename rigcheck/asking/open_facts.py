"""What is still open of a judged rig: facts that can yet turn a verdict, and verdicts that nobody has shown.

A verdict that rests on what is presumed is open like one of which nothing is known: nobody has looked.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

from msgspec import Struct

from rigcheck.condition.named_facts import named_facts
from rigcheck.judge.finding import Finding, Question, Waiting
from rigcheck.judge.inspection import explain
from rigcheck.judge.judged import Judged
from rigcheck.rig.thing import Thing
from rigcheck.rules.pack import Pack
from rigcheck.rules.rule import GRAVITY, Signal

__all__ = ["NOT_SHOWN", "OpenFact", "OpenRig", "open_rig"]

NOT_SHOWN = ("unproven", "presumed")
"""Verdicts of which nobody has shown that they hold."""


class OpenFact(Struct, frozen=True):
    """A fact of a thing (of the rig as loaded) that can yet turn a verdict, and the rules that wait for it."""

    thing: Thing
    name: str
    ask: str
    too_close: str
    waiting: tuple[Waiting, ...]

    @property
    def signal(self) -> Signal:
        """The gravest signal word among the rules that wait."""
        return max((one.signal for one in self.waiting), key=GRAVITY.__getitem__)


class OpenRig(Struct, frozen=True):
    """What is open of a rig: `facts` by path of the thing and name, `left` verdicts not shown by signal word.

    `kind` among the names: that the thing is there at all is not known. `findings` are those of the rig as judged.
    `deciding`: the open facts, as `facts` has them, from which another open fact would follow.
    """

    facts: Mapping[tuple[str, str], OpenFact]
    left: Mapping[Signal, int]
    findings: tuple[Finding, ...]
    deciding: frozenset[tuple[str, str]] = frozenset()


def open_rig(judged: Judged) -> OpenRig:
    """Return what is open of a judged rig."""
    told = explain(judged)
    bare = judged.unpresumed()
    questions = told.questions if bare is judged else (*explain(bare).questions, *told.questions)
    things = {thing.path: thing for thing in judged.rig.things}
    facts: dict[tuple[str, str], OpenFact] = {}
    for one in questions:
        if one.at.path in things:
            key = one.at.path, one.fact
            facts[key] = _joined(facts.get(key), one, things[one.at.path])
    left: Counter[Signal] = Counter()
    for _, rule, verdict, _ in judged.judgements():
        if verdict in NOT_SHOWN:
            left[rule.signal] += 1
    return OpenRig(facts, left, told.findings, _deciding(judged.rules.pack, facts))


def _joined(before: OpenFact | None, one: Question, thing: Thing) -> OpenFact:
    if before is None:
        return OpenFact(thing, one.fact, one.ask, one.too_close, one.waiting)
    waiting = {waits.rule: waits for waits in (*before.waiting, *one.waiting)}
    return OpenFact(thing, one.fact, before.ask, before.too_close or one.too_close, tuple(waiting.values()))


def _deciding(pack: Pack, facts: Mapping[tuple[str, str], OpenFact]) -> frozenset[tuple[str, str]]:
    """Return the open facts from which others would follow and that follow from no open fact themselves."""
    causes: set[tuple[str, str]] = set()
    effects: set[tuple[str, str]] = set()
    for one in pack.follows.values():
        conditions = [schema for schema in (one.rule.concerns, one.rule.holds) if schema is not None]
        named = {name for schema in conditions for _, name in named_facts(schema, one.rule.kind, pack.vocabulary)}
        for path in {path for (path, _), fact in facts.items() if one.rule.kind.name in fact.thing.kind.lineage}:
            when = {(path, name) for name in named if (path, name) in facts}
            then = {(path, fact.name) for fact in one.then if (path, fact.name) in facts}
            if when and then:
                causes |= when
                effects |= then - when
    return frozenset(causes - effects)
