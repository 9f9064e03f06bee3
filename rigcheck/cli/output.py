"""Where a finished report goes: to the screen, or to the file that `--output` names, whole or not at all."""

from __future__ import annotations

import io
import os
import sys
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import TextIO

from rigcheck.cli.console import Console, ProblemFound, screen_width
from rigcheck.cli.draft import whole_file
from rigcheck.report.text.layout import Line, plain_text
from rigcheck.text.source_file import ordinary_file

__all__ = ["as_utf8", "hand_over", "hand_over_form", "keep_inputs", "keep_others"]

_FILE_WIDTH = 80


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
        with whole_file(output) as write:
            for part in parts():
                write(part)
    elif lines is not None:
        Console(sys.stdout).show(lines(screen_width()))
    else:
        as_utf8(sys.stdout)
        sys.stdout.writelines(parts())


def hand_over_form(
    output: Path | None,
    form: str,
    head: str,
    lines: Callable[[int], Iterable[Line]],
    forms: Mapping[str, Callable[[], str]],
) -> None:
    """Hand over a report in its form: as text it is `lines` below `head`, which the screen needs not; else of `forms`.

    Raises `ProblemFound` where the file cannot be written.
    """
    if form == "text":
        hand_over(output, lambda: [f"{head}\n{plain_text(lines(_FILE_WIDTH))}"], lines)
    else:
        hand_over(output, lambda: [forms[form]()])


def as_utf8(stream: TextIO) -> None:
    """Have a stream take forms for programs, which are UTF-8 whatever the screen is."""
    if isinstance(stream, io.TextIOWrapper):
        stream.reconfigure(encoding="utf-8")


# --- what may be written over ---

_LOOKED_AT = 200  # bytes; every report says at its very beginning what it is


def keep_others(
    output: Path | None, inputs: Iterable[str], beginnings: tuple[str, ...], own: str = "report of rigcheck"
) -> None:
    """Refuse to write over an input, or over a file that does not begin as our `own` do; the screen takes all.

    `inputs`: the files that were read, `-` for standard input. Raises `ProblemFound`.
    """
    if output is None:
        return
    keep_inputs(output, inputs)
    if os.path.isfile(output) and os.path.getsize(output) and not _start(output).startswith(beginnings):
        raise ProblemFound(f"{output} exists and is no {own}; take it away or name another file.")


def keep_inputs(output: Path, inputs: Iterable[str], what: str = "one of the rigs") -> None:
    """Refuse to write over a file that is read; `what` it is. Raises `ProblemFound`."""
    if any(_same(output, name) for name in inputs):
        raise ProblemFound(f"{output} is {what}; write the report somewhere else.")


def _same(output: Path, name: str) -> bool:
    try:
        return name != "-" and output.samefile(name)
    except OSError:  # one of them is not there
        return False


def _start(output: Path) -> str:
    try:
        with ordinary_file(output) as file:
            return file.read(_LOOKED_AT).decode("utf-8", "replace")
    except OSError as error:
        raise ProblemFound(f"{output} cannot be read: {error.strerror or error}.") from None
