"""Pressure along one line from regulator to nozzle, part by part, with ratings and the code's limit drawn in."""

from __future__ import annotations

from collections.abc import Iterator
from xml.etree.ElementTree import Element

from rigcheck.quantity.interval import Interval
from rigcheck.report.drawing.svg import Point, group, line, paragraph, polygon, polyline, words
from rigcheck.report.plot.axes import Axes
from rigcheck.report.plot.pressure_course import Course, Station

__all__ = ["course_words", "pressure_drawing", "pressure_panel"]

_BAR = 1e5
_LEFT, _HEIGHT, _FOOT = 44.0, 150.0, 24.0
_FAR = 2.0  # times the highest pressure; a limit that lies above it is told in words, not drawn
_WHOLE = {"stroke_width": "1.8"}
_BROKEN = {"stroke_width": "1.8", "stroke_dasharray": "6 4"}


def pressure_panel(course: Course, at: Point, width: float) -> tuple[Element, float]:
    """Return the plot of one line to one torch with its words below, and the height that it takes."""
    drawn, height = pressure_drawing(course, at, width)
    told, taken = paragraph((at[0], at[1] + height), course_words(course), width)
    return group(course_words(course), [*drawn, *told]), height + taken


def pressure_drawing(course: Course, at: Point, width: float) -> tuple[list[Element], float]:
    """Return the plot of one line to one torch, without its words, and the height that it takes."""
    axes = _axes(course, (at[0] + _LEFT, at[1] + 26), width - _LEFT - 4)
    drawn = [words(at, course.name[:1].upper() + course.name[1:], size=13, bold=True)]
    drawn += [*axes.upright("bar (gauge)", 0.0), *_slots(course, axes), *_ratings(course, axes)]
    drawn += [*_limits(course, axes), *_needed(course, axes), *_marks(course, axes)]
    return drawn, 26 + _HEIGHT + _FOOT


def _axes(course: Course, at: Point, width: float) -> Axes:
    """Return axes as high as the pressures and as the limits that lie near them."""
    highest = _highest(course)
    near = [bound for bound in _bounds(course) if bound <= _FAR * highest]
    return Axes(at[0], at[1], width, _HEIGHT, (0.0, float(len(course.stations))), (0.0, max([highest, *near]) * 1.18))


def _highest(course: Course) -> float:
    ends = [end for station in course.stations for end in (station.comes_in, station.goes_out)]
    ends += [course.arrives, course.wanted, *(setting for _, setting in course.settings)]
    return max([end.hi / _BAR for end in ends if end is not None] + [0.01])


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


def _needed(course: Course, axes: Axes) -> Iterator[Element]:
    """Yield the greatest and the least pressure that it takes: whole and broken line, shaded between."""
    upper, lower = ([axes.point(x, p) for x, p in _walk(course, end)] for end in ("hi", "lo"))
    if upper != lower:
        yield polygon([*upper, *reversed(lower)], fill="#999999", fill_opacity="0.25")
        yield polyline(lower, **_BROKEN)
    yield polyline(upper, **_WHOLE)


def _walk(course: Course, end: str) -> list[Point]:
    """Return slots and bars along the line, as far as pressures are known."""
    points: list[Point] = []
    for number, station in enumerate(course.stations):
        for x, span in ((number, station.comes_in), (number + 1, station.goes_out)):
            if span is not None:
                points.append((float(x), getattr(span, end) / _BAR))
    return list(dict.fromkeys(points))


def _marks(course: Course, axes: Axes) -> Iterator[Element]:
    """Yield what is set at each regulator, and what arrives at the torch with that."""
    last = axes.across[1]
    for number, setting in course.settings:
        yield from _dots(setting, (number, number + 1.0), axes)
        yield _set_label(course.stations[number], setting, number, axes)
    if course.arrives is not None:
        yield from _dots(course.arrives, (last - 1.0, last), axes)
        yield _below("arrives", course.arrives, last - 0.5, axes)


def _dots(span: Interval, slot: Point, axes: Axes) -> Iterator[Element]:
    for end in dict.fromkeys((span.lo, span.hi)):
        start, stop = (axes.point(x, end / _BAR) for x in slot)
        yield line(start, stop, stroke_width="1.8", stroke_dasharray="2 2.5")


def _below(name: str, span: Interval, slot: float, axes: Axes) -> Element:
    x, y = axes.point(slot, span.lo / _BAR)
    return words((x, y + 13), name, size=11, anchor="middle")


def _set_label(station: Station, setting: Interval, number: int, axes: Axes) -> Element:
    """Return the word at a setting: where a line runs through the regulator, on the other side of the dots."""
    if station.comes_in is None or station.goes_out is None:
        return _below("set", setting, number + 0.5, axes)
    if station.goes_out.hi > setting.hi:
        return _below("set", setting, number + 0.8, axes)
    x, y = axes.point(number + 0.8, setting.hi / _BAR)
    return words((x, y - 5), "set", size=11, anchor="middle")


def course_words(course: Course) -> str:
    """Return in words what the plot shows: the parts by number, ratings, limits, the supply."""
    parts = ", ".join(f"{n} {station.name}" for n, station in enumerate(course.stations, start=1))
    told = [f"Parts in the order of the flow: {parts}."]
    told += [f"Before them: {course.supply}."] if course.supply else []
    told += [*_pressure_words(course)]
    rated = ", ".join(f"{n}: {s.rating.text}" for n, s in enumerate(course.stations, start=1) if s.rating)
    told += [f"Ratings by number, bars with feet where they lie within the plot: {rated}."] if rated else []
    told += [f"{name[:1].upper()}{name[1:]}: {bound.text}." for name, bound in course.limits]
    return " ".join(told)


def _pressure_words(course: Course) -> Iterator[str]:
    known = [one for s in course.stations for one in (s.comes_in, s.goes_out) if one]
    first = course.stations[0].goes_out
    wanted = f"For the nozzle to get {course.wanted.text}" if course.wanted else ""
    if wanted and first is not None:
        which = "first regulator" if len(course.settings) > 1 else "regulator"
        yield f"{wanted}, the {which} must give {first.text} while gas flows:"
    elif wanted:
        yield f"{wanted}, this is what each part must be given, as far as it is known:"
    spread = any(one.lo != one.hi for one in known)
    yield "between the whole line, the most, and the broken line, the least." if spread else "the whole line."
    if course.settings:
        arrives = f"; {course.arrives.text} arrives at the torch" if course.arrives else ""
        yield f"{_set_words(course)}{arrives}: the dotted marks."


def _set_words(course: Course) -> str:
    if len(course.settings) == 1:
        return f"It is set to {course.settings[0][1].text}"
    told = [f"{course.stations[number].name} (part {number + 1})" for number, _ in course.settings]
    values = [text.text for _, text in course.settings]
    first, *others = (f"{name} is set to {value}" for name, value in zip(told, values, strict=True))
    return ", ".join([first[:1].upper() + first[1:], *(one.replace(" is set to ", " to ") for one in others)])
