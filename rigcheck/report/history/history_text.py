"""What was seen of a rig when, and what that changed, as text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

from rigcheck.quantity.wording import shown_day
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.report.text.layout import Line, labelled, wrapped
from rigcheck.report.text.overlay_lines import overlay_lines
from rigcheck.tasks.history import DayOfRig, Event, History, Sight

__all__ = ["history_lines"]

_COLUMN = 12
_MOST_SEEN = 12  # of one file; the JSON has them all


def history_lines(history: History, width: int) -> Iterator[Line]:
    """Yield the days of a rig as lines of at most `width` columns."""
    yield from wrapped(f"Rig “{history.rig}”", width, style="head")
    yield from labelled("written in", history.file, width, column=_COLUMN, style="place")
    yield from overlay_lines(history.laid, width, _COLUMN)
    for day in history.days:
        yield Line()
        yield from _day(day, width)
    yield Line()
    yield from wrapped(_sum(history), width, style="head")
    yield from wrapped(CAUTION, width, style="quiet")


def _day(day: DayOfRig, width: int) -> Iterator[Line]:
    standing = f"{day.standing} finding{'s' if day.standing != 1 else ''} standing at its end"
    yield from wrapped(f"{shown_day(day.day)}: {standing}", width, style="head")
    for (file, by), sights in groupby(day.sights, key=lambda sight: (sight.file, sight.by)):
        yield from _seen(file, by, list(sights), width)
    for event in day.events:
        yield from _event(event, width)


def _seen(file: str, by: str, sights: list[Sight], width: int) -> Iterator[Line]:
    told = [f"{one.thing}{f', {one.fact}: ' if one.fact else ' '}{one.value}" for one in sights[:_MOST_SEEN]]
    told += [f"and {len(sights) - _MOST_SEEN} more"] if len(sights) > _MOST_SEEN else []
    yield from labelled("seen", f"{f'by {by}, ' if by else ''}{file}", width, column=_COLUMN, style="place")
    yield from labelled("", f"{'; '.join(told)}.", width, column=_COLUMN)


def _event(event: Event, width: int) -> Iterator[Line]:
    rule, tag = event.rule, f" ({event.at.tag})" if event.at.tag else ""
    since = f", first found {shown_day(event.since)}" if event.how != "found" else ""
    told = f"{rule.signal.upper()} {event.at.label}{tag}{since}: {rule.claim} <- {rule.name}"
    style = rule.signal if event.how in ("found", "came back") else ""
    yield from labelled(event.how, told, width, column=17, label_style=style)


def _sum(history: History) -> str:
    if not history.days:
        return "Nobody has looked at it on a day that is written: put looks and records beside the rig."
    days, again = len(history.days), _counted(history.again)
    told = f"{days} day{'s' if days != 1 else ''} on which it was looked at or worked with"
    return f"{told}; came back: {again}." if again else f"{told}; no finding came back."


def _counted(events: Iterable[Event]) -> str:
    times: dict[tuple[str, str], int] = {}
    for event in events:
        key = event.at.label, event.rule.name
        times[key] = times.get(key, 0) + 1
    return "; ".join(
        f"{name} on {thing}{f' {count} times' if count > 1 else ''}" for (thing, name), count in times.items()
    )
