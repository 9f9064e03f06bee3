"""One file as rows of tables: what is done with every file, here, in a worker of this machine, or on another one."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator

from msgspec import Struct

from rigcheck.cli.batch import Task, evidence_faults, inspection_of, loaded_task, rig_in, tags_inspected
from rigcheck.cli.inputs import holds_record, rig_bytes, shown_name
from rigcheck.cli.workers import Work
from rigcheck.judge.inspection import explain
from rigcheck.judge.judged import judge
from rigcheck.report.rows import Rows, due_rows, figure_rows, inspection_rows, refusal_rows
from rigcheck.rig.shared_tags import MetTag
from rigcheck.tasks.calculation_sheet import figure_values
from rigcheck.tasks.due_dates import due_list_of
from rigcheck.text.faults import Fault

__all__ = ["ROWS_OF_FILES", "FileRows", "rows_beside"]


class FileRows(Struct, frozen=True):
    """The rows of one file, how it stands, and the tags in it, to be held against those of the others."""

    rows: Rows
    on_hold: bool = False
    unread: bool = False
    tags: tuple[MetTag, ...] = ()


def rows_in(task: Task, name: str) -> FileRows:
    """Return the rows of one file. Raises `Refused`, and OSError where it cannot be read."""
    data = b"" if os.path.isdir(name) else rig_bytes(name)
    if holds_record(data):
        inspection, _ = inspection_of(task, name)  # a record has no parts of its own that fall due
        more: tuple[Rows, ...] = ()
    else:
        judged = judge(
            rig_in(task, name, data), task.pack, day=task.day, local_code=task.local_code, purpose=task.purpose
        )
        inspection = explain(judged)
        more = (due_rows(due_list_of(judged)), figure_rows(figure_values(judged), inspection.file, inspection.title))
        judged.take_apart()
    rows = dict(inspection_rows(inspection, task.hold_at))
    for one in more:
        rows |= one
    tags = () if inspection.record else inspection.tags
    return FileRows(rows, inspection.state(task.hold_at) == "on hold", bool(inspection.unread), tags)


def rows_beside(task: Task, met: Iterable[MetTag], looks: list[str]) -> Iterator[FileRows]:
    """Yield rows of what no rig tells by itself: tags in several rigs, and looks that cannot be read."""
    for inspection in tags_inspected(task, met):
        yield FileRows(inspection_rows(inspection, task.hold_at), inspection.state(task.hold_at) == "on hold")
    yield from (refused_rows(task, name, faults) for name, faults in evidence_faults(task, looks))


def refused_rows(task: Task, name: str, faults: tuple[Fault, ...]) -> FileRows:
    """Return the rows of a file with something wrong in it."""
    return FileRows(refusal_rows(shown_name(name), faults), unread=True)


ROWS_OF_FILES: Work[Task, FileRows] = Work(rows_in, refused_rows, loaded_task)
"""A function of a file's name, and how its task is loaded anew: all that another machine needs."""
