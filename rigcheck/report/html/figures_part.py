"""The drawing, the plots and the calculation sheet in the commissioning file."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import count

from rigcheck.judge.inspection import Inspection
from rigcheck.report.drawing.drawing import drawing_element
from rigcheck.report.html.markup import joined, listed, rows, section, shown, tag
from rigcheck.report.html.working_part import figure_anchor, working_markup
from rigcheck.report.plot.plot_figures import PlotFigure, contents_figures, pressure_figures
from rigcheck.report.text.calculation_text import (
    ESTIMATE,
    SEA_LEVEL,
    lack_words,
    outcome_words,
    tally_words,
    thing_words,
)
from rigcheck.report.text.working_text import Numbers
from rigcheck.rig.thing import Rig
from rigcheck.tasks.calculation_sheet import Calculated, Calculation, Lack, ThingFigures

__all__ = ["calculation_section", "drawing_section"]

_LONG = 8  # inputs; a figure with more may be cut by the end of a page
_READ_SO = "Pressures are gauge. A range runs from the least to the greatest that the inputs allow."


def drawing_section(rig: Rig, inspection: Inspection) -> str:
    """Return the drawing of the rig; each pin leads to its finding."""
    told = "Seen from the front. Below it each line runs down in the order of flow. Numbers lead to the findings."
    drawn = tag(
        "div",
        drawing_element(rig, inspection),
        class_="paper drawing",
        role="region",
        tabindex="0",
        aria_label="The drawing",
    )
    return section("drawing", "The rig as described", tag("p", told, class_="quiet"), drawn)


def calculation_section(calculation: Calculation) -> str:
    """Return the plots, then every figure with formula, inputs, result, validity and source."""
    numbers, plots = calculation.numbers(), count(1)
    told = [
        tag("p", shown(tally_words(calculation))),
        tag("p", shown(f"{ESTIMATE} {SEA_LEVEL} {_READ_SO}"), class_="quiet"),
    ]
    told += _plots("Gas left over the working day", contents_figures(calculation), plots)
    told += _plots("Pressure along each line while the torches burn", pressure_figures(calculation), plots)
    asked: dict[tuple[Lack, ...], int] = {}
    told.append(tag("div", joined(_thing(one, numbers, asked) for one in calculation.things), class_="figures"))
    return section("calculation", "Calculation sheet", *told)


def _plots(title: str, figures: Iterable[PlotFigure], numbers: Iterator[int]) -> Iterator[str]:
    made = [_plot(one, f"plot-{next(numbers)}") for one in figures]
    if made:
        yield tag("h3", shown(title))
        yield tag("div", joined(made), class_="plots")


def _plot(figure: PlotFigure, name: str) -> str:
    if not figure.shapes:
        return tag("p", shown(figure.words), class_="quiet")
    drawn = tag("div", figure.svg(name), class_="paper")
    return tag("figure", f"{drawn}{tag('figcaption', shown(figure.words), id=f'{name}-words')}")


def _thing(one: ThingFigures, numbers: Numbers, asked: dict[tuple[Lack, ...], int]) -> str:
    head = tag("h3", f"{shown(thing_words(one))} {tag('small', tag('code', shown(str(one.at))))}")
    return joined([head, *(_figure(figure, numbers, asked) for figure in one.figures)])


def _figure(figure: Calculated, numbers: Numbers, asked: dict[tuple[Lack, ...], int]) -> str:
    result = tag("b" if figure.value is not None else "span", shown(outcome_words(figure)))
    parts = [tag("h4", f"{figure.number}. {shown(figure.name)}: {result}")]
    if figure.working is not None:
        parts += [rows([("Means", shown(figure.means))]), working_markup(figure.working, numbers)]
    if figure.value is None and figure.lacks:
        parts.append(_lacking(figure, asked))
    long = figure.working is not None and len(figure.working.inputs) > _LONG
    return tag("div", joined(parts), class_="figure long" if long else "figure", id=figure_anchor(figure.number))


def _lacking(figure: Calculated, asked: dict[tuple[Lack, ...], int]) -> str:
    """Return what a figure lacks; a long list is told once."""
    label = "Lacks" if figure.working is None else "Or lacks"
    first = asked.setdefault(figure.lacks, figure.number)
    if first != figure.number and len(figure.lacks) > 1:
        return rows([(label, f"the same as {tag('a', f'figure {first}', href=f'#{figure_anchor(first)}')}")])
    return rows([(label, listed(shown(lack_words(lack)) for lack in figure.lacks))])
