"""Words that every form of a sheet has in common."""

from __future__ import annotations

from collections.abc import Iterator

from rigcheck.judge.breach_wording import as_said
from rigcheck.procedure.sheet import Sheet, SheetRow, SheetValue
from rigcheck.quantity.wording import shown_day
from rigcheck.rules.overlay import overlay_rows
from rigcheck.text.faults import unread_words

__all__ = [
    "SHEET_CAUTION",
    "SIGN_OFF",
    "blank_words",
    "code_words",
    "first_words",
    "heading_rows",
    "if_so_words",
    "not_needed",
    "state_words",
    "top_words",
]

SHEET_CAUTION = (
    "The local code, the makers' instructions and a competent or licensed person decide. "
    "This sheet replaces neither them nor training."
)
SIGN_OFF = ("Done by", "Checked by", "Handed over to")
"""Who signs, by role: a sheet names nobody."""

_BLANK = "________"


def heading_rows(sheet: Sheet) -> Iterator[tuple[str, str]]:
    """Yield label and text of what stands under the title."""
    yield "leads", sheet.means
    yield "written in", sheet.file
    yield "made for", f"{shown_day(sheet.day)}, local code {code_words(sheet.local_code, stated=sheet.code_stated)}"
    yield from overlay_rows(sheet.laid)


def code_words(local_code: str, *, stated: bool) -> str:
    """Return a local code, and that nobody named one where it is so."""
    return local_code if stated else f"{local_code} (none is stated: the most cautious values)"


def state_words(sheet: Sheet) -> str:
    """Return what the inspection of the rig says, as a caution on one line; its report has the findings."""
    return " ".join((f"{_state_words(sheet)}{_conceded_words(sheet)}", *unread_words(sheet.unread)))


def _conceded_words(sheet: Sheet) -> str:
    if not sheet.conceded:
        return ""
    many = "1 finding is" if sheet.conceded == 1 else f"{sheet.conceded} findings are"
    return f" {many} conceded, and may be graver: see the report before you begin."


def _state_words(sheet: Sheet) -> str:
    day = shown_day(sheet.day)
    if sheet.state == "on hold":
        word = "Know this first" if sheet.despite_hold else "DO NOT BEGIN"
        counts = ", ".join(f"{count} {signal.upper()}" for signal, count in sheet.held_counts)
        told = f"the rig is ON HOLD by its inspection for {day}: {counts}. See its report."
        return _capital(told) if sheet.emergency else f"{word}: {told}"
    if sheet.emergency:
        return f"Inspection of the rig for {day}: {sheet.state}."
    also = {
        "not yet shown": "nothing that is stated holds it, but questions are still open",
        "lesser findings only": "only findings below the hold level",
    }
    return f"Inspection of the rig for {day}: {also.get(sheet.state, sheet.state)}."


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def first_words(sheet: Sheet) -> Iterator[str]:
    """Yield which procedures come first."""
    if sheet.first:
        yield f"Done before this: {', '.join(sheet.first)}."


def top_words(sheet: Sheet) -> Iterator[str]:
    """Yield what stands above the steps of a sheet: the state of the rig, what comes first, the cautions."""
    yield state_words(sheet)
    yield from (*first_words(sheet), *sheet.cautions, SHEET_CAUTION)


def if_so_words(row: SheetRow) -> str:
    """Return why a step may not be needed; empty where it is."""
    told = [f"if it applies (not known: {', '.join(row.if_so)})"] if row.if_so else []
    told += ["may be left out"] if row.optional else []
    return "; ".join(told)


def blank_words(value: SheetValue) -> str:
    """Return the choices of a value, or a blank to write it in."""
    return " / ".join(map(as_said, value.choices)) if value.choices else _BLANK


def not_needed(sheet: Sheet) -> Iterator[str]:
    """Yield the steps that do not apply, those with the same reason together."""
    reasons: dict[str, list[str]] = {}
    for one in sheet.left_out:
        reasons.setdefault(one.why, []).append(one.step)
    for why, steps in reasons.items():
        yield f"{', '.join(steps)}: {why[:1].lower()}{why[1:]}"
