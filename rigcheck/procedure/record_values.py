"""What a record states of its steps: values against what they must meet, and times of day that run forwards."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

from msgspec.structs import replace

from rigcheck.condition.tree import Clause, Schema
from rigcheck.condition.wording import in_words, value_words
from rigcheck.judge.inspection import Finding
from rigcheck.procedure.clock import clock_words
from rigcheck.procedure.record_findings import Telling
from rigcheck.procedure.record_reader import Done
from rigcheck.procedure.steps import Grade, StepValue
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
    return any(v.name in done.values and _missed(telling, done, v) for v in _bounded(telling, done))


def _bounded(telling: Telling, done: Done) -> list[StepValue]:
    return [value for value in done.instance.step.values.values() if telling.speaker.in_force(value)]


def _truth(telling: Telling, done: Done, value: StepValue, grade: Grade) -> Truth:
    return telling.bench.judge.check(grade.must)(done.values[value.name], _root(telling, done))


def _missed(telling: Telling, done: Done, value: StepValue) -> Grade | None:
    """Return the gravest of what a stated value must meet and does not."""
    grades = telling.speaker.in_force(value)
    return next((grade for grade in grades if _truth(telling, done, value, grade) is FALSE), None)


def _root(telling: Telling, done: Done) -> Thing:
    return done.instance.thing or telling.expansion.rig.root


def _judge(telling: Telling, done: Done, value: StepValue, again: Done | None) -> None:
    stated = value.name in done.values
    missed = _missed(telling, done, value) if stated else None
    if missed is not None:
        telling.tell(_out_of_limit(telling, done, value, missed, again))
    elif stated and all(_truth(telling, done, value, one) is TRUE for one in telling.speaker.in_force(value)):
        telling.held()
    else:
        telling.counts["unproven"] += 1
        _ask(telling, done, value, stated=stated)


def _out_of_limit(telling: Telling, done: Done, value: StepValue, missed: Grade, again: Done | None) -> Finding:
    place = done.places[value.name]
    found = [(value.fact.label, value_words(done.values[value.name]), place)]
    limits = tuple(telling.bench.limits[name] for name in named_limits(missed.must))
    made = telling.finding(done.instance, place, found, _required(telling, done, value, missed))
    made = replace(made, signal=missed.signal, limits=limits)
    if again is None:
        return made
    return replace(made, signal="notice", put_right=f"It was done again in line {again.place.line}: see that one.")


def _required(telling: Telling, done: Done, value: StepValue, grade: Grade) -> str:
    """Return what a value must meet, with the names of its limits, or else with the figures of this rig."""
    if named_limits(grade.must):
        named = Schema((Clause("properties", {value.name: grade.must}),))
        return in_words(named, telling.bench.limit_words)
    return f"{value.fact.label}: {telling.speaker.required(grade, done.instance.thing)}"


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
    grades = telling.speaker.in_force(value)
    told = f"{value_words(found)} against: {_required(telling, done, value, grades[-1])}" if close else ""
    ask = value.fact.entry.ask
    telling.ask(step, telling.whose(done.instance), value.name, ask, place, told, signal=grades[0].signal)


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
