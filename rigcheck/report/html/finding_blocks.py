"""The findings and questions of a commissioning file, made ready for its template."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from msgspec import Struct

from rigcheck.judge.causes import Alike, Cause, alike_questions, causes_of
from rigcheck.judge.finding import Finding, Inspection, Question
from rigcheck.report.html.addresses import bare, line_words
from rigcheck.report.html.working_blocks import WorkingBlock, working_block
from rigcheck.report.text.finding_words import found_words, group_words
from rigcheck.report.text.inspection_text import source_words
from rigcheck.report.text.question_words import asked_words, waiting_words, where_words, whose_words, write_words
from rigcheck.report.text.working_text import Numbers
from rigcheck.rules.rule import SIGNALS, Signal

__all__ = ["AlsoBlock", "FindingBlock", "FindingGroup", "QuestionBlock", "QuestionGroup", "findings", "questions"]


class AlsoBlock(Struct, frozen=True):
    """A lesser rule that the same value breaks; `things`: number, thing and what was found of each."""

    signal: Signal
    claim: str
    things: tuple[tuple[int, str, str], ...]
    required: str
    harm: str
    do: str
    sources: str
    rule: str


class FindingBlock(Struct, frozen=True):
    """A finding as it is told, of all its things by `thing`; `on`: the first, `others`: number and name of the rest."""

    number: int
    signal: Signal
    thing: str
    on: str
    others: tuple[tuple[int, str], ...]
    conceded: str
    found: str
    workings: tuple[WorkingBlock, ...]
    claim: str
    required: str
    harm: str
    do: str
    sources: str
    written: str
    rule: str
    also: tuple[AlsoBlock, ...]


class FindingGroup(Struct, frozen=True):
    """The findings of a signal word; `above`: how many of them are told with something graver."""

    signal: Signal
    count: int
    above: int
    blocks: tuple[FindingBlock, ...]


class QuestionBlock(Struct, frozen=True):
    """A question that is put once: of which things, what to write, what waits, how a close value was worked out."""

    whose: str
    ask: str
    write: str
    waiting: str
    workings: tuple[WorkingBlock, ...]


class QuestionGroup(Struct, frozen=True):
    """The questions of a signal word."""

    signal: Signal
    blocks: tuple[QuestionBlock, ...]


_Pins = Mapping[int, int]
"""The number of each finding, which is that of its pin, by the finding's identity."""


def findings(inspection: Inspection, numbers: Numbers) -> Iterator[FindingGroup]:
    """Yield every finding by signal word, the gravest first; `numbers` are those of the figures."""
    causes = causes_of(inspection.findings)
    pins = {id(one): number for number, one in enumerate(inspection.findings, start=1)}
    for signal in SIGNALS:
        count = sum(one.signal == signal for one in inspection.findings)
        own = [cause for cause in causes if cause.told.first.signal == signal]
        here = sum(one.signal == signal for cause in own for one in cause.findings)
        if count:
            blocks = tuple(_block(cause, pins, inspection.file, numbers) for cause in own)
            yield FindingGroup(signal, count, count - here, blocks)


def _block(cause: Cause, pins: _Pins, file: str, numbers: Numbers) -> FindingBlock:
    first = cause.told.first
    workings = dict.fromkeys(found.working for found in first.found if found.working is not None)
    return FindingBlock(
        number=pins[id(first)],
        signal=first.signal,
        thing=cause.told.called,
        on=first.thing,
        others=tuple((pins[id(one)], one.thing) for one in cause.told.findings[1:]),
        conceded="" if first.conceded is None else f"{bare(first.conceded.words, first.conceded.place, file)}.",
        found=group_words(cause.told),
        workings=tuple(working_block(one, numbers, file) for one in workings),
        claim=first.claim,
        required=f"{first.required}.",
        harm=first.harm,
        do=first.put_right,
        sources=source_words(first.sources),
        written=line_words(first.place, file),
        rule=first.rule,
        also=tuple(_also(group, pins) for group in cause.also),
    )


def _also(group: Alike, pins: _Pins) -> AlsoBlock:
    first: Finding = group.first
    return AlsoBlock(
        signal=first.signal,
        claim=first.claim,
        things=tuple((pins[id(one)], one.thing, found_words(one)) for one in group.findings),
        required=f"{first.required}.",
        harm=first.harm,
        do=first.put_right,
        sources=source_words(first.sources),
        rule=first.rule,
    )


def questions(inspection: Inspection, numbers: Numbers) -> Iterator[QuestionGroup]:
    """Yield what nobody stated, or stated too coarsely, by signal word."""
    groups = alike_questions(inspection.questions)
    for signal in SIGNALS:
        own = [group for group in groups if group[0].signal == signal]
        if own:
            yield QuestionGroup(signal, tuple(_question(group, inspection.file, numbers) for group in own))


def _question(group: list[Question], file: str, numbers: Numbers) -> QuestionBlock:
    workings = dict.fromkeys(one.working for one in group if one.working is not None)
    return QuestionBlock(
        whose=bare(whose_words(group, file), group[0].place, file),
        ask=asked_words(group),
        write=f"{write_words(group[0])}{where_words(group)}" if group[0].write else "",
        waiting=waiting_words(group),
        workings=tuple(working_block(one, numbers, file) for one in workings),
    )
