"""Pressure along one line from cylinder to nozzle, part by part, with ratings and the code's limit drawn in."""

from __future__ import annotations

from collections.abc import Iterator
from xml.etree.ElementTree import Element

from rigcheck.report.axes import Axes
from rigcheck.report.course import Course
from rigcheck.report.svg import Point, group, line, paragraph, polygon, polyline, words

__all__ = ["pressure_panel"]

_BAR = 1e5
_LEFT, _HEIGHT, _FOOT = 56.0, 150.0, 24.0
_FAR = 2.0  # times the highest pressure; a limit that lies above it is told in words, not drawn


def pressure_panel(course: Course, at: Point, width: float) -> tuple[Element, float]:
    """Return the plot of one line, and the height that it takes."""
    label = course.line.label
    axes = _axes(course, (at[0] + _LEFT, at[1] + 24), width - _LEFT - 8)
    drawn = [words(at, f"{label[:1].upper()}{label[1:]}: pressure while gas flows", size=13, bold=True)]
    drawn += axes.upright("bar gauge", 0.0)
    drawn += _slots(course, axes)
    drawn += _ratings(course, axes)
    drawn += _limits(course, axes)
    drawn += _pressures(course, axes)
    told, taken = paragraph((at[0], axes.top + _HEIGHT + _FOOT), course_words(course), width)
    return group(course_words(course), [*drawn, *told]), 24 + _HEIGHT + _FOOT + taken


def _axes(course: Course, at: Point, width: float) -> Axes:
    """Return axes as high as the pressures and as the limits that lie near them."""
    highest = _highest(course)
    near = [high for high in _bounds(course) if high <= _FAR * highest]
    return Axes(at[0], at[1], width, _HEIGHT, (0.0, float(len(course.stations))), (0.0, max([highest, *near]) * 1.15))


def _highest(course: Course) -> float:
    spans = [
        span for station in course.stations for span in (station.comes_in, station.goes_out, course.wanted) if span
    ]
    return max([span.hi / _BAR for span in spans] + [0.01])


def _bounds(course: Course) -> Iterator[float]:
    yield from (bound.hi / _BAR for _, bound in course.limits)
    yield from (station.rating.hi / _BAR for station in course.stations if station.rating)


def _slots(course: Course, axes: Axes) -> Iterator[Element]:
    """Yield a slot for each part in the order of the flow, with its number."""
    foot = axes.top + axes.height
    for number in range(len(course.stations) + 1):
        x, _ = axes.point(number, 0.0)
        yield line((x, axes.top), (x, foot), stroke="#dddddd", stroke_width="0.7")
    for number, _ in enumerate(course.stations, start=1):
        x, _ = axes.point(number - 0.5, 0.0)
        yield words((x, foot + 16), str(number), size=11, anchor="middle")
    yield line((axes.left, foot), (axes.left + axes.width, foot))


def _ratings(course: Course, axes: Axes) -> Iterator[Element]:
    """Yield the rating of each part as a bar with feet over its slot."""
    for number, station in enumerate(course.stations):
        if station.rating is None or station.rating.hi / _BAR > axes.up[1]:
            continue
        start, end = (axes.point(x, station.rating.hi / _BAR) for x in (number + 0.08, number + 0.92))
        yield line(start, end, stroke_width="2.4")
        yield from (line(foot, (foot[0], foot[1] + 5), stroke_width="2.4") for foot in (start, end))


def _limits(course: Course, axes: Axes) -> Iterator[Element]:
    for name, bound in course.limits:
        if bound.hi / _BAR > axes.up[1]:
            continue
        start, end = (axes.point(x, bound.hi / _BAR) for x in axes.across)
        yield line(start, end, stroke_width="1.6", stroke_dasharray="9 3 2 3")
        yield words((end[0] - 4, end[1] - 5), f"{name}: {bound.text}", size=11, anchor="end")


def _pressures(course: Course, axes: Axes) -> Iterator[Element]:
    """Yield the greatest and the least pressure: whole and broken line, shaded between."""
    upper, lower = ([axes.point(x, p) for x, p in _walk(course, end)] for end in ("hi", "lo"))
    if upper != lower:
        yield polygon([*upper, *reversed(lower)], fill="#999999", fill_opacity="0.25")
        yield polyline(lower, stroke_width="1.8", stroke_dasharray="6 4")
    yield polyline(upper, stroke_width="1.8")
    if course.wanted is not None:
        start, end = (axes.point(axes.across[1] - x, course.wanted.lo / _BAR) for x in (0.9, 0.0))
        yield line(start, end, stroke_width="1.4", stroke_dasharray="2 3")
        yield words((start[0], start[1] - 4), "wanted", size=11)


def _walk(course: Course, end: str) -> list[Point]:
    """Return slots and bars along the line, as far as pressures are known."""
    points: list[Point] = []
    for number, station in enumerate(course.stations):
        for x, span in ((number, station.comes_in), (number + 1, station.goes_out)):
            if span is not None:
                points.append((float(x), getattr(span, end) / _BAR))
    return list(dict.fromkeys(points))


def course_words(course: Course) -> str:
    """Return in words what the plot shows: the parts by number, ratings, limits, the supply."""
    parts = ", ".join(f"{n} {station.name}" for n, station in enumerate(course.stations, start=1))
    told = [f"Parts in the order of the flow: {parts}."]
    told += [f"Before them: {course.supply}."] if course.supply else []
    told += [_ends(course)]
    rated = ", ".join(f"{n} {s.rating.text}" for n, s in enumerate(course.stations, start=1) if s.rating)
    told += [f"Ratings (bars with feet, where they lie within the plot): {rated}."] if rated else []
    told += [f"{name}: {bound.text}." for name, bound in course.limits]
    if any(span and span.lo != span.hi for s in course.stations for span in (s.comes_in, s.goes_out)):
        told += ["Whole line: the greatest pressure; broken line: the least."]
    return " ".join(told)


def _ends(course: Course) -> str:
    known = [span for s in course.stations for span in (s.comes_in, s.goes_out) if span]
    wanted = f"; the nozzle's table wants {course.wanted.text}" if course.wanted else ""
    return f"From {known[0].text} to {known[-1].text}{wanted}."
