"""A step of a procedure as text while it is done: what, where to stand, what for, and what was wrong with it."""

from __future__ import annotations

from collections.abc import Iterator

from rigcheck.judge.finding import Finding, Inspection, State
from rigcheck.procedure.expansion import Instance
from rigcheck.procedure.progress import Progress, Verdict
from rigcheck.procedure.sheet import Sheet
from rigcheck.quantity.wording import counted
from rigcheck.report.sheet.sheet_words import top_words
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.report.text.layout import Line, labelled, wrapped
from rigcheck.report.text.page_text import choices_of
from rigcheck.report.text.question_words import unsaid_words
from rigcheck.rig.spelling import what_to_write
from rigcheck.rig.thing import Thing
from rigcheck.rules.steps import StepValue

__all__ = [
    "begin_lines",
    "emergency_lines",
    "record_lines",
    "step_lines",
    "step_why_lines",
    "unknown_words",
    "value_lines",
    "verdict_lines",
]

_COLUMN = 9
_LIST = 6


def begin_lines(sheet: Sheet, width: int) -> Iterator[Line]:
    """Yield what stands before the first step: what it leads to, the state of the rig, the cautions."""
    yield from wrapped(f"{sheet.title}: {sheet.rig}", width, style="head")
    yield from labelled("leads", sheet.means, width, column=_COLUMN, label_style="quiet")
    for caution in top_words(sheet):
        yield from labelled("  !", caution, width, column=4, label_style="stress")


def step_lines(at: Progress, one: Instance, width: int) -> Iterator[Line]:
    """Yield one step: signal word and hazard before what is to be done, and what else may be done now."""
    yield Line()
    left = f"step {one.number}; {counted(len(at.left), 'step')} left"
    yield from labelled(one.step.signal.upper(), left, width, column=_COLUMN, label_style=one.step.signal)
    yield from labelled("hazard", one.step.hazard, width, column=_COLUMN, label_style="quiet")
    if one.step.stand:
        yield from labelled("stand", one.step.stand, width, column=_COLUMN, label_style="stress")
    yield from labelled("do", at.speaker.do(one), width, column=_COLUMN, label_style="stress", style="head")
    if one.if_so:
        told = f"It is not known whether this applies. {unknown_words(one)}"
        yield from labelled("if", told, width, column=_COLUMN)
    elif one.step.optional:
        yield from labelled("if", "It may be left out.", width, column=_COLUMN)
    others = [other.label for other in at.now if other is not one]
    if others:
        yield from labelled("also now", "; ".join(others), width, column=_COLUMN, label_style="quiet", style="quiet")


def unknown_words(one: Instance) -> str:
    """Return what would have to be known to tell whether a step applies: each fact as it is asked for, with its thing.

    What nobody is asked for is told as it is meant; it is worked out of what is asked elsewhere.
    """
    return " ".join(f"{_asked(owner, fact)} ({owner.label if owner.parent else 'rig'})" for owner, fact in one.if_so)


def _asked(owner: Thing, fact: str) -> str:
    known = owner.kind.facts.get(fact)  # none where it is another thing that is not known
    return (known.entry.ask or known.entry.means) if known is not None else f"{fact.replace('_', ' ').capitalize()}?"


def step_why_lines(one: Instance, width: int) -> Iterator[Line]:
    """Yield why a step is done, and what to do where it was not done so."""
    yield from labelled("why", one.step.hazard, width, column=_COLUMN, label_style="quiet")
    yield from labelled("if not", one.step.put_right, width, column=_COLUMN, label_style="quiet")
    for value in one.step.values.values():
        means = f"{value.fact.label}: {value.fact.entry.means}"
        yield from labelled("means", means, width, column=_COLUMN, label_style="quiet")


def value_lines(value: StepValue, must: str, width: int) -> Iterator[Line]:
    """Yield one value of a step that is asked for, with the words to choose from or the unit."""
    yield Line()
    yield from wrapped(value.fact.entry.ask, width, style="head")
    choices = choices_of(value.fact)
    for number, (word, means) in enumerate(choices, start=1):
        yield from labelled(f"{number:>3}", f"{word}: {means}" if means else word, width, column=_LIST)
    if not choices:
        yield from labelled("write", what_to_write(value.fact), width, column=_LIST, label_style="quiet")
        if must:
            yield from labelled("must", must, width, column=_LIST, label_style="quiet")


def verdict_lines(last: Verdict, width: int) -> Iterator[Line]:
    """Yield what is said at once of the step recorded last: what was wrong, and what to do about it first."""
    for one in last.findings:
        yield Line()
        yield from labelled(one.signal.upper(), _short(one), width, column=_COLUMN, label_style=one.signal)
        yield from labelled("do", one.put_right, width, column=_COLUMN, label_style="stress", style="head")
        yield from labelled("harm", one.harm, width, column=_COLUMN, label_style="quiet")
    for told in unsaid_words(last.questions):
        yield from labelled("open", told, width, column=_COLUMN, label_style="quiet")


def _short(one: Finding) -> str:
    return f"{one.found_words}. Must be: {one.required}."


def emergency_lines(sheet: Sheet, width: int) -> Iterator[Line]:
    """Yield what to do in an emergency, all at once: the steps last, since a small screen shows the end."""
    yield Line()
    for caution in sheet.cautions:
        yield from labelled("  !", caution, width, column=_LIST, label_style="stress")
    yield from wrapped(f"{sheet.title.upper()}", width, style="danger")
    for row in sheet.rows:
        yield from labelled(f"{row.number:>3}", row.do, width, column=_LIST, style="head")


def record_lines(told: Inspection, state: State, at: Progress, file: str, width: int) -> Iterator[Line]:
    """Yield the end of a procedure: what is against the record, what is left, and where it stands."""
    yield Line()
    head = "== Every step is recorded ==" if at.finished else f"== Stopped; {counted(len(at.left), 'step')} left =="
    yield from wrapped(head, width, style="head")
    yield from wrapped(f"State of the record: {state}.", width, style="stress")
    yield from verdict_lines(Verdict(told.findings, told.questions), width)
    if told.presumed:
        yield from wrapped(f"{told.checks_words}.", width)
    yield Line()
    yield from wrapped(f"Written in {file}. rigcheck inspect reads it.", width)
    yield from wrapped(CAUTION, width, style="quiet")
