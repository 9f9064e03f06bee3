"""What a changed text has more and less than before, row by row."""

from __future__ import annotations

from collections.abc import Iterator
from difflib import unified_diff

from rigcheck.text.harmless import visible

__all__ = ["MORE", "difference"]

MORE = "+"
_AROUND = 2  # rows that stand around a change


def difference(before: str, after: str) -> Iterator[tuple[str, str]]:
    """Yield rows, each letter to be seen, and what they begin with.

    `+`: more; `-`: less; a blank: as before; `…`: rows are left out there.
    """
    for row in list(unified_diff(before.splitlines(), after.splitlines(), lineterm="", n=_AROUND))[2:]:
        yield ("…", "") if row.startswith("@@") else (row[0], visible(row[1:]))
