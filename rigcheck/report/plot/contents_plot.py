"""What each line's cylinders still give over the working day: what can be drawn, until nothing more comes."""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite
from xml.etree.ElementTree import Element

from msgspec import Struct

from rigcheck.condition.wording import value_words
from rigcheck.quantity.interval import Interval, worked_out
from rigcheck.quantity.wording import shown_number
from rigcheck.report.drawing.svg import Point, line, polygon, polyline, words
from rigcheck.report.drawing.symbols import ring
from rigcheck.report.plot.axes import SMALL, Axes
from rigcheck.report.plot.plot import WIDTH, Plot, Sureness, sureness_of
from rigcheck.rig.thing import Thing

__all__ = ["RUN_FIGURES", "Run", "contents_plot", "day_length", "run_of", "run_words"]

RUN_FIGURES = ("drawable_content", "mean_demand", "endurance")
"""The figures of a line without which nothing is drawn."""

_HOUR = 3600.0
_LEFT, _TOP, _HEIGHT, _FOOT, _STRIP = 40.0, 40.0, 130.0, 32.0, 0.17
_INK = "#111111"


class Run(Struct, frozen=True):
    """How the gas of one line runs down.

    `drawable`: what can be drawn from now on (m3), `draw`: on average (m3/s), `lasts`: until nothing more comes (s),
    `kept`: what stays in the cylinders (m3), `sureness`: of what can be drawn.
    """

    line: Thing
    drawable: Interval
    draw: Interval
    lasts: Interval
    kept: float
    sureness: Sureness = "worked out"

    def left(self, hours: float) -> tuple[float, float]:
        """Return the least and the most that is left after so many hours (m3): nothing at the ends of `lasts`."""
        ends = ((self.drawable.lo, self.lasts.lo), (self.drawable.hi, self.lasts.hi))
        least, most = (max(0.0, start * (1.0 - hours * _HOUR / end)) if end > 0.0 else 0.0 for start, end in ends)
        return least, most


def run_of(line_thing: Thing) -> Run | None:
    """Return how the gas of a line runs down; None where a figure for it is not known."""
    drawable, draw, lasts = (line_thing.facts.get(name) for name in RUN_FIGURES)
    if not (isinstance(drawable, Interval) and isinstance(draw, Interval) and isinstance(lasts, Interval)):
        return None
    content = line_thing.facts.get("content")
    kept = max(0.0, _middle(content) - _middle(drawable)) if isinstance(content, Interval) else 0.0
    sureness = sureness_of(line_thing, ("supply_content",), ("content", "usable_content", *RUN_FIGURES))
    return Run(line_thing, drawable, draw, lasts, kept, sureness)


def day_length(root: Thing, runs: list[Run]) -> float:
    """Return the hours that the plots span: the working day, or until the last gas is gone."""
    job = root.facts.get("job")
    day = job.facts.get("hours_per_day") if isinstance(job, Thing) else None
    if isinstance(day, Interval) and day.hi > 0.0:
        return day.hi / _HOUR
    ends = [end / _HOUR for run in runs for end in (run.lasts.hi,) if isfinite(end) and end > 0.0]
    return max(ends, default=1.0) * 1.1


def contents_plot(run: Run, hours: float) -> Plot:
    """Return the plot of one line over so many hours."""
    top = max(run.drawable.hi, 1e-9) * 1.05
    axes = Axes(_LEFT, _TOP, WIDTH - _LEFT - 6, _HEIGHT, (0.0, hours), (-_STRIP * top, top))
    title = f"{_capital(run.line.label)}: gas that can still be drawn"
    drawn = [words((0.0, 12.0), title, size=12, bold=True), *axes.upright("m3 (15 degC, 1 atm)", 0.0)]
    drawn += [
        *axes.level("hours of work"),
        *_strip(run, axes),
        *_falls(run, axes),
        *_end(run, axes),
        *_start(run, axes),
    ]
    return Plot(title, run_words(run, hours), tuple(drawn), _TOP + _HEIGHT + _FOOT)


