"""What is not yet shown, as text: each question with what to write and where, or one row for each act of looking."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rigcheck.judge.finding import Question
from rigcheck.report.text.layout import Line, labelled, wrapped
from rigcheck.report.text.question_words import (
    LookRow,
    Told,
    asked_words,
    open_words,
    told_rows,
    untold_words,
    waiting_words,
    where_words,
    whose_words,
    write_words,
)
from rigcheck.report.text.working_text import working_lines

__all__ = ["question_lines"]

_COLUMN = 12


def question_lines(
    groups: Sequence[list[Question]], file: str, width: int, told: Told, *, walked: bool
) -> Iterator[Line]:
    """Yield what is open; `groups`: questions that read the same, `told`: which of them, and whether look by look.

    `walked`: there is a walk that asks them.
    """
    if not groups:
        return
    yield Line()
    yield from wrapped(f"Not yet shown: {open_words(groups)}, gravest first", width, style="head")
    rows, single = told_rows(groups, told)
    for group in single:
        yield from _question(group, file, width)
    for row in rows:
        yield from _look(row, file, width)
    untold = untold_words(groups, single, rows)
    if rows:
        told_so = "A row is one act of looking, with what to write for the gravest of its questions."
        walk = f" To be asked one after the other: rigcheck ask {file}" if walked else ""
        yield from wrapped(f"{told_so}{walk}", width, style="quiet")
    if untold:
        yield from wrapped(untold, width)


def _look(row: LookRow, file: str, width: int) -> Iterator[Line]:
    head = f"{row.title}: {whose_words(row.things, file)}"
    yield from labelled(row.signal.upper(), head, width, column=_COLUMN, label_style=row.signal)
    yield from labelled("  asked", row.asked, width, column=_COLUMN, label_style="quiet")
    yield from labelled("  write", row.write, width, column=_COLUMN, label_style="quiet")


def _question(group: list[Question], file: str, width: int) -> Iterator[Line]:
    signal = group[0].signal
    told = f"{whose_words(group, file)}: {asked_words(group)} <- {waiting_words(group)}"
    yield from labelled(signal.upper(), told, width, column=_COLUMN, label_style=signal)
    if group[0].write:
        told = f"{write_words(group[0])}{where_words(group)}"
        yield from labelled("  write", told, width, column=_COLUMN, label_style="quiet")
    for working in dict.fromkeys(one.working for one in group if one.working is not None):
        yield from working_lines(working, width, indent=_COLUMN, column=_COLUMN + 11)
