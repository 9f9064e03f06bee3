"""A judged rig as rows of tables, for databases: what stands in which column is data here, and documented by it.

The tables are joined by `file` and `rig`: the file that was judged. What a row tells may stand in another one, a look,
the register or a standard rig: `in_line` and `in_column` are those of `written_in`. Nothing depends on where they lie.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from math import isfinite
from typing import Any

from rigcheck.judge.inspection import Finding, Inspection, Question
from rigcheck.quantity.interval import Interval
from rigcheck.rules.rule import Signal
from rigcheck.tasks.calculation_sheet import FigureValue
from rigcheck.tasks.due_dates import DueList
from rigcheck.text.faults import Fault
from rigcheck.text.place import Place

__all__ = ["FORM", "TABLES", "Rows", "due_rows", "figure_rows", "inspection_rows", "refusal_rows"]

FORM = "rigcheck rows 2"
"""Names the tables; the number rises when a reader would have to change."""

TABLES: Mapping[str, Mapping[str, str]] = {
    "rigs": {
        "file": "text",
        "outcome": "text",  # judged, refused
        "rig": "text",
        "about": "text",  # rig, premises, register
        "invented": "yes_no",
        "record": "text",
        "begun_from": "text",
        "judged_for": "text",
        "day": "day",
        "local_code": "text",
        "state": "text",
        "holds": "count",
        "presumed": "count",
        "broken": "count",
        "unproven": "count",
        "questions": "count",
        "unread": "count",
    },
    "findings": {
        "file": "text",
        "rig": "text",
        "rule": "text",
        "signal": "text",
        "thing": "text",
        "path": "text",
        "tag": "text",
        "written_in": "text",
        "in_line": "count",
        "in_column": "count",
        "told": "text",
        "required": "text",
        "harm": "text",
        "put_right": "text",
        "conceded_until": "day",
        "conceded_for": "text",
    },
    "questions": {
        "file": "text",
        "rig": "text",
        "kind": "text",
        "thing": "text",
        "path": "text",
        "tag": "text",
        "fact": "text",
        "ask": "text",
        "write": "text",
        "signal": "text",
        "too_close": "text",
        "written_in": "text",
        "in_line": "count",
        "in_column": "count",
        "rules": "texts",
    },
    "dues": {
        "file": "text",
        "rig": "text",
        "kind": "text",
        "thing": "text",
        "tag": "text",
        "fact": "text",
        "stated": "text",
        "first": "day",  # the last day on which it still holds
        "last": "day",
        "limit": "text",
        "local_code": "text",
        "rule": "text",
        "signal": "text",
        "put_right": "text",
    },
    "figures": {
        "file": "text",
        "rig": "text",
        "kind": "text",
        "thing": "text",
        "path": "text",
        "figure": "text",
        "came_out": "yes_no",
        "least": "number",  # in base units
        "greatest": "number",
        "measure": "text",
    },
    "unread": {
        "file": "text",
        "written_in": "text",
        "in_line": "count",
        "in_column": "count",
        "read": "text",
        "write": "text",
    },
}
"""The sort of each column of each table: text, texts, count, number (of base units), day, yes_no. Empty text: none."""

Rows = Mapping[str, list[tuple[Any, ...]]]
"""Rows by table, each with a value for each column."""


def inspection_rows(inspection: Inspection, hold_at: Signal) -> Rows:
    """Return the rows of one inspection: of the rig, and of what was found, asked and not read."""
    of, counts = (inspection.file, inspection.title), inspection.verdicts
    rig = (
        inspection.file,
        "judged",
        inspection.title,
        inspection.about,
        inspection.invented,
        inspection.record,
        inspection.begun_from,
        inspection.purpose,
        date.fromordinal(inspection.day),
        inspection.local_code,
        inspection.state(hold_at),
        *(counts.get(one, 0) for one in ("holds", "presumed", "broken", "unproven")),
        len(inspection.questions),
        len(inspection.unread),
    )
    return {
        "rigs": [rig],
        "findings": [(*of, *_finding(one)) for one in inspection.findings],
        "questions": [(*of, *_question(one)) for one in inspection.questions],
        "unread": list(_faults(inspection.file, inspection.unread)),
    }


def refusal_rows(file: str, faults: Iterable[Fault]) -> Rows:
    """Return the rows of a file that could not be read."""
    found = list(_faults(file, faults))
    nothing = ("", "", False, "", "", "", None, "", "", 0, 0, 0, 0, 0)
    return {"rigs": [(file, "refused", *nothing, len(found))], "unread": found}


def _faults(file: str, faults: Iterable[Fault]) -> Iterator[tuple[Any, ...]]:
    for fault in faults:
        yield file, *_at(fault.place), fault.read, fault.write


def _at(place: Place) -> tuple[str, int, int]:
    return place.file, place.line, place.column


def _finding(one: Finding) -> tuple[Any, ...]:
    until, reason = (None, "") if one.conceded is None else (date.fromordinal(one.conceded.until), one.conceded.reason)
    at = (one.at.path, one.at.tag, *_at(one.place))
    return one.rule, one.signal, one.thing, *at, one.told, one.required, one.harm, one.put_right, until, reason


def _question(one: Question) -> tuple[Any, ...]:
    asked = (one.fact, one.ask, one.write, one.signal, one.too_close, *_at(one.place))
    return one.kind, one.thing, one.at.path, one.at.tag, *asked, [waiting.rule for waiting in one.waiting]


def due_rows(listed: DueList) -> Rows:
    """Return a row for each day on which something of a rig falls due."""
    return {
        "dues": [
            (
                *(listed.file, one.rig, one.kind, one.thing, one.tag, one.fact, one.stated),
                *(date.fromordinal(one.first), date.fromordinal(one.last)),
                *(one.limit, one.local_code, one.rule, one.signal, one.put_right),
            )
            for one in listed.dues
        ]
    }


def figure_rows(figures: Iterable[FigureValue], file: str, title: str) -> Rows:
    """Return a row for each figure of a rig, those too that lack an input."""
    return {
        "figures": [
            (
                *(file, title, one.thing.kind.name, one.thing.label, one.thing.path, one.name),
                *(one.value is not None, *_ends(one.value), one.measure),
            )
            for one in figures
        ]
    }


def _ends(value: Any) -> tuple[float | None, float | None]:
    if not isinstance(value, Interval):
        return None, None
    least, greatest = (end if isfinite(end) else None for end in (value.lo, value.hi))
    return least, greatest
