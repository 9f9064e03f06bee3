"""What a commissioning file rests on: limits, what was changed or conceded, due days, what it was made from."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from rigcheck.judge.inspection import Inspection
from rigcheck.quantity.wording import counted, shown_day
from rigcheck.report.due.due_text import due_alike, left_words, limit_words, things_words
from rigcheck.report.html.addresses import file_name, line_words
from rigcheck.report.text.inspection_text import source_words
from rigcheck.rules.rule import Signal
from rigcheck.tasks.commissioning_file import RigFile, UsedLimit
from rigcheck.tasks.due_dates import DueList, days_left
from rigcheck.version import __version__

__all__ = [
    "ROLES",
    "Concession",
    "DueRow",
    "LimitRow",
    "concessions",
    "daily_words",
    "due_rows",
    "limits",
    "origins",
]

ROLES = (
    "Described the rig on site and measured",
    "Put right what was found",
    "Checked on site that it was put right",
    "Decides on the use of the rig: competent or licensed person under the local code",
    "Took the rig over for its users, with this file",
)
"""Who signs, by role: the file names nobody."""


class LimitRow(Struct, frozen=True):
    """A limit that counted, in words."""

    name: str
    means: str
    value: str
    code: str
    since: str
    taken: str
    sources: str


class Concession(Struct, frozen=True):
    """A finding that leave was given for."""

    number: int
    signal: Signal
    thing: str
    reason: str
    who: str
    until: str
    written: str


class DueRow(Struct, frozen=True):
    """A day on which something falls due, and what it follows from."""

    day: str
    left: str
    overdue: bool
    things: str
    follows: str
    signal: Signal


def limits(file: RigFile) -> Iterator[LimitRow]:
    """Yield each limit that a rule or figure of the rig took."""
    yield from map(_limit, file.limits)


def _limit(used: UsedLimit) -> LimitRow:
    limit = used.limit
    because = f" Changed, because: {limit.because}" if limit.because else ""
    return LimitRow(
        name=limit.name.replace("_", " "),
        means=used.means,
        value=limit.value.text if limit.value else "withdrawn",
        code=limit.local_code,
        since=shown_day(limit.since) + (" [from memory]" if limit.since_from_memory else ""),
        taken=_taken(used),
        sources=f"{source_words(limit.sources)}{because}",
    )


def _taken(used: UsedLimit) -> str:
    parts = ((used.rules, "rule"), (used.figures, "figure"))
    return ", ".join(counted(number, noun) for number, noun in parts if number)


def concessions(inspection: Inspection) -> Iterator[Concession]:
    """Yield the findings that leave was given for."""
    for number, finding in enumerate(inspection.findings, start=1):
        given = finding.conceded
        if given is not None:
            until, written = shown_day(given.until), line_words(given.place, inspection.file)
            yield Concession(number, finding.signal, finding.thing, given.reason, given.who, until, written)


def due_rows(dues: DueList, day: int) -> Iterator[DueRow]:
    """Yield what falls due, without what is done anew each day; the same day of several things is told once."""
    lasting = (due for due in dues.dues if not due.daily)
    for alike in due_alike(lasting):
        first = alike[0]
        things = ", ".join(due.thing for due in alike) if len(alike) <= 3 else things_words(alike)
        overdue = days_left(first, day) < 0
        yield DueRow(shown_day(first.first), left_words(first, day), overdue, things, limit_words(first), first.signal)


def daily_words(dues: DueList) -> str:
    """Return what is done anew each day, with how many things it is done on; empty where nothing is."""
    counts: dict[str, int] = {}
    for due in dues.dues:
        if due.daily:
            counts[due.fact] = counts.get(due.fact, 0) + 1
    return ", ".join(f"{fact} ({counted(count, 'thing')})" for fact, count in counts.items())


def origins(file: RigFile, code: str) -> Iterator[tuple[str, str, str]]:
    """Yield what the file was made from: a label, what it is, and its SHA-256 digest where it has one."""
    inspection = file.inspection
    for one in file.origins:
        yield f"Read: {one.what}", file_name(one.name), one.digest
    yield "Rules", "rules, limits, documents and vocabulary", inspection.pack
    yield "Made by", f"rigcheck {__version__}", ""
    yield "Judged for", shown_day(inspection.day), ""
    yield "Local code", code, ""
    yield "Hold level", file.hold_at.upper(), ""
