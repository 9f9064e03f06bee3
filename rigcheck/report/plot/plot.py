"""One plot: its title, what it shows in words, its shapes; and how reliable a value is, as it is drawn."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal
from xml.etree.ElementTree import Element, SubElement, tostring

from msgspec import Struct

from rigcheck.report.drawing.letter_widths import FACE
from rigcheck.report.drawing.svg import plain
from rigcheck.rig.thing import Thing

__all__ = ["WIDTH", "Plot", "Sureness", "sureness_of"]

WIDTH = 340.0
"""How wide every plot is, in units of the drawing."""

Sureness = Literal["worked out", "stated", "disputed"]
"""Whether a value was worked out, is only stated, or is stated in two ways that do not agree."""


def sureness_of(thing: Thing, stated: Iterable[str], worked_out: Iterable[str]) -> Sureness:
    """Return how sure a value is: `stated` names facts that would state it, `worked_out` those that are worked out."""
    if any(name in thing.disputes for name in (*stated, *worked_out)):
        return "disputed"
    return "stated" if any(name in thing.facts for name in stated) else "worked out"


class Plot(Struct, frozen=True):
    """A plot and what it shows; `shapes` and `height` are empty where it cannot be drawn, and `words` say why."""

    title: str
    words: str
    shapes: tuple[Element, ...] = ()
    height: float = 0.0

    def svg(self, name: str) -> str:
        """Return it as an SVG element whose title has the id `name`-title; the words have the id `name`-words."""
        root = Element("svg", {"viewBox": f"0 0 {WIDTH:.0f} {self.height:.0f}", "role": "img"})
        root.attrib |= {"aria-labelledby": f"{name}-title", "aria-describedby": f"{name}-words", "font-family": FACE}
        SubElement(root, "title", {"id": f"{name}-title"}).text = plain(self.title)
        root.extend(self.shapes)
        return tostring(root, encoding="unicode")
