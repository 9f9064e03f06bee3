"""The shapes of the parts. Gas flows downwards through every one of them.

Regulator, gauge, non-return valve and hose follow ISO 1219-1 (from memory): a square with the flow arrow and the
spring; a circle with a pointer; a ball in its seat; a line that bends between two dots.
The other shapes are our own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from xml.etree.ElementTree import Element

from rigcheck.report.drawing.gas_colours import STROKES, hose_paint
from rigcheck.report.drawing.svg import Point, line, polygon, polyline
from rigcheck.report.safety_colours import RED
from rigcheck.rig.thing import Thing

__all__ = ["GAP_HALF", "INK", "bar", "gap", "gauges", "half_height", "hose", "joint_mark", "pipe", "ring", "symbol"]

INK = "#222222"
_WHITE = "#ffffff"
GAP_HALF = 11.0
"""How far the empty place of a missing part reaches above and below its middle."""
_WAVE = 22.0  # a hose bends once in so many units


def ring(at: Point, radius: float, fill: str = _WHITE, stroke: str = INK) -> Element:
    """Return a circle."""
    made = {"cx": f"{at[0]:.2f}", "cy": f"{at[1]:.2f}", "r": f"{radius:.2f}", "fill": fill, "stroke": stroke}
    return Element("circle", made)


def _block(at: Point, width: float, height: float, fill: str = _WHITE) -> Element:
    (x, y), w, h = at, width / 2, height / 2
    return polygon([(x - w, y - h), (x + w, y - h), (x + w, y + h), (x - w, y + h)], fill=fill, stroke=INK)


def _arrow(at: Point, half: float, *, back: bool = False) -> list[Element]:
    """Return an arrow with the flow, or back against it."""
    x, y = at
    tip, tail = (y - half, y + half) if back else (y + half, y - half)
    barb = 4 if back else -4
    head = polygon([(x - 3, tip + barb), (x + 3, tip + barb), (x, tip)], fill=INK)
    return [line((x, tail), (x, tip), stroke=INK), head]


def _against(part: Thing) -> bool:
    return part.facts.get("direction") == "against-flow"


# --- pipes, hoses and joints ---


def pipe(points: Sequence[Point], stroke: str) -> list[Element]:
    """Return a pipe through points, with a white edge so that it is seen to pass over another."""
    drawn = {"stroke_dasharray": STROKES[stroke]} if STROKES[stroke] else {}
    over = polyline(points, stroke=_WHITE, stroke_width="6")
    return [over, polyline(points, stroke="#444444", stroke_width="2.2", stroke_linejoin="round", **drawn)]


def hose(part: Thing, top: Point, length: float, stroke: str) -> list[Element]:
    """Return a hose that hangs from `top`: in its stated colour, with the stroke of its gas, a dot at each end."""
    course = _bends(top, length)
    dashes = {"stroke_dasharray": STROKES[stroke]} if STROKES[stroke] else {}
    made = [polyline(course, stroke=INK, stroke_width="7"), polyline(course, stroke=_WHITE, stroke_width="5.4")]
    made.append(polyline(course, stroke=hose_paint(part), stroke_width="4.4", **dashes))
    return [*made, ring(top, 3, INK), ring((top[0], top[1] + length), 3, INK)]


def _bends(top: Point, length: float) -> list[Point]:
    from math import pi, sin  # nothing else here reckons with curves

    waves = max(1, round(length / _WAVE))
    steps = waves * 12
    return [(top[0] + 4.2 * sin(2 * pi * waves * n / steps), top[1] + length * n / steps) for n in range(steps + 1)]


def joint_mark(at: Point, *, across: bool = True) -> Element:
    """Return a joint: a short bar across the pipe."""
    (x, y), (w, h) = at, (5.0, 1.6) if across else (1.6, 5.0)
    return polygon([(x - w, y - h), (x + w, y - h), (x + w, y + h), (x - w, y + h)], fill=INK)


def bar(start: Point, end: Point) -> list[Element]:
    """Return a manifold or a header: a thick bar over the tracks that meet at it."""
    left, right = min(start[0], end[0]) - 8, max(start[0], end[0]) + 8
    y = start[1]
    return [polygon([(left, y - 5), (right, y - 5), (right, y + 5), (left, y + 5)], fill="#dddddd", stroke=INK)]


# --- parts ---


def gauges(at: Point, held: Iterable[tuple[str, Thing]]) -> Iterable[tuple[Thing, list[Element]]]:
    """Yield the gauges of a regulator at `at`: the inlet gauge on the left, the outlet gauge on the right."""
    for key, gauge in held:
        x = at[0] + (-6.2 if key == "inlet_gauge" else 6.2)
        y = at[1] - 13.5
        pointer = [(x - 2.4, y + 2.4), (x + 2.6, y - 2.6)]
        stem = line((x, y + 4), (x, at[1] - 7), stroke=INK)
        yield gauge, [stem, ring((x, y), 5), line(*pointer, stroke=INK, stroke_width="1.4")]


def _regulator(part: Thing, at: Point) -> list[Element]:
    x, y = at
    spring = [(x + 8, y), (x + 10, y - 3), (x + 10.6, y + 3), (x + 12, y - 3), (x + 12.6, y + 3)]
    return [_block(at, 16, 16), *_arrow((x, y), 6.5), polyline(spring, stroke=INK)]


def _arrester(part: Thing, at: Point) -> list[Element]:
    """A barrel with its flame filter hatched, and its arrow."""
    x, y = at
    hatch = [line((x - 8, y + d), (x + 8, y + d), stroke="#666666", stroke_width="0.8") for d in (5, 7.5, 10)]
    made = [_block(at, 16, 26), *hatch]
    if part.facts.get("direction") == "not-marked":
        return made
    return [*made, *_arrow((x, y - 4), 6.5, back=_against(part))]


def _non_return(part: Thing, at: Point) -> list[Element]:
    """A ball that the flow lifts off its seat."""
    x, y = at
    way = -1 if _against(part) else 1
    seat = [(x - 7, y + 4 * way), (x, y - 6 * way), (x + 7, y + 4 * way)]
    return [_block(at, 16, 20), polyline(seat, stroke=INK, stroke_width="1.4"), ring((x, y + 1.6 * way), 3.6)]


def _joiner(part: Thing, at: Point) -> list[Element]:
    x, y = at
    ends = [_block((x, y + d), 14, 5, "#dddddd") for d in (-7, 7)]
    return [*ends, _block(at, 8, 10)]


def _coupler(part: Thing, at: Point) -> list[Element]:
    x, y = at
    upper = [(x - 7, y - 9), (x + 7, y - 9), (x + 4, y - 1), (x - 4, y - 1)]
    lower = [(x - 4, y + 1), (x + 4, y + 1), (x + 7, y + 9), (x - 7, y + 9)]
    return [polygon(upper, fill="#dddddd", stroke=INK), polygon(lower, fill=_WHITE, stroke=INK)]


def _pigtail(part: Thing, at: Point) -> list[Element]:
    x, y = at
    made = ring((x, y), 7, "none")
    return [line((x, y - 12), (x, y + 12), stroke=INK, stroke_width="2"), made, ring((x, y), 4.4, "none")]


def _outlet_point(part: Thing, at: Point) -> list[Element]:
    x, y = at
    wall = [line((x - 9 + d, y - 6), (x - 12 + d, y - 11), stroke="#666666") for d in (2, 6, 10, 14, 18)]
    cock = [(x - 6, y - 4), (x + 6, y - 4), (x - 6, y + 8), (x + 6, y + 8)]
    return [
        line((x - 9, y - 6), (x + 9, y - 6), stroke=INK, stroke_width="2"),
        *wall,
        polygon(cock, fill=_WHITE, stroke=INK),
    ]


def _cylinder(part: Thing, at: Point) -> list[Element]:
    """A cylinder that gas does not come from first: one that stands in the middle of a line."""
    x, y = at
    return [_block(at, 14, 26), line((x - 7, y - 7), (x + 7, y - 7), stroke=INK)]


def _any_part(part: Thing, at: Point) -> list[Element]:
    return [_block(at, 14, 18)]


_SHAPES: Mapping[str, tuple[Callable[[Thing, Point], list[Element]], float]] = {
    "regulator": (_regulator, 8),
    "arrester": (_arrester, 13),
    "non-return valve": (_non_return, 10),
    "joiner": (_joiner, 9.5),
    "coupler": (_coupler, 9),
    "pigtail": (_pigtail, 12),
    "outlet point": (_outlet_point, 11),
    "cylinder": (_cylinder, 13),
}


def gap(at: Point) -> Element:
    """Return the empty place of a part that is missing: broken edges, and no pipe runs through it."""
    x, y, across, up = at[0], at[1], 7.0, GAP_HALF
    corners = [(x - across, y - up), (x + across, y - up), (x + across, y + up), (x - across, y + up)]
    return polygon(corners, fill="#ffffff", stroke=RED, stroke_width="1.6", stroke_dasharray="3 2.5")


def symbol(part: Thing, at: Point) -> list[Element]:
    """Return the shape of a part with its middle at `at`."""
    return _SHAPES.get(part.kind.drawn_as, (_any_part, 9.0))[0](part, at)


def half_height(part: Thing) -> float:
    """Return how far a shape reaches above and below its middle."""
    return _SHAPES.get(part.kind.drawn_as, (_any_part, 9.0))[1]
