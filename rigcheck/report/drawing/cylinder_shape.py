"""The shape of a cylinder: tall or squat, its shoulder in the stated colour, held by a strap, upright or not."""

from __future__ import annotations

from math import asin, cos, degrees, radians, sin, sqrt
from xml.etree.ElementTree import Element

from msgspec import Struct

from rigcheck.facts.topics.cylinder_contents import LIQUEFIED
from rigcheck.quantity.interval import Interval
from rigcheck.report.drawing.gas_colours import NO_COLOUR
from rigcheck.report.drawing.letter_widths import text_width
from rigcheck.report.drawing.svg import Point, polygon, words
from rigcheck.report.drawing.svg import line as stroke_line
from rigcheck.report.drawing.symbols import INK
from rigcheck.report.safety_colours import PAINTS
from rigcheck.rig.thing import Thing

__all__ = ["HALF", "TALLEST", "Lean", "cylinder_shapes", "drawn_height", "half_width", "lean_of"]

TALLEST, HALF = 100.0, 13.0  # of a drawn cylinder: body without its valve, and half its width
_SQUAT_HALF, _SQUAT = 16.0, 0.72  # of one that holds liquid: as wide as a place on a trolley, and not as tall
_HIGH_PRESSURE = ("carbon-dioxide",)  # liquid too, but at a pressure that takes a narrow cylinder
_LYING = 70.0  # degrees from vertical; from here on it is drawn on its side
_NOT_UPRIGHT = 25.0  # degrees; how one is drawn that is not upright, of which nobody says how far it leans


class Lean(Struct, frozen=True):
    """How far a cylinder is drawn from vertical, in degrees, about the corner that it tips over."""

    drawn: float
    corner: Point

    def turned(self, at: Point) -> Point:
        """Return where a point of the upright cylinder comes to lie."""
        angle = radians(self.drawn)
        x, y = at[0] - self.corner[0], at[1] - self.corner[1]
        return self.corner[0] + x * cos(angle) - y * sin(angle), self.corner[1] + x * sin(angle) + y * cos(angle)

    def group(self, shapes: list[Element]) -> list[Element]:
        """Return shapes as they lie."""
        made = Element("g", {"transform": f"rotate({self.drawn:.2f} {self.corner[0]:.2f} {self.corner[1]:.2f})"})
        made.extend(shapes)
        return [made]


def lean_of(cylinder: Thing, foot: Point, way: int, room: float) -> Lean | None:
    """Return how a cylinder leans that is said not to be upright, outwards (`way`), within `room` across; else None."""
    if cylinder.facts.get("upright") is not False:
        return None
    stated = cylinder.facts.get("lean")
    angle = (stated.lo + stated.hi) / 2 if isinstance(stated, Interval) else _NOT_UPRIGHT
    height, half = drawn_height(cylinder), half_width(cylinder)
    if angle >= _LYING and height + 9 <= room:
        angle = 90.0
    else:
        angle = min(angle, _LYING, degrees(asin(min(1.0, max(0.1, (room - 2 * half) / height)))))
    return Lean(way * angle, (foot[0] + way * half, foot[1]))


def _is_squat(cylinder: Thing) -> bool:
    """Return whether it holds a gas that lies liquid in it: such cylinders are wide for their height."""
    own = cylinder.facts.get("gas")
    gas = str(own or (cylinder.parent.facts.get("gas") if cylinder.parent else ""))
    return gas in LIQUEFIED and gas not in _HIGH_PRESSURE


def half_width(cylinder: Thing) -> float:
    """Return half of how wide a cylinder is drawn."""
    return _SQUAT_HALF if _is_squat(cylinder) else HALF


def drawn_height(cylinder: Thing) -> float:
    """Return how tall a cylinder is drawn: by its water capacity, 50 litres being the tallest."""
    capacity = cylinder.facts.get("water_capacity")
    tallest = TALLEST * (_SQUAT if _is_squat(cylinder) else 1.0)
    if not isinstance(capacity, Interval):
        return tallest
    litres = 1000 * (capacity.lo + capacity.hi) / 2
    return 56 + (tallest - 56) * min(1.0, sqrt(max(0.0, litres) / 50))


def cylinder_shapes(cylinder: Thing, gas: str, foot: Point) -> list[Element]:
    """Return the shapes of an upright cylinder that stands on `foot`."""
    x, low = foot
    height, half = drawn_height(cylinder), half_width(cylinder)
    high = low - height
    left, right = x - half, x + half
    body = [(left, low), (left, high + 14), (x - 5, high), (x + 5, high), (right, high + 14), (right, low)]
    shoulder = [(left, high + 14), (x - 5, high), (x + 5, high), (right, high + 14)]
    colour = PAINTS.get(str(cylinder.facts.get("shoulder_colour")), NO_COLOUR)
    valve = polygon([(x - 3, high), (x + 3, high), (x + 3, high - 9), (x - 3, high - 9)], fill="#cccccc", stroke=INK)
    made = [valve, polygon(body, fill="#ffffff", stroke=INK, stroke_width="1.4")]
    made += [polygon(shoulder, fill=colour, stroke=INK), _upright_words(gas, (x, low - 6), height - 34)]
    return [*made, *_strap(cylinder, (left, right), high + 19)]


def _strap(cylinder: Thing, ends: tuple[float, float], y: float) -> list[Element]:
    """Return what holds a cylinder, where somebody said that something does."""
    held = cylinder.facts.get("secured")
    if not isinstance(held, str) or held in _NOT_HELD:
        return []
    return [stroke_line((ends[0] - 3, y), (ends[1] + 3, y), stroke="#555555", stroke_width="3")]


_NOT_HELD = ("none", "leaning")  # words of the fact by which nothing holds it


def _upright_words(gas: str, foot: Point, length: float) -> Element:
    """Return the gas written up a cylinder, small enough for it."""
    size = min(10.0, 10.0 * length / max(1.0, text_width(gas, 10.0)))
    made = words(foot, gas, size=size)
    made.set("transform", f"translate({size * 0.35:.2f} 0) rotate(-90 {foot[0]:.2f} {foot[1]:.2f})")
    return made
