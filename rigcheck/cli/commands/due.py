"""`rigcheck due`: what falls due on all rigs, by day, as text, JSON, a table or a calendar."""

from __future__ import annotations

import json
from argparse import Namespace
from collections.abc import Callable, Iterator, Mapping
from tempfile import TemporaryFile

from rigcheck.cli.console import ProblemFound, complain
from rigcheck.cli.due_file import DueTask, FoundDates, dates_in, loaded_dues, refused_dates
from rigcheck.cli.due_rows import RowStore, due_of_row
from rigcheck.cli.endings import form_for
from rigcheck.cli.evidence_input import parted
from rigcheck.cli.exit_codes import exit_code
from rigcheck.cli.inputs import rig_files
from rigcheck.cli.options import DUE_FORMS
from rigcheck.cli.output import hand_over, keep_others
from rigcheck.cli.pack_option import chosen_day, chosen_pack, pack_folders
from rigcheck.cli.workers import Work, over_files
from rigcheck.quantity.notation import NotRead
from rigcheck.report.due.due_text import DueTally, daily_words, due_lines
from rigcheck.report.text.inspection_text import refusal_lines
from rigcheck.report.text.layout import Line, plain_text
from rigcheck.rules.pack import Pack
from rigcheck.tasks.due_dates import Due, horizon
from rigcheck.text.faults import Fault

__all__ = ["run"]

_TEXT_HEAD = "rigcheck due\n"
_JSON_HEAD = '{\n "form": "rigcheck due'


def run(parsed: Namespace) -> int:
    """List what falls due; return 0, 1 (one is overdue), 2 (something unreadable) or 3 (both)."""
    named = parted(rig_files(parsed.paths))
    files = [*named.rigs, *named.registers]  # a thing is told of with the rigs that have it
    form = _form(parsed)
    listing = _Listing(parsed, chosen_pack(parsed), form)
    if parsed.output is not None:
        keep_others(parsed.output, files, _beginnings())
    listing.read(files)
    hand_over(parsed.output, listing.parts, listing.lines if form == "text" else None)
    listing.complain()
    return exit_code(listing.tally.overdue, "overdue", listing.tally.refused)


def _form(parsed: Namespace) -> str:
    form = form_for(parsed.output, parsed.format, DUE_FORMS)
    if form == "icalendar":
        _calendar_library()
    return form


def _calendar_library() -> None:
    """Say it before thousands of rigs are read, where the library is not there."""
    try:
        import icalendar  # noqa: F401  only a calendar needs it
    except ImportError:
        raise ProblemFound("a calendar needs the library icalendar: install rigcheck[calendar].") from None


def _beginnings() -> tuple[str, ...]:
    from rigcheck.report.due.table import TABLE_HEAD  # wanted only for --output

    return _TEXT_HEAD, _JSON_HEAD, TABLE_HEAD[:100], "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//rigcheck"


