"""Output: styled on a terminal, plain in a pipe, whole or not at all in a file."""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Iterable
from contextlib import suppress
from typing import TYPE_CHECKING, TextIO

from rigcheck.report.text.layout import Line, plain_text
from rigcheck.report.text.style import STYLES
from rigcheck.text.harmless import harmless

if TYPE_CHECKING:
    from rich.console import Console as RichConsole

__all__ = ["Console", "ProblemFound", "complain", "let_go", "screen_width"]


class ProblemFound(Exception):
    """Something that stops a command; its text is for the person who typed it."""


def screen_width() -> int:
    """Return the columns to wrap to: the terminal's, or 80 in a pipe; COLUMNS overrides."""
    return min(shutil.get_terminal_size((80, 24)).columns, 110)


class Console:
    """A stream that lines are shown on, with style where the stream is a terminal."""

    def __init__(self, stream: TextIO) -> None:
        self.stream = stream
        self.width = screen_width()
        self._rich = _rich_console(stream) if _wants_style(stream) else None

    @property
    def styled(self) -> bool:
        """Whether lines are shown with style."""
        return self._rich is not None

    def show(self, lines: Iterable[Line]) -> None:
        """Write lines."""
        if self._rich is None:
            self.stream.write(plain_text(lines))
            return
        from rich.text import Text  # only on a terminal: a pipe pays nothing for it

        for line in lines:
            spans = [(text, STYLES[style]) for style, text in line.spans]
            self._rich.print(Text.assemble(*spans), soft_wrap=True)

    def write(self, text: str) -> None:
        """Write text as it is."""
        self.stream.write(text)


def _wants_style(stream: TextIO) -> bool:
    return stream.isatty() or bool(os.environ.get("FORCE_COLOR"))


def _rich_console(stream: TextIO) -> RichConsole:
    from rich.console import Console as RichConsole  # slow to load, as the text above

    return RichConsole(file=stream, highlight=False, markup=False, emoji=False)


def complain(*texts: str) -> None:
    """Write problems to standard error; where that takes nothing, the exit code still tells of them."""
    try:
        sys.stderr.writelines(f"rigcheck: {harmless(text)}\n" for text in texts)
        sys.stderr.flush()
    except OSError:
        let_go(sys.stderr)


def let_go(stream: TextIO) -> None:
    """Point a stream that takes nothing more elsewhere, so that closing it stays quiet."""
    with suppress(OSError, ValueError):  # it may have no number, as one in memory
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
