"""`rigcheck inspect`: files in, reports out, one after the other and on all cores."""

from __future__ import annotations

import os
import sys
from argparse import Namespace
from collections.abc import Callable
from contextlib import ExitStack
from itertools import chain
from pathlib import Path
from typing import get_args

from rigcheck.cli.batch import Outcome, Standing, Task, outcomes, shared_tags, unread_evidence, with_concessions
from rigcheck.cli.console import Console, ProblemFound, screen_width
from rigcheck.cli.draft import whole_file
from rigcheck.cli.endings import form_for
from rigcheck.cli.evidence_input import parted
from rigcheck.cli.inputs import rig_files
from rigcheck.cli.options import REPORT_FORMS
from rigcheck.cli.output import as_utf8, keep_inputs, keep_others
from rigcheck.cli.pack_option import chosen_day, chosen_pack, pack_folders
from rigcheck.cli.report_formats import BEGINNINGS, REFUSED, TEXT_HEAD, Frame, Judging, frame_of
from rigcheck.cli.site_input import with_their_sites
from rigcheck.judge.inspection import State
from rigcheck.report.text.inspection_text import tally_lines
from rigcheck.report.text.layout import plain_text
from rigcheck.rig.shared_tags import MetTag
from rigcheck.tasks.overview import Changes

__all__ = ["run"]

_FILE_WIDTH = 80
_Write = Callable[[str], object]


def run(parsed: Namespace) -> int:
    """Inspect every rig that was named; return 0, 1 (on hold) or 2 (something unreadable)."""
    named = parted(rig_files(parsed.paths))
    files = [*with_their_sites(named.rigs), *named.registers]
    reports = [_report(form, output, files) for form, output in parsed.reports or [(None, None)]]
    _refuse_clashes(reports)
    task = _task(parsed, reports)
    tally = _Tally(_earlier(parsed.known, task))
    with ExitStack() as stack:
        sinks = [_sink(form, output, task, files, stack) for form, output in reports]
        written = _Written(sinks)
        several = shared_tags(task, tally.tags)
        for outcome in chain(outcomes(task, files), several, unread_evidence(task, named.looks)):
            tally.count(outcome)
            written.add(outcome)
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


def _refuse_clashes(reports: list[tuple[str, Path | None]]) -> None:
    """Two reports cannot go to one place."""
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


class _Tally:
    """How many files came out how; `since`: what is new since an earlier report, where one was named."""

    def __init__(self, since: Changes | None) -> None:
        self.since, self.held_anew = since, 0
        self.states: dict[str, int] = dict.fromkeys(get_args(State), 0)
        self.refused = 0
        self.unread = 0
        self.reached: set[int] = set()
        self.tags: list[MetTag] = []

    def count(self, outcome: Outcome) -> None:
        """Count one file."""
        self.reached.update(outcome.reached)
        self.tags += outcome.tags
        self.unread += bool(outcome.unread)
        self._compare(outcome.standing)
        if outcome.state:
            self.states[outcome.state] += 1
        else:
            self.refused += 1

    def _compare(self, standing: Standing | None) -> None:
        """Compare a rig with the earlier report: what stands in it still holds the rig, and not the run."""
        if self.since is None or standing is None:
            return
        before = len(self.since.new)
        self.since.fold(standing.gist)
        new = ((key.rule, key.thing) in standing.holding for key in self.since.new[before:])
        self.held_anew += standing.held_by_more or any(new)

    @property
    def files(self) -> int:
        """How many files were counted."""
        return sum(self.states.values()) + self.refused

    @property
    def exit_code(self) -> int:
        """The exit code for what was seen."""
        held = self.states["on hold"] if self.since is None else self.held_anew
        return 2 if self.refused or self.unread else 1 if held else 0


def _sink(form: str, output: Path | None, task: Task, files: list[str], stack: ExitStack) -> _TextSink | _FramedSink:
    if output is None:
        write: _Write = sys.stdout.write
    else:
        keep_others(output, files, BEGINNINGS[form])
        write = stack.enter_context(whole_file(output))
    if form == "text":
        return _TextSink(write, None if output else Console(sys.stdout), task.width)
    if output is None:
        as_utf8(sys.stdout)
    judging = Judging(task.pack, task.hold_at, task.local_code, task.purpose)
    return _FramedSink(form, write, frame_of(form, judging))


class _Written:
    """The reports under way. One whose reader went away does not take the others with it."""

    def __init__(self, sinks: list[_TextSink | _FramedSink]) -> None:
        self.sinks = sinks
        self.lost: BrokenPipeError | None = None

    def add(self, outcome: Outcome) -> None:
        """Tell one file in every report. Raises BrokenPipeError where nobody reads the only one."""
        self._on_each(lambda sink: sink.add(outcome))

    def end(self, tally: _Tally) -> None:
        """Close every report. Raises BrokenPipeError as above."""
        self._on_each(lambda sink: sink.end(tally))

    def _on_each(self, write: Callable[[_TextSink | _FramedSink], None]) -> None:
        for sink in list(self.sinks):
            try:
                write(sink)
            except BrokenPipeError as error:
                self.lost = error
                self.sinks.remove(sink)
        if not self.sinks:
            self.tell_lost()

    def tell_lost(self) -> None:
        """Raise BrokenPipeError where the reader of a report went away."""
        if self.lost is not None:
            raise self.lost


class _TextSink:
    """A report as text; on a terminal it is shown with style."""

    def __init__(self, write: _Write, console: Console | None, width: int) -> None:
        self.write, self.console, self.width = write, console, width
        self.gap = ""
        if console is None:
            write(f"{TEXT_HEAD}\n")

    def add(self, outcome: Outcome) -> None:
        """Tell one file."""
        self.write(self.gap)
        self.gap = "\n"
        if self.console is not None and self.console.styled:
            self.console.show(outcome.lines)
        else:
            self.write(plain_text(outcome.lines))

    def end(self, tally: _Tally) -> None:
        """Tell how many files came out how, where there were several."""
        if tally.files > 1:
            self.write(plain_text(tally_lines(tally.states, tally.refused, tally.unread, self.width)))
        if tally.since is not None:
            from rigcheck.report.summary.overview_text import change_lines  # most runs compare nothing

            self.write(plain_text(change_lines(tally.since, self.width)))


class _FramedSink:
    """A report for programs: what goes before, each file, what goes after; nothing is held back."""

    def __init__(self, form: str, write: _Write, frame: Frame) -> None:
        self.form, self.write, self.frame = form, write, frame
        self.refused: list[str] = []
        self.gap = ""
        write(frame.start)

    def add(self, outcome: Outcome) -> None:
        """Tell one file; a log keeps what could not be read for its end."""
        text = outcome.texts[self.form]
        if not outcome.state:
            self.refused.append(text)
            if self.form == "sarif":
                return
        elif outcome.unread and self.form == "sarif":
            self.refused.append(REFUSED["sarif"]("", outcome.unread))
        if text:
            self.write(f"{self.gap}{self.frame.told(text)}")
            self.gap = self.frame.between

    def end(self, tally: _Tally) -> None:
        """Close the report."""
        self.write(self.frame.end(tally.states, self.refused, tally.since))
