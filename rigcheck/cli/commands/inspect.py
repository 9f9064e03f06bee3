"""`rigcheck inspect`: files in, reports out, one after the other and on all cores."""

from __future__ import annotations

import os
import sys
from argparse import Namespace
from collections.abc import Callable
from contextlib import ExitStack
from itertools import chain
from pathlib import Path

from msgspec.structs import replace

from rigcheck.cli.batch import Task, outcomes, shared_tags, unread_evidence, with_concessions
from rigcheck.cli.console import Console, ProblemFound, screen_width
from rigcheck.cli.draft import whole_file
from rigcheck.cli.endings import form_for
from rigcheck.cli.evidence_input import parted
from rigcheck.cli.inputs import rig_files
from rigcheck.cli.options import REPORT_FORMS
from rigcheck.cli.output import as_utf8, keep_inputs, keep_others
from rigcheck.cli.pack_option import chosen_day, chosen_pack, pack_folders
from rigcheck.cli.report_formats import BEGINNINGS, Judging, frame_of
from rigcheck.cli.report_sinks import FramedSink, MarkdownRowSink, Sink, Sinks, Tally, TextRowSink, TextSink
from rigcheck.cli.site_input import with_their_sites
from rigcheck.tasks.changes import Changes

__all__ = ["run"]

_FILE_WIDTH = 80
MOST_IN_FULL = 10
"""Files that reports for people tell in full, unless they are asked to tell all of them so."""


def run(parsed: Namespace) -> int:
    """Inspect every rig that was named; return 0, 1 (on hold), 2 (something unreadable) or 3 (both)."""
    named = parted(rig_files(parsed.paths), parsed.concessions)
    files = [*with_their_sites(named.rigs), *named.registers]
    reports = [_report(form, output, files) for form, output in parsed.reports or [(None, None)]]
    _refuse_clashes(reports, parsed.known)
    task = _task(parsed, reports)
    task = replace(task, in_rows=not parsed.in_full and len(files) > MOST_IN_FULL)
    tally = Tally(_earlier(parsed.known, task))
    with ExitStack() as stack:
        sinks = [_sink(form, output, task, files, stack) for form, output in reports]
        written = Sinks(sinks)
        several = shared_tags(task, tally.tags)
        for outcome in chain(outcomes(task, files), several, unread_evidence(task, named.looks)):
            tally.count(outcome)
            written.add(outcome, tally)
        written.end(tally)
    written.tell_lost()
    if task.beside is not None:
        from rigcheck.cli.concessions_file import complain_unreached  # most runs have no such file

        complain_unreached(task.beside, tally.reached)
    return tally.exit_code


def _earlier(known: str | None, task: Task) -> Changes | None:
    if known is None:
        return None
    from rigcheck.cli.earlier_input import read_earlier  # most runs compare nothing

    return read_earlier(known, task.pack)


def _report(form: str | None, output: Path | None, files: list[str]) -> tuple[str, Path | None]:
    """Return a report with its form: the one asked for, or that of the ending. Raises `ProblemFound`."""
    if output is not None:
        keep_inputs(output, files)
    return form_for(output, form, REPORT_FORMS), output


def _refuse_clashes(reports: list[tuple[str, Path | None]], known: str | None) -> None:
    """Two reports cannot go to one place, nor one over that with which it is compared."""
    for _, output in reports:
        if output is not None and known is not None:
            keep_inputs(output, [known], "the report of --known, and what is new now would be known in the next run")
    places = [os.path.realpath(output) if output else None for _, output in reports]
    if len(places) != len(set(places)):
        raise ProblemFound("two reports go to one place; write --output FILE after each --format but one.")


def _task(parsed: Namespace, reports: list[tuple[str, Path | None]]) -> Task:
    pack = chosen_pack(parsed)
    on_screen = any(form == "text" and output is None for form, output in reports)
    task = Task(
        folders=tuple(map(str, pack_folders(parsed))),
        day=chosen_day(parsed),
        local_code=parsed.local_code or "",
        forms=tuple(dict.fromkeys(form for form, _ in reports)),
        width=screen_width() if on_screen else _FILE_WIDTH,
        hold_at=parsed.hold_at,
        on_unproven=parsed.hold_on_unproven,
        tell_holds=parsed.tell_holds,
        pack=pack,
        concessions=parsed.concessions or "",
        questions=parsed.questions,
        presumed_holds=parsed.hold_on_presumed,
        register=parsed.register or "",
        purpose=parsed.purpose,
        strict=parsed.strict,
        compared=parsed.known is not None,
    )
    return with_concessions(task)


def _sink(form: str, output: Path | None, task: Task, files: list[str], stack: ExitStack) -> Sink:
    if output is None:
        write: Callable[[str], object] = sys.stdout.write
    else:
        keep_others(output, files, BEGINNINGS[form])
        write = stack.enter_context(whole_file(output))
    if form == "text":
        made = TextRowSink if task.in_rows else TextSink
        return made(write, None if output else Console(sys.stdout), task)
    if output is None:
        as_utf8(sys.stdout)
    frame = frame_of(form, Judging(task.pack, task.hold_at, task.local_code, task.purpose))
    if form == "markdown" and task.in_rows:
        return MarkdownRowSink(write, frame, task)
    return FramedSink(form, write, frame)
