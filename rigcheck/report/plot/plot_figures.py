"""The plots of a calculation sheet one by one: gas over the day, pressure along each line."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rigcheck.report.plot.contents_plot import RUN_FIGURES, contents_plot, day_length, run_of
from rigcheck.report.plot.plot import Plot
from rigcheck.report.plot.pressure_course import NEEDED_FIGURES, courses_of
from rigcheck.report.plot.pressure_plot import pressure_plot
from rigcheck.rig.thing import Thing
from rigcheck.tasks.calculation_sheet import Calculated, Calculation, Lack

__all__ = ["contents_plots", "pressure_plots"]


def contents_plots(calculation: Calculation) -> Iterator[Plot]:
    """Yield the gas left over the working day, line by line; without shapes where it cannot be drawn."""
    lines = list(calculation.rig.of_kind("line"))
    runs = {line: run for line in lines if (run := run_of(line)) is not None}
    hours = day_length(calculation.rig.root, list(runs.values()))
    for line in lines:
        if line in runs:
            yield contents_plot(runs[line], hours)
        else:
            title = f"Gas left over the working day: {line.label}"
            yield Plot(title, _undrawn(calculation, line, RUN_FIGURES, "is not drawn"))


def pressure_plots(calculation: Calculation) -> Iterator[Plot]:
    """Yield the pressure along each line while the torches burn; without shapes where it cannot be drawn."""
    for line in calculation.rig.of_kind("line"):
        courses = courses_of(line, calculation.limits)
        yield from map(pressure_plot, courses)
        if not courses or not all(course.whole and course.wanted for course in courses):
            told = "is not drawn all along" if courses else "is not drawn"
            title = f"Pressure while the torch burns: {line.label}"
            yield Plot(title, _undrawn(calculation, line, NEEDED_FIGURES, told))


def _undrawn(calculation: Calculation, line: Thing, names: Iterable[str], told: str) -> str:
    """Return why a plot of a line is not drawn, or not all of it; `names` are the figures that it shows."""
    figures = _figures_of(calculation, line, names)
    lacks = [lack for figure in figures if figure.value is None for lack in figure.lacks]
    lacking = "; ".join(_lacking(lacks))
    why = f"It lacks: {lacking}" if lacking else "Nothing that it would show can be worked out for this line."
    return f"The {line.label} {told}. {why}"


def _lacking(lacks: Iterable[Lack]) -> Iterator[str]:
    """Yield each missing fact with its question once, however many parts lack it."""
    things: dict[tuple[str, str], list[str]] = {}
    for lack in dict.fromkeys(lacks):
        things.setdefault((lack.fact, lack.ask), []).append(lack.thing)
    for (fact, ask), owners in things.items():
        more = f" and {len(owners) - 1} more" if len(owners) > 1 else ""
        yield f"{fact} of the {owners[0]}{more} ({ask})" if fact else ask


def _figures_of(calculation: Calculation, line: Thing, names: Iterable[str]) -> Iterator[Calculated]:
    wanted = {(line.path, name) for name in names}
    return (figure for figure in calculation.figures if figure.key in wanted)
