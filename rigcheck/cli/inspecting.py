"""`rigcheck inspect`: files in, reports out, one after the other and on all cores."""

from __future__ import annotations

import json
import sys
from argparse import Namespace
from collections.abc import Iterator
from typing import get_args

from rigcheck.cli.batch import Outcome, Task, outcomes
from rigcheck.cli.console import Console, screen_width, write_whole
from rigcheck.cli.gathering import rig_files
from rigcheck.cli.keeping import keep_others
from rigcheck.cli.packing import chosen_day, chosen_pack, pack_folders
from rigcheck.inspection import State
from rigcheck.report.layout import plain_text
from rigcheck.report.text import CAUTION, tally_lines
from rigcheck.version import __version__

__all__ = ["run_inspect"]

_STATES: tuple[State, ...] = get_args(State)
_FORM = "rigcheck report 1"
_TEXT_HEAD = "rigcheck inspection\n"
_BEGINNINGS = (_TEXT_HEAD, '{\n "form": "rigcheck report')
"""How our own reports begin, as text and as JSON."""


def run_inspect(parsed: Namespace) -> int:
    """Inspect every rig that was named; return 0, 1 (on hold) or 2 (something unreadable)."""
    files = rig_files(parsed.paths)
    task = _task(parsed)
    run = _Run(parsed, task)
    report = run.json(files) if parsed.format == "json" else run.text(files)
    if parsed.output is None:
        for part in report:
            sys.stdout.write(part)
    else:
        keep_others(parsed.output, files, _BEGINNINGS)
        write_whole(parsed.output, report)
    return run.exit_code


def _task(parsed: Namespace) -> Task:
    pack = chosen_pack(parsed)
    return Task(
        folders=tuple(map(str, pack_folders(parsed))),
        day=chosen_day(parsed),
        local_code=parsed.local_code or "",
        form=parsed.format,
        width=80 if parsed.output else screen_width(),
        hold_at=parsed.hold_at,
        on_unproven=parsed.hold_on_unproven,
        pack=pack,
    )


class _Run:
    """One run: it counts while the report streams through it."""

    def __init__(self, parsed: Namespace, task: Task) -> None:
        self.parsed, self.task = parsed, task
        self.states: dict[str, int] = dict.fromkeys(_STATES, 0)
        self.refused = 0

    @property
    def exit_code(self) -> int:
        """The exit code for what was seen so far."""
        return 2 if self.refused else 1 if self.states["on hold"] else 0

    def _outcomes(self, files: list[str]) -> Iterator[Outcome]:
        for outcome in outcomes(self.task, files):
            if outcome.state:
                self.states[outcome.state] += 1
            else:
                self.refused += 1
            yield outcome

    def text(self, files: list[str]) -> Iterator[str]:
        """Yield the report as text; on a terminal it is shown with style instead."""
        styled = Console(sys.stdout) if self.parsed.output is None else None
        if self.parsed.output is not None:
            yield f"{_TEXT_HEAD}\n"
        for number, outcome in enumerate(self._outcomes(files)):
            if number:
                yield "\n"
            if styled is not None and styled.styled:
                styled.show(outcome.lines)
            else:
                yield outcome.text or plain_text(outcome.lines)
        if len(files) > 1:
            tally = tally_lines(self.states, self.refused, self.task.width)
            yield plain_text(tally)

    def json(self, files: list[str]) -> Iterator[str]:
        """Yield the report as JSON, an entry at a time, so that memory stays flat."""
        head = {
            "form": _FORM,
            "version": __version__,
            "pack": self.task.pack.digest,
            "caution": CAUTION,
            "hold_at": self.parsed.hold_at,
        }
        yield json.dumps(head, ensure_ascii=False, indent=1)[:-2] + ',\n "entries": [\n'
        for number, outcome in enumerate(self._outcomes(files)):
            yield (",\n" if number else "") + outcome.text
        totals = {
            "files": len(files),
            "on_hold": self.states["on hold"],
            "not_yet_shown": self.states["not yet shown"],
            "lesser_findings_only": self.states["lesser findings only"],
            "nothing_found": self.states["nothing found against it"],
            "refused": self.refused,
        }
        yield f'\n ],\n "totals": {json.dumps(totals)}\n}}\n'
