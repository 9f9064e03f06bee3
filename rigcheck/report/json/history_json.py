"""What was seen of a rig when, and what that changed, as JSON in a published form (`rigcheck schema history`)."""

from __future__ import annotations

from typing import Literal

from rigcheck.quantity.wording import shown_day
from rigcheck.report.json.common import HeadedOut, LaidOut, Out, PlaceOut, formed, laid_out, place_out
from rigcheck.rules.rule import Signal
from rigcheck.tasks.history import DayOfRig, Event, History
from rigcheck.version import __version__

__all__ = ["FORM", "HistoryReport", "history_report"]

FORM = "rigcheck history 1"
"""Names the form; the number rises when a reader would have to change."""


class SightOut(Out):
    """One thing that somebody saw."""

    by: str
    thing: str
    fact: str
    value: str
    at: PlaceOut


class EventOut(Out):
    """A finding that came or went."""

    how: Literal["found", "came back", "put right", "gone", "no longer shown"]
    rule: str
    signal: Signal
    claim: str
    thing: str
    path: str
    tag: str
    first_found: str


class DayOut(Out):
    """One day on which the rig was looked at or worked with."""

    day: str
    seen: list[SightOut]
    events: list[EventOut]
    standing: int


class HistoryReport(HeadedOut):
    """The days of one rig, in order."""

    rig: str
    file: str
    laid_on_top: list[LaidOut]
    days: list[DayOut]


def history_report(history: History, pack: str) -> HistoryReport:
    """Return the JSON form of a history."""
    return formed(
        HistoryReport,
        history,
        form=FORM,
        version=__version__,
        pack=pack,
        laid_on_top=laid_out(history.laid),
        days=[_day(day) for day in history.days],
    )


def _day(day: DayOfRig) -> DayOut:
    seen = [formed(SightOut, one, at=place_out(one.place)) for one in day.sights]
    return formed(DayOut, day, day=shown_day(day.day), seen=seen, events=[_event(one) for one in day.events])


def _event(event: Event) -> EventOut:
    rule, at = event.rule, event.at
    told = {"rule": rule.name, "signal": rule.signal, "claim": rule.claim, "first_found": shown_day(event.since)}
    return formed(EventOut, at, how=event.how, thing=at.label, **told)
