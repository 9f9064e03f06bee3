"""Where a finished report goes: to the file that `--output` names, or else to the screen."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable
from pathlib import Path

from rigcheck.cli.console import Console, screen_width, write_whole
from rigcheck.report.layout import Line

__all__ = ["hand_over"]


def hand_over(
    output: Path | None,
    parts: Callable[[], Iterable[str]],
    lines: Callable[[int], Iterable[Line]] | None = None,
) -> None:
    """Write a report to its file, whole or not at all, or show it.

    `parts` makes the report in its form, piece by piece; `lines` makes it for a screen of that many columns,
    where the form is one for people. Raises `ProblemFound` where the file cannot be written.
    """
    if output is not None:
        write_whole(output, parts())
    elif lines is not None:
        Console(sys.stdout).show(lines(screen_width()))
    else:
        sys.stdout.writelines(parts())
