"""A label: rows of words and the pins of one thing, in a box that is known before it is drawn."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from xml.etree.ElementTree import Element, SubElement

from msgspec import Struct

from rigcheck.report.drawing.letter_widths import text_width
from rigcheck.report.drawing.pins import Pin, finding_anchor, pin_anchor
from rigcheck.report.drawing.svg import Point, plain, polygon, words
from rigcheck.report.drawing.word_rows import fitted_rows
from rigcheck.report.safety_colours import SIGNAL_COLOURS
from rigcheck.rules.rule import Signal

__all__ = ["DETAIL", "NAME", "PIN_HEIGHT", "Box", "Label", "Row", "label_rows", "pin_mark", "pin_width"]

NAME, DETAIL = 10.5, 10.0  # sizes of the two sorts of rows
PIN_HEIGHT = 15.0
_STEP, _PIN_STEP, _PIN_GAP = 1.25, 18.0, 4.0

_CONCEDED = ("#ffffff", "#000000")  # the shape stays, empty and with a broken edge


class Box(Struct, frozen=True):
    """A place that a label takes, in units of the drawing."""

    left: float
    top: float
    width: float
    height: float

    def meets(self, other: Box) -> bool:
        """Return whether two boxes share any area."""
        across = self.left < other.left + other.width and other.left < self.left + self.width
        return across and self.top < other.top + other.height and other.top < self.top + self.height


class Row(Struct, frozen=True):
    """One row of words."""

    text: str
    size: float = DETAIL
    bold: bool = False


def label_rows(name: str, details: Iterable[str], width: float) -> tuple[Row, ...]:
    """Return the rows of a label: the name in bold, then its details."""
    rows = [Row(text, NAME, True) for text in fitted_rows(name, width, NAME, bold=True, most=4)]
    for detail in details:
        rows += (Row(text) for text in fitted_rows(detail, width, DETAIL, most=6))
    return tuple(rows)


class Label(Struct, frozen=True):
    """Rows and pins that are as wide as `width` at the most; `anchor` is start, middle or end."""

    rows: tuple[Row, ...]
    pins: tuple[Pin, ...]
    width: float
    anchor: str = "start"

    @property
    def height(self) -> float:
        """How high it stands."""
        return sum(row.size * _STEP for row in self.rows) + _PIN_STEP * len(self._pin_rows()) + 3

    def box(self, left: float, top: float) -> Box:
        """Return the place that it takes with its left upper corner there."""
        return Box(left, top, self.width, self.height)

    def draw(self, left: float, top: float) -> list[Element]:
        """Return its elements, with its left upper corner there."""
        made, down = [], top
        for row in self.rows:
            down += row.size * _STEP
            at = (self._start(left, 0.0), down - row.size * 0.2)
            made.append(words(at, row.text, size=row.size, anchor=self.anchor, bold=row.bold))
        for pins in self._pin_rows():
            made += self._drawn_pins(pins, left, down + 3)
            down += _PIN_STEP
        return made

    def _start(self, left: float, taken: float) -> float:
        share = {"start": 0.0, "middle": 0.5, "end": 1.0}[self.anchor]
        return left + (self.width - taken) * share

    def _drawn_pins(self, pins: Sequence[Pin], left: float, top: float) -> list[Element]:
        across = self._start(left, sum(pin_width(pin) + _PIN_GAP for pin in pins) - _PIN_GAP)
        made = []
        for pin in pins:
            made.append(pin_mark(pin, (across, top)))
            across += pin_width(pin) + _PIN_GAP
        return made

    def _pin_rows(self) -> list[list[Pin]]:
        rows: list[list[Pin]] = []
        left = 0.0
        for pin in self.pins:
            if not rows or left + pin_width(pin) > self.width:
                rows.append([])
                left = 0.0
            rows[-1].append(pin)
            left += pin_width(pin) + _PIN_GAP
        return rows


def pin_width(pin: Pin) -> float:
    """Return how wide the mark of a finding is."""
    return max(20.0, text_width(str(pin.number), DETAIL, bold=True) + 9)


def pin_mark(pin: Pin, at: Point, *, linked: bool = True) -> Element:
    """Return the numbered mark of a finding with its left upper corner at `at`; a pin leads to its text."""
    made = Element("a", {"id": pin_anchor(pin.number), "href": f"#{finding_anchor(pin.number)}"} if linked else {})
    made.tag = "a" if linked else "g"
    if linked:
        signal = f"{pin.finding.signal.upper()}{', conceded' if pin.finding.conceded else ''}"
        told = f"Finding {pin.number}, {signal}, {pin.finding.thing}: {pin.finding.told}"
        made.attrib |= {"aria-label": plain(told), "class": "pin"}
        SubElement(made, "title").text = plain(told)
    fill, ink = SIGNAL_COLOURS[pin.finding.signal] if pin.finding.conceded is None else _CONCEDED
    width = pin_width(pin)
    shape = polygon(_outline(pin.finding.signal, at, width), fill=fill, stroke="#111111", stroke_width="1.2")
    shape.set("stroke-dasharray", "none" if pin.finding.conceded is None else "3 2")
    made.append(shape)
    number = words((at[0] + width / 2, at[1] + 11), str(pin.number), size=DETAIL, anchor="middle", bold=True)
    number.set("fill", ink)
    made.append(number)
    return made


def _outline(signal: Signal, at: Point, width: float) -> list[Point]:
    """Return a shape by signal word: a block cut at its corners, a house, a hexagon, a plain block."""
    (x, y), right, low = at, at[0] + width, at[1] + PIN_HEIGHT
    middle = (y + low) / 2
    if signal == "danger":
        corners = ((x, y + 4), (x + 4, y), (right - 4, y), (right, y + 4))
        return [*corners, (right, low - 4), (right - 4, low), (x + 4, low), (x, low - 4)]
    if signal == "warning":
        return [(x, y + 4), (x + width / 2, y - 1), (right, y + 4), (right, low), (x, low)]
    if signal == "caution":
        return [(x, middle), (x + 4, y), (right - 4, y), (right, middle), (right - 4, low), (x + 4, low)]
    return [(x, y), (right, y), (right, low), (x, low)]
