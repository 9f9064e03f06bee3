"""What a record states of its steps: values against what they must meet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec.structs import replace

from rigcheck.condition.tree import Clause, Properties, Schema
from rigcheck.condition.wording import in_words, value_words
from rigcheck.judge.inspection import Finding
from rigcheck.procedure.record_findings import Telling
from rigcheck.procedure.record_reader import Done
from rigcheck.quantity.interval import Interval
from rigcheck.quantity.truth import FALSE, TRUE, Truth
from rigcheck.rig.fact import Value
from rigcheck.rig.thing import Thing
from rigcheck.rules.rule import named_limits
from rigcheck.rules.steps import Grade, StepValue

__all__ = ["has_failed", "judge_values", "misses", "required_words"]


def judge_values(telling: Telling, steps: Sequence[Done], tries: Mapping[int, Sequence[int]]) -> None:
    """Find the values that miss what they must meet, and ask for those that are not stated."""
    for entries in tries.values():
        for entry in entries:
            again = next((steps[later] for later in entries if later > entry), None)
            for value in _bounded(telling, steps[entry]):
                _judge(telling, steps[entry], value, again)


def has_failed(telling: Telling, done: Done) -> bool:
    """Return whether a stated value of a step misses what it must meet."""
    return any(v.name in done.values and misses(telling, done, v, done.values[v.name]) for v in _bounded(telling, done))


def _bounded(telling: Telling, done: Done) -> list[StepValue]:
    return [value for value in done.instance.step.values.values() if telling.speaker.in_force(value)]


def _truth(telling: Telling, done: Done, found: Value, grade: Grade) -> Truth:
    return telling.bench.judge.check(grade.must)(found, _root(telling, done))


def misses(telling: Telling, done: Done, value: StepValue, found: Value) -> Grade | None:
    """Return the gravest of what a value of a step must meet and `found` does not."""
    grades = telling.speaker.in_force(value)
    return next((grade for grade in grades if _truth(telling, done, found, grade) is FALSE), None)


def _root(telling: Telling, done: Done) -> Thing:
    return done.instance.thing or telling.expansion.rig.root


def _judge(telling: Telling, done: Done, value: StepValue, again: Done | None) -> None:
    stated = value.name in done.values
    missed = misses(telling, done, value, done.values[value.name]) if stated else None
    if missed is not None:
        telling.tell(_out_of_limit(telling, done, value, missed, again))
    elif stated and _holds(telling, done, value):
        telling.held()
    else:
        telling.counts["unproven"] += 1
        _ask(telling, done, value, stated=stated)


def _holds(telling: Telling, done: Done, value: StepValue) -> bool:
    found = done.values[value.name]
    return all(_truth(telling, done, found, one) is TRUE for one in telling.speaker.in_force(value))


def _out_of_limit(telling: Telling, done: Done, value: StepValue, missed: Grade, again: Done | None) -> Finding:
    place = done.places[value.name]
    found = [(value.fact.label, value_words(done.values[value.name]), place)]
    limits = tuple(telling.bench.limits[name] for name in named_limits(missed.must))
    made = telling.finding(done.instance, place, found, required_words(telling, done, value, missed))
    made = replace(made, signal=missed.signal, limits=limits)
    if again is None:
        return made
    return replace(made, signal="notice", put_right=f"It was done again in line {again.place.line}: see that one.")


def required_words(telling: Telling, done: Done, value: StepValue, grade: Grade) -> str:
    """Return what a value must meet, with the names of its limits, or else with the figures of this rig."""
    if named_limits(grade.must):
        named = Schema((Clause("properties", Properties({value.name: grade.must})),))
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
    told = f"{value_words(found)} against: {required_words(telling, done, value, grades[-1])}" if close else ""
    ask = value.fact.entry.ask
    telling.ask(step, telling.whose(done.instance), value.name, ask, place, told, signal=grades[0].signal)
