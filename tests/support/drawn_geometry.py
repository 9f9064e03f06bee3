"""What stands where in an SVG drawing: rows of words as boxes, strokes as straight lines, in units of the drawing.

Words are measured by the published metrics of Helvetica (reportlab has them), not by the product's own table.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, pairwise
from math import cos, radians, sin
from xml.etree.ElementTree import Element

from reportlab.pdfbase.pdfmetrics import stringWidth

Point = tuple[float, float]
_UP, _DOWN = 0.72, 0.21  # of the size: capitals and descenders of Helvetica (its font metrics: 718 and -207)


@dataclass(frozen=True)
class Words:
    """A row of words and its four corners."""

    text: str
    corners: tuple[Point, Point, Point, Point]


@dataclass(frozen=True)
class Stroke:
    """A straight line that is seen; `of`: the element that it belongs to."""

    start: Point
    end: Point
    of: str


class _Place:
    """A chain of transforms: rotate(a x y) and translate(x y), which is all that the drawings use."""

    def __init__(self, steps: tuple[tuple[str, tuple[float, ...]], ...] = ()) -> None:
        self.steps = steps

    def within(self, written: str) -> _Place:
        found = re.findall(r"(\w+)\(([^)]*)\)", written)
        made = tuple((name, tuple(float(n) for n in re.split(r"[ ,]+", numbers.strip()))) for name, numbers in found)
        assert all(name in ("rotate", "translate") for name, _ in made), written
        return _Place(self.steps + made)

    def __call__(self, at: Point) -> Point:
        for name, numbers in reversed(self.steps):
            at = _turned(at, *numbers) if name == "rotate" else (at[0] + numbers[0], at[1] + numbers[1])
        return at


def _turned(at: Point, degrees: float, x: float = 0.0, y: float = 0.0) -> Point:
    c, s = cos(radians(degrees)), sin(radians(degrees))
    return x + (at[0] - x) * c - (at[1] - y) * s, y + (at[0] - x) * s + (at[1] - y) * c


def _placed(root: Element, place: _Place) -> Iterator[tuple[Element, _Place]]:
    place = place.within(root.get("transform", ""))
    yield root, place
    for child in root:
        yield from _placed(child, place)


def words_of(root: Element) -> list[Words]:
    """Return every row of words of a drawing."""
    return [_words(one, place) for one, place in _placed(root, _Place()) if _tag(one) == "text" and one.text]


def _words(one: Element, place: _Place) -> Words:
    size = float(one.attrib["font-size"])
    face = "Helvetica-Bold" if one.get("font-weight") == "bold" else "Helvetica"
    width = stringWidth(one.text or "", face, size)
    x, y = float(one.attrib["x"]), float(one.attrib["y"])
    left = x - width * {"start": 0.0, "middle": 0.5, "end": 1.0}[one.get("text-anchor", "start")]
    top, low = y - _UP * size, y + _DOWN * size
    a, b, c, d = ((left, top), (left + width, top), (left + width, low), (left, low))
    return Words(one.text or "", (place(a), place(b), place(c), place(d)))


def strokes_of(root: Element) -> list[Stroke]:
    """Return every straight piece of every line, outline and circle that is seen on white."""
    return [stroke for one, place in _placed(root, _Place()) for stroke in _strokes(one, place)]


def _strokes(one: Element, place: _Place) -> Iterator[Stroke]:
    if one.get("stroke") in (None, "none", "#ffffff"):
        return
    points = [place(at) for at in _points(one)]
    for start, end in pairwise(points):
        yield Stroke(start, end, f"{_tag(one)} {one.get('id', '')}")


def _points(one: Element) -> list[Point]:
    tag = _tag(one)
    if tag == "line":
        return [(float(one.attrib[f"x{n}"]), float(one.attrib[f"y{n}"])) for n in (1, 2)]
    if tag in ("polyline", "polygon"):
        pairs = (pair.split(",") for pair in one.attrib["points"].split())
        found = [(float(x), float(y)) for x, y in pairs]
        return [*found, found[0]] if tag == "polygon" else found
    if tag == "circle":
        x, y, r = (float(one.attrib[name]) for name in ("cx", "cy", "r"))
        return [(x + r * cos(radians(a)), y + r * sin(radians(a))) for a in range(0, 361, 30)]
    if tag == "rect" and one.get("x"):
        x, y, w, h = (float(one.attrib[name]) for name in ("x", "y", "width", "height"))
        return [(x, y), (x + w, y), (x + w, y + h), (x, y + h), (x, y)]
    return []


def _tag(one: Element) -> str:
    return str(one.tag).rpartition("}")[2]


def words_on_words(root: Element) -> list[tuple[str, str]]:
    """Return the pairs of rows that share room."""
    return [(a.text, b.text) for a, b in combinations(words_of(root), 2) if _share(a.corners, b.corners)]


def lines_through_words(root: Element) -> list[tuple[str, str]]:
    """Return each row with the stroke that runs through it."""
    rows, strokes = words_of(root), strokes_of(root)
    return [(row.text, s.of) for row in rows for s in strokes if _share(row.corners, (s.start, s.end))]


def outside(root: Element) -> list[str]:
    """Return the rows of words that leave the view."""
    _, _, width, height = (float(n) for n in root.attrib["viewBox"].split())
    return [
        row.text
        for row in words_of(root)
        if not all(-0.5 <= x <= width + 0.5 and -0.5 <= y <= height + 0.5 for x, y in row.corners)
    ]


def _share(one: tuple[Point, ...], other: tuple[Point, ...]) -> bool:
    """Whether two convex shapes share room: no line parts them (separating axis theorem); touching counts not."""
    for shape in (one, other):
        for (x, y), (to_x, to_y) in pairwise((*shape, shape[0])):
            across = (y - to_y, to_x - x)
            length = (across[0] ** 2 + across[1] ** 2) ** 0.5
            if length == 0.0:
                continue
            a, b = (sorted((px * across[0] + py * across[1]) / length for px, py in points) for points in (one, other))
            if a[-1] <= b[0] + 0.4 or b[-1] <= a[0] + 0.4:
                return False
    return True
