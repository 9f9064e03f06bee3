"""Where something was written: file, line and column."""

from __future__ import annotations

from typing import NamedTuple

__all__ = ["Place"]


class Place(NamedTuple):
    """One place in one file; `line` and `column` count from one, columns in code points."""

    file: str
    line: int
    column: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"
