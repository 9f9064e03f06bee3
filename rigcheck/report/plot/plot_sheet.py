"""The plots of a calculation sheet as one SVG: contents over the day, pressure along each line.

One column, so that it is read on a narrow screen and on A4 alike; lines differ by stroke and by words,
so that it is read in black and white.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from xml.etree.ElementTree import Element

from rigcheck.quantity.wording import shown_day
from rigcheck.report.drawing.svg import document, line, paragraph
from rigcheck.report.json.figures_json import FORM
from rigcheck.report.plot.contents_plot import RUN_FIGURES, contents_panel, day_length, run_of
from rigcheck.report.plot.pressure_course import NEEDED_FIGURES, courses_of
from rigcheck.report.plot.pressure_plot import pressure_panel
from rigcheck.report.text.calculation_text import ESTIMATE
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.rig.thing import Thing
from rigcheck.tasks.calculation_sheet import Calculated, Calculation, Lack

__all__ = ["figures_plot", "undrawn_words"]

_WIDTH, _MARGIN = 480.0, 16.0
_INNER = _WIDTH - 2 * _MARGIN


def figures_plot(calculation: Calculation) -> str:
    """Return the plots of one rig as an SVG document."""
    page = _Page()
    rig = calculation.rig
    page.words(f"Figures of rig “{rig.title}”", size=16, bold=True)
    day = shown_day(calculation.day)
    page.words(f"{rig.file}; worked out for {day}, limits of local code {calculation.local_code}.", size=11)
    _contents(page, calculation)
    _pressures(page, calculation)
    page.rule()
    page.words(ESTIMATE, size=11)
    page.words(CAUTION, size=11)
    return document(FORM, (_WIDTH, page.down + _MARGIN), f"Figures of rig “{rig.title}”", CAUTION, page.drawn)


class _Page:
    """A column that is filled from the top."""

    def __init__(self) -> None:
        self.down = _MARGIN
        self.drawn: list[Element] = []

    def words(self, text: str, *, size: float = 12, bold: bool = False) -> None:
        """Add a paragraph."""
        rows, taken = paragraph((_MARGIN, self.down), text, _INNER, size=size, bold=bold)
        self.drawn += rows
        self.down += taken + 4

    def rule(self) -> None:
        """Add a thin line across."""
        self.down += 6
        self.drawn.append(line((_MARGIN, self.down), (_WIDTH - _MARGIN, self.down), stroke="#999999"))
        self.down += 6

    def panel(self, made: tuple[Element, float]) -> None:
        """Add a plot whose first row of words stands on `self.down`."""
        self.drawn.append(made[0])
        self.down += made[1] + 22

    @property
    def place(self) -> tuple[float, float]:
        """Where the first row of words of the next plot stands."""
        return _MARGIN, self.down + 16


def _contents(page: _Page, calculation: Calculation) -> None:
    page.rule()
    page.words("Gas left over the working day", size=14, bold=True)
    lines = list(calculation.rig.of_kind("line"))
    runs = [run for run in map(run_of, lines) if run is not None]
    hours = day_length(calculation.rig.root, runs)
    for one in lines:
        run = run_of(one)
        if run is None:
            page.words(undrawn_words(calculation, one, RUN_FIGURES, "is not drawn"))
        else:
            page.panel(contents_panel(run, hours, page.place, _INNER))


def _pressures(page: _Page, calculation: Calculation) -> None:
    page.rule()
    page.words("Pressure along each line while the torches burn", size=14, bold=True)
    for one in calculation.rig.of_kind("line"):
        courses = courses_of(one, calculation.limits)
        for course in courses:
            page.panel(pressure_panel(course, page.place, _INNER))
        if not all(course.whole for course in courses) or not courses:
            told = "is not drawn all along" if courses else "is not drawn"
            page.words(undrawn_words(calculation, one, NEEDED_FIGURES, told))


def undrawn_words(calculation: Calculation, one: Thing, names: Iterable[str], told: str) -> str:
    """Return why a plot of a line is not drawn, or not all of it; `names` are the figures that it shows."""
    figures = _figures_of(calculation, one, names)
    lacks = [lack for figure in figures if figure.value is None for lack in figure.lacks]
    lacking = "; ".join(_lacking(lacks))
    why = f"It lacks: {lacking}" if lacking else "Nothing that it would show can be worked out for this line."
    return f"The {one.label} {told}. {why}"


def _lacking(lacks: Iterable[Lack]) -> Iterator[str]:
    """Yield each missing fact with its question once, however many parts lack it."""
    things: dict[tuple[str, str], list[str]] = {}
    for lack in dict.fromkeys(lacks):
        things.setdefault((lack.fact, lack.ask), []).append(lack.thing)
    for (fact, ask), owners in things.items():
        more = f" and {len(owners) - 1} more" if len(owners) > 1 else ""
        yield f"{fact} of the {owners[0]}{more} ({ask})"


def _figures_of(calculation: Calculation, one: Thing, names: Iterable[str]) -> Iterator[Calculated]:
    wanted = {(one.path, name) for name in names}
    return (figure for figure in calculation.figures if figure.key in wanted)
