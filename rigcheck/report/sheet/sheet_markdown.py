"""A sheet as Markdown (CommonMark): a task list that can be ticked where it is shown."""

from __future__ import annotations

from collections.abc import Iterator

from rigcheck.procedure.sheet import Sheet, SheetRow, SheetValue
from rigcheck.report.markdown import plain_words
from rigcheck.report.sheet.sheet_words import (
    SIGN_OFF,
    blank_words,
    heading_rows,
    if_so_words,
    not_needed,
    top_words,
)

__all__ = ["MARKDOWN_HEAD", "sheet_markdown"]

MARKDOWN_HEAD = "<!-- rigcheck sheet -->\n"


def sheet_markdown(sheet: Sheet) -> str:
    """Return a sheet as Markdown; whatever a user wrote is escaped."""
    return MARKDOWN_HEAD + "\n".join(_lines(sheet)) + "\n"


def _lines(sheet: Sheet) -> Iterator[str]:
    yield f"# {plain_words(sheet.title)}: {plain_words(sheet.rig)}"
    yield ""
    for label, text in heading_rows(sheet):
        yield f"- {label}: {plain_words(text)}"
    yield ""
    for caution in top_words(sheet):
        yield f"> - **{plain_words(caution)}**"
    yield ""
    before: SheetRow | None = None
    for row in sheet.rows:
        yield from _row(row, before)
        before = row
    if sheet.left_out:
        yield from ("", "## Steps that do not apply to this rig", "")
        yield from (f"- {plain_words(text)}" for text in not_needed(sheet))
    yield from ("", "## Sign-off", "", "| By role | Role | Time | Signed |", "|---|---|---|---|")
    yield from (f"| {role} | | | |" for role in SIGN_OFF)


def _row(row: SheetRow, before: SheetRow | None) -> Iterator[str]:
    yield f"- [ ] **{row.number}.** {plain_words(row.do)}"
    for value in row.values:
        yield f"  - {_value(value)}"
    if row.if_so or row.optional:
        yield f"  - *{plain_words(if_so_words(row))}*"
    if before is not None and before.step == row.step:
        return
    if row.stand:
        yield f"  - Stand: {plain_words(row.stand)}"
    yield f"  - **{row.signal.upper()}** {plain_words(row.hazard)}"


def _value(value: SheetValue) -> str:
    required = f" ({plain_words(value.required)})" if value.required else ""
    return f"{plain_words(value.ask)} {plain_words(blank_words(value))}{required}"
