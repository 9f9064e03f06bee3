"""Figures that are data: a written formula becomes a way that works its figure out."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from rigcheck.facts.figure import Figure, Used, Way
from rigcheck.facts.topics.gathering import as_stated
from rigcheck.quantity.dimension import SCALES
from rigcheck.quantity.formula import read_formula
from rigcheck.quantity.formula_range import formula_range
from rigcheck.quantity.interval import worked_out
from rigcheck.rules.written_figure import LetterRange, WrittenFigure, WrittenWay

__all__ = ["figure_of", "way_range"]


def figure_of(written: WrittenFigure) -> Figure:
    """Return a written figure as one that can be worked out."""
    ways = tuple(_way(one, written.measure) for one in written.ways)
    return Figure(written.kind, written.name, ways, written.tolerance, written.because)


def _way(way: WrittenWay, measure: str) -> Way:
    if way.stated:
        return as_stated(way.stated, asks=way.asks, only=way.only, alone=way.alone)
    return Way(
        way.formula,
        way.source,
        _worked(way, measure),
        inputs=way.letters,
        only=way.only,
        data=_shown(way) if way.constants else None,
        validity=way.validity,
        asks=way.asks,
    )


def _worked(way: WrittenWay, measure: str) -> Callable[..., LetterRange | None]:
    return lambda **given: way_range(way, measure, given)


def way_range(way: WrittenWay, measure: str, given: Mapping[str, LetterRange]) -> LetterRange | None:
    """Return the least and greatest that a way gives, in base units; None outside of its validity."""
    for letter, (least, greatest) in way.valid.items():
        if not (given[letter][0] >= least and given[letter][1] <= greatest):
            return None
    spans = {letter: _scaled(given[letter], 1.0 / SCALES.get(way.measures[letter], 1.0)) for letter in way.letters}
    spans |= {
        letter: _scaled(span, 1.0 / SCALES.get(way.measures[letter], 1.0))
        for letter, (_, span) in way.constants.items()
    }
    try:
        return _scaled(formula_range(read_formula(way.formula), spans), SCALES.get(measure, 1.0))
    except ValueError:  # a root or a logarithm of what is below nothing
        return None


def _scaled(span: LetterRange, factor: float) -> LetterRange:
    return span if factor == 1.0 else (span[0] * factor, span[1] * factor)


def _shown(way: WrittenWay) -> Callable[..., tuple[Used, ...]]:
    """Return what shows the constants of a way with its inputs."""

    def constants(**given: Any) -> tuple[Used, ...]:
        return tuple(
            Used(letter, None, "constant", worked_out(*span, way.measures[letter]))
            for letter, (_, span) in way.constants.items()
        )

    return constants
