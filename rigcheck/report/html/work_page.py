"""A procedure by the hand as pages for a phone: one step with its values and clocks, and the end with the record."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime, timedelta

from msgspec import Struct

from rigcheck.judge.finding import Inspection, State
from rigcheck.procedure.expansion import Instance
from rigcheck.procedure.progress import Progress, entry_values, timed_for
from rigcheck.report.html.asked_page import CANNOT_TELL
from rigcheck.report.html.page import page
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.report.text.page_text import choices_of
from rigcheck.report.text.question_words import unsaid_words
from rigcheck.report.text.step_text import unknown_words
from rigcheck.rig.spelling import what_to_write
from rigcheck.rules.steps import Procedure, StepValue

__all__ = ["clock_mark", "end_page", "step_page"]

_MOST_EARLY = 4


class _Clock(Struct, frozen=True):
    """A clock beside a value: for how many seconds at least, and since and until when, where it runs."""

    least: int
    since: str = ""
    until: str = ""
    epoch: int = 0


class _Value(Struct, frozen=True):
    name: str
    ask: str
    means: str
    must: str
    words: tuple[tuple[str, str], ...]
    several: bool
    write: str
    clock: _Clock | None


class _Other(Struct, frozen=True):
    """Another step that is left; `waits`: what has to come before it, where its turn has not come."""

    number: int
    label: str
    waits: str


class _Recorded(Struct, frozen=True):
    """A step that is in the record, with what counts of it."""

    number: int
    label: str
    words: str


def step_page(
    at: Progress,
    one: Instance,
    procedure: Procedure,
    *,
    frame: Mapping[str, object],
    clocks: Mapping[str, datetime],
    now: datetime,
    typed: Mapping[str, list[str]] | None = None,
    wrong: Mapping[str, str] | None = None,
    meanwhile: str = "",
    ways: Iterable[Procedure] = (),
) -> str:
    """Return the page of one step; `typed` and `wrong`: what was sent and what is wrong with it, by value.

    `clocks`: when the clocks that run were started, `now`: what they show; `meanwhile`: what was done elsewhere since
    the page was shown; `ways`: procedures that leave the rig without gas, told where a DANGER was just found.
    """
    recorded = {told.number: told for told in _recorded(at)}
    grave = any(found.signal == "danger" for found in at.last.findings)
    return page(
        "work_step.html",
        frame=frame,
        procedure=procedure,
        one=one,
        do=at.speaker.do(one),
        unknown=unknown_words(one),
        values=[_value(at, one, value, clocks.get(value.name)) for value in one.step.values.values()],
        others=list(_others(at, one)),
        recorded=list(recorded.values()),
        before=_before(recorded.get(one.number)),
        ways=list(ways) if grave else [],
        waits=_waits(at, one),
        left=len(at.left),
        count=len(at.done),
        last="" if meanwhile or wrong or not at.done else at.done[-1].instance.label,
        findings=at.last.findings,
        unsaid=unsaid_words(at.last.questions),
        cannot_tell=CANNOT_TELL,
        typed=typed or {},
        wrong=wrong or {},
        meanwhile=meanwhile,
        now=int(now.timestamp() * 1000),
    )


def clock_mark(began: datetime | None) -> str:
    """Return what tells a clock that runs from one that does not, and from another one."""
    return "" if began is None else str(int(began.timestamp() * 1000))


def _value(at: Progress, one: Instance, value: StepValue, began: datetime | None) -> _Value:
    words = tuple(choices_of(value.fact))
    least = timed_for(value, one, at.speaker)
    return _Value(
        name=value.name,
        ask=value.fact.entry.ask,
        means=value.fact.entry.means,
        must=at.speaker.required(at.speaker.wanted(value), one.thing),
        words=words,
        several=value.fact.measure == "several_words",
        write="" if words else _units(what_to_write(value.fact)),
        clock=None if least is None else _clock(int(least), began),
    )


def _units(told: str) -> str:
    """Return the units without the example: what must be read off stands above it."""
    inside = told.partition(" (in ")[2].partition(")")[0]
    return f"a value with its unit: {inside}" if inside else told


def _clock(least: int, began: datetime | None) -> _Clock:
    if began is None:
        return _Clock(least)
    until = f"{began + timedelta(seconds=least):%H:%M:%S}" if least else ""
    return _Clock(least, f"{began:%H:%M:%S}", until, int(began.timestamp() * 1000))


def _others(at: Progress, one: Instance) -> Iterator[_Other]:
    for other in at.left:
        if other is not one:
            yield _Other(other.number, other.label, _waits(at, other))


def _recorded(at: Progress) -> Iterator[_Recorded]:
    """Yield the steps of the record, each with its last entry, in the order of the sheet."""
    last = {done.instance.number: done for done in at.done}
    for number, done in sorted(last.items()):
        yield _Recorded(number, done.instance.label, entry_values(done))


def _before(told: _Recorded | None) -> str:
    return "" if told is None else told.words.rstrip(".") or "done"


def _waits(at: Progress, one: Instance) -> str:
    waits = at.waits_for(one)
    more = f" and {len(waits) - _MOST_EARLY} more" if len(waits) > _MOST_EARLY else ""
    return ", ".join(other.label for other in waits[:_MOST_EARLY]) + more


def end_page(
    told: Inspection,
    state: State,
    at: Progress,
    file: str,
    ways: Iterable[Procedure],
    *,
    frame: Mapping[str, object],
) -> str:
    """Return how a record came out; `ways`: procedures that leave the rig without gas, where it was stopped."""
    return page(
        "work_end.html",
        frame=frame,
        finished=at.finished,
        left=len(at.left),
        state=state,
        findings=told.findings,
        unsaid=unsaid_words(told.questions),
        presumed=f"{told.checks_words}." if told.presumed else "",
        file=file,
        ways=list(ways),
        caution=CAUTION,
    )
