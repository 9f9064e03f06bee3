"""Due dates as rows of text that sort by day, kept on disk once they are many: memory stays flat."""

from __future__ import annotations

from collections.abc import Iterator
from heapq import merge
from tempfile import TemporaryFile
from typing import IO

from msgspec import json

from rigcheck.tasks.due_dates import Due, due_order

__all__ = ["RowStore", "due_of_row", "due_row"]

_MOST_HELD = 20_000  # rows, about 20 MB
_Row = tuple[str, str, str, str, str, str, str, Due]


def due_row(due: Due) -> str:
    """Return a due date as one line of JSON; lines sort as `due_order` says."""
    first, file, rule, fact, stated, line, thing = due_order(due)
    return json.encode((f"{first:07d}", file, rule, fact, stated, f"{line:07d}", thing, due)).decode()


def due_of_row(row: str) -> Due:
    """Return the due date of a line."""
    due: Due = json.decode(row, type=_Row)[-1]
    return due


class RowStore:
    """Rows in any order in, sorted rows out."""

    def __init__(self, most_held: int = _MOST_HELD) -> None:
        self.most_held = most_held
        self._held: list[str] = []
        self._runs: list[IO[str]] = []

    def add(self, row: str) -> None:
        """Keep one row; a full lot is sorted and written away."""
        self._held.append(row)
        if len(self._held) >= self.most_held:
            self._spill()

    def sorted_rows(self) -> Iterator[str]:
        """Yield every row in order."""
        self._held.sort()
        return merge(*(_read(run) for run in self._runs), self._held)

    def _spill(self) -> None:
        run = TemporaryFile("w+", encoding="utf-8")  # noqa: SIM115  it goes when the store does
        self._held.sort()
        run.writelines(f"{row}\n" for row in self._held)
        self._held.clear()
        self._runs.append(run)


def _read(run: IO[str]) -> Iterator[str]:
    run.seek(0)
    return (row.rstrip("\n") for row in run)
