"""A tiny writer of SVG: elements, words and lines, every text escaped, no scripts, no links."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from xml.etree.ElementTree import Element, SubElement, indent, tostring

from rigcheck.report.drawing.letter_widths import FACE, all_measured, text_width
from rigcheck.report.drawing.print_pages import Block, print_style
from rigcheck.text.harmless import harmless

__all__ = ["Point", "document", "line", "plain", "polygon", "polyline", "words"]

Point = tuple[float, float]
"""Across and down, in units of the drawing."""

_HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n<!-- {form} -->\n'
_NAMESPACE = "http://www.w3.org/2000/svg"
_CLOSER = "spacingAndGlyphs"


def plain(text: str) -> str:
    """Return text in which nothing is left that XML refuses or that turns the direction of reading."""
    return harmless(text)


def document(
    form: str, size: Point, title: str, description: str, children: Iterable[Element], blocks: Sequence[Block] = ()
) -> str:
    """Return a whole drawing on white, with a title and a description for those who hear it read.

    `blocks`: groups that no page of paper may cut, from the top down.
    """
    width, height = (_number(end) for end in size)
    root = Element("svg", {"xmlns": _NAMESPACE, "width": width, "height": height, "viewBox": f"0 0 {width} {height}"})
    root.attrib |= {"role": "img", "aria-labelledby": "title description", "font-family": FACE}
    root.attrib |= {"preserveAspectRatio": "xMidYMin meet"}
    SubElement(root, "title", {"id": "title"}).text = plain(title)
    SubElement(root, "desc", {"id": "description"}).text = plain(description)
    SubElement(root, "style").text = print_style(size, blocks)
    SubElement(root, "rect", {"width": width, "height": height, "fill": "#ffffff"})
    root.extend(children)
    indent(root, " ")
    return _HEAD.format(form=form) + tostring(root, encoding="unicode") + "\n"


def words(at: Point, text: str, *, size: float = 12, anchor: str = "start", bold: bool = False) -> Element:
    """Return one row of words with its measured length; `anchor` is start, middle or end."""
    made = Element("text", {"x": _number(at[0]), "y": _number(at[1]), "font-size": _number(size), "fill": "#111111"})
    made.attrib |= {"text-anchor": anchor} | ({"font-weight": "bold"} if bold else {})
    made.text = plain(text)
    if len(made.text) > 1 and all_measured(made.text, bold=bold):
        made.attrib |= {"textLength": _number(text_width(made.text, size, bold=bold)), "lengthAdjust": _CLOSER}
    return made


def line(start: Point, end: Point, **style: str) -> Element:
    """Return a straight line; style words are attributes, with _ for -."""
    made = Element("line", {"x1": _number(start[0]), "y1": _number(start[1]), "x2": _number(end[0])})
    made.attrib |= {"y2": _number(end[1])} | _stroke(style)
    return made


def polyline(points: Sequence[Point], **style: str) -> Element:
    """Return a line through points."""
    return Element("polyline", {"points": _listed(points), "fill": "none"} | _stroke(style))


def polygon(points: Sequence[Point], **style: str) -> Element:
    """Return a closed shape."""
    return Element("polygon", {"points": _listed(points)} | _attributes(style))


def _stroke(style: dict[str, str]) -> dict[str, str]:
    return {"stroke": "#111111", "stroke-width": "1"} | _attributes(style)


def _attributes(style: dict[str, str]) -> dict[str, str]:
    return {name.replace("_", "-"): value for name, value in style.items()}


def _listed(points: Sequence[Point]) -> str:
    return " ".join(f"{_number(x)},{_number(y)}" for x, y in points)


def _number(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")
