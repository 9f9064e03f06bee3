"""One rig with every verdict on it, and what follows from each of its facts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Literal

from rigcheck.judge.compiled_rules import Bench, rig_on_bench
from rigcheck.judge.inspection import Verdict, judge_thing
from rigcheck.rig.thing import Rig, Thing
from rigcheck.rules.pack import Pack
from rigcheck.rules.rule import Rule

__all__ = ["JudgedRig", "Told", "judged_rig"]

Told = Verdict | Literal["does not apply"]
"""A verdict, or that there is none: the thing is not there, or the rule is of another local code."""


@dataclass(slots=True)
class JudgedRig:
    """A rig with every verdict on it, and what each of its facts is used for."""

    rig: Rig
    bench: Bench
    verdicts: dict[tuple[int, str], Verdict] = field(default_factory=dict)
    used_for: dict[tuple[int, str], list[tuple[Thing, str]]] = field(default_factory=dict)

    def told(self, thing: Thing | None, rule: Rule) -> Told:
        """Return the verdict of a rule on a thing, if there is one."""
        return "does not apply" if thing is None else self.verdicts.get((id(thing), rule.name), "does not apply")

    def consequences(self, thing: Thing, fact: str) -> dict[tuple[int, str], tuple[Thing, str]]:
        """Return a fact and every computed fact that follows from it."""
        found: dict[tuple[int, str], tuple[Thing, str]] = {}
        waiting = [(thing, fact)]
        while waiting:
            owner, name = waiting.pop()
            key = (id(owner), name)
            if key not in found:
                found[key] = (owner, name)
                waiting += self.used_for.get(key, ())
        return found


def judged_rig(rig: Rig, pack: Pack, day: int, local_code: str) -> JudgedRig:
    """Return a rig judged by every rule for a day (a day number); `local_code` overrides the rig's own."""
    bench, _ = rig_on_bench(rig, pack, day=day, local_code=local_code)
    judged = JudgedRig(rig, bench)
    for thing in rig.things:
        for rule, concerns, holds in bench.rules_for(thing):
            judged.verdicts[id(thing), rule.name] = judge_thing(concerns, holds, thing)
        for used, name in _uses(thing):
            judged.used_for.setdefault(used, []).append((thing, name))
    return judged


def _uses(thing: Thing) -> Iterator[tuple[tuple[int, str], str]]:
    """Yield the facts that each computed fact of a thing was worked out from, or waits for."""
    for name, working in thing.workings.items():
        yield from (((id(used.owner), used.fact), name) for used in working.used if used.owner is not None)
    for name, wanted in thing.wanting.items():
        yield from (((id(owner), fact), name) for owner, fact in wanted)
    for name, fact in thing.kind.facts.items():
        if fact.entry.from_day:
            yield (id(thing), fact.entry.from_day), name
