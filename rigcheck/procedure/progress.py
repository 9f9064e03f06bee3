"""Where a procedure stands that is being done: what may be done now, what waits for what, what was just wrong.

A function of the rig and of what was recorded so far, so that stopping and going on changes nothing. Pure: no clock,
no disk; the terminal and the local page are two faces of it.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct
from msgspec.structs import replace

from rigcheck.condition.wording import value_words
from rigcheck.judge.finding import Finding, Question
from rigcheck.judge.judged import Judged
from rigcheck.procedure.clock import clock_words
from rigcheck.procedure.expansion import Expansion, Instance
from rigcheck.procedure.record_clock import judge_room
from rigcheck.procedure.record_findings import Telling
from rigcheck.procedure.record_reader import Done, Record, read_steps
from rigcheck.procedure.record_values import has_failed, judge_values
from rigcheck.procedure.sheet import prepare
from rigcheck.procedure.step_words import Speaker
from rigcheck.rules.rule import GRAVITY
from rigcheck.rules.steps import Procedure, StepValue

__all__ = ["Progress", "Verdict", "entry_values", "progress_of", "timed_for"]

_LONGEST = 3600.0  # s: what takes longer is read off a clock


class Verdict(Struct, frozen=True):
    """What is said at once of the step that was recorded last: findings gravest first, and what stays open of it."""

    findings: tuple[Finding, ...] = ()
    questions: tuple[Question, ...] = ()


class Progress(Struct, frozen=True):
    """One moment of a procedure.

    `now`: the steps that the order lets somebody do, in the order of the sheet; `left`: all that were not done, these
    too; a step that failed is among them until it is done again. `last`: what is said of the step recorded last.
    """

    expansion: Expansion
    speaker: Speaker
    done: tuple[Done, ...]
    now: tuple[Instance, ...]
    left: tuple[Instance, ...]
    last: Verdict

    @property
    def finished(self) -> bool:
        """Whether every step that is required was done."""
        return not any(one.required for one in self.left)

    def waits_for(self, instance: Instance) -> tuple[Instance, ...]:
        """Return the steps left that have to come before one."""
        earlier = self.expansion.before[instance.number]
        return tuple(one for one in self.left if one.number in earlier and one.required)


def progress_of(record: Record, judged: Judged, procedure: Procedure, passed: Sequence[int] = ()) -> Progress:
    """Return where a record stands; `passed`: numbers of steps of which somebody said that they do not apply.

    Raises `Refused` where a step cannot be read.
    """
    expansion, speaker = prepare(judged, procedure)
    done = read_steps(record, expansion)
    telling = Telling(record, expansion, speaker, judged.rules)
    settled = _settled(telling, done)
    left = tuple(one for one in expansion.instances if one.number not in settled and _is_open(one, done, passed))
    waiting = {one.number for one in left if one.required}
    now = tuple(one for one in left if not waiting & expansion.before[one.number])
    return Progress(expansion, speaker, done, now, left, _of_last(telling, done))


def _settled(telling: Telling, done: Sequence[Done]) -> set[int]:
    """Return the numbers of the steps whose last entry did not fail: a later one may be a correction."""
    last = {one.instance.number: one for one in done}
    return {number for number, one in last.items() if not has_failed(telling, one)}


def _is_open(one: Instance, done: Sequence[Done], passed: Sequence[int]) -> bool:
    """Whether a step that was not done is still asked after: what need not be done is over once a later one was."""
    if one.required:
        return True
    return one.number not in passed and not any(entry.instance.number > one.number for entry in done)


def _of_last(telling: Telling, done: Sequence[Done]) -> Verdict:
    """Return what is said of the last entry: of its values, and of what should have come before it."""
    if not done:
        return Verdict()
    last, before = done[-1], done[:-1]
    judge_values(telling, done, {last.instance.number: [len(done) - 1]})
    judge_room(telling, last, before, [last])  # it is written when it ends
    early = _missing_before(telling, last, before)
    if early:
        telling.tell(_out_of_order(telling, last, early))
    findings = sorted(telling.findings, key=lambda one: -GRAVITY[one.signal])
    return Verdict(tuple(findings), tuple(telling.questions))


def _missing_before(telling: Telling, last: Done, before: Sequence[Done]) -> list[Instance]:
    earlier = telling.expansion.before[last.instance.number] - _settled(telling, before)
    return [one for one in telling.expansion.instances if one.number in earlier and one.required]


def _out_of_order(telling: Telling, last: Done, early: Sequence[Instance]) -> Finding:
    """Return that a step came too early: the gravest that was passed over says what to do about it."""
    gravest = max((*early, last.instance), key=lambda one: GRAVITY[one.step.signal])
    first = max(early, key=lambda one: GRAVITY[one.step.signal])
    found = [("not done before", one.label, last.place) for one in early]
    made = telling.finding(first, last.place, found, f"{first.label} before {last.instance.label}")
    return replace(made, signal=gravest.step.signal)


def entry_values(done: Done) -> str:
    """Return what an entry states, in words, and at what time of day; empty where it states nothing."""
    known = done.instance.step.values
    told = [f"{known[name].fact.label}: {value_words(value)}" for name, value in done.values.items()]
    if done.clock is not None:
        told.append(f"at {clock_words(done.clock)}")
    return f"{', '.join(told)}." if told else ""


def timed_for(value: StepValue, instance: Instance, speaker: Speaker) -> float | None:
    """Return for how many seconds at least a step is held, where it is timed by the hand; 0 where no least is known."""
    if value.fact.measure != "time":
        return None
    least = speaker.least(value, instance.thing)
    return least if least <= _LONGEST else None
