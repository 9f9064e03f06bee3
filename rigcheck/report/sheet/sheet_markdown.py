"""A sheet as Markdown (CommonMark): a task list that can be ticked where it is shown."""

from __future__ import annotations

import re
from collections.abc import Iterator

from rigcheck.procedure.sheet import Sheet, SheetRow, SheetValue
from rigcheck.report.sheet.sheet_words import (
    SHEET_CAUTION,
    SIGN_OFF,
    blank_words,
    first_words,
    heading_rows,
    if_so_words,
    not_needed,
    state_words,
)

__all__ = ["MARKDOWN_HEAD", "sheet_markdown"]

MARKDOWN_HEAD = "<!-- rigcheck sheet -->\n"
_SPECIAL = re.compile(r"([\\`*_\[\]<>&|#~!$])")


def sheet_markdown(sheet: Sheet) -> str:
    """Return a sheet as Markdown; whatever a user wrote is escaped."""
    return MARKDOWN_HEAD + "\n".join(_lines(sheet)) + "\n"


def _lines(sheet: Sheet) -> Iterator[str]:
    yield f"# {_safe(sheet.title)}: {_safe(sheet.rig)}"
    yield ""
    for label, text in heading_rows(sheet):
        yield f"- {label}: {_safe(text)}"
    yield ""
    for caution in (state_words(sheet), *first_words(sheet), *sheet.cautions, SHEET_CAUTION):
        yield f"> - **{_safe(caution)}**"
    yield ""
    before: SheetRow | None = None
    for row in sheet.rows:
        yield from _row(row, before)
        before = row
    if sheet.left_out:
        yield from ("", "## Steps that do not apply to this rig", "")
        yield from (f"- {_safe(text)}" for text in not_needed(sheet))
    yield from ("", "## Sign-off", "", "| By role | Role | Time | Signed |", "|---|---|---|---|")
    yield from (f"| {role} | | | |" for role in SIGN_OFF)


def _row(row: SheetRow, before: SheetRow | None) -> Iterator[str]:
    yield f"- [ ] **{row.number}.** {_safe(row.do)}"
    for value in row.values:
        yield f"  - {_value(value)}"
    if row.if_so or row.optional:
        yield f"  - *{_safe(if_so_words(row))}*"
    if before is not None and before.step == row.step:
        return
    if row.stand:
        yield f"  - Stand: {_safe(row.stand)}"
    yield f"  - **{row.signal.upper()}** {_safe(row.hazard)}"


def _value(value: SheetValue) -> str:
    required = f" ({_safe(value.required)})" if value.required else ""
    return f"{_safe(value.ask)} {_safe(blank_words(value))}{required}"


def _safe(text: str) -> str:
    """Return text that Markdown shows as it is: on one line, with nothing that it would act on."""
    plain = "".join(letter if letter.isprintable() else "?" for letter in text)
    return _SPECIAL.sub(r"\\\1", plain)
