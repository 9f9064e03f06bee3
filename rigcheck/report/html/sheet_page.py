"""A sheet as one HTML page: stacked on a phone, with large steps on A4; it loads nothing and runs nothing."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from markupsafe import Markup
from msgspec import Struct

from rigcheck.judge.breach_wording import as_said
from rigcheck.procedure.sheet import Sheet, SheetRow, SheetValue
from rigcheck.quantity.wording import shown_day
from rigcheck.report.html.heads import SHEET_HEAD
from rigcheck.report.html.page import page, style_of
from rigcheck.report.html.running_foot import running_foot
from rigcheck.report.sheet.sheet_words import (
    SHEET_CAUTION,
    SIGN_OFF,
    code_words,
    first_words,
    if_so_words,
    not_needed,
    state_words,
)
from rigcheck.rules.overlay import overlay_words
from rigcheck.rules.rule import Signal

__all__ = ["StepRow", "ValueBlank", "sheet_page", "step_rows"]


class ValueBlank(Struct, frozen=True):
    """What is written down at a step: a blank, or words to be ticked, none of them marked as the right one."""

    name: str
    choices: tuple[str, ...]


class StepRow(Struct, frozen=True):
    """One row of a sheet; `must`: what its values must meet, where what is to be done does not say it.

    `like`: the number of the row that has told where to stand and what it prevents, or 0.
    """

    number: int
    stand: str
    do: str
    must: tuple[str, ...]
    if_so: str
    values: tuple[ValueBlank, ...]
    signal: Signal
    hazard: str
    like: int


def sheet_page(sheet: Sheet) -> str:
    """Return the page of a sheet; whatever a user wrote is escaped."""
    day = shown_day(sheet.day)
    return page(
        "sheet.html",
        head=Markup(SHEET_HEAD),  # noqa: S704
        title=f"{sheet.title}: {sheet.rig}",
        style=style_of("base", "steps", "sheet") + running_foot(f"{sheet.title}, {sheet.rig}, made for {day}"),
        sheet=sheet,
        day=day,
        code=code_words(sheet.local_code, stated=sheet.code_stated),
        state=state_words(sheet),
        cautions=[*overlay_words(sheet.laid), *first_words(sheet), *sheet.cautions, SHEET_CAUTION],
        rows=list(step_rows(sheet)),
        left_out=list(not_needed(sheet)),
        roles=SIGN_OFF,
    )


def step_rows(sheet: Sheet) -> Iterator[StepRow]:
    """Yield the rows of a sheet; where to stand and what it prevents are told once for all rows of one step."""
    for _, group in groupby(sheet.rows, key=lambda row: row.step):
        first = 0
        for row in group:
            yield _row(row, first)
            first = first or row.number


def _row(row: SheetRow, like: int) -> StepRow:
    return StepRow(
        number=row.number,
        stand="" if like else row.stand,
        do=row.do,
        must=tuple(_musts(row)),
        if_so=if_so_words(row),
        values=tuple(ValueBlank(_spoken(value), tuple(map(as_said, value.choices))) for value in row.values),
        signal=row.signal,
        hazard=row.hazard,
        like=like,
    )


def _musts(row: SheetRow) -> Iterator[str]:
    """Yield what each value must meet, away from its blank: beside it, it would be copied into it."""
    for value in row.values:
        if value.required and not value.choices and _bare(value.required) not in row.do:
            yield f"{_spoken(value)}: {value.required}"


def _bare(required: str) -> str:
    return required.removeprefix("at most ").removeprefix("at least ")


def _spoken(value: SheetValue) -> str:
    return value.name.replace("_", " ")