class _Listing:
    """What was found, sorted by day; days that are not known wait in a file of their own."""

    def __init__(self, parsed: Namespace, pack: Pack, form: str) -> None:
        day = chosen_day(parsed)
        self.pack, self.form = pack, form
        self.tally = DueTally(day, _until(parsed.within, day), laid=pack.laid)
        folders = tuple(map(str, pack_folders(parsed)))
        code, register = parsed.local_code or "", parsed.register or ""
        self.task = DueTask(folders, day, code, self.tally.until, form in ("json", "csv"), register, parsed.daily, pack)
        self.rows = RowStore()
        self.met: dict[tuple[str, ...], list[str]] = {}
        self.tests: set[tuple[str, ...]] = set()  # what a rig has, it is told of by its own code, and not once more
        self.undated = TemporaryFile("w+", encoding="utf-8")  # noqa: SIM115  it goes when the listing does
        self.faults: list[tuple[str, tuple[Fault, ...]]] = []

    def read(self, files: list[str]) -> None:
        """Read every file, on all cores where they are many."""
        for found in over_files(Work(dates_in, refused_dates, loaded_dues), self.task, files, self.task.plain()):
            self._keep(found)

    def _keep(self, found: FoundDates) -> None:
        tally = self.tally
        if found.faults:
            tally.refused += 1
            self.faults.append((found.file, found.faults))
        tally.rigs += found.rigs
        tally.registers += found.registers
        tally.undated.update(found.counts)
        tally.daily += found.daily
        for same_as, when, row in found.rows:
            if same_as is None or self._is_new(same_as, found):
                setattr(tally, when, getattr(tally, when) + 1)
                if when != "later":
                    self.rows.add(row)
        self.undated.writelines(f"{one}\n" for one in found.undated)
        for same_as, counted, one in found.undated_by_tag:
            if self._is_new(same_as, found):
                tally.undated[counted] += 1
                self.undated.write(f"{one}\n" if one else "")

    def _is_new(self, same_as: tuple[str, ...], found: FoundDates) -> bool:
        """Whether a date of a tagged thing was met in no file before; the rigs that it was met in are kept."""
        test = same_as[:3]
        is_new = same_as not in self.met and not (found.registers and test in self.tests)
        self.tests.add(test)
        met = self.met.setdefault(same_as, [])
        if found.rigs and found.rig not in met:
            met.append(found.rig)
        return is_new

    def dues(self) -> Iterator[Due]:
        """Yield every date in order."""
        for row in self.rows.sorted_rows():
            due = due_of_row(row)
            met = self.met.get(due.same_as or (), ())
            yield due._replace(also_in=tuple(met[1:])) if len(met) > 1 else due

    def parts(self) -> Iterator[str]:
        """Yield the listing in its form, piece by piece."""
        return _FORMS[self.form](self)

    def lines(self, width: int) -> Iterator[Line]:
        """Return the listing for a screen; what was not read is told apart from it."""
        return due_lines(self.dues(), self.tally, width)

    def complain(self) -> None:
        """Name the files that were not read, and say what is left out, where the listing itself does not."""
        if self.form in ("csv", "icalendar") and self.tally.daily:
            complain(daily_words(self.tally))
        if self.form != "json":
            for _, faults in self.faults:
                for fault in faults:
                    complain(str(fault))


def _until(text: str | None, day: int) -> int | None:
    try:
        return None if text is None else horizon(day, text)
    except NotRead as error:
        raise ProblemFound(f"--within: {error.wrong} {error.write}") from None


# --- the forms; each is imported when it is made: the others start without it ---


def _text(listing: _Listing) -> Iterator[str]:
    yield f"{_TEXT_HEAD}\n"
    for line in listing.lines(80):
        yield plain_text([line])
    for _, faults in listing.faults:
        yield plain_text(refusal_lines(faults, 80))


def _json(listing: _Listing) -> Iterator[str]:
    from rigcheck.report.json.due_json import due_entry, due_head, due_totals
    from rigcheck.report.json.inspection_json import refused_entry

    day = listing.tally.day
    yield json.dumps(due_head(listing.tally, listing.pack.digest), ensure_ascii=False, indent=1)[:-2]
    yield from _listed("dues", (due_entry(due, day).model_dump_json() for due in listing.dues()))
    listing.undated.seek(0)
    yield from _listed("undated", (one.rstrip("\n") for one in listing.undated))
    yield from _listed("refused", (refused_entry(*one).model_dump_json() for one in listing.faults))
    yield f',\n "totals": {due_totals(listing.tally).model_dump_json()}\n}}\n'


def _listed(name: str, entries: Iterator[str]) -> Iterator[str]:
    yield f',\n "{name}": ['
    for number, entry in enumerate(entries):
        yield f"{',' if number else ''}\n{entry}"
    yield "\n ]"


def _csv(listing: _Listing) -> Iterator[str]:
    from rigcheck.report.due.table import due_table

    listing.undated.seek(0)
    return due_table(listing.dues(), map(json.loads, listing.undated), listing.tally)


def _icalendar(listing: _Listing) -> Iterator[str]:
    from rigcheck.report.due.calendar import due_calendar

    return due_calendar(listing.dues(), listing.tally)


_FORMS: Mapping[str, Callable[[_Listing], Iterator[str]]] = {
    "text": _text,
    "json": _json,
    "csv": _csv,
    "icalendar": _icalendar,
}
