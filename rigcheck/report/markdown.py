"""An inspection as Markdown, for the summary page of a continuous-integration run.

CommonMark with tables; what came from a file never becomes markup, link or mention.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from rigcheck.judge.causes import Cause, alike_questions, causes_of
from rigcheck.judge.inspection import Inspection, Question
from rigcheck.quantity.wording import shown_day
from rigcheck.report.text.finding_words import also_words, count_words, group_words, things_words
from rigcheck.report.text.inspection_text import caution_of
from rigcheck.report.text.question_words import (
    LookRow,
    Told,
    asked_words,
    open_words,
    told_rows,
    untold_words,
    where_words,
    whose_words,
    write_words,
)
from rigcheck.rules.overlay import overlay_words
from rigcheck.rules.rule import Signal
from rigcheck.text.faults import Fault
from rigcheck.text.harmless import harmless
from rigcheck.text.place import Place

__all__ = ["markdown_refusal", "markdown_rig", "plain_words"]

# What readers make links of by themselves: addresses, mentions, numbers of issues, names of commits.
_LINKED = re.compile(r"[^\s|`]*(?:@|://|www\.|#\d|\bgh-\d|\b[0-9a-f]{7,40}\b)[^\s|`]*", re.IGNORECASE)
_MARKUP = re.compile(r"([\\`*_\[\]#|~$])")


def markdown_rig(
    inspection: Inspection, *, hold_at: Signal, on_unproven: Signal | None, questions: Told = "looks"
) -> str:
    """Return one inspection as a section: its state, a table of findings, folded lists of the rest.

    `questions`: which of them are listed.
    """
    return "\n".join(_lines(inspection, hold_at, on_unproven, questions)) + "\n"


def markdown_refusal(file: str, faults: Iterable[Fault]) -> str:
    """Return a file that could not be read as a section."""
    return "\n".join([f"## {plain_words(file)}", "", *_unread(file, faults)]) + "\n"


def _unread(file: str, faults: Iterable[Fault]) -> Iterator[str]:
    told = [f"- {_line(fault.place, file)}: {plain_words(_fault_words(fault))}" for fault in faults]
    yield from ("Not read:", "", *told, "") if told else ()


def _line(place: Place, file: str) -> str:
    return f"Line {place.line}" if place.file == file else f"{plain_words(place.file)}, line {place.line}"


def _fault_words(fault: Fault) -> str:
    near = f" Nearest known word: {fault.near}." if fault.near else ""
    return f"{fault.read} {fault.write}{near}"


def _lines(inspection: Inspection, hold_at: Signal, on_unproven: Signal | None, told: Told) -> Iterator[str]:
    yield from (f"## {plain_words(inspection.title)}", "")
    yield from (_state(inspection, hold_at, on_unproven), "")
    yield from _unread(inspection.file, inspection.unread)
    for words in overlay_words(inspection.laid):
        yield from (f"**{plain_words(words)}**", "")
    if inspection.findings:
        yield "| Signal | Thing | Found | Must be | Do | Where |"
        yield "| --- | --- | --- | --- | --- | --- |"
        causes = causes_of(inspection.findings)
        yield from map(_row, causes)
        yield from ("", *((f"{count_words(causes)}.", "") if count_words(causes) else ()))
    groups = alike_questions(inspection.questions)
    rows, single = told_rows(groups, told)
    asked = [_look(row, inspection.file) for row in rows]
    asked += [_question(group, inspection.file) for group in single]
    yield from _folded(f"{open_words(groups if rows else single)} not yet shown", asked)
    untold = untold_words(groups, single, rows)
    yield from ((untold, "") if untold else ())
    held = (f"{one.thing}: {one.claim} (line {one.place.line})" for one in inspection.held)
    yield from _folded(f"{len(inspection.held)} checks that held", [f"- {plain_words(one)}" for one in held])
    yield from (f"_{caution_of(inspection)}_", "")


def _state(inspection: Inspection, hold_at: Signal, on_unproven: Signal | None) -> str:
    state = inspection.state(hold_at, on_unproven=on_unproven).capitalize()
    day = shown_day(inspection.day)
    record = f", record of {plain_words(inspection.record)}" if inspection.record else ""
    conceded = sum(finding.conceded is not None for finding in inspection.findings)
    told = f"({plain_words(inspection.file)}){f'; {conceded} of the findings conceded' if conceded else ''}"
    return f"**{state}** under local code {inspection.local_code} on {day}{record} {told}."


def _folded(what: str, rows: list[str]) -> Iterator[str]:
    if rows:
        yield from (f"<details><summary>{what}</summary>", "", *rows, "", "</details>", "")


def _row(cause: Cause) -> str:
    finding = cause.told.first
    lines = dict.fromkeys(str(one.place.line) for one in cause.told.findings)
    where = f"{finding.place.file}:{', '.join(lines)}"
    also = f" Also breaks: {' / '.join(also_words(cause))}" if cause.also else ""
    cells = (things_words(cause.told), group_words(cause.told), f"{finding.claim}{also}", finding.put_right, where)
    conceded = "" if finding.conceded is None else f", conceded: {plain_words(finding.conceded.words)}"
    return f"| **{finding.signal.upper()}**{conceded} | {' | '.join(map(plain_words, cells))} |"


def _question(group: list[Question], file: str) -> str:
    write = f" Write {write_words(group[0])}{where_words(group)}." if group[0].write else ""
    told = f"{whose_words(group, file)}: {asked_words(group)}{write}"
    return f"- {group[0].signal.upper()} {plain_words(told)}"


def _look(row: LookRow, file: str) -> str:
    told = f"{row.title}: {whose_words(row.things, file)}, {row.asked}. Write {row.write}."
    return f"- {row.signal.upper()} {plain_words(told)}"


def plain_words(text: str) -> str:
    """Return text on one line that stays text; a word that would become a link or a mention is set as code."""
    return "".join(_pieces(harmless(text)))


def _pieces(text: str) -> Iterator[str]:
    done = 0
    for found in _LINKED.finditer(text):
        yield _escaped(text[done : found.start()])
        yield f"`{found[0]}`"
        done = found.end()
    yield _escaped(text[done:])


def _escaped(text: str) -> str:
    escaped = _MARKUP.sub(r"\\\1", text)
    return escaped.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
