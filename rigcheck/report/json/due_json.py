"""Due dates as JSON, in a published form (`rigcheck schema due`)."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Literal

from pydantic import Field

from rigcheck.quantity.wording import shown_day
from rigcheck.report.due.due_text import DueTally
from rigcheck.report.json.common import (
    HeadedOut,
    LaidOut,
    Out,
    PlaceOut,
    SourceOut,
    formed,
    laid_out,
    place_out,
    sources_out,
)
from rigcheck.report.json.inspection_json import RefusedEntry
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.rules.rule import Signal
from rigcheck.tasks.due_dates import Due, Undated, days_left
from rigcheck.version import __version__

__all__ = ["FORM", "DueReport", "due_entry", "due_head", "due_totals", "undated_entry"]

FORM = "rigcheck due 1"
"""Names the form; the number rises when a reader would have to change."""

_DAY = r"^\d{4}-\d{2}-\d{2}$"


class DueOut(Out):
    """One date of one thing."""

    due: str = Field(pattern=_DAY, description="The last day on which the date holds for certain.")
    at_the_latest: str = Field(pattern=_DAY, description="Later than `due` where only a month or a year was stated.")
    days_left: int = Field(description="Below zero once it is overdue.")
    state: Literal["overdue", "to come"]
    rig: str = Field(description="Of a tagged thing that no rig has, the register.")
    on_record: bool = Field(False, description="`rig` names a register: no rig that was read has the thing.")
    also_in: list[str] = Field([], description="Of a tagged thing, the other rigs that have it.")
    tag: str = ""
    thing: str
    kind: str
    fact: str
    stated: str = Field(description="As it was written.")
    at: PlaceOut
    limit: str = Field(description="The most that may pass since the stated day.")
    limit_name: str = Field(description="Empty where the rule itself says it.")
    local_code: str = Field(description="Where the limit comes from.")
    judged_under: str = Field(description="The local code of the rig.")
    because: str = Field("", description="Why a folder of one's own changed the limit.")
    drawn_from: list[SourceOut]
    rule: str
    signal: Signal
    claim: str
    put_right: str
    rule_at: PlaceOut
    later_by: list[str] = Field(description="Facts that are not stated and could put the day off.")
    presumes: list[str] = Field(description="Facts that are not stated and are presumed to be as they must be.")


class UndatedOut(Out):
    """A day that a rule counts from and that is not known."""

    rig: str
    tag: str = ""
    thing: str
    kind: str
    fact: str
    ask: str
    state: Literal["not stated", "stated that there is none"]
    rules: list[str]
    at: PlaceOut


class UndatedCount(Out):
    """How often a day of a kind of thing is not known."""

    kind: str
    fact: str
    state: Literal["not stated", "stated that there is none"]
    count: int


class DueTotals(Out):
    """How much there is of what."""

    rigs: int
    registers: int = 0
    refused: int
    overdue: int
    to_come: int
    later: int = Field(description="Left out, because they fall due after the last day that was asked for.")
    daily: int = Field(0, description="Left out, because they are done every day, and were not asked for.")
    undated: list[UndatedCount]


class DueReport(HeadedOut):
    """Every date of all rigs, by day, then the days that are not known, then the files that were not read."""

    form: Literal["rigcheck due 1"] = "rigcheck due 1"
    day: str = Field(pattern=_DAY)
    until: str | None = Field(description="The last day that was asked for; null for all.")
    laid_on_top: list[LaidOut]
    dues: list[DueOut]
    undated: list[UndatedOut]
    refused: list[RefusedEntry]
    totals: DueTotals


def due_head(tally: DueTally, pack: str) -> Mapping[str, Any]:
    """Return what stands before the lists."""
    until = None if tally.until is None else shown_day(tally.until)
    told = {"form": FORM, "version": __version__, "pack": pack, "caution": CAUTION}
    laid = [one.model_dump() for one in laid_out(tally.laid)]
    return told | {"day": shown_day(tally.day), "until": until, "laid_on_top": laid}


def due_entry(due: Due, day: int) -> DueOut:
    """Return the JSON form of one date, seen from a day."""
    left = days_left(due, day)
    return formed(
        DueOut,
        due,
        due=shown_day(due.first),
        at_the_latest=shown_day(due.last),
        days_left=left,
        state="overdue" if left < 0 else "to come",
        at=place_out(due.place),
        drawn_from=sources_out(due.sources),
        rule_at=place_out(due.rule_place),
    )


def undated_entry(one: Undated) -> UndatedOut:
    """Return the JSON form of a day that is not known."""
    return formed(UndatedOut, one, state=_state(one.absent), at=place_out(one.place))


def due_totals(tally: DueTally) -> DueTotals:
    """Return the totals."""
    counts = sorted(tally.undated.items(), key=lambda one: (-one[1], one[0]))
    undated = [
        UndatedCount(kind=kind, fact=fact, state=_state(absent), count=count) for (kind, fact, absent), count in counts
    ]
    return formed(DueTotals, tally, undated=undated)


def _state(absent: bool) -> Literal["not stated", "stated that there is none"]:
    return "stated that there is none" if absent else "not stated"
