"""The sheets of procedures in the commissioning file: steps to be ticked, values to be written down."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from rigcheck.procedure.sheet import Sheet, SheetRow, SheetValue
from rigcheck.report.html.findings_part import word_mark
from rigcheck.report.html.markup import joined, listed, section, shown, table, tag
from rigcheck.report.sheet.sheet_words import SIGN_OFF, first_words, if_so_words, not_needed, state_words

__all__ = ["sheet_section"]

_TICK = '<span class="tick"></span>'
_SIGNED = ("Role", "Time", "Signature")


def sheet_section(sheet: Sheet) -> str:
    """Return one sheet: what comes first, its cautions, its steps, what does not apply, who signs."""
    anchor = f"sheet-{sheet.procedure}"
    state = tag("p", shown(state_words(sheet)), class_="caution hold" if sheet.state == "on hold" else "")
    told = listed(shown(one) for one in (*first_words(sheet), *sheet.cautions))
    steps = tag("ol", joined(_steps(sheet)), class_="steps")
    left = listed((shown(one) for one in not_needed(sheet)), "quiet")
    left = joined([tag("h3", "Does not apply to this rig"), left]) if left else ""
    signed = table(f"{anchor}-signed", f"{sheet.title}: signed by role", _SIGNED, _signing(), "sign")
    means = tag("p", shown(sheet.means))
    return section(anchor, f"{sheet.title} sheet", means, state, told, tag("h3", "Steps in order"), steps, left, signed)


def _signing() -> Iterator[tuple[str, str, str]]:
    yield from ((shown(role), "", "") for role in SIGN_OFF)


def _steps(sheet: Sheet) -> Iterator[str]:
    """Yield each step; where to stand and what it prevents are said once for all rows of it."""
    for _, group in groupby(sheet.rows, key=lambda row: row.step):
        first: SheetRow | None = None
        for row in group:
            yield tag("li", tag("div", _step(row, first), class_="step"), value=str(row.number))
            first = first or row


def _step(row: SheetRow, first: SheetRow | None) -> str:
    return joined([_TICK, tag("div", _do(row, first)), tag("div", _values(row)), tag("div", _why(row, first))])


def _do(row: SheetRow, first: SheetRow | None) -> str:
    told = [tag("p", tag("b", shown(row.do)))]
    if row.if_so or row.optional:
        told.append(tag("p", tag("i", shown(if_so_words(row)))))
    if row.stand and first is None:
        told.append(tag("p", f"<b>Stand:</b> {shown(row.stand)}"))
    return joined(told)


def _why(row: SheetRow, first: SheetRow | None) -> str:
    told = f"{word_mark(row.signal)} {shown(row.hazard)}" if first is None else f"As in step {first.number}."
    return tag("p", told, class_="quiet")


def _values(row: SheetRow) -> str:
    """Return what is to be written down."""
    return joined(tag("p", _value(value)) for value in row.values)


def _value(value: SheetValue) -> str:
    name = shown(value.name.replace("_", " "))
    if value.choices:
        good = value.required.replace(" or ", ", ").split(", ")
        return f"{name}: {' '.join(_choice(word, word in good) for word in value.choices)}"
    need = f" ({shown(value.required)})" if value.required else ""
    return f'{name}{need}: <span class="blank"></span>'


def _choice(word: str, good: bool) -> str:
    told = tag("b", shown(word)) if good else shown(word)
    return f'<span class="choice">{_TICK} {told}</span>'
