"""What each line's cylinders still give over the working day, down to the residual pressure."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf, isfinite
from xml.etree.ElementTree import Element

from rigcheck.condition.wording import value_words
from rigcheck.quantity.interval import Interval, worked_out
from rigcheck.quantity.wording import shown_number
from rigcheck.report.drawing.svg import Point, group, line, paragraph, polygon, polyline, words
from rigcheck.report.plot.axes import Axes
from rigcheck.rig.thing import Thing

__all__ = ["RUN_FIGURES", "Run", "contents_drawing", "contents_panel", "day_length", "run_of", "run_words"]

RUN_FIGURES = ("usable_content", "mean_demand", "endurance")
"""The figures of a line without which nothing is drawn."""

_HOUR = 3600.0
_LEFT, _HEIGHT, _FOOT = 44.0, 130.0, 36.0


@dataclass(frozen=True, slots=True)
class Run:
    """How the gas of one line runs down: usable content (m3), mean draw (m3/s), time until it is gone (s)."""

    line: Thing
    usable: Interval
    draw: Interval
    lasts: Interval
    reserve: float


def run_of(line_thing: Thing) -> Run | None:
    """Return how the gas of a line runs down; None where a figure for it is not known."""
    found = [line_thing.facts.get(name) for name in RUN_FIGURES]
    usable, draw, lasts = found
    if not (isinstance(usable, Interval) and isinstance(draw, Interval) and isinstance(lasts, Interval)):
        return None
    content = line_thing.facts.get("content")
    kept = max(0.0, _middle(content) - _middle(usable)) if isinstance(content, Interval) else 0.0
    return Run(line_thing, usable, draw, lasts, kept)


def day_length(root: Thing, runs: list[Run]) -> float:
    """Return the hours that the plots span: the working day, or until the last gas is gone."""
    job = root.facts.get("job")
    day = job.facts.get("hours_per_day") if isinstance(job, Thing) else None
    if isinstance(day, Interval) and day.hi > 0.0:
        return day.hi / _HOUR
    ends = [end / _HOUR for run in runs for end in (run.lasts.hi,) if isfinite(end) and end > 0.0]
    return max(ends, default=1.0) * 1.1


def contents_panel(run: Run, hours: float, at: Point, width: float) -> tuple[Element, float]:
    """Return the plot of one line over so many hours with its words below, and the height that it takes."""
    drawn, height = contents_drawing(run, hours, at, width)
    told, taken = paragraph((at[0], at[1] + height), run_words(run, hours), width)
    return group(run_words(run, hours), [*drawn, *told]), height + taken


def contents_drawing(run: Run, hours: float, at: Point, width: float) -> tuple[list[Element], float]:
    """Return the plot of one line over so many hours, without its words, and the height that it takes."""
    axes = _axes(run, hours, (at[0], at[1] + 26), width)
    drawn = [words(at, f"{_capital(run.line.label)}: gas above the reserve", size=13, bold=True)]
    drawn += [*axes.upright("m3 (15 degC, 1 atm)", 0.0), *axes.level("hours of work")]
    drawn += _reserve(run, axes)
    drawn += _falls(run, axes)
    return drawn, 26 + _HEIGHT + _FOOT


def _axes(run: Run, hours: float, at: Point, width: float) -> Axes:
    top = max(run.usable.hi, 1e-9) * 1.05
    reserve = max(min(run.reserve, 0.4 * top), 0.17 * top)
    return Axes(at[0] + _LEFT, at[1], width - _LEFT - 4, _HEIGHT, (0.0, hours), (-reserve, top))


def _reserve(run: Run, axes: Axes) -> Iterator[Element]:
    """Yield what stays in the cylinders: a shaded strip below nothing left."""
    low, high = axes.point(0.0, axes.up[0]), axes.point(axes.across[1], 0.0)
    strip = [low, (low[0], high[1]), high, (high[0], low[1])]
    yield polygon(strip, fill="#e6e6e6")
    yield line((low[0], high[1]), high, stroke_dasharray="2 3", stroke_width="1.4")
    row = (low[1] + high[1]) / 2 + 4
    if run.lasts.lo / _HOUR < 0.6 * axes.across[1]:  # the mark of the end stands on the left
        yield words((high[0] - 5, row), _reserve_words(run), size=11, anchor="end")
    else:
        yield words((low[0] + 5, row), _reserve_words(run), size=11)


def _reserve_words(run: Run) -> str:
    pressure = run.line.facts.get("residual_pressure")
    at = f" at {value_words(pressure)}" if isinstance(pressure, Interval) else ""
    amount = f", about {run.reserve:.2g} m3" if run.reserve > 0.0 else ""
    return f"reserve, stays in{at}{amount}"


def _falls(run: Run, axes: Axes) -> Iterator[Element]:
    """Yield the greatest and the least that may be left: whole and broken line, shaded between."""
    most, least = (_fall(run, axes.across[1], end) for end in ("most", "least"))
    upper, lower = ([axes.point(*p) for p in points] for points in (most, least))
    if most != least:
        corner = [axes.point(most[-1][0], 0.0)] if most[-1][0] > least[-1][0] else []
        yield polygon([*upper, *corner, *reversed(lower)], fill="#999999", fill_opacity="0.25")
        yield polyline(lower, stroke_width="1.8", stroke_dasharray="6 4")
    yield polyline(upper, stroke_width="1.8")
    yield from _gone(run, axes)


def _gone(run: Run, axes: Axes) -> Iterator[Element]:
    """Yield a mark where the gas may be gone first, with the time."""
    first = run.lasts.lo / _HOUR
    if first > axes.across[1]:
        return
    x, y = axes.point(first, 0.0)
    yield polygon([(x, y), (x - 5, y + 9), (x + 5, y + 9)], fill="#111111")
    yield words(
        (axes.left + axes.width, axes.top - 9), f"gone after {run.lasts.text}", size=11, anchor="end", bold=True
    )


def _fall(run: Run, hours: float, end: str) -> list[Point]:
    """Return hours and cubic metres left, from now to the end of the day or to nothing left."""
    start, draw = (run.usable.hi, run.draw.lo) if end == "most" else (run.usable.lo, run.draw.hi)
    gone = start / draw / _HOUR if draw > 0.0 else inf
    if gone <= hours:
        return [(0.0, start), (gone, 0.0)]
    return [(0.0, start), (hours, start - draw * hours * _HOUR)]


def run_words(run: Run, hours: float) -> str:
    """Return in words what the plot shows."""
    lasts, day = run.lasts, f"{shown_number(hours)} h"
    draw = f"drawn at {run.draw.text} on average"
    spread = "" if run.usable.lo == run.usable.hi and run.draw.lo == run.draw.hi else _LINES
    if lasts.lo >= hours * _HOUR:
        left = worked_out(*_left(run, hours), "volume").text
        return f"{run.usable.text} above the reserve, {draw}: after {day} of work {left} are left.{spread}"
    word = "may reach" if lasts.hi > hours * _HOUR else "reaches"
    return f"{run.usable.text} above the reserve, {draw}: {word} the reserve after {lasts.text} of work.{spread}"


_LINES = " Whole line: the most that may remain; broken line: the least."


def _left(run: Run, hours: float) -> tuple[float, float]:
    spent = hours * _HOUR
    return max(0.0, run.usable.lo - run.draw.hi * spent), max(0.0, run.usable.hi - run.draw.lo * spent)


def _middle(value: Interval) -> float:
    return (value.lo + value.hi) / 2.0


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
