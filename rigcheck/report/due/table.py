"""Due dates as a table of comma-separated values (RFC 4180), for a spreadsheet.

A cell that came from a file and that a spreadsheet would take for a formula gets an apostrophe before it.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from rigcheck.quantity.wording import shown_day
from rigcheck.report.due.due_text import DueTally
from rigcheck.report.text.citations import cited
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.rules.overlay import overlay_words
from rigcheck.tasks.due_dates import Due, days_left
from rigcheck.text.harmless import harmless
from rigcheck.text.table_cell import guarded

__all__ = ["TABLE_HEAD", "due_table"]

_COLUMNS = (
    *("due", "at_the_latest", "days_left", "state", "signal", "rig", "thing", "fact", "stated"),
    *("limit", "limit_name", "local_code", "judged_under", "drawn_from", "rule", "claim", "put_right"),
    *("could_put_it_off", "presumed", "file", "line", "column", "count", "tag", "also_in", "on_record"),
    *("laid_on_top", "caution"),
)
TABLE_HEAD = ",".join(_COLUMNS)
"""The first row: how our own tables begin."""


def due_table(dues: Iterable[Due], undated: Iterable[Mapping[str, Any]], tally: DueTally) -> Iterator[str]:
    """Yield the table a row at a time: the dates by day, then each day that is not known.

    `undated`: those days in the JSON form of the list.
    """
    yield f"{TABLE_HEAD}\r\n"
    laid = " ".join(overlay_words(tally.laid))
    for due in dues:
        yield _row({**_cells(due, tally.day), "laid_on_top": laid})
    for one in undated:
        yield _row({**_open_cells(one), "laid_on_top": laid})


def _open_cells(one: Mapping[str, Any]) -> Mapping[str, str | int]:
    told = {name: one[name] for name in ("state", "rig", "thing", "fact", "tag")}
    at = {name: one["at"][name] for name in ("file", "line", "column")}
    return {**told, **at, "rule": "; ".join(one["rules"]), "put_right": one["ask"], "count": 1, "caution": CAUTION}


def _cells(due: Due, day: int) -> Mapping[str, str | int]:
    left = days_left(due, day)
    return {
        "due": shown_day(due.first),
        "at_the_latest": shown_day(due.last),
        "days_left": left,
        "state": "overdue" if left < 0 else "to come",
        "signal": due.signal,
        "rig": due.rig,
        "thing": due.thing,
        "fact": due.fact,
        "stated": due.stated,
        "limit": "" if due.limit.startswith("0 ") else due.limit,  # the stated day itself is the last one
        "limit_name": due.limit_name,
        "local_code": due.local_code,
        "judged_under": due.judged_under,
        "drawn_from": cited(due.sources),
        "rule": due.rule,
        "claim": due.claim,
        "put_right": due.put_right,
        "could_put_it_off": "; ".join(due.later_by),
        "presumed": "; ".join(due.presumes),
        "file": due.place.file,
        "line": due.place.line,
        "column": due.place.column,
        "count": 1,
        "tag": due.tag,
        "also_in": "; ".join(due.also_in),
        "on_record": "yes" if due.on_record else "",
        "caution": CAUTION,
    }


def _row(cells: Mapping[str, str | int]) -> str:
    out = io.StringIO()
    csv.writer(out).writerow([_guarded(cells.get(name, "")) for name in _COLUMNS])
    return out.getvalue()


def _guarded(cell: str | int) -> str | int:
    """Return text on one line that no spreadsheet reckons with; numbers stay numbers."""
    if isinstance(cell, int):
        return cell
    return guarded(harmless(cell))