def _strip(run: Run, axes: Axes) -> Iterator[Element]:
    """Yield what stays in the cylinders: a shaded strip below nothing left."""
    low, high = axes.point(0.0, axes.up[0]), axes.point(axes.across[1], 0.0)
    yield polygon([low, (low[0], high[1]), high, (high[0], low[1])], fill="#e6e6e6")
    yield words((low[0] + 5, low[1] - 5), _kept_words(run), size=SMALL)


def _kept_words(run: Run) -> str:
    pressure = run.line.facts.get("residual_pressure")
    at = f", at {value_words(pressure)} or more" if isinstance(pressure, Interval) else ""
    amount = f": about {run.kept:.2g} m3" if run.kept > 0.0 else ""
    return f"stays in{amount}{at}"


def _falls(run: Run, axes: Axes) -> Iterator[Element]:
    """Yield the most and the least that may be left: whole and broken line, shaded between."""
    most, least = (_fall(run, axes.across[1], end) for end in (1, 0))
    upper, lower = ([axes.point(*p) for p in points] for points in (most, least))
    if most != least:
        yield polygon([*upper, *reversed(lower)], fill="#999999", fill_opacity="0.25")
        yield polyline(lower, stroke_width="1.8", stroke_dasharray="6 4")
    dotted = {"stroke_dasharray": "1.5 2.5"} if run.sureness == "disputed" else {}
    yield polyline(upper, stroke_width="1.8", **dotted)


def _fall(run: Run, hours: float, end: int) -> list[Point]:
    """Return hours and cubic metres left, from now to the end of the day or to nothing left."""
    gone = (run.lasts.lo, run.lasts.hi)[end] / _HOUR
    start = (0.0, (run.drawable.lo, run.drawable.hi)[end])
    return [start, (gone, 0.0)] if gone <= hours else [start, (hours, run.left(hours)[end])]


def _end(run: Run, axes: Axes) -> Iterator[Element]:
    """Yield a thick bar on the axis from where the gas may be gone first to where it is gone at the latest."""
    first, last = run.lasts.lo / _HOUR, run.lasts.hi / _HOUR
    if first > axes.across[1]:
        return
    start, stop = axes.point(first, 0.0), axes.point(min(last, axes.across[1]), 0.0)
    yield line((start[0], start[1] - 6), start, stroke=_INK, stroke_width="2")
    if last > first:
        yield line(start, stop, stroke=_INK, stroke_width="4")
        yield line((stop[0], stop[1] - 6), stop, stroke=_INK, stroke_width="2")
    told = f"gone after {run.lasts.text}"
    yield words((axes.right, axes.top - 9), told, size=SMALL, anchor="end", bold=True)


def _start(run: Run, axes: Axes) -> Iterator[Element]:
    """Yield the mark of what is there now: filled where it was worked out, open where it is stated."""
    for value in dict.fromkeys((run.drawable.lo, run.drawable.hi)):
        yield ring(axes.point(0.0, value), 3.4, _INK if run.sureness == "worked out" else "#ffffff", _INK)


_SURE = {
    "worked out": "",
    "stated": " Open dots: what is there is only stated.",
    "disputed": " Open dots, dotted line: two statements of what is there do not agree; drawn from least to most.",
}


def run_words(run: Run, hours: float) -> str:
    """Return in words what the plot shows."""
    lasts, day = run.lasts, f"{shown_number(hours)} h"
    drawn = f"{run.drawable.text} can be drawn, at {run.draw.text} on average"
    spread = "" if run.drawable.lo == run.drawable.hi and lasts.lo == lasts.hi else _LINES
    spread += _SURE[run.sureness]
    if lasts.lo >= hours * _HOUR:
        left = worked_out(*run.left(hours), "volume").text
        return f"{drawn}: after {day} of work {left} are left.{spread}"
    word = "may be gone" if lasts.hi > hours * _HOUR else "is gone"
    return f"{drawn}: it {word} after {lasts.text} of work, the thick bar.{spread}"


_LINES = " Whole line: the most that may remain; broken line: the least."


def _middle(value: Interval) -> float:
    return (value.lo + value.hi) / 2.0


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
