"""What a drawing is made on: groups with names and ids, labels whose boxes are kept, pages that cut no row."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from xml.etree.ElementTree import Element, SubElement

from msgspec import Struct, field

from rigcheck.report.drawing.drawing_words import details_of, name_of
from rigcheck.report.drawing.label import DETAIL, Box, Label, Row, label_rows
from rigcheck.report.drawing.pins import Pin, Pinned
from rigcheck.report.drawing.print_pages import Block
from rigcheck.report.drawing.svg import plain
from rigcheck.report.drawing.word_rows import fitted_rows
from rigcheck.rig.thing import Rig, Thing

__all__ = ["MARGIN", "PAGE", "Canvas"]

MARGIN = 14.0
PAGE = 276.0 / 190.0
"""Height of an A4 page within margins of 10 mm, in parts of its width."""


class Canvas(Struct):
    """A drawing in the making. `paged`: rows are moved so that no page of paper cuts them."""

    rig: Rig
    pinned: Pinned
    width: float
    paged: bool = False
    under: list[Element] = field(default_factory=list)
    over: list[Element] = field(default_factory=list)
    boxes: list[Box] = field(default_factory=list)
    drawn: dict[int, Element] = field(default_factory=dict)
    gaps: Mapping[int, tuple[str, ...]] = field(default_factory=dict)
    blocks: list[Block] = field(default_factory=list)

    def fitted(self, top: float, height: float) -> float:
        """Return where something of that height can stand from `top` on, whole on one page."""
        page = self.width * PAGE
        if not self.paged or height > page or top // page == (top + height) // page:
            return top
        return (top // page + 1) * page + MARGIN

    def label(self, thing: Thing, width: float, anchor: str = "start", more: Iterable[str] = ()) -> Label:
        """Return the label of a thing: its name, its details (and `more`) and its pins."""
        return Label(
            label_rows(name_of(thing), [*details_of(thing), *more], width), self.pinned.of(thing), width, anchor
        )

    def pins(self, thing: Thing) -> tuple[Pin, ...]:
        """Return the pins of a thing."""
        return self.pinned.of(thing)

    def thing(self, thing: Thing, shapes: Iterable[Element]) -> Element:
        """Add the shapes of a thing as one group that bears its name; return the group."""
        number = next(place for place, one in enumerate(self.rig.things, start=1) if one is thing)
        made = _named_group(f"part-{number}", ": ".join(filter(None, [name_of(thing), ", ".join(details_of(thing))])))
        if self.is_presumed(thing):
            lighter = SubElement(made, "g", {"opacity": "0.55"})
            lighter.extend(shapes)
        else:
            made.extend(shapes)
        self.over.append(made)
        self.drawn[id(thing)] = made
        return made

    def is_presumed(self, thing: Thing) -> bool:
        """Return whether only the standard rig tells of a thing: it, or all that is stated of it, comes from there."""
        return bool(thing.file) or (bool(thing.presumed) and thing.presumed >= thing.places.keys())

    def group_of(self, thing: Thing) -> Element:
        """Return the group of a thing, which is added where it is not drawn yet."""
        return self.drawn[id(thing)] if id(thing) in self.drawn else self.thing(thing, [])

    def text(
        self, words: str, width: float, *, size: float = DETAIL, bold: bool = False, anchor: str = "start"
    ) -> Label:
        """Return a label of words that belong to no thing."""
        rows = fitted_rows(words, width, size, bold=bold)
        return Label(tuple(Row(row, size, bold) for row in rows), (), width, anchor)

    def together(self, name: str, since: int, top: float, bottom: float) -> None:
        """Make all that was added on top since (as many elements as there were then) one block that no page cuts."""
        made = Element("g", {"id": name})
        made.extend(self.over[since:])
        self.over[since:] = [made]
        self.blocks.append(Block(name, top, bottom - top))

    def write(self, label: Label, left: float, top: float, into: Element | None = None) -> Box:
        """Draw a label, keep its box and return it."""
        box = label.box(left, top)
        self.boxes.append(box)
        (self.over if into is None else into).extend(label.draw(left, top))
        return box


def _named_group(name: str, title: str) -> Element:
    made = Element("g", {"id": name, "class": "part"})
    SubElement(made, "title").text = plain(title)
    return made
