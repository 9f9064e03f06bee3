"""Workings made ready for a template: formula, inputs with place or source, each figure with its number."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from rigcheck.facts.explanation import ShownInput, ShownWorking
from rigcheck.report.html.addresses import bare, line_words
from rigcheck.report.text.calculation_text import ends_words, lack_words, outcome_words, standing_rows, thing_words
from rigcheck.report.text.working_text import Numbers, input_words
from rigcheck.tasks.calculation_sheet import Calculated, Calculation, Lack, ThingFigures

__all__ = ["FigureBlock", "InputRow", "ThingBlock", "WorkingBlock", "thing_blocks", "working_block"]


class InputRow(Struct, frozen=True):
    """One input in words; `figure`: the number of the figure that it is, or 0."""

    words: str
    figure: int


class WorkingBlock(Struct, frozen=True):
    """How a figure came out; what is empty is not told."""

    name: str
    formula: str
    inputs: tuple[InputRow, ...]
    validity: str
    source: str


class FigureBlock(Struct, frozen=True):
    """A figure: what came out, who says it, how, and what it lacks; `same_lacks_as`: the figure that told it, or 0."""

    number: int
    name: str
    result: str
    known: bool
    means: str
    standing: tuple[str, ...]
    working: WorkingBlock | None
    lacks: tuple[str, ...]
    same_lacks_as: int


class ThingBlock(Struct, frozen=True):
    """The figures of one thing."""

    anchor: str
    name: str
    line: str
    figures: tuple[FigureBlock, ...]


def working_block(working: ShownWorking, numbers: Numbers, file: str) -> WorkingBlock:
    """Return a working; `numbers` are those of the figures on the sheet, `file` is that of the rig."""
    return WorkingBlock(
        name=working.name,
        formula=working.formula,
        inputs=tuple(_input(one, numbers, file) for one in working.inputs),
        validity=working.validity,
        source="" if working.source == "stated" else working.source,
    )


def _input(one: ShownInput, numbers: Numbers, file: str) -> InputRow:
    told = input_words(one, numbers)
    if one.at is not None:
        told = bare(told, one.at, file)
    number = numbers.get(one.key, 0) if one.origin == "figure" else 0
    return InputRow(told.removesuffix(f"figure {number}"), number) if number else InputRow(told, 0)


def thing_blocks(calculation: Calculation) -> Iterator[ThingBlock]:
    """Yield the figures thing by thing, as on the calculation sheet."""
    numbers, asked = calculation.numbers(), dict[tuple[Lack, ...], int]()
    for place, one in enumerate(calculation.things, start=1):
        yield _thing(one, f"figures-{place}", calculation.rig.file, numbers, asked)


def _thing(
    one: ThingFigures, anchor: str, file: str, numbers: Numbers, asked: dict[tuple[Lack, ...], int]
) -> ThingBlock:
    figures = tuple(_figure(figure, file, numbers, asked) for figure in one.figures)
    return ThingBlock(anchor, thing_words(one), line_words(one.at, file), figures)


def _figure(figure: Calculated, file: str, numbers: Numbers, asked: dict[tuple[Lack, ...], int]) -> FigureBlock:
    lacks = figure.lacks if figure.value is None else ()
    first = asked.setdefault(lacks, figure.number)
    again = first if first != figure.number and len(lacks) > 1 else 0
    told = () if again else tuple(bare(lack_words(lack), lack.at, file) for lack in lacks)
    return FigureBlock(
        number=figure.number,
        name=figure.name,
        result=outcome_words(figure),
        known=figure.value is not None,
        means=figure.means,
        standing=_standing(figure, numbers),
        working=None if figure.working is None else working_block(figure.working, numbers, file),
        lacks=told,
        same_lacks_as=again,
    )


def _standing(figure: Calculated, numbers: Numbers) -> tuple[str, ...]:
    ends = (f"ends: {ends_words(figure)}",) if figure.ends else ()
    rows = ((f"{label}: {text}" if label else text) for label, text in standing_rows(figure, numbers))
    return (*rows, *ends)
