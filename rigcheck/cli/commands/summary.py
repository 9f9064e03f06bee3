"""`rigcheck summary`: what many rigs have in common, and what changed since an earlier report."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Callable, Iterator, Mapping
from functools import partial
from typing import NamedTuple

from rigcheck.cli.batch import Task, inspection_of, loaded_task, plain_task, with_concessions
from rigcheck.cli.endings import form_for
from rigcheck.cli.evidence_input import parted
from rigcheck.cli.exit_codes import exit_code
from rigcheck.cli.inputs import rig_files, shown_name
from rigcheck.cli.options import SUMMARY_FORMS
from rigcheck.cli.output import hand_over, keep_others
from rigcheck.cli.pack_option import chosen_day, chosen_pack, pack_folders
from rigcheck.cli.workers import Work, over_files
from rigcheck.report.summary.overview_text import overview_lines
from rigcheck.report.text.layout import plain_text
from rigcheck.rules.pack import Pack
from rigcheck.tasks.changes import Changes
from rigcheck.tasks.overview import Gist, Overview, gist_of
from rigcheck.text.faults import Fault

__all__ = ["run"]

_TEXT_HEAD = "rigcheck summary\n"
_JSON_HEAD = '{\n "form": "rigcheck summary'
_FILE_WIDTH = 80


def run(parsed: Namespace) -> int:
    """Sum up many rigs; return 0, 1 (one is on hold), 2 (something unreadable) or 3 (both). Raises `ProblemFound`."""
    named = parted(rig_files(parsed.paths), parsed.concessions)
    files = named.rigs
    form = form_for(parsed.output, parsed.format, SUMMARY_FORMS)
    task = _task(parsed)
    overview = Overview(
        _changes(parsed.against, task.pack),
        laid=task.pack.laid,
        registers=tuple(map(shown_name, named.registers)),
        purpose=task.purpose,
    )
    if parsed.output is not None:
        inputs = [*files, *filter(None, (parsed.against, parsed.concessions))]
        keep_others(parsed.output, inputs, _beginnings())
    reached = _fold(overview, task, files)
    shown = partial(overview_lines, overview, task.day) if form == "text" else None
    hand_over(parsed.output, lambda: _FORMS[form](overview, task), shown)
    _complain(task, reached)
    return exit_code(overview.states["on hold"], "on hold", len(overview.refused) + len(overview.in_part))


def _beginnings() -> tuple[str, ...]:
    from rigcheck.report.summary.overview_markdown import OVERVIEW_HEAD  # wanted only for --output

    return _TEXT_HEAD, _JSON_HEAD, OVERVIEW_HEAD


def _task(parsed: Namespace) -> Task:
    task = Task(
        folders=tuple(map(str, pack_folders(parsed))),
        day=chosen_day(parsed),
        local_code=parsed.local_code or "",
        forms=(),
        width=_FILE_WIDTH,
        hold_at=parsed.hold_at,
        on_unproven=None,
        tell_holds=False,
        pack=chosen_pack(parsed),
        concessions=parsed.concessions or "",
        register=parsed.register or "",
        purpose=parsed.purpose,
    )
    return with_concessions(task)


def _changes(name: str | None, pack: Pack) -> Changes | None:
    if name is None:
        return None
    from rigcheck.cli.earlier_input import read_earlier  # wanted only for --against

    return read_earlier(name, pack)


def _fold(overview: Overview, task: Task, files: list[str]) -> set[int]:
    """Inspect every file, on all cores where they are many; return which concessions were for one of them."""
    reached: set[int] = set()
    for found in over_files(Work(_found, _refused, loaded_task), task, files, plain_task(task)):
        reached.update(found.reached)
        if found.gist is None:
            overview.refuse(found.file, found.faults)
        else:
            overview.fold(found.gist)
    return reached


def _complain(task: Task, reached: set[int]) -> None:
    if task.beside is not None:
        from rigcheck.cli.concessions_file import complain_unreached  # most runs have no such file

        complain_unreached(task.beside, reached)


# --- one file, in this process or in a worker ---


class _Found(NamedTuple):
    """What one file gave: the gist of its inspection, or faults; and which concessions were for its rig."""

    file: str
    gist: Gist | None
    faults: tuple[Fault, ...] = ()
    reached: tuple[int, ...] = ()


def _found(task: Task, name: str) -> _Found:
    inspection, reached = inspection_of(task, name)
    return _Found(shown_name(name), gist_of(inspection, task.hold_at), (), reached)


def _refused(task: Task, name: str, faults: tuple[Fault, ...]) -> _Found:
    return _Found(shown_name(name), None, faults)


# --- the forms ---


def _text(overview: Overview, task: Task) -> Iterator[str]:
    yield f"{_TEXT_HEAD}\n"
    yield plain_text(overview_lines(overview, task.day, _FILE_WIDTH))


def _json(overview: Overview, task: Task) -> Iterator[str]:
    from rigcheck.report.json.overview_json import overview_report  # the other forms start without it

    report = overview_report(overview, day=task.day, hold_at=task.hold_at, pack=task.pack.digest)
    yield report.model_dump_json(indent=1)
    yield "\n"


def _markdown(overview: Overview, task: Task) -> Iterator[str]:
    from rigcheck.report.summary.overview_markdown import overview_markdown  # the other forms start without it

    return (f"{line}\n" for line in overview_markdown(overview, task.day))


_FORMS: Mapping[str, Callable[[Overview, Task], Iterator[str]]] = {
    "text": _text,
    "json": _json,
    "markdown": _markdown,
}
