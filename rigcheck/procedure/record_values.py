"""What a record states of its steps: values against what they must meet, and times of day that run forwards."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

from rigcheck.condition.tree import Clause, Schema
from rigcheck.condition.wording import in_words, value_words
from rigcheck.judge.inspection import Finding
from rigcheck.procedure.clock import clock_words
from rigcheck.procedure.record_findings import Telling
from rigcheck.procedure.record_reader import Done
from rigcheck.procedure.steps import StepValue
from rigcheck.quantity.interval import Interval
from rigcheck.quantity.truth import FALSE, TRUE, Truth
from rigcheck.rig.thing import Thing
from rigcheck.rules.rule import named_limits

__all__ = ["has_failed", "judge_clock", "judge_values"]


def judge_values(telling: Telling, steps: Sequence[Done], tries: Mapping[int, Sequence[int]]) -> None:
    """Find the values that miss what they must meet, and ask for those that are not stated."""
    for entries in tries.values():
        for entry in entries:
            again = next((steps[later] for later in entries if later > entry), None)
            for value in _bounded(telling, steps[entry]):
                _judge(telling, steps[entry], value, again)


def has_failed(telling: Telling, done: Done) -> bool:
    """Return whether a stated value of a step misses what it must meet."""
    return any(v.name in done.values and _truth(telling, done, v) is FALSE for v in _bounded(telling, done))


def _bounded(telling: Telling, done: Done) -> list[StepValue]:
    return [value for value in done.instance.step.values.values() if telling.speaker.bites(value)]


def _truth(telling: Telling, done: Done, value: StepValue) -> Truth:
    assert value.must is not None
    return telling.bench.judge.check(value.must)(done.values[value.name], _root(telling, done))


def _root(telling: Telling, done: Done) -> Thing:
    return done.instance.thing or telling.expansion.rig.root


def _judge(telling: Telling, done: Done, value: StepValue, again: Done | None) -> None:
    truth = _truth(telling, done, value) if value.name in done.values else None
    if truth is TRUE:
        telling.held()
    elif truth is FALSE:
        telling.tell(_out_of_limit(telling, done, value, again))
    else:
        telling.counts["unproven"] += 1
        _ask(telling, done, value, stated=truth is not None)


def _out_of_limit(telling: Telling, done: Done, value: StepValue, again: Done | None) -> Finding:
    place = done.places[value.name]
    found = [(value.fact.label, value_words(done.values[value.name]), place)]
    assert value.must is not None
    limits = tuple(telling.bench.limits[name] for name in named_limits(value.must))
    made = replace(telling.finding(done.instance, place, found, _required(telling, done, value)), limits=limits)
    if again is None:
        return made
    return replace(made, signal="notice", put_right=f"It was done again in line {again.place.line}: see that one.")


def _required(telling: Telling, done: Done, value: StepValue) -> str:
    """Return what a value must meet, with the names of its limits, or else with the figures of this rig."""
    assert value.must is not None
    if named_limits(value.must):
        named = Schema((Clause("properties", {value.name: value.must}),))
        return in_words(named, telling.bench.limit_words)
    return f"{value.fact.label}: {telling.speaker.required(value, done.instance.thing)}"


def _ask(telling: Telling, done: Done, value: StepValue, *, stated: bool) -> None:
    """Ask for a value, for the facts of the rig that it is held against, or for a closer measurement."""
    step, place = done.instance.step, done.places.get(value.name, done.place)
    unknown = telling.speaker.unknown_facts(value, done.instance.thing) if stated else []
    for owner, fact in unknown:
        telling.ask_of_rig(step, owner, fact)
    if unknown:
        return
    found = done.values.get(value.name)
    close = isinstance(found, Interval)
    told = f"{value_words(found)} against: {_required(telling, done, value)}" if close else ""
    telling.ask(step, telling.whose(done.instance), value.name, value.fact.entry.ask, place, told)


# --- times of day ---


def judge_clock(telling: Telling, steps: Sequence[Done]) -> None:
    """Find the times of day that run backwards from one step to the next that has one."""
    timed = [(done, done.clock) for done in steps if done.clock is not None]
    for (first, early), (second, late) in pairwise(timed):
        if late < early:
            telling.tell(_backwards(telling, first, second, f"{clock_words(late)}, after {clock_words(early)}"))
        else:
            telling.held()


def _backwards(telling: Telling, first: Done, second: Done, times: str) -> Finding:
    told = f"{times} in line {first.place.line}"
    required = f"{second.instance.label} no earlier than {first.instance.label}"
    made = telling.finding(second.instance, second.place, [("time", told, second.place)], required)
    ordered = first.instance.number in telling.expansion.before[second.instance.number]
    return replace(
        made,
        signal=made.signal if ordered else "notice",
        put_right="Find out in which order it was done, correct the record, and do again what came too early.",
    )
