"""What is still open of a judged rig: facts that can yet turn a verdict, and verdicts that nobody has shown.

A verdict that rests on what is presumed is open like one of which nothing is known: nobody has looked.
"""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from rigcheck.condition.named_facts import Named, named_facts
from rigcheck.judge.asked import Asked, Open
from rigcheck.judge.finding import Finding, Waiting
from rigcheck.judge.inspection import Inspector
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
    inspector = Inspector(judged)
    findings, told = inspector.found(), inspector.asked
    bare = judged.unpresumed()
    things = {thing.path: thing for thing in judged.rig.things}
    facts: dict[tuple[str, str], OpenFact] = {}
    for asked in (told,) if bare is judged else (_asked(bare), told):
        for one in asked.in_order():
            key = asked.ref(one.reason.owner).path, one.reason.fact
            if key[0] in things:
                facts[key] = _joined(facts.get(key), asked, one, things[key[0]])
    return OpenRig(facts, inspector.not_shown, findings, _deciding(judged.rules.pack, facts))


def _asked(judged: Judged) -> Asked:
    """Return what the rules of a judged rig wait for, without what was found."""
    asked = Asked(judged)
    for thing, rule, verdict, unknown in judged.judgements():
        if unknown is not None:
            asked.take(rule, thing, unknown)
        if verdict == "broken" and (as_seen := judged.where_broken(rule, thing)) is not thing:
            asked.once_more(rule, as_seen)
    return asked


def _joined(before: OpenFact | None, asked: Asked, one: Open, thing: Thing) -> OpenFact:
    waiting = asked.waiting(one.rules)
    if before is None:
        return OpenFact(thing, one.reason.fact, asked.ask_words(one.reason), one.close, waiting)
    graver_last = sorted((*before.waiting, *waiting), key=lambda waits: GRAVITY[waits.signal])  # a kind sharpens a rule
    joined = {waits.rule: waits for waits in graver_last}
    return OpenFact(thing, before.name, before.ask, before.too_close or one.close, tuple(joined.values()))


def _deciding(pack: Pack, facts: Mapping[tuple[str, str], OpenFact]) -> frozenset[tuple[str, str]]:
    """Return the open facts from which others would follow and that follow from no open fact themselves."""
    paths: dict[str, dict[str, None]] = {}
    facts_of = {path: fact for (path, _), fact in facts.items()}
    for (path, _), fact in facts.items():
        for kind in fact.thing.kind.lineage:
            paths.setdefault(kind, {})[path] = None
    causes: set[tuple[str, str]] = set()
    effects: set[tuple[str, str]] = set()
    for kind, named, follows in _consequences(pack):
        for path in paths.get(kind, ()):
            own = facts_of[path].thing.kind.lineage
            at = ((one, name) for of, name in named for one in ((path,) if of in own else paths.get(of, ())))
            when = {key for key in at if key in facts}
            then = {(path, name) for name in follows if (path, name) in facts}
            if when and then:
                causes |= when
                effects |= then - when
    return frozenset(causes - effects)


def _consequences(pack: Pack) -> list[tuple[str, frozenset[Named], tuple[str, ...]]]:
    """Return of each consequence the kind it looks at, the facts it names and those that follow; kept with the pack."""
    kept: list[tuple[str, frozenset[Named], tuple[str, ...]]] | None = pack.kept.get("consequences in names")
    if kept is None:
        kept = pack.kept["consequences in names"] = []
        for one in pack.follows.values():
            conditions = [schema for schema in (one.rule.concerns, one.rule.holds) if schema is not None]
            named = (named_facts(schema, one.rule.kind, pack.vocabulary) for schema in conditions)
            names = frozenset(one for found in named for one in found)
            kept.append((one.rule.kind.name, names, tuple(fact.name for fact in one.then)))
    return kept
