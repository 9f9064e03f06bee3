"""The first page of a commissioning file: the state, what holds the rig, what to do first."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from rigcheck.judge.causes import alike_questions, causes_of
from rigcheck.judge.finding import Finding, State
from rigcheck.procedure.sheet import holding
from rigcheck.report.html.addresses import bare
from rigcheck.report.text.finding_words import group_words
from rigcheck.report.text.question_words import asked_words, whose_words
from rigcheck.rules.rule import SIGNALS, Signal
from rigcheck.tasks.commissioning_file import RigFile

__all__ = ["STATE_WORDS", "Count", "First", "FirstPage", "first_page"]

_MOST = 8
"""What is told on the first page, so that the sign-off stands on it too."""

STATE_WORDS: dict[State, str] = {
    "on hold": "Do not use the rig. Put right what holds it, describe it as it then stands, and have it judged again.",
    "not yet shown": "Nothing stated holds it, but questions are open; what their rules would find is not known.",
    "lesser findings only": "Nothing holds it, nothing is open; what stands below the hold level is to be seen to.",
    "nothing found against it": "Nothing that is stated goes against a rule. That alone is no leave to use the rig.",
}


class First(Struct, frozen=True):
    """One row: the number of its finding (0 for a question), its signal word, the thing, what was found, what to do."""

    number: int
    signal: Signal
    thing: str
    found: str
    do: str


class Count(Struct, frozen=True):
    """How many findings (of them conceded) and questions have a signal word."""

    signal: Signal
    findings: int
    conceded: int
    questions: int


class FirstPage(Struct, frozen=True):
    """What the first page says; `more`: how many rows it leaves to the pages behind."""

    state: State
    words: str
    level: str
    heading: str
    rows: tuple[First, ...]
    more: int
    counts: tuple[Count, ...]


def first_page(file: RigFile) -> FirstPage:
    """Return what the first page of a file says."""
    state = file.inspection.state(file.hold_at)
    heading, rows = _rows(file, state)
    return FirstPage(
        state=state,
        words=STATE_WORDS[state],
        level=_level(file, state),
        heading=heading,
        rows=tuple(rows[:_MOST]),
        more=max(0, len(rows) - _MOST),
        counts=tuple(_counts(file)),
    )


def _rows(file: RigFile, state: State) -> tuple[str, list[First]]:
    if state == "on hold":
        return "What holds it, and what to do first", list(_held(file))
    if state == "not yet shown":
        return "What to find out first", list(_asked(file))
    if state == "lesser findings only":
        return "What to see to", list(_lesser(file))
    return "", []


def _held(file: RigFile) -> Iterator[First]:
    numbers = {id(one): number for number, one in enumerate(file.inspection.findings, start=1)}
    for cause in holding(file.inspection, file.hold_at):
        first = cause.told.first
        found = group_words(cause.told)
        yield First(numbers[id(first)], first.signal, cause.told.called, found, first.put_right)


def _lesser(file: RigFile) -> Iterator[First]:
    numbers = {id(one): number for number, one in enumerate(file.inspection.findings, start=1)}
    for cause in causes_of(file.inspection.findings):
        first: Finding = cause.told.first
        yield First(numbers[id(first)], first.signal, cause.told.called, group_words(cause.told), first.put_right)


def _asked(file: RigFile) -> Iterator[First]:
    for group in alike_questions(file.inspection.questions):
        whose = bare(whose_words(group, file.inspection.file), group[0].place, file.inspection.file)
        yield First(0, group[0].signal, whose, "", asked_words(group))


def _level(file: RigFile, state: State) -> str:
    is_held = "is" if state == "on hold" else "would be"
    told = (
        f"It {is_held} held for findings of the word {file.hold_at.upper()} or a graver one that nobody has conceded."
    )
    return f"{told} {file.inspection.checks_words.capitalize()}."


def _counts(file: RigFile) -> Iterator[Count]:
    questions = alike_questions(file.inspection.questions)
    for signal in SIGNALS:
        findings = [one for one in file.inspection.findings if one.signal == signal]
        conceded = sum(one.conceded is not None for one in findings)
        yield Count(signal, len(findings), conceded, sum(group[0].signal == signal for group in questions))
