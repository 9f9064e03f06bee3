"""Many rigs, a row each, the worst first: what is told of them in place of their whole reports."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple, get_args

from msgspec import Struct, field

from rigcheck.judge.inspection import State
from rigcheck.report.markdown import plain_words
from rigcheck.report.text.inspection_text import CAUTION, refusal_lines
from rigcheck.report.text.layout import Line, wrapped
from rigcheck.rules.rule import SIGNALS
from rigcheck.tasks.overview import Standing
from rigcheck.text.faults import Fault
from rigcheck.text.harmless import harmless

__all__ = ["RigRow", "RigRows", "row_lines", "row_markdown", "rows_end"]

_FULL = (
    "Each rig in full: --in-full, or name it alone. What they have in common: rigcheck summary. "
    "The forms for programs have all of it."
)


class RigRow(NamedTuple):
    """How one rig stands; `in_part`: statements of it that were not read; `new` findings since an earlier report."""

    standing: Standing
    in_part: int = 0
    new: int = 0

    @property
    def counts(self) -> Mapping[str, int]:
        """What is counted of it, by the heads of the columns."""
        one = self.standing
        of_words = {signal.upper(): count for signal, count in zip(SIGNALS, one.counts, strict=True)}
        more = {"conceded": one.conceded, "open": one.questions, "not read": self.in_part, "new": self.new}
        return of_words | more


class RigRows(Struct):
    """What is told of many rigs: a row each, what is wrong with each file that could not be read, notes on all."""

    notes: tuple[str, ...] = ()
    rows: list[RigRow] = field(default_factory=list)
    refused: list[tuple[Fault, ...]] = field(default_factory=list)

    def by_state(self) -> Iterator[tuple[str, list[RigRow]]]:
        """Yield a title and the rows of each state that there is, the states and the rows from the worst on."""
        rows = sorted(self.rows, key=lambda row: row.standing.order)
        for state in get_args(State):
            if of_state := [row for row in rows if row.standing.state == state]:
                yield f"{state[0].upper()}{state[1:]} ({len(of_state)})", of_state

    def columns(self) -> list[str]:
        """Return what is counted of any of them; the signal words always are."""
        words = [signal.upper() for signal in SIGNALS]
        counted = {head for row in self.rows for head, count in row.counts.items() if count}
        return [head for head in RigRow(_NONE).counts if head in words or head in counted]

    def invented(self) -> int:
        """Return how many are made up for a demonstration."""
        return sum(row.standing.invented for row in self.rows)


_NONE = Standing("", "", "", (0,) * len(SIGNALS), 0, 0)


def row_lines(told: RigRows, width: int) -> Iterator[Line]:
    """Yield files that could not be read, and then each rig under its state, on one line.

    A name that does not fit is shown without its middle, unless another one would look the same.
    """
    for faults in told.refused:
        yield from refusal_lines(faults, width)
    columns, gap = told.columns(), bool(told.refused)
    names = _names(told, width - len("  ".join(columns)) - 2)
    for title, rows in told.by_state():
        yield from [Line()] * gap
        gap = True
        yield Line((("head", title),))
        yield Line((("quiet", "  ".join(columns)),))
        yield from (_line(row, columns, names[_name(row)]) for row in rows)


def _name(row: RigRow) -> str:
    return row.standing.file or row.standing.name


def _names(told: RigRows, room: int) -> Mapping[str, str]:
    """Return how each rig is called in so many columns."""
    short = {name: _without_middle(harmless(name), max(room, _LEAST_NAME)) for name in map(_name, told.rows)}
    alike = Counter(short.values())
    return {name: shown if alike[shown] == 1 else harmless(name) for name, shown in short.items()}


_LEAST_NAME = 24  # columns


def _without_middle(name: str, room: int) -> str:
    if len(name) <= room:
        return name
    head = (room - 1) // 3  # the end says more: the file, and the store that it is in
    return f"{name[:head]}…{name[len(name) - (room - 1 - head) :]}"


def _line(row: RigRow, columns: Sequence[str], name: str) -> Line:
    counts = row.counts
    told = "  ".join(f"{counts[head] or '-'}".rjust(len(head)) for head in columns)
    worst = next((signal for signal, count in zip(SIGNALS, row.standing.counts, strict=True) if count), "")
    return Line(((worst, told), ("place", f"  {name}")))


def rows_end(told: RigRows, width: int) -> Iterator[Line]:
    """Yield where there is more to read, and who decides."""
    yield Line()
    for words in _end_words(told):
        yield from wrapped(words, width)
    yield from wrapped(CAUTION, width, style="quiet")


def _end_words(told: RigRows) -> Iterator[str]:
    yield from told.notes
    if told.invented():
        yield f"{told.invented()} of them invented for demonstration."
    yield _FULL


def row_markdown(told: RigRows) -> Iterator[str]:
    """Yield the same as a section for each state, in lines."""
    yield ""
    for faults in told.refused:
        yield from (f"- Not read: {plain_words(str(fault))}" for fault in faults)
    for title, rows in told.by_state():
        yield f"\n## {title}\n"
        yield from _table(rows, told.columns())
    yield from (f"\n{plain_words(words)}" for words in _end_words(told))
    yield f"\n_{CAUTION}_"


def _table(rows: Iterable[RigRow], columns: Sequence[str]) -> Iterator[str]:
    yield f"| {' | '.join(columns)} | file | rig |"
    yield f"|{' ---: |' * len(columns)} --- | --- |"
    for row in rows:
        counts = (str(row.counts[head]) for head in columns)
        yield f"| {' | '.join((*counts, plain_words(row.standing.file), plain_words(row.standing.name)))} |"
