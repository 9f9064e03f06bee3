"""A figure that is written as data, in words: each way with its formula, letters and source."""

from __future__ import annotations

from collections.abc import Iterator

from rigcheck.report.text.layout import Line, labelled, wrapped
from rigcheck.rules.written_figure import WrittenFigure, WrittenWay

__all__ = ["figure_lines"]

_COLUMN = 12


def figure_lines(figure: WrittenFigure, name: str, width: int) -> Iterator[Line]:
    """Yield a figure in words, its ways in the order in which they are tried."""
    yield from wrapped(f"{name}: {figure.name.replace('_', ' ')} of {figure.kind} ({figure.measure})", width)
    for way in figure.ways:
        yield from _way_lines(way, width)
    yield from labelled("written in", figure.file, width, column=_COLUMN)


def _way_lines(way: WrittenWay, width: int) -> Iterator[Line]:
    if way.stated:
        yield from labelled("as stated", way.stated.replace("_", " "), width, column=_COLUMN)
        return
    yield from labelled("formula", way.formula, width, column=_COLUMN)
    for letter, path in way.letters.items():
        yield from labelled("", f"{letter} = {path}", width, column=_COLUMN)
    for letter, (text, _) in way.constants.items():
        yield from labelled("", f"{letter} = {text}", width, column=_COLUMN)
    for path, words in way.only.items():
        yield from labelled("where", f"{path} is {' or '.join(map(str, words))}", width, column=_COLUMN)
    if way.validity:
        yield from labelled("holds for", way.validity, width, column=_COLUMN)
    yield from labelled("source", way.source, width, column=_COLUMN)
