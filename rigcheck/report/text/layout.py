"""Lines of styled text, wrapped to a width: what a report is made of before it is shown."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from textwrap import TextWrapper
from typing import NamedTuple

from rigcheck.text.harmless import harmless

__all__ = ["Line", "labelled", "plain_text", "wrapped"]

NARROWEST = 40
"""Columns below which nothing is wrapped any further."""


class Line(NamedTuple):
    """One line: spans of style and text, in order. A style is a word of `report.style`."""

    spans: tuple[tuple[str, str], ...] = ()

    @property
    def text(self) -> str:
        """The line without its styles."""
        return "".join(text for _, text in self.spans).rstrip()


def plain_text(lines: Iterable[Line]) -> str:
    """Return lines as text, without styles, each ended."""
    return "".join(f"{line.text}\n" for line in lines)


def wrapped(text: str, width: int, *, style: str = "", indent: str = "") -> Iterator[Line]:
    """Yield a paragraph as lines of at most `width` columns, later ones indented."""
    for row in _rows(text, width, indent, indent):
        yield Line(((style, row),))


def labelled(
    label: str, text: str, width: int, *, column: int, label_style: str = "", style: str = ""
) -> Iterator[Line]:
    """Yield a label and, from `column` on, the text that belongs to it; below it where the label is longer."""
    gap = " " * column
    if len(_head(label)) >= column:
        yield Line(((label_style, _head(label)),))
        label = ""
    for number, row in enumerate(_rows(text, width, gap, gap)):
        head = _head(label).ljust(column - 1) + " " if number == 0 else gap
        yield Line(((label_style if number == 0 else "", head), (style, row[column:])))


def _head(label: str) -> str:
    own = label.lstrip(" ")
    return label[: len(label) - len(own)] + harmless(own)


def _rows(text: str, width: int, first: str, later: str) -> list[str]:
    wrapper = TextWrapper(
        max(width, NARROWEST),
        initial_indent=first,
        subsequent_indent=later,
        break_on_hyphens=False,
        break_long_words=True,
    )
    return [_BROKEN.sub(r"\1: :", row) for row in wrapper.wrap(harmless(text))] or [first]


_BROKEN = re.compile(r"^( *)::")  # a long word that was broken just there: to a log it would be a command
