"""A sheet as plain text: cautions, a box and a line for each step, sign-off."""

from __future__ import annotations

from collections.abc import Iterator

from rigcheck.procedure.sheet import Sheet, SheetRow, SheetValue
from rigcheck.report.sheet.sheet_words import (
    SIGN_OFF,
    blank_words,
    heading_rows,
    if_so_words,
    not_needed,
    top_words,
)
from rigcheck.report.text.layout import Line, labelled, wrapped

__all__ = ["sheet_lines"]

_COLUMN = 12
_STEP = 8
_INNER = 18


def sheet_lines(sheet: Sheet, width: int) -> Iterator[Line]:
    """Yield a sheet as lines of at most `width` columns."""
    yield from wrapped(f"{sheet.title}: {sheet.rig}", width, style="head")
    for label, text in heading_rows(sheet):
        yield from labelled(label, text, width, column=_COLUMN, label_style="quiet")
    yield Line()
    for caution in top_words(sheet):
        yield from labelled("  !", caution, width, column=4, label_style="stress")
    before: SheetRow | None = None
    for row in sheet.rows:
        yield Line()
        yield from _row(row, before, width)
        before = row
    yield from _left_out(sheet, width)
    yield Line()
    for role in SIGN_OFF:
        yield from labelled(f"{role} (role)", "________________________  time ________", width, column=26)


def _row(row: SheetRow, before: SheetRow | None, width: int) -> Iterator[Line]:
    yield from labelled(f"[ ] {row.number:>3}", row.do, width, column=_STEP, style="stress")
    for value in row.values:
        yield from _inner("write", _value_words(value), width)
    if row.if_so or row.optional:
        yield from _inner("if", if_so_words(row), width)
    if before is not None and before.step == row.step:
        return  # where to stand and the hazard are the same as above
    if row.stand:
        yield from _inner("stand", row.stand, width)
    yield from _inner(row.signal.upper(), row.hazard, width, style=row.signal)


def _inner(label: str, text: str, width: int, style: str = "quiet") -> Iterator[Line]:
    yield from labelled(f"{' ' * _STEP}{label}", text, width, column=_INNER, label_style=style)


def _value_words(value: SheetValue) -> str:
    required = f" ({value.required})" if value.required else ""
    return f"{value.ask} {blank_words(value)}{required}"


def _left_out(sheet: Sheet, width: int) -> Iterator[Line]:
    if sheet.left_out:
        yield Line()
        yield from wrapped("Steps that do not apply to this rig:", width, style="head")
    for text in not_needed(sheet):
        yield from labelled("  -", text, width, column=4)
