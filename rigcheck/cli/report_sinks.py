"""Reports under way: each takes the outcomes one after the other, and its end when all are there."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Protocol, get_args

from msgspec import Struct, field

from rigcheck.cli.batch import Compared, Outcome, Task
from rigcheck.cli.exit_codes import exit_code
from rigcheck.cli.met_tags import MetTags
from rigcheck.cli.report_formats import REFUSED, TEXT_HEAD, Frame
from rigcheck.judge.inspection import State
from rigcheck.quantity.wording import shown_day
from rigcheck.report.text.inspection_text import tally_lines
from rigcheck.report.text.layout import Line, plain_text
from rigcheck.rules.overlay import overlay_words
from rigcheck.tasks.changes import Changes
from rigcheck.tasks.overview import called

if TYPE_CHECKING:
    from rigcheck.cli.console import Console
    from rigcheck.report.rig_rows import RigRows

__all__ = ["FramedSink", "MarkdownRowSink", "Sink", "Sinks", "Tally", "TextRowSink", "TextSink"]

_Write = Callable[[str], object]


class Tally(Struct):
    """How many files came out how; `since`: what is new since an earlier report, where one was named.

    `new`: how many findings of the file that was counted last are new.
    """

    since: Changes | None
    held_anew: int = 0
    new: int = 0
    states: dict[str, int] = field(default_factory=lambda: dict.fromkeys(get_args(State), 0))
    refused: int = 0
    unread: int = 0
    reached: set[int] = field(default_factory=set)
    tags: MetTags = field(default_factory=MetTags)

    def count(self, outcome: Outcome) -> None:
        """Count one file."""
        self.reached.update(outcome.reached)
        self.tags.add(outcome.tags)
        self.unread += bool(outcome.unread)
        self._compare(outcome.compared)
        if outcome.state:
            self.states[outcome.state] += 1
        else:
            self.refused += 1

    def _compare(self, compared: Compared | None) -> None:
        """Compare a rig with the earlier report: what stands in it still holds the rig, and not the run."""
        self.new = 0
        if self.since is None or compared is None:
            return
        before = len(self.since.new), len(self.since.changed)
        self.since.fold(called(compared.gist.rig, compared.gist.record), compared.gist.seen())
        fresh = [*self.since.new[before[0] :], *(one.key for one in self.since.changed[before[1] :])]
        new = [(key.rule, key.thing) in compared.holding for key in fresh]
        self.new = len(new)
        self.held_anew += compared.held_by_more or any(new)

    @property
    def files(self) -> int:
        """How many files were counted."""
        return sum(self.states.values()) + self.refused

    @property
    def exit_code(self) -> int:
        """The exit code for what was seen; standard error says where two things share it."""
        held = self.states["on hold"] if self.since is None else self.held_anew
        called = "on hold" if self.since is None else "on hold for what is new"
        return exit_code(held, called, self.refused + self.unread)


class Sink(Protocol):
    """A report that is being made."""

    def add(self, outcome: Outcome, tally: Tally) -> None:
        """Tell one file, which is counted already."""

    def end(self, tally: Tally) -> None:
        """Close the report."""


class Sinks:
    """The reports under way. One whose reader went away does not take the others with it."""

    def __init__(self, sinks: list[Sink]) -> None:
        self.sinks = sinks
        self.lost: BrokenPipeError | None = None

    def add(self, outcome: Outcome, tally: Tally) -> None:
        """Tell one file in every report. Raises BrokenPipeError where nobody reads the only one."""
        self._on_each(lambda sink: sink.add(outcome, tally))

    def end(self, tally: Tally) -> None:
        """Close every report. Raises BrokenPipeError as above."""
        self._on_each(lambda sink: sink.end(tally))

    def _on_each(self, write: Callable[[Sink], None]) -> None:
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


class TextSink:
    """A report as text; on a terminal it is shown with style."""

    def __init__(self, write: _Write, console: Console | None, task: Task) -> None:
        self.write, self.console, self.width = write, console, task.width
        self.gap = ""
        if console is None:
            write(f"{TEXT_HEAD}\n")

    def add(self, outcome: Outcome, tally: Tally) -> None:
        """Tell one file."""
        self.write(self.gap)
        self.gap = "\n"
        self._show(outcome.lines)

    def end(self, tally: Tally) -> None:
        """Tell how many files came out how, where there were several, and what is new and gone."""
        if tally.files > 1:
            self._show(tally_lines(tally.states, tally.refused, tally.unread, self.width))
        if tally.since is not None:
            from rigcheck.report.summary.overview_text import change_lines  # most runs compare nothing

            self._show(change_lines(tally.since, self.width))

    def _show(self, lines: Iterable[Line]) -> None:
        if self.console is not None and self.console.styled:
            self.console.show(lines)
        else:
            self.write(plain_text(lines))


class FramedSink:
    """A report for programs: what goes before, each file, what goes after; nothing is held back."""

    def __init__(self, form: str, write: _Write, frame: Frame) -> None:
        self.form, self.write, self.frame = form, write, frame
        self.refused: list[str] = []
        self.gap = ""
        write(frame.start)

    def add(self, outcome: Outcome, tally: Tally) -> None:
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

    def end(self, tally: Tally) -> None:
        """Close the report."""
        self.write(self.frame.end(tally.states, self.refused, tally.since))


class TextRowSink(TextSink):
    """Many rigs as text, on a row each, the worst first: the rows are kept until the last one is there."""

    def __init__(self, write: _Write, console: Console | None, task: Task) -> None:
        super().__init__(write, console, task)
        self.rows = _rig_rows(task)

    def add(self, outcome: Outcome, tally: Tally) -> None:
        """Keep the row of one file."""
        _keep(self.rows, outcome, tally)

    def end(self, tally: Tally) -> None:
        """Tell all rows, how many came out how, and where there is more to read."""
        from rigcheck.report.rig_rows import row_lines, rows_end

        self._show(row_lines(self.rows, self.width))
        super().end(tally)
        self._show(rows_end(self.rows, self.width))


class MarkdownRowSink:
    """The same as Markdown: how many came out how stands first, on the summary page of a run."""

    def __init__(self, write: _Write, frame: Frame, task: Task) -> None:
        self.write, self.frame, self.rows = write, frame, _rig_rows(task)

    def add(self, outcome: Outcome, tally: Tally) -> None:
        """Keep the row of one file."""
        _keep(self.rows, outcome, tally)

    def end(self, tally: Tally) -> None:
        """Tell how many came out how, and all rows."""
        from rigcheck.report.rig_rows import row_markdown

        self.write(self.frame.start)
        self.write(self.frame.end(tally.states, [""] * tally.refused, tally.since))
        self.write("".join(f"{line}\n" for line in row_markdown(self.rows)))


def _rig_rows(task: Task) -> RigRows:
    from rigcheck.report.rig_rows import RigRows  # most runs are over a few rigs

    when = "on whatever day" if task.purpose == "standard" else shown_day(task.day)
    judged = f"Judged for {task.purpose}, {when}, held at {task.hold_at.upper()} and what is graver."
    return RigRows((judged, *overlay_words(task.pack.laid)))


def _keep(rows: RigRows, outcome: Outcome, tally: Tally) -> None:
    from rigcheck.report.rig_rows import RigRow

    if outcome.standing is None:
        rows.refused.append(outcome.refused)
    else:
        rows.rows.append(RigRow(outcome.standing, len(outcome.unread), tally.new))
