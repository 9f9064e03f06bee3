"""The plots of a calculation sheet one by one, to stand in a page that tells in words of its own what they show."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from xml.etree.ElementTree import Element, SubElement, tostring

from rigcheck.report.drawing.svg import plain
from rigcheck.report.plot.contents_plot import RUN_FIGURES, contents_drawing, day_length, run_of, run_words
from rigcheck.report.plot.plot_sheet import undrawn_words
from rigcheck.report.plot.pressure_course import NEEDED_FIGURES, courses_of
from rigcheck.report.plot.pressure_plot import course_words, pressure_drawing
from rigcheck.tasks.calculation_sheet import Calculation

__all__ = ["PlotFigure", "contents_figures", "pressure_figures"]

_WIDTH, _MARGIN, _HEAD = 340.0, 8.0, 22.0


@dataclass(frozen=True, slots=True)
class PlotFigure:
    """A plot and what it shows; `shapes` and `height` are empty where it cannot be drawn, and `words` say why."""

    title: str
    words: str
    shapes: tuple[Element, ...] = ()
    height: float = 0.0

    def svg(self, name: str) -> str:
        """Return it as an SVG element whose title has the id `name`-title; the words have the id `name`-words."""
        root = Element("svg", {"viewBox": f"0 0 {_WIDTH:.0f} {self.height:.0f}", "role": "img"})
        root.attrib |= {"aria-labelledby": f"{name}-title", "aria-describedby": f"{name}-words"}
        root.attrib |= {"font-family": "sans-serif"}
        SubElement(root, "title", {"id": f"{name}-title"}).text = plain(self.title)
        root.extend(self.shapes)
        return tostring(root, encoding="unicode")


def contents_figures(calculation: Calculation) -> Iterator[PlotFigure]:
    """Yield the gas left over the working day, line by line."""
    lines = list(calculation.rig.of_kind("line"))
    runs = {id(one): run for one in lines if (run := run_of(one)) is not None}
    hours = day_length(calculation.rig.root, list(runs.values()))
    for one in lines:
        title, run = f"Gas left over the working day: {one.label}", runs.get(id(one))
        if run is None:
            yield PlotFigure(title, undrawn_words(calculation, one, RUN_FIGURES, "is not drawn"))
        else:
            drawn = contents_drawing(run, hours, (_MARGIN, _HEAD), _WIDTH - 2 * _MARGIN)
            yield _figure(title, run_words(run, hours), *drawn)


def pressure_figures(calculation: Calculation) -> Iterator[PlotFigure]:
    """Yield the pressure along each line while the torches burn, torch by torch."""
    for one in calculation.rig.of_kind("line"):
        courses = courses_of(one, calculation.limits)
        for course in courses:
            drawn = pressure_drawing(course, (_MARGIN, _HEAD), _WIDTH - 2 * _MARGIN)
            yield _figure(f"Pressure while the torch burns: {course.name}", course_words(course), *drawn)
        if not courses or not all(course.whole for course in courses):
            told = "is not drawn all along" if courses else "is not drawn"
            words = undrawn_words(calculation, one, NEEDED_FIGURES, told)
            yield PlotFigure(f"Pressure while the torch burns: {one.label}", words)


def _figure(title: str, words: str, shapes: Iterable[Element], height: float) -> PlotFigure:
    return PlotFigure(title, words, tuple(shapes), _HEAD + height + _MARGIN)
