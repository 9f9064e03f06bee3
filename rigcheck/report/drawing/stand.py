"""The picture of what stands where: cylinders on the trolley and off it, seen from the front, with the lean."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import asin, cos, degrees, radians, sin
from xml.etree.ElementTree import Element

from msgspec import Struct

from rigcheck.quantity.interval import Interval
from rigcheck.report.drawing.canvas import Canvas
from rigcheck.report.drawing.cylinder_shape import HALF, TALLEST, cylinder_shapes, drawn_height, lean_of
from rigcheck.report.drawing.frame import Frame
from rigcheck.report.drawing.gas_colours import gas_of
from rigcheck.report.drawing.svg import Point, line, polygon, polyline
from rigcheck.report.drawing.symbols import INK, ring
from rigcheck.report.drawing.tracks import Run, Side
from rigcheck.rig.thing import Rig, Thing

__all__ = ["Standing", "draw_standing", "slots_of", "standing_of"]

_LEVEL = 7.0  # between two pipes that lead away one above the other
_WIDEST_SLOT = 150.0
_MOST_LEAN = 25.0  # degrees; more is told in words only
_MOST_RISE = 50.0  # how far the other end of a leaning trolley comes up at the most
_PLATFORM = 12.0  # above the floor


class Standing(Struct, frozen=True):
    """One cylinder of the picture; `slot` counts from the middle outwards."""

    cylinder: Thing
    run: Run
    slot: int
    on_trolley: bool


def standing_of(rig: Rig, runs: Sequence[Run]) -> tuple[Standing, ...]:
    """Return the cylinders that stand at the beginning of the lines, the outermost of each side first."""
    trolley = bool(rig.root.facts.get("trolley"))
    return (*_of_side(runs, "left", trolley), *_of_side(runs, "right", trolley))


def _of_side(runs: Sequence[Run], side: Side, trolley: bool) -> Iterator[Standing]:
    found = [(cylinder, run) for run in runs if run.side == side for cylinder in run.sources]
    carried = [trolley and run.line.facts.get("stands") == side for _, run in found]
    kept = 1 if trolley and not any(carried) else 0  # an empty place on the trolley
    for place, ((cylinder, run), on) in enumerate(zip(found, carried, strict=True)):
        yield Standing(cylinder, run, len(found) - 1 - place + kept, on)


def slots_of(rig: Rig, standing: Sequence[Standing]) -> dict[Side, int]:
    """Return how many places each side of the picture has."""
    least = 1 if rig.root.facts.get("trolley") else 0
    sides: tuple[Side, Side] = ("left", "right")
    return {side: max([least, *(one.slot + 1 for one in standing if one.run.side == side)]) for side in sides}


def draw_standing(
    canvas: Canvas, frame: Frame, standing: Sequence[Standing], top: float
) -> tuple[float, dict[int, list[Point]]]:
    """Draw the picture; return its lower edge and, by the id of a cylinder, where its pipe runs to its track."""
    picture = _Picture(canvas, frame, standing, top)
    picture.floor_line()
    picture.trolley()
    for one in standing:
        picture.cylinder(one)
    picture.trolley_labels()
    return picture.lower, picture.pipes


class _Picture:
    def __init__(self, canvas: Canvas, frame: Frame, standing: Sequence[Standing], top: float) -> None:
        self.canvas, self.frame, self.top = canvas, frame, top
        self.slots = slots_of(canvas.rig, standing)
        self.trolleys: tuple[Thing, ...] = canvas.rig.root.facts.get("trolley") or ()
        room = frame.inner("right") - frame.inner("left")
        self.slot = min(_WIDEST_SLOT, room / max(1, sum(self.slots.values())))
        spread = (self.slots["left"] - self.slots["right"]) * self.slot / 2
        self.middle = (frame.inner("left") + frame.inner("right")) / 2 + spread
        self.reach = {side: 19 + HALF + 30 * _last_slot(standing, side) for side in self.slots}
        self.lean = self._lean()
        rise = sum(self.reach.values()) * sin(radians(self.lean))
        self.floor = top + max(self.slots.values()) * _LEVEL + TALLEST + 34 + rise
        self.label_top = self.floor + 10
        self.lower = self.label_top
        self.pipes: dict[int, list[Point]] = {}
        self.groups: list[Element] = []

    def _lean(self) -> float:
        """Return how far the trolley is drawn to lean, in degrees: as stated, as far as there is room."""
        most = min(_MOST_LEAN, degrees(asin(min(1.0, _MOST_RISE / sum(self.reach.values())))))
        return min(most, self._stated_lean())

    def _stated_lean(self) -> float:
        """Return the lean that is stated, in degrees; upright where it is not known."""
        tilt = self.trolleys[0].facts.get("tilt") if self.trolleys else None
        return abs(tilt.lo + tilt.hi) / 2 if isinstance(tilt, Interval) else 0.0

    @property
    def _pivot(self) -> float:
        """Where the trolley stands when it leans to the right."""
        return self.middle + self.reach["right"]

    def turned(self, at: Point) -> Point:
        """Return where a point of the trolley comes to lie when it leans."""
        pivot, angle = (self._pivot, self.floor), radians(self.lean)
        x, y = at[0] - pivot[0], at[1] - pivot[1]
        return pivot[0] + x * cos(angle) - y * sin(angle), pivot[1] + x * sin(angle) + y * cos(angle)

    def leaning(self, shapes: list[Element]) -> list[Element]:
        """Return shapes of the trolley as they lie when it leans."""
        made = Element("g", {"transform": f"rotate({self.lean:.2f} {self._pivot:.2f} {self.floor:.2f})"})
        made.extend(shapes)
        return [made]

    def floor_line(self) -> None:
        """Draw the floor that everything stands on."""
        ends = (self.frame.inner("left"), self.floor), (self.frame.inner("right"), self.floor)
        self.canvas.under.append(line(*ends, stroke="#666666", stroke_width="1.4"))

    # --- the trolley ---

    def trolley(self) -> None:
        """Draw the first trolley, and where it leans a plumb line on the side from which it leans away."""
        if not self.trolleys:
            return
        self.groups = [self.canvas.thing(self.trolleys[0], self.leaning(self._frame_shapes()))]
        self.groups += [self.canvas.thing(one, []) for one in self.trolleys[1:]]
        if self.lean:
            x = self.middle - self.reach["left"] - 6
            plumb = line((x, self.floor), (x, self.floor - TALLEST - 30), stroke=INK, stroke_dasharray="2 3")
            self.canvas.over.append(plumb)

    def trolley_labels(self) -> None:
        """Write what is told of the trolleys, or that there is none, under the labels of the cylinders."""
        left, width = self.frame.inner("left"), self.frame.inner("right") - self.frame.inner("left")
        for one, group in zip(self.trolleys, self.groups, strict=True):
            less = one is self.trolleys[0] and self.lean < self._stated_lean()
            label = self.canvas.label(one, width, "middle", ["drawn less steep than it stands"] if less else ())
            self.canvas.write(label, left, self.lower, group)
            self.lower += label.height
        if not self.trolleys:
            label = self.canvas.text("No trolley is described.", width, anchor="middle")
            self.canvas.write(label, left, self.lower)
            self.lower += label.height

    def _frame_shapes(self) -> list[Element]:
        left, right, low = self.middle - self.reach["left"], self._pivot, self.floor - _PLATFORM
        high = low - TALLEST - 6
        uprights = polyline([(left + 5, low), (left + 5, high), (right - 5, high), (right - 5, low)], stroke="#777777")
        uprights.set("stroke-width", "3")
        platform = polygon([(left, low), (right, low), (right, low + 4), (left, low + 4)], fill="#777777")
        wheels = [ring((x, self.floor - 8), 8) for x in (left - 4, right + 4)]
        hubs = [ring((x, self.floor - 8), 2, INK) for x in (left - 4, right + 4)]
        return [uprights, platform, *wheels, *hubs]

    # --- cylinders ---

    def cylinder(self, one: Standing) -> None:
        """Draw a cylinder, its label under the floor, and keep the way of its pipe."""
        way = -1 if one.run.side == "left" else 1
        centre = self.middle + way * (one.slot + 0.5) * self.slot
        tips = lean_of(one.cylinder, (centre, self.floor), way, self.slot)
        on_trolley = one.on_trolley and tips is None  # one that is not upright is drawn beside its place
        foot = (self.middle + way * (16 + 30 * one.slot) if on_trolley else centre, self.floor)
        if on_trolley:
            foot = (foot[0], foot[1] - _PLATFORM)
        shapes = cylinder_shapes(one.cylinder, gas_of(one.run.line), foot)
        valve: Point = (foot[0], foot[1] - drawn_height(one.cylinder) - 9)
        if tips is not None:
            shapes, valve = tips.group(shapes), tips.turned(valve)
        elif on_trolley:
            shapes, valve, foot = self.leaning(shapes), self.turned(valve), self.turned(foot)
        group = self.canvas.thing(one.cylinder, shapes)
        self._label(one, group, centre, foot)
        self.pipes[id(one.cylinder)] = self._pipe(one, valve)

    def _label(self, one: Standing, group: Element, centre: float, foot: Point) -> None:
        label = self.canvas.label(one.cylinder, self.slot - 6, "middle")
        leader = line((foot[0], self.floor + 1), (centre, self.label_top), stroke="#777777", stroke_dasharray="1 2")
        self.canvas.under.insert(0, leader)
        box = self.canvas.write(label, centre - label.width / 2, self.label_top, group)
        self.lower = max(self.lower, box.top + box.height)

    def _pipe(self, one: Standing, valve: Point) -> list[Point]:
        """Return the way from a valve: up, out over the pipes of those that stand further out, to its track."""
        level = self.top + 4 + one.slot * _LEVEL
        track = self.frame.x_of(one.run, one.cylinder)
        return [valve, (valve[0], level), (track, level)]


def _last_slot(standing: Sequence[Standing], side: Side) -> int:
    """Return the outermost place that is taken on the trolley on a side."""
    return max([0, *(one.slot for one in standing if one.on_trolley and one.run.side == side)])
