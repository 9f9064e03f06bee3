"""`rigcheck rows`: many rigs as tables for a database, made on this machine or by a fleet."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Iterator
from itertools import chain

from rigcheck.cli.batch import Task, plain_task, with_concessions
from rigcheck.cli.console import complain
from rigcheck.cli.endings import keep_to_folder
from rigcheck.cli.evidence_input import parted
from rigcheck.cli.exit_codes import exit_code
from rigcheck.cli.inputs import rig_files
from rigcheck.cli.met_tags import MetTags
from rigcheck.cli.pack_option import chosen_day, chosen_pack, pack_folders
from rigcheck.cli.parquet_folder import ParquetFolder
from rigcheck.cli.row_file import ROWS_OF_FILES, FileRows, rows_beside
from rigcheck.cli.site_input import with_their_sites
from rigcheck.cli.workers import over_files
from rigcheck.quantity.wording import counted
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.rules.overlay import overlay_words
from rigcheck.version import __version__

__all__ = ["run"]


def run(parsed: Namespace) -> int:
    """Write the tables; return 0, 1 (a rig is on hold), 2 (something unreadable) or 3 (both). Raises `ProblemFound`."""
    keep_to_folder(parsed.output)
    named = parted(rig_files(parsed.paths), parsed.concessions)
    files = [*with_their_sites(named.rigs), *named.registers]
    task = _task(parsed)
    head = {
        "version": __version__,
        "pack": task.pack.digest,
        "hold_at": task.hold_at,
        "caution": CAUTION,
        "laid_on_top": "\n".join(overlay_words(task.pack.laid)),
    }
    on_hold = unread = 0
    tags = MetTags()
    with ParquetFolder(parsed.output, head) as folder:
        for one in chain(_made(task, files, parsed.fleet), rows_beside(task, tags, named.looks)):
            folder.add(one.rows)
            tags.add(one.tags)
            on_hold, unread = on_hold + one.on_hold, unread + one.unread
    if unread:  # the other reports say it by themselves; tables are not read by who makes them
        told = "not read, or only in part; the table 'unread' says why"
        complain(f"{counted(unread, 'file')} {told}.")
    return exit_code(on_hold, "on hold", unread)


def _made(task: Task, files: list[str], scheduler: str | None) -> Iterator[FileRows]:
    if scheduler is None:
        return over_files(ROWS_OF_FILES, task, files, plain_task(task))
    from rigcheck.cli.fleet import over_fleet  # most runs are on one machine

    return over_fleet(ROWS_OF_FILES, task, files, plain_task(task), scheduler)


def _task(parsed: Namespace) -> Task:
    return with_concessions(
        Task(
            folders=tuple(map(str, pack_folders(parsed))),
            day=chosen_day(parsed),
            local_code=parsed.local_code or "",
            forms=(),
            width=80,
            hold_at=parsed.hold_at,
            on_unproven=None,
            tell_holds=False,
            pack=chosen_pack(parsed),
            concessions=parsed.concessions or "",
            register=parsed.register or "",
            purpose=parsed.purpose,
        )
    )
