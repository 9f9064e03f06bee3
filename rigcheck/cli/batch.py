"""One file inspected, or what is wrong with it; and many files, one after the other or on all cores."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from msgspec import Struct
from msgspec.structs import replace

from rigcheck.cli.evidence_input import check_evidence, holds_register
from rigcheck.cli.inputs import holds_record, rig_bytes, shown_name, unreadable
from rigcheck.cli.register_in_sight import register_in_sight
from rigcheck.cli.report_formats import FOR_PEOPLE, REFUSED, RENDERED
from rigcheck.cli.site_input import holds_site, read_premises, read_rig
from rigcheck.cli.workers import Work, over_files
from rigcheck.facts.known import Purpose
from rigcheck.judge.inspection import Inspection, State, explain
from rigcheck.judge.judged import judge
from rigcheck.report.readable_size import told_within
from rigcheck.report.text.inspection_text import inspection_lines, refusal_lines
from rigcheck.report.text.layout import Line
from rigcheck.report.text.question_words import Told
from rigcheck.rig.shared_tags import MetTag, fleet_of
from rigcheck.rig.thing import Rig
from rigcheck.rules.load import load_pack
from rigcheck.rules.pack import Pack
from rigcheck.rules.rule import GRAVITY, Signal
from rigcheck.tasks.overview import Gist, Standing, gist_of, standing_of
from rigcheck.text.faults import Fault, Refused

if TYPE_CHECKING:
    from rigcheck.rig.concessions import Beside

__all__ = [
    "Compared",
    "Outcome",
    "Task",
    "evidence_faults",
    "inspection_of",
    "loaded_task",
    "outcomes",
    "plain_task",
    "rig_in",
    "shared_tags",
    "tags_inspected",
    "unread_evidence",
    "with_concessions",
]


class Task(Struct, frozen=True):
    """What is to be done with every file; `pack` and `beside` stay behind when it goes to a worker.

    `concessions`: the file of those that are kept beside the rigs, or nothing; `questions`: which of them
    reports for people list; `presumed_holds`: the word from which on presumed checks put a rig on hold;
    `strict`: a file with anything unreadable in it is refused whole; `compared`: it is with an earlier report;
    `in_rows`: reports for people tell each rig on a row.
    """

    folders: tuple[str, ...]
    day: int
    local_code: str
    forms: tuple[str, ...]
    width: int
    hold_at: Signal
    on_unproven: Signal | None
    tell_holds: bool
    pack: Pack
    concessions: str = ""
    questions: Told = "looks"
    presumed_holds: Signal | None = None
    register: str = ""
    purpose: Purpose = "commissioning"
    strict: bool = False
    compared: bool = False
    in_rows: bool = False
    beside: Beside | None = None


class Compared(NamedTuple):
    """A rig as it is compared: its findings, which of these hold it (rule and thing), and whether more than they do."""

    gist: Gist
    holding: frozenset[tuple[str, str]]
    held_by_more: bool


class Outcome(Struct, frozen=True):
    """What came out for one file: its state (empty if refused), and its report in each form that is wanted.

    `reached`: which concessions of the file beside were for its rig; `unread`: what of a judged file was not read.
    `tags`: those of a rig, to be held against those of the other rigs.
    `compared`: what it is compared with an earlier report by, where it is; `standing`: how it stands, where reports
    for people tell each rig on a row; `refused`: what is wrong with a file that could not be read.
    """

    state: State | str
    texts: Mapping[str, str]
    lines: tuple[Line, ...] = ()
    reached: tuple[int, ...] = ()
    unread: tuple[Fault, ...] = ()
    tags: tuple[MetTag, ...] = ()
    compared: Compared | None = None
    standing: Standing | None = None
    refused: tuple[Fault, ...] = ()


_PROGRESS_FROM = 128  # files; fewer are done before anybody wonders


def outcomes(task: Task, files: list[str]) -> Iterator[Outcome]:
    """Yield the outcome of each file, in order."""
    work = Work(inspect_file, refused_file, loaded_task)
    return _with_progress(over_files(work, task, files, plain_task(task)), len(files))


def unread_evidence(task: Task, files: list[str]) -> Iterator[Outcome]:
    """Yield an outcome for each look that cannot be read, and each that its rig does not find."""
    return (refused_file(task, name, faults) for name, faults in evidence_faults(task, files))


def evidence_faults(task: Task, files: list[str]) -> Iterator[tuple[str, tuple[Fault, ...]]]:
    """Yield each look that cannot be read, and each that its rig does not find, with what is wrong."""
    for name in files:
        try:
            check_evidence(rig_bytes(name), name, task.pack)
        except Refused as refused:
            yield name, tuple(refused.faults)
        except OSError as error:
            yield name, (unreadable(name, error),)


def inspect_file(task: Task, name: str) -> Outcome:
    """Return the outcome of one file. Raises `Refused`, and OSError where it cannot be read."""
    inspection, reached = inspection_of(task, name)
    return _outcome(task, inspection, reached)


def shared_tags(task: Task, met: Iterable[MetTag]) -> Iterator[Outcome]:
    """Yield an outcome where things of several rigs bear one tag; read when all of them were inspected."""
    return (_outcome(task, one, ()) for one in tags_inspected(task, met))


def tags_inspected(task: Task, met: Iterable[MetTag]) -> Iterator[Inspection]:
    """Yield the inspection of the tags that things of several rigs bear, where there are any."""
    fleet = fleet_of(met, task.pack.vocabulary)
    if fleet is not None:
        judged = judge(fleet, task.pack, day=task.day, local_code=task.local_code, purpose=task.purpose)
        yield explain(judged, tell_holds=task.tell_holds)


def _outcome(task: Task, inspection: Inspection, reached: tuple[int, ...]) -> Outcome:
    state = inspection.state(task.hold_at, on_unproven=task.on_unproven)
    how = (task.hold_at, task.on_unproven, task.questions)
    within = _whole if task.questions == "all" else told_within
    texts = {form: within(partial(_told, form, how), inspection) for form in _rendered(task)}
    lines: Iterable[Line] = ()
    if "text" in task.forms and not task.in_rows:
        at, unproven, asked = how
        lines = inspection_lines(inspection, task.width, hold_at=at, on_unproven=unproven, questions=asked)
    return Outcome(
        state,
        texts,
        tuple(lines),
        reached,
        inspection.unread,
        () if inspection.record else inspection.tags,  # a record is of a rig that is inspected by itself
        _compared(task, inspection) if task.compared else None,
        standing_of(inspection, state) if task.in_rows else None,
    )


def _rendered(task: Task) -> Iterator[str]:
    """Yield the forms of which each file has a text of its own."""
    left = FOR_PEOPLE if task.in_rows else ("text",)
    return (form for form in task.forms if form not in left)


def _compared(task: Task, inspection: Inspection) -> Compared:
    least, bare = GRAVITY[task.hold_at], replace(inspection, findings=())
    holding = (one for one in inspection.findings if one.conceded is None and GRAVITY[one.signal] >= least)
    return Compared(
        gist_of(inspection, task.hold_at, on_unproven=task.on_unproven),
        frozenset((one.rule, one.thing) for one in holding),
        bare.state(task.hold_at, on_unproven=task.on_unproven) == "on hold",
    )


def _told(form: str, how: tuple[Signal, Signal | None, Told], inspection: Inspection) -> str:
    return RENDERED[form](inspection, *how)


def _whole(make: Callable[[Inspection], str], inspection: Inspection) -> str:
    return make(inspection)


def refused_file(task: Task, name: str, faults: tuple[Fault, ...]) -> Outcome:
    """Return the outcome of a file with something wrong in it, which is what its reports tell."""
    texts = {form: REFUSED[form](shown_name(name), faults) for form in _rendered(task)}
    lines = tuple(refusal_lines(faults, task.width)) if "text" in task.forms and not task.in_rows else ()
    return Outcome("", texts, lines, refused=faults)


def inspection_of(task: Task, name: str) -> tuple[Inspection, tuple[int, ...]]:
    """Return the inspection of one file, and which concessions of the file beside were for its rig.

    Raises `Refused`, and OSError where it cannot be read.
    """
    if task.beside is None:
        return _inspection(task, name), ()
    task.beside.reached.clear()
    return _inspection(task, name), tuple(task.beside.reached)


def _inspection(task: Task, name: str) -> Inspection:
    data = b"" if os.path.isdir(name) else rig_bytes(name)
    if holds_record(data):
        from rigcheck.cli.record_input import inspect_record  # rigs are inspected without it

        return inspect_record(
            data,
            name,
            task.pack,
            task.beside,
            local_code=task.local_code,
            hold_at=task.hold_at,
            tell_holds=task.tell_holds,
            register=task.register,
            strict=task.strict,
        )
    judged = judge(rig_in(task, name, data), task.pack, day=task.day, local_code=task.local_code, purpose=task.purpose)
    inspection = explain(judged, tell_holds=task.tell_holds, presumed_holds=task.presumed_holds)
    judged.take_apart()
    return inspection


def rig_in(task: Task, name: str, data: bytes) -> Rig:
    """Return the rig, the site or the register that a file holds, with the concessions beside it.

    `data`: what stands in the file, nothing for a folder of a register. Raises `Refused`, and OSError.
    """
    if not data or holds_register(data):  # a folder is one of a register's files
        rig = register_in_sight(name, task.pack, strict=task.strict)
    elif holds_site(data):
        rig = read_premises(data, name, task.pack, day=task.day, local_code=task.local_code, strict=task.strict)
    else:
        rig = read_rig(data, name, task.pack, task.register, strict=task.strict, day=task.day)
    return rig if task.beside is None else task.beside.given_to(rig)


def with_concessions(task: Task) -> Task:
    """Return a task with the file of concessions that it names read. Raises `Refused`, `ProblemFound`."""
    if not task.concessions:
        return task
    from rigcheck.cli.concessions_file import read_beside  # most runs have none

    return replace(task, beside=read_beside(task.concessions, task.pack.vocabulary))


def plain_task(task: Task) -> Task:
    """Return what goes to a worker: `loaded_task` puts back what stays behind."""
    return replace(task, pack=None, beside=None)


def loaded_task(plain: Task) -> Task:
    """Return a task with its pack and its concessions read from their files."""
    return with_concessions(replace(plain, pack=load_pack(*map(Path, plain.folders))))


# --- progress ---


def _with_progress(found: Iterator[Outcome], total: int) -> Iterator[Outcome]:
    if total < _PROGRESS_FROM or not sys.stderr.isatty():
        return found
    from rich.console import Console  # slow to load, and most runs are short or not on a terminal
    from rich.progress import track

    console = Console(stderr=True)
    return iter(track(found, "Inspecting", total, console=console, transient=True))
