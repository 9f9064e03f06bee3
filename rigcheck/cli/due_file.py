"""What falls due by one file: a rig, a site or a register, read in this process or in a worker."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Literal

from msgspec import Struct, field

from rigcheck.cli.due_rows import due_row
from rigcheck.cli.evidence_input import holds_register
from rigcheck.cli.inputs import holds_record, rig_bytes, shown_name
from rigcheck.cli.register_in_sight import register_in_sight
from rigcheck.cli.site_input import holds_site, read_premises, read_rig
from rigcheck.procedure.record_reader import read_record
from rigcheck.rig.register import REGISTER
from rigcheck.rules.load import load_pack
from rigcheck.rules.pack import Pack
from rigcheck.tasks.due_dates import Due, Undated, due_dates, within
from rigcheck.text.faults import Fault

__all__ = ["DueTask", "FoundDates", "dates_in", "loaded_dues", "refused_dates"]

_Counted = tuple[str, str, bool]
"""A day that is not known: of which kind of thing, which, and whether it is stated that there is none."""

_When = Literal["overdue", "to_come", "later"]

_Plain = tuple[tuple[str, ...], int, str, int | None, bool, str, bool]


class DueTask(Struct, frozen=True):
    """What is to be done with every file; the pack stays behind when it goes to a worker."""

    folders: tuple[str, ...]
    day: int
    local_code: str
    until: int | None
    with_undated: bool
    register: str
    daily: bool
    pack: Pack

    def plain(self) -> _Plain:
        """Return what goes to a worker, which reads the pack itself."""
        return self.folders, self.day, self.local_code, self.until, self.with_undated, self.register, self.daily


def loaded_dues(plain: _Plain) -> DueTask:
    """Return a task with its pack read from its folders."""
    return DueTask(*plain, load_pack(*map(Path, plain[0])))


class FoundDates(Struct):
    """What one file gave: rows of dates, JSON of days that are not known (where wanted), counts, faults.

    A row comes with what tells the same date of the same tagged thing in another file, and with where it is counted;
    days that are not known of tagged things stand by themselves, for the same reason.
    `daily`: how many daily tests are left out.
    """

    file: str
    rig: str = ""
    rows: list[tuple[tuple[str, ...] | None, _When, str]] = field(default_factory=list)
    undated: list[str] = field(default_factory=list)
    undated_by_tag: list[tuple[tuple[str, ...], _Counted, str]] = field(default_factory=list)
    counts: dict[_Counted, int] = field(default_factory=dict)
    rigs: int = 0
    registers: int = 0
    daily: int = 0
    faults: tuple[Fault, ...] = ()


def dates_in(task: DueTask, name: str) -> FoundDates:
    """Return what falls due by a file. Raises `Refused`, and OSError where it cannot be read."""
    data = b"" if os.path.isdir(name) else rig_bytes(name)
    if holds_record(data):  # a record of work has no dated parts of its own
        read_record(data, shown_name(name))
        return FoundDates(name)
    if not data or holds_register(data):  # a folder is one of a register's files
        rig = register_in_sight(name, task.pack)
    elif holds_site(data):
        rig = read_premises(data, name, task.pack, day=task.day, local_code=task.local_code)
    else:
        rig = read_rig(data, name, task.pack, task.register)
    listed = due_dates(rig, task.pack, day=task.day, local_code=task.local_code)
    on_record = rig.root.kind.name == REGISTER
    found = FoundDates(name, rig.title, rigs=not on_record, registers=on_record, faults=rig.unread)
    found.rows = [
        (due.same_as, when := _when(task, due), due_row(due) if when != "later" else "")
        for due in listed.dues
        if task.daily or not due.daily
    ]
    undated = tuple(one for one in listed.undated if task.daily or not one.daily)
    found.daily = len(listed.dues) - len(found.rows) + len(listed.undated) - len(undated)
    _keep_undated(found, undated, told=task.with_undated)
    return found


def _when(task: DueTask, due: Due) -> _When:
    if not within(due, task.until):
        return "later"
    return "overdue" if due.first < task.day else "to_come"


def refused_dates(task: DueTask, name: str, faults: tuple[Fault, ...]) -> FoundDates:
    """Return what a file gave that cannot be read."""
    return FoundDates(shown_name(name), faults=faults)


def _keep_undated(found: FoundDates, undated: tuple[Undated, ...], *, told: bool) -> None:
    for one in undated:
        counted = (one.kind, one.fact, one.absent)
        entry = _undated_json(one) if told else ""
        if one.tag:
            found.undated_by_tag.append(((one.tag, one.fact, str(one.absent)), counted, entry))
            continue
        found.counts[counted] = found.counts.get(counted, 0) + 1
        found.undated += [entry] if told else []


def _undated_json(one: Undated) -> str:
    from rigcheck.report.json.due_json import undated_entry  # the other forms start without it

    return undated_entry(one).model_dump_json()
