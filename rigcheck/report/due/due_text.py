"""Due dates as text: what is overdue, what is to come, and how many days are not stated."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from itertools import groupby

from msgspec import Struct, field

from rigcheck.quantity.wording import counted, shown_day
from rigcheck.report.text.citations import cited
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.report.text.layout import Line, labelled, wrapped
from rigcheck.report.text.overlay_lines import overlay_lines
from rigcheck.rules.overlay import Laid
from rigcheck.tasks.due_dates import Due, days_left

__all__ = [
    "DueTally",
    "daily_words",
    "due_alike",
    "due_lines",
    "left_words",
    "limit_words",
    "rigs_words",
    "things_words",
]

_COLUMN = 12
_MOST_SOURCES = 3
_MOST_TAGS = 8


class DueTally(Struct):
    """How much was found in all: counted while the rigs go by.

    `until` is the last day that was asked for, None for all; `undated` counts days that are not stated by
    kind, fact, and whether it is stated that there is none; `daily` counts tests of every day that are left out.
    """

    day: int
    until: int | None = None
    rigs: int = 0
    registers: int = 0
    refused: int = 0
    overdue: int = 0
    to_come: int = 0
    later: int = 0
    daily: int = 0
    laid: tuple[Laid, ...] = ()
    undated: Counter[tuple[str, str, bool]] = field(default_factory=Counter)

    def count(self, due: Due) -> None:
        """Count one date that is listed."""
        if days_left(due, self.day) < 0:
            self.overdue += 1
        else:
            self.to_come += 1


def due_alike(dues: Iterable[Due]) -> Iterator[list[Due]]:
    """Yield sorted due dates that read the same of several things of one rig, or of the same rigs, as one."""
    for _, group in groupby(dues, key=_read_alike):
        yield list(group)


def _read_alike(due: Due) -> tuple[object, ...]:
    return due.first, due.place.file, due.rule, due.fact, due.stated, due.rig, due.also_in


def due_lines(dues: Iterable[Due], tally: DueTally, width: int) -> Iterator[Line]:
    """Yield sorted due dates as lines of at most `width` columns, overdue ones first."""
    yield from wrapped(_head(tally), width, style="head")
    yield from overlay_lines(tally.laid, width, _COLUMN)
    titles = {True: "Overdue", False: "To come"}
    for overdue, group in groupby(due_alike(dues), key=lambda alike: days_left(alike[0], tally.day) < 0):
        yield Line()
        yield from wrapped(titles[overdue], width, style="head")
        for alike in group:
            yield from _entry(alike, tally.day, width)
    yield from _unknown(tally.undated, width)
    yield Line()
    yield from wrapped(CAUTION, width, style="quiet")


def left_words(due: Due, day: int) -> str:
    """Return how many days are left, in words."""
    left = days_left(due, day)
    if left == 0:
        return "due today"
    return f"{counted(abs(left), 'day')} {'left' if left > 0 else 'overdue'}"


def things_words(alike: list[Due]) -> str:
    """Return the things that fall due together: the first by name, and some more by their tags."""
    tags = list(dict.fromkeys(one.tag for one in alike if one.tag))
    if len(tags) > 1:
        further = f" and {len(alike) - _MOST_TAGS} more" if len(alike) > _MOST_TAGS else ""
        return ", ".join([alike[0].thing, *tags[1:_MOST_TAGS]]) + further
    more = f" and {len(alike) - 1} more" if len(alike) > 1 else ""
    return f"{alike[0].thing}{more}"


def rigs_words(due: Due) -> str:
    """Return where a thing is: in which rigs, or on record alone."""
    if due.on_record:
        return f"on record in “{due.rig}”"
    others = f", also in {', '.join(f'“{one}”' for one in due.also_in)}" if due.also_in else ""
    return f"rig “{due.rig}”{others}"


def limit_words(due: Due) -> str:
    """Return what the day follows from: the stated day and the most that may pass since."""
    if not due.limit_name:
        after = "" if due.limit.startswith("0 ") else f", and {due.limit} from then"
        return f"{due.fact} {due.stated}{after}"
    because = f", because: {due.because}" if due.because else ""
    return f"{due.fact} {due.stated}, at most {due.limit} (limit {due.limit_name}, {due.local_code}{because})"


def _head(tally: DueTally) -> str:
    until = "" if tally.until is None else f" by {shown_day(tally.until)}"
    read = [counted(tally.rigs, "rig")] if tally.rigs or not tally.registers else []
    read += [counted(tally.registers, "register")] if tally.registers else []
    told = f"Due dates{until}, seen from {shown_day(tally.day)}: {' and '.join(read)}"
    told += f", {tally.refused} not read, or only in part" if tally.refused else ""
    listed = f"{tally.overdue} overdue, {tally.to_come} to come"
    daily = f" {daily_words(tally)}" if tally.daily else ""
    return f"{told}; {listed}{f', {tally.later} later' if tally.later else ''}.{daily}"


def daily_words(tally: DueTally) -> str:
    """Return how many daily tests are left out of a list."""
    return f"{counted(tally.daily, 'test')} of every day left out: --daily lists them."


def _entry(alike: list[Due], day: int, width: int) -> Iterator[Line]:
    due = alike[0]
    told = f"{left_words(due, day)}: {things_words(alike)}, {rigs_words(due)}"
    yield from labelled(shown_day(due.first), told, width, column=_COLUMN, style="stress" if due.first < day else "")
    yield from labelled("", f"{limit_words(due)}; {cited(due.sources, _MOST_SOURCES)}", width, column=_COLUMN)
    for note in _notes(due):
        yield from labelled("", note, width, column=_COLUMN)
    where = f"{due.place}{_lines(alike)}, rule {due.rule}"
    yield from labelled(f"  {due.signal.upper()}", where, width, column=_COLUMN, label_style=due.signal, style="place")


def _notes(due: Due) -> Iterator[str]:
    if due.last != due.first:
        yield f"The day is not stated more closely: {shown_day(due.last)} at the latest."
    if due.later_by:
        yield f"Not stated, and could put it off: {', '.join(due.later_by)}."
    if due.presumes:
        yield f"Not stated, and presumed to be as it must be: {', '.join(due.presumes)}."


def _lines(alike: list[Due]) -> str:
    others = list(dict.fromkeys(str(due.place.line) for due in alike[1:] if due.place.line != alike[0].place.line))
    more = f" and {len(others) - _MOST_TAGS} more" if len(others) > _MOST_TAGS else ""
    return f" and {'lines' if len(others) > 1 else 'line'} {', '.join(others[:_MOST_TAGS])}{more}" if others else ""


def _unknown(undated: Mapping[tuple[str, str, bool], int], width: int) -> Iterator[Line]:
    if not undated:
        return
    yield Line()
    total = counted(sum(undated.values()), "day")
    yield from wrapped(f"Not known: {total} that a rule counts from", width, style="head")
    for (kind, fact, absent), count in sorted(undated.items(), key=lambda one: (-one[1], one[0])):
        why = "stated that there is none" if absent else "not stated"
        yield from labelled(str(count).rjust(_COLUMN - 2), f"{kind}, {fact}: {why}", width, column=_COLUMN)
