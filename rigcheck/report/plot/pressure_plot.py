"""Pressure along one line as it is set, part by part; what is wanted as marks, ratings and the code's limit beside."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, radians, sin
from xml.etree.ElementTree import Element

from rigcheck.condition.wording import listed_words
from rigcheck.quantity.interval import Interval
from rigcheck.report.drawing.label import Box
from rigcheck.report.drawing.letter_widths import text_width
from rigcheck.report.drawing.svg import Point, line, polygon, polyline, words
from rigcheck.report.drawing.symbols import ring
from rigcheck.report.plot.axes import SMALL, Axes
from rigcheck.report.plot.free_places import FreePlaces
from rigcheck.report.plot.plot import WIDTH, Plot
from rigcheck.report.plot.pressure_course import Course, Station

__all__ = ["course_words", "pressure_plot"]

_BAR = 1e5
_LEFT, _TOP, _HEIGHT = 40.0, 40.0, 150.0
_TILT = 38.0  # degrees, of the names of the parts
_FAR = 1.5  # times the highest pressure; a bound that lies above it is told in words, not drawn
_LEAST_SPAN = 0.05  # of the highest pressure: a smaller loss is not blown up to the height of the plot
_INK = "#111111"


def pressure_plot(course: Course) -> Plot:
    """Return the plot of one line to its torches."""
    return _Drawn(course).plot()


class _Drawn:
    def __init__(self, course: Course) -> None:
        self.course, self.axes = course, _axes(course)
        axes = self.axes
        self.places = FreePlaces(Box(axes.left + 2, axes.top, axes.width - 2, axes.height - 1))
        self.shapes: list[Element] = []

    def plot(self) -> Plot:
        course, axes = self.course, self.axes
        title = course.name[:1].upper() + course.name[1:]
        self.shapes += [words((0.0, 12.0), title, size=12, bold=True), *axes.upright("bar (gauge)", axes.up[0])]
        self.shapes += _slots(course, axes)
        self._bounds()
        self._given()
        self._wanted()
        self._names()
        foot = _names_height(course)
        return Plot(
            f"Pressure while the torch burns: {course.name}", course_words(course), tuple(self.shapes), axes.foot + foot
        )

    # --- shapes: all before any words, so that words find what is free ---

    def _line(self, start: Point, end: Point, **style: str) -> None:
        self.shapes.append(line(start, end, **style))
        self.places.through((start, end))

    def _bounds(self) -> None:
        for _, bound in self.course.limits:
            if bound.hi / _BAR <= self.axes.up[1]:
                start, end = (self.axes.point(x, bound.hi / _BAR) for x in self.axes.across)
                self._line(start, end, stroke_width="1.6", stroke_dasharray="9 3 2 3")
        for number, station in enumerate(self.course.stations):
            if station.rating is not None and station.rating.hi / _BAR <= self.axes.up[1]:
                start, end = (self.axes.point(x, station.rating.hi / _BAR) for x in (number + 0.1, number + 0.9))
                self._line(start, end, stroke_width="2.4")
                for foot in (start, end):
                    self._line(foot, (foot[0], foot[1] + 5), stroke_width="2.4")

    def _given(self) -> None:
        """Draw the most and the least that stands along the line: whole and broken line, shaded between."""
        for walk in _walks(self.course):
            upper = [self.axes.point(x, most) for x, _, most in walk]
            lower = [self.axes.point(x, least) for x, least, _ in walk]
            if upper != lower:
                self.shapes.append(polygon([*upper, *reversed(lower)], fill="#999999", fill_opacity="0.25"))
                self.shapes.append(polyline(lower, stroke_width="1.8", stroke_dasharray="6 4"))
                self.places.through(lower)
            self.shapes.append(polyline(upper, stroke_width="1.8"))
            self.places.through(upper)
        for number, station in enumerate(self.course.stations):
            if station.sets and station.goes_out is not None:
                self._setting(number, station, station.goes_out)

    def _setting(self, number: int, station: Station, setting: Interval) -> None:
        """Mark what a regulator is set to; an open mark where two statements of it do not agree."""
        fill = "#ffffff" if station.sureness == "disputed" else _INK
        for end in dict.fromkeys((setting.lo, setting.hi)):
            x, y = self.axes.point(number + 0.5, end / _BAR)
            self.shapes.append(ring((x, y), 3.6, fill, _INK))
            self.places.boxes.append(Box(x - 4, y - 4, 8, 8))

    def _wanted(self) -> None:
        for number, wanted in _wants(self.course):
            for end in dict.fromkeys((wanted.lo, wanted.hi)):
                start, stop = (self.axes.point(x, end / _BAR) for x in (number + 0.2, number + 0.8))
                self._line(start, stop, stroke_width="3.4")

    # --- words ---

    def _names(self) -> None:
        for name, bound in self.course.limits:
            self._bound_words(name, bound)
        for number, station in enumerate(self.course.stations):
            if station.sets and station.goes_out is not None:
                self._beside(f"set to {station.goes_out.text}", number + 0.5, station.goes_out)
        last = len(self.course.stations)
        if self.course.arrives is not None:
            self._beside(f"{self.course.arrives.text} arrives", last + 0.5, self.course.arrives)
        if self.course.wanted is not None:
            self._beside(f"{self.course.wanted.text} wanted", last + 0.5, self.course.wanted)

    def _bound_words(self, name: str, bound: Interval) -> None:
        told = f"{name}: {bound.text}"
        if bound.hi / _BAR > self.axes.up[1]:
            told = f"{told}, above this plot"
            self.shapes.append(words((self.axes.right, self.axes.top - 9), told, size=SMALL, anchor="end"))
            return
        _, y = self.axes.point(0.0, bound.hi / _BAR)
        steps = [self.axes.left + 6 + n * 12 for n in range(25)]
        self._add(self.places.write(told, (((x, y + d), "start") for d in (-5, 13) for x in steps)))

    def _beside(self, told: str, at: float, value: Interval) -> None:
        """Write words above or below a value, as near as they are free; nowhere else, where they would mislead."""
        x, high = self.axes.point(at, value.hi / _BAR)
        _, low = self.axes.point(at, value.lo / _BAR)
        width, left, right = text_width(told, SMALL), self.axes.left + 5, self.axes.right - 4
        across = [(x + 7, "start"), (x, "middle"), (x - 7, "end")]
        across += [(right, "end")] if right - width < x else [(left, "start")] if left + width > x else []
        rows = [y for n in range(7) for y in (high - 7 - 4 * n, low + 15 + 4 * n)]
        self._add(self.places.write(told, (((at_x, y), anchor) for y in rows for at_x, anchor in across)))

    def _add(self, made: Element | None) -> None:
        if made is not None:
            self.shapes.append(made)


# --- scales ---


def _axes(course: Course) -> Axes:
    """Return axes from the lowest to the highest of what is shown, with the bounds that lie near."""
    values = [end / _BAR for span in _shown(course) for end in (span.lo, span.hi)] or [0.01]
    bounds = [span.hi / _BAR for _, span in course.limits]
    bounds += [one.rating.hi / _BAR for one in course.stations if one.rating is not None]
    values += [one for one in bounds if one <= _FAR * max(values)]
    low, high = min(values), max(values)
    air = max(0.22 * (high - low), _LEAST_SPAN * high, 0.001)
    return Axes(
        _LEFT, _TOP, WIDTH - _LEFT - 6, _HEIGHT, (0.0, len(course.stations) + 1.0), (max(0.0, low - air), high + air)
    )


def _shown(course: Course) -> Iterator[Interval]:
    yield from (station.goes_out for station in course.stations if station.goes_out is not None)
    yield from (wanted for _, wanted in _wants(course))


def _wants(course: Course) -> Iterator[tuple[int, Interval]]:
    """Yield what is wanted, with the number of its slot: behind each regulator, and at the torch."""
    for number, station in enumerate(course.stations):
        if station.needed is not None:
            yield number, station.needed
    if course.wanted is not None:
        yield len(course.stations), course.wanted


def _walks(course: Course) -> Iterator[list[tuple[float, float, float]]]:
    """Yield the stretches along which the pressure is known: slot, least and most (bar)."""
    walk: list[tuple[float, float, float]] = []
    for number, station in enumerate(course.stations):
        span = station.goes_out
        if span is None:
            if walk:
                yield walk
            walk = []
            continue
        ends = span.lo / _BAR, span.hi / _BAR
        if station.sets:
            walk += [(number + 0.5, *walk[-1][1:])] if walk else []
            walk.append((number + 0.5, *ends))
        walk.append((number + 1.0, *ends))
    if walk:
        yield [*walk, (len(course.stations) + 0.5, *walk[-1][1:])]


# --- names along the axis ---


def _slots(course: Course, axes: Axes) -> Iterator[Element]:
    """Yield a slot for each part in the order of the flow, with its name along the tilted axis."""
    names = [*(station.name for station in course.stations), "torch"]
    for number, name in enumerate(names):
        edge, _ = axes.point(number, axes.up[0])
        yield line((edge, axes.foot), (edge, axes.foot + 4))
        x, _ = axes.point(number + 0.5, axes.up[0])
        made = words((x + 3, axes.foot + 11), name, size=SMALL, anchor="end")
        made.set("transform", f"rotate({-_TILT:g} {x + 3:.2f} {axes.foot + 11:.2f})")
        yield made
    yield line((axes.right, axes.foot), (axes.right, axes.foot + 4))
    yield line((axes.left, axes.foot), (axes.right, axes.foot))


def _names_height(course: Course) -> float:
    names = [*(station.name for station in course.stations), "torch"]
    longest = max(text_width(name, SMALL) for name in names)
    return 15 + longest * sin(radians(_TILT)) + SMALL * cos(radians(_TILT)) * 0.3


# --- in words ---


def course_words(course: Course) -> str:
    """Return in words what the plot shows: settings, what arrives and is wanted, ratings, limits, the supply."""
    told = [f"To {listed_words(list(course.torches), 'and')} alike."] if len(course.torches) > 1 else []
    told += [*_setting_words(course), *_arrival_words(course)]
    told += [f"Before them: {course.supply}."] if course.supply else []
    rated = ", ".join(f"{s.name} {s.rating.text}" for s in course.stations if s.rating)
    told += [f"Rated, bars with feet where they lie within the plot: {rated}."] if rated else []
    told += [f"{name[:1].upper()}{name[1:]}: {bound.text}." for name, bound in course.limits]
    return " ".join(told)


def _setting_words(course: Course) -> Iterator[str]:
    for station in course.stations:
        if station.sets and station.goes_out is not None:
            split = " (two statements that do not agree: open marks)" if station.sureness == "disputed" else ""
            needed = f"; thick bar: {station.needed.text} needed there" if station.needed is not None else ""
            yield f"The {station.name} is set to {station.goes_out.text}{split}{needed}."


def _arrival_words(course: Course) -> Iterator[str]:
    whose = "each torch, alike," if len(course.torches) > 1 else "the torch"
    wanted = (
        f"its nozzle wants {course.wanted.text}" if course.wanted is not None else "what its nozzle wants is not known"
    )
    if course.arrives is not None:
        yield f"At full flow {course.arrives.text} arrives at {whose} of which {wanted}: the thick bar there."
        if course.arrives.lo != course.arrives.hi:
            yield "Whole line: the most; broken line: the least."
    else:
        stop = next(one.name for one in course.stations if one.goes_out is None)
        yield f"What stands behind the {stop} is not known, since what it loses is not; {wanted}."
