"""Where words can stand in a plot so that they meet neither a line nor other words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from xml.etree.ElementTree import Element

from msgspec import Struct, field

from rigcheck.report.drawing.label import Box
from rigcheck.report.drawing.letter_widths import ASCENT, DESCENT, text_width
from rigcheck.report.drawing.svg import Point, words
from rigcheck.report.plot.axes import SMALL

__all__ = ["FreePlaces", "crosses"]

_AIR = 1.5  # between words and a line


class FreePlaces(Struct):
    """A frame that fills up: `lines` as pairs of points, `boxes` of the words that stand in it already."""

    frame: Box
    lines: list[tuple[Point, Point]] = field(default_factory=list)
    boxes: list[Box] = field(default_factory=list)

    def through(self, points: Sequence[Point]) -> None:
        """Take in a line through points."""
        self.lines += pairwise(points)

    def write(self, text: str, places: Iterable[tuple[Point, str]], *, bold: bool = False) -> Element | None:
        """Return words at the first place (a point of their line, and their anchor) where they are free, if one is."""
        for at, anchor in places:
            box = _box(text, at, anchor, bold=bold)
            if self._is_free(box):
                self.boxes.append(box)
                return words(at, text, size=SMALL, anchor=anchor, bold=bold)
        return None

    def _is_free(self, box: Box) -> bool:
        left, top = box.left >= self.frame.left, box.top >= self.frame.top
        right = box.left + box.width <= self.frame.left + self.frame.width
        low = box.top + box.height <= self.frame.top + self.frame.height
        inside = left and top and right and low
        clear = not any(box.meets(other) for other in self.boxes)
        return inside and clear and not any(crosses(start, end, box) for start, end in self.lines)


def _box(text: str, at: Point, anchor: str, *, bold: bool) -> Box:
    width = text_width(text, SMALL, bold=bold)
    left = at[0] - width * {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor]
    height = (ASCENT + DESCENT) * SMALL
    return Box(left - _AIR, at[1] - ASCENT * SMALL - _AIR, width + 2 * _AIR, height + 2 * _AIR)


def crosses(start: Point, end: Point, box: Box) -> bool:
    """Return whether a straight line meets a box, by the clipping of Liang and Barsky (1984)."""
    first, last = 0.0, 1.0
    (x, y), (dx, dy) = start, (end[0] - start[0], end[1] - start[1])
    sides = ((-dx, x - box.left), (dx, box.left + box.width - x), (-dy, y - box.top), (dy, box.top + box.height - y))
    for towards, room in sides:
        if towards == 0.0:
            if room < 0.0:
                return False
        elif towards < 0.0:
            first = max(first, room / towards)
        else:
            last = min(last, room / towards)
    return first <= last
