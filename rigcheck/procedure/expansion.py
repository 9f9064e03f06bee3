"""A procedure for one rig: which steps apply, to which things, and which come before which."""

from __future__ import annotations

import heapq
from collections.abc import Collection, Iterator, Mapping
from graphlib import TopologicalSorter

from msgspec import Struct

from rigcheck.condition.compiler import Judge
from rigcheck.condition.reasons import reasons
from rigcheck.condition.tree import Schema
from rigcheck.condition.wording import in_words
from rigcheck.quantity.truth import FALSE, TRUE, UNKNOWN, Truth
from rigcheck.rig.flow_order import in_flow, lines_of
from rigcheck.rig.thing import Rig, Thing
from rigcheck.rules.rule import named_limits
from rigcheck.rules.steps import Procedure, Step

__all__ = ["Expansion", "Instance", "LeftOut", "expand", "step_order"]


class Instance(Struct, frozen=True, eq=False):
    """A step for one thing of the rig, or once for the rig (`thing` is None).

    `number` counts from one in the order of the sheet; `if_so` names the facts that are not known
    and that decide whether the step applies at all; it is empty where it does.
    """

    number: int
    step: Step
    thing: Thing | None
    if_so: tuple[tuple[Thing, str], ...]

    @property
    def label(self) -> str:
        """The step and its thing in words."""
        return f"{self.step.label}, {self.called}" if self.thing else self.step.label

    @property
    def called(self) -> str:
        """What the thing is called on a sheet: its label, and of a valve what it controls; empty for the rig."""
        if self.thing is None:
            return ""
        controls = self.thing.facts.get("controls")
        return f"{self.thing.label}: {controls}" if isinstance(controls, str) else self.thing.label

    @property
    def required(self) -> bool:
        """Whether a record without it is wrong."""
        return not self.step.optional and not self.if_so


class LeftOut(Struct, frozen=True):
    """A step that does not apply to the rig, and why."""

    step: Step
    why: str


class Expansion(Struct, frozen=True, eq=False):
    """The steps of a procedure for one rig under one local code.

    `before`: for the number of each instance, the numbers of all that come before it.
    """

    procedure: Procedure
    rig: Rig
    local_code: str
    instances: tuple[Instance, ...]
    before: Mapping[int, frozenset[int]]
    left_out: tuple[LeftOut, ...]

    def of_step(self, name: str) -> tuple[Instance, ...]:
        """Return the instances of a step."""
        return tuple(one for one in self.instances if one.step.name == name)


def expand(procedure: Procedure, rig: Rig, judge: Judge, local_code: str) -> Expansion:
    """Return a procedure for a rig whose computed facts are established, under a local code."""
    return _Expander(procedure, rig, judge, local_code).expand()


def step_order(procedure: Procedure, present: Collection[str]) -> dict[str, dict[str, bool]]:
    """Return for each step those of the steps present in a rig that come right before it.

    The value is True where all of the earlier step comes first, False where only what is on the same line does.
    What waits for a step that is not present waits for what that one would have waited for: for all of it, or,
    where it waits on its line only, for what is on that line.
    """
    order: dict[str, dict[str, bool]] = {}
    waits = {name: {*step.after, *step.after_on_line} for name, step in procedure.steps.items()}
    for name in TopologicalSorter(waits).static_order():
        step, found = procedure.steps[name], order.setdefault(name, {})
        for earlier, whole in (*((e, True) for e in step.after), *((e, False) for e in step.after_on_line)):
            through = {earlier: whole} if earlier in present else dict.fromkeys(order[earlier], whole)
            for one, also in through.items():
                found[one] = found.get(one, False) or also
    return order


