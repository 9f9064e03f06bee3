"""Due dates as a calendar (iCalendar, RFC 5545): an event of a whole day for each, with an alarm before it.

An event keeps its UID when the date or the file moves, so that a calendar that is read in again takes the new day.
It has no METHOD: that would be a message between people, which needs an organizer (RFC 5546, 3.2.1).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from datetime import UTC, date, datetime, time, timedelta
from pathlib import PurePath
from uuid import NAMESPACE_URL, uuid5

from icalendar import Alarm, Calendar, Event

from rigcheck.quantity.wording import shown_day
from rigcheck.report.due.due_text import DueTally, due_alike, left_words, limit_words, rigs_words, things_words
from rigcheck.report.text.citations import cited
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.rules.overlay import overlay_words
from rigcheck.tasks.due_dates import Due, days_left
from rigcheck.text.harmless import harmless
from rigcheck.version import __version__

__all__ = ["due_calendar"]

_EARLIEST_ALARM = 30  # days before
_END = b"END:VCALENDAR\r\n"


def due_calendar(dues: Iterable[Due], tally: DueTally) -> Iterator[str]:
    """Yield the calendar an event at a time; what is overdue is told again on the day of the listing."""
    yield _frame().removesuffix(_END).decode()
    met: Counter[str] = Counter()
    for alike in due_alike(dues):
        identity = _identity(alike[0])
        met[identity] += 1
        yield _event(alike, tally, _uid(identity, met[identity])).to_ical().decode()
    if tally.overdue:
        yield _overdue(tally).to_ical().decode()
    yield _END.decode()


def _frame() -> bytes:
    calendar = Calendar()
    calendar.add("version", "2.0")
    calendar.add("prodid", f"-//rigcheck//due dates {__version__}//EN")
    calendar.add("name", "Due dates of rigs")  # RFC 7986, 5.1
    calendar.add("description", CAUTION)  # RFC 7986, 5.2
    made: bytes = calendar.to_ical()
    return made


def _event(alike: list[Due], tally: DueTally, uid: str) -> Event:
    due, day = alike[0], tally.day
    event = _whole_day(due.first, day, uid)
    state = "overdue" if days_left(due, day) < 0 else "due"
    event.add(
        "summary", _folded(f"{due.signal.upper()}, {state}: {things_words(alike)} ({due.fact}), {rigs_words(due)}")
    )
    event.add("description", _plain_lines((*_description(alike, day), *overlay_words(tally.laid), CAUTION)))
    event.add("categories", [due.signal.upper(), state])
    before = _days_before(due)
    if before and due.first >= day:
        event.add_component(_alarm(before, _folded(f"Due in {before} days: {things_words(alike)}, {rigs_words(due)}")))
    return event


def _whole_day(at: int, listed: int, uid: str) -> Event:
    event = Event()
    event.add("uid", uid)
    event.add("dtstamp", datetime.combine(date.fromordinal(listed), time(), UTC))
    event.add("dtstart", date.fromordinal(at))
    if at < date.max.toordinal():
        event.add("dtend", date.fromordinal(at + 1))
    event.add("transp", "TRANSPARENT")
    return event


def _overdue(tally: DueTally) -> Event:
    event = _whole_day(tally.day, tally.day, str(uuid5(NAMESPACE_URL, "rigcheck overdue")))
    event.add("summary", f"Rigs: {tally.overdue} dates overdue")
    event.add(
        "description", _plain_lines((f"As listed on {shown_day(tally.day)}.", *overlay_words(tally.laid), CAUTION))
    )
    event.add("categories", ["overdue"])
    return event


def _alarm(before: int, told: str) -> Alarm:
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", told)
    alarm.add("trigger", timedelta(days=-before))
    return alarm


def _days_before(due: Due) -> int:
    """Return how many days before an alarm goes off: a quarter of the interval, at most a month; 0 for none."""
    return _EARLIEST_ALARM if due.interval <= 0 else min(_EARLIEST_ALARM, due.interval // 4)


def _description(alike: list[Due], day: int) -> Iterator[str]:
    due = alike[0]
    yield due.claim
    yield f"{left_words(due, day)} on {shown_day(day)}: {limit_words(due)}."
    if due.last != due.first:
        yield f"The day is not stated more closely: {shown_day(due.last)} at the latest."
    if due.later_by:
        yield f"Not stated, and could put it off: {', '.join(due.later_by)}."
    yield f"Do: {due.put_right}"
    yield f"Things: {'; '.join(one.thing for one in alike)}."
    yield f"Drawn from: {cited(due.sources)}. Rule: {due.rule}."
    yield f"Written in {due.place}."


def _identity(due: Due) -> str:
    """Return what stays when the day or the folder is another: thing, rule and fact.

    A tagged thing is itself wherever it goes, under the same local code; others hang on the names of rig and file.
    """
    of = (due.judged_under, due.tag) if due.tag else (PurePath(due.place.file).name, due.rig, due.thing)
    return "\n".join(("rigcheck due", *of, due.rule, due.fact))


def _uid(identity: str, time_met: int) -> str:
    """Return the UID; what cannot be told apart is numbered in the order of the list."""
    return str(uuid5(NAMESPACE_URL, identity if time_met == 1 else f"{identity}\n{time_met}"))


def _folded(text: str) -> str:
    """Return a text for a calendar, whose lines are broken anywhere (RFC 5545, 3.1), also before a '::'."""
    return harmless(text).replace("::", ": :")


def _plain_lines(lines: Iterable[str]) -> str:
    return "\n".join(map(_folded, lines))
