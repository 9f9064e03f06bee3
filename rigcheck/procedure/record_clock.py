"""The times of day of a record: they run forwards, and leave each step the time that it takes."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from msgspec.structs import replace

from rigcheck.condition.wording import value_words
from rigcheck.judge.inspection import Finding
from rigcheck.procedure.clock import clock_words
from rigcheck.procedure.record_findings import Telling
from rigcheck.procedure.record_reader import Done
from rigcheck.procedure.record_values import misses, required_words
from rigcheck.quantity.interval import Interval
from rigcheck.rules.steps import StepValue

__all__ = ["judge_clock", "judge_room"]

_MINUTE = 60.0


def judge_clock(telling: Telling, steps: Sequence[Done]) -> None:
    """Find the times of day that run backwards, and those between which a step cannot have lasted long enough."""
    timed = [(done, done.clock) for done in steps if done.clock is not None]
    for (first, early), (second, late) in pairwise(timed):
        if late < early:
            telling.tell(_backwards(telling, first, second, f"{clock_words(late)}, after {clock_words(early)}"))
        else:
            telling.held()
    for number, done in enumerate(steps):
        judge_room(telling, done, steps[:number], steps[number + 1 :])


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


def judge_room(telling: Telling, done: Done, before: Sequence[Done], after: Sequence[Done]) -> None:
    """Hold what a step took against the clock: whether its own time is that of its begin or its end, nobody says."""
    earlier = next((one for one in reversed(before) if one.clock is not None), None)
    later = next((one for one in after if one.clock is not None), None)
    if earlier is None or later is None or later.clock < earlier.clock:  # type: ignore[operator]
        return
    for value in done.instance.step.values.values():
        if value.goes_by and telling.speaker.in_force(value):
            _judge_time(telling, done, value, (earlier, later))


def _judge_time(telling: Telling, done: Done, value: StepValue, between: tuple[Done, Done]) -> None:
    early, late = (one.clock or 0 for one in between)
    # A time without seconds may be that of any second of its minute.
    most = Interval(0.0, late - early + (1.0 if late % _MINUTE else _MINUTE), "time")
    stated = done.values.get(value.name)
    if isinstance(stated, Interval):
        if stated.lo <= most.hi or misses(telling, done, value, stated) is not None:
            return
        telling.tell(_too_fast(telling, done, value, between, value_words(stated)))
    elif misses(telling, done, value, most) is not None:
        telling.tell(_too_fast(telling, done, value, between, ""))


def _too_fast(telling: Telling, done: Done, value: StepValue, between: tuple[Done, Done], stated: str) -> Finding:
    first, then = (f"{clock_words(one.clock or 0)} (line {one.place.line})" for one in between)
    told = f"{f'{stated}, but ' if stated else ''}all of it between {first} and {then}"
    grade = telling.speaker.in_force(value)[-1]
    required = "times of day that leave as long as is stated" if stated else required_words(telling, done, value, grade)
    place = done.places.get(value.name, done.place)
    made = telling.finding(done.instance, place, [(value.fact.label, told, place)], required)
    return replace(made, signal=grade.signal)
