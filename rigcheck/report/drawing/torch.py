"""A torch between both sides: its inlets, valves and nozzles, and their labels to the left and the right."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from xml.etree.ElementTree import Element

from rigcheck.report.drawing.canvas import Canvas
from rigcheck.report.drawing.frame import Frame
from rigcheck.report.drawing.label import Label
from rigcheck.report.drawing.svg import Point, line, polygon
from rigcheck.report.drawing.symbols import INK, ring
from rigcheck.report.drawing.tracks import Side
from rigcheck.rig.thing import Thing

__all__ = ["draw_torch"]

_INLET, _HALF = 9.0, 11.0  # between two inlets, and half the width of the body
_ASIDE = 34.0  # from the middle of the torch to its labels

_Ports = dict[Side, list[Point]]


def draw_torch(
    canvas: Canvas, frame: Frame, torch: Thing, inlets: Mapping[Side, int], top: float
) -> tuple[float, _Ports]:
    """Draw a torch from `top` down; return its lower edge, and where its inlets are on each side."""
    drawing = _Torch(canvas, frame, torch, inlets, top)
    drawing.shapes()
    drawing.labels()
    return drawing.lower, drawing.ports()


class _Torch:
    def __init__(self, canvas: Canvas, frame: Frame, torch: Thing, inlets: Mapping[Side, int], top: float) -> None:
        self.canvas, self.frame, self.torch, self.inlets = canvas, frame, torch, inlets
        self.valves = _held(torch, "control_valve")
        self.nozzles = _held(torch, "nozzle")
        self.arresters = _held(torch, "built_in_arrester")
        self.left = self._labels_left()
        self.right = list(self._labels_right())
        self.body = _INLET * max([1, *inlets.values()]) + 12 + 9 * max(0, (len(self.valves) - 1) // 2)
        height = max(self.body + 46, *(self._taken(side) for side in ("left", "right")))
        self.top = canvas.fitted(top, height)
        self.lower = self.top + height

    def _taken(self, side: Side) -> float:
        labels = self.left if side == "left" else [label for label, _ in self.right]
        return self._down(side) + sum(label.height for label in labels)

    def _down(self, side: Side) -> float:
        """Return how far below the top the labels of a side begin: under its inlets."""
        return _INLET * self.inlets[side] + 8

    def ports(self) -> _Ports:
        """Return where the pipes of each side end, from the top down."""
        x = self.frame.middle
        ways: tuple[tuple[Side, float], ...] = (("left", x - _HALF), ("right", x + _HALF))
        return {side: [(at, self.top + 6 + _INLET * n) for n in range(self.inlets[side])] for side, at in ways}

    # --- shapes ---

    def shapes(self) -> None:
        """Draw the body with its tube, then what it holds."""
        x, top, low = self.frame.middle, self.top, self.top + self.body
        body = [
            (x - _HALF, top),
            (x + _HALF, top),
            (x + _HALF, low - 4),
            (x + 5, low),
            (x - 5, low),
            (x - _HALF, low - 4),
        ]
        tube = [(x - 3, low), (x + 3, low), (x + 3, low + 18), (x - 3, low + 18)]
        made = [polygon(shape, fill="#eeeeee", stroke=INK, stroke_width="1.4") for shape in (body, tube)]
        self.group = self.canvas.thing(self.torch, made)
        for place, valve in enumerate(self.valves):
            self.canvas.thing(valve, self._knob(place))
        for place, nozzle in enumerate(self.nozzles):
            self.canvas.thing(nozzle, self._tip((x + 16 * place - 8 * (len(self.nozzles) - 1), low + 18)))
        for place, arrester in enumerate(self.arresters):
            self.canvas.thing(arrester, self._filter(place))

    def _knob(self, place: int) -> list[Element]:
        """Return a valve: fuel and oxygen knobs left and right at the foot of the body."""
        way = -1 if place % 2 == 0 else 1
        x, y = self.frame.middle + way * (_HALF + 6), self.top + self.body - 6 - 9 * (place // 2)
        stem = line((self.frame.middle + way * _HALF, y), (x, y), stroke=INK, stroke_width="2")
        return [stem, ring((x, y), 3.6, "#dddddd")]

    def _tip(self, at: Point) -> list[Element]:
        x, y = at
        return [
            polygon(
                [(x - 6, y), (x + 6, y), (x + 6, y + 6), (x + 2, y + 16), (x - 2, y + 16), (x - 6, y + 6)],
                fill="#ffffff",
                stroke=INK,
            )
        ]

    def _filter(self, place: int) -> list[Element]:
        """Return a built-in arrester: a hatched block inside the body."""
        way = -1 if place % 2 == 0 else 1
        x, y = self.frame.middle + way * 5, self.top + 6 + _INLET * (place // 2)
        block = polygon([(x - 4, y - 4), (x + 4, y - 4), (x + 4, y + 4), (x - 4, y + 4)], fill="#ffffff", stroke=INK)
        return [
            block,
            *(line((x - 4, y + d), (x + 4, y + d), stroke="#666666", stroke_width="0.8") for d in (-2, 0, 2)),
        ]

    # --- labels ---

    def _width(self, side: Side) -> float:
        return abs(self.frame.middle - self.frame.inner(side)) - _ASIDE

    def _labels_left(self) -> list[Label]:
        return [self.canvas.label(self.torch, self._width("left"), "end")]

    def _labels_right(self) -> Iterator[tuple[Label, Thing]]:
        pairs = [pair for pair in self.canvas.rig.of_kind("hose pair") if pair.facts.get("torch") is self.torch]
        told = [one for one in (*self.valves, *self.arresters) if self.canvas.pins(one)]
        for one in (*self.nozzles, *told, *pairs):
            yield self.canvas.label(one, self._width("right")), one

    def labels(self) -> None:
        """Write the labels under the inlets of each side."""
        down = self.top + self._down("left")
        for label in self.left:
            self.canvas.write(label, self.frame.inner("left"), down, self.group)
            down += label.height
        down = self.top + self._down("right")
        for label, one in self.right:
            self.canvas.write(label, self.frame.middle + _ASIDE, down, self.canvas.group_of(one))
            down += label.height


def _held(torch: Thing, key: str) -> tuple[Thing, ...]:
    held = torch.facts.get(key)
    return held if isinstance(held, tuple) else (held,) if isinstance(held, Thing) else ()