class _Expander:
    def __init__(self, procedure: Procedure, rig: Rig, judge: Judge, local_code: str) -> None:
        self.procedure, self.rig, self.judge, self.local_code = procedure, rig, judge, local_code
        self.things = in_flow(rig)
        self.left_out: list[LeftOut] = []

    def expand(self) -> Expansion:
        drafts = [one for step in self.procedure.steps.values() for one in self._drafts(step)]
        near = self._earlier(drafts)
        ranks = _stable_order(near)
        earlier: dict[int, frozenset[int]] = {}
        for one in ranks:
            earlier[one] = frozenset(near[one]).union(*(earlier[before] for before in near[one]))
        numbers = {draft: rank for rank, draft in enumerate(ranks, start=1)}
        instances = tuple(Instance(numbers[i], *drafts[i]) for i in ranks)
        before = {numbers[i]: frozenset(numbers[e] for e in earlier[i]) for i in range(len(drafts))}
        return Expansion(self.procedure, self.rig, self.local_code, instances, before, tuple(self.left_out))

    # --- which steps, for which things ---

    def _drafts(self, step: Step) -> Iterator[_Draft]:
        applies, open_ = self._judged(self.procedure.applies, self.rig.root)
        why = self._why_not_at_all(step, applies)
        found = [] if why else list(self._things(step, open_))
        if not found:
            self.left_out.append(LeftOut(step, why or self._why_no_thing(step)))
        yield from found

    def _why_not_at_all(self, step: Step, applies: Truth) -> str:
        if applies is FALSE and self.procedure.applies is not None:
            return f"The procedure is only for a rig of which it is so: {self._words(self.procedure.applies)}."
        if step.under and self.local_code not in step.under:
            return f"Only under local code {' or '.join(step.under)}."
        return ""

    def _things(self, step: Step, open_: _Facts) -> Iterator[_Draft]:
        for thing in self._about(step):
            truth, unknown = self._judged(step.concerns, thing or self.rig.root)
            if truth is not FALSE:
                yield step, thing, tuple(dict.fromkeys((*open_, *unknown)))

    def _about(self, step: Step) -> list[Thing] | list[None]:
        if step.about is None:
            return [None]
        name = step.about.name
        return [thing for thing in self.things if name in thing.kind.lineage]

    def _why_no_thing(self, step: Step) -> str:
        kind = step.about.name if step.about else "rig"
        if not self._about(step):
            return f"This rig has no {kind}."
        assert step.concerns is not None
        return step.not_here or f"No {kind} here is such that: {self._words(step.concerns)}."

    def _judged(self, schema: Schema | None, thing: Thing) -> tuple[Truth, _Facts]:
        """Return whether a condition is so of a thing, and the facts that leave it open."""
        if schema is None or not all(name in self.judge.limits for name in named_limits(schema)):
            return TRUE, ()
        truth = self.judge.check(schema)(thing, thing)
        waits = reasons(self.judge, schema, thing, UNKNOWN) if truth is UNKNOWN else ()
        return truth, tuple((reason.owner, reason.fact) for reason in waits)

    def _words(self, schema: Schema) -> str:
        return in_words(schema, lambda name: f"limit {name.replace('_', ' ')}")

    # --- which before which ---

    def _earlier(self, drafts: list[_Draft]) -> dict[int, set[int]]:
        """Return for each draft those right before it."""
        order = step_order(self.procedure, {step.name for step, _, _ in drafts})
        lines = [lines_of(thing) for _, thing, _ in drafts]
        return {
            later: {
                earlier
                for earlier, (step, _, _) in enumerate(drafts)
                if _comes_first(order[drafts[later][0].name].get(step.name), lines[earlier], lines[later])
            }
            for later in range(len(drafts))
        }


_Facts = tuple[tuple[Thing, str], ...]
_Draft = tuple[Step, Thing | None, _Facts]


def _comes_first(whole: bool | None, one: frozenset[Thing] | None, other: frozenset[Thing] | None) -> bool:
    """Return whether instances on these lines are in order, by the order of their steps (None: they have none)."""
    if whole is not False:
        return whole is True
    return one is None or other is None or bool(one & other)


def _stable_order(earlier: Mapping[int, set[int]]) -> list[int]:
    """Return a topological order that departs from the order of the numbers only where it must."""
    waiting = {one: len(before) for one, before in earlier.items()}
    later: dict[int, list[int]] = {one: [] for one in earlier}
    for one, before in earlier.items():
        for first in before:
            later[first].append(one)
    ready = [one for one, count in waiting.items() if not count]
    heapq.heapify(ready)
    order: list[int] = []
    while ready:
        order.append(heapq.heappop(ready))
        for one in later[order[-1]]:
            waiting[one] -= 1
            if not waiting[one]:
                heapq.heappush(ready, one)
    return order
