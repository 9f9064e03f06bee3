"""A tiny writer of SVG: elements, words and lines, every text escaped, no scripts, no links."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from textwrap import wrap
from xml.etree.ElementTree import Element, SubElement, indent, tostring

from rigcheck.text.harmless import harmless

__all__ = ["Point", "document", "group", "line", "paragraph", "plain", "polygon", "polyline", "words"]

Point = tuple[float, float]
"""Across and down, in units of the drawing."""

_HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n<!-- {form} -->\n'
_NAMESPACE = "http://www.w3.org/2000/svg"
_ONE_PAGE = 1500.0  # what is higher than this would be too small to read on one page
_PRINT = "@page {{ size: A4; margin: 10mm }} @media print {{ svg {{ width: {width}mm; height: {height}mm }} }}"
_PAPER = (190.0, 276.0)  # mm; A4 within its margins
_LETTER = 0.49  # width of an average letter of a sans-serif face, in parts of its size


def plain(text: str) -> str:
    """Return text in which nothing is left that XML refuses or that turns the direction of reading."""
    return harmless(text)


def document(form: str, size: Point, title: str, description: str, children: Iterable[Element]) -> str:
    """Return a whole drawing on white, with a title and a description for those who hear it read."""
    width, height = (_number(end) for end in size)
    root = Element("svg", {"xmlns": _NAMESPACE, "width": width, "height": height, "viewBox": f"0 0 {width} {height}"})
    root.attrib |= {"role": "img", "aria-labelledby": "title description", "font-family": "sans-serif"}
    SubElement(root, "title", {"id": "title"}).text = plain(title)
    SubElement(root, "desc", {"id": "description"}).text = plain(description)
    SubElement(root, "style").text = _print_style(size)
    SubElement(root, "rect", {"width": width, "height": height, "fill": "#ffffff"})
    root.extend(children)
    indent(root, " ")
    return _HEAD.format(form=form) + tostring(root, encoding="unicode") + "\n"


def _print_style(size: Point) -> str:
    """Return how a drawing is printed: as wide as the paper, or so that it stands on one page."""
    scale = _PAPER[0] / size[0]
    if size[1] <= _ONE_PAGE:
        scale = min(scale, _PAPER[1] / size[1])
    return _PRINT.format(width=_number(size[0] * scale), height=_number(size[1] * scale))


def group(name: str, children: Iterable[Element]) -> Element:
    """Return elements as one group, with a name that is read out."""
    made = Element("g")
    SubElement(made, "title").text = plain(name)
    made.extend(children)
    return made


def words(at: Point, text: str, *, size: float = 12, anchor: str = "start", bold: bool = False) -> Element:
    """Return one row of words; `anchor` is start, middle or end."""
    made = Element("text", {"x": _number(at[0]), "y": _number(at[1]), "font-size": _number(size), "fill": "#111111"})
    made.attrib |= {"text-anchor": anchor} | ({"font-weight": "bold"} if bold else {})
    made.text = plain(text)
    return made


def paragraph(
    at: Point, text: str, width: float, *, size: float = 12, bold: bool = False
) -> tuple[list[Element], float]:
    """Return rows of words as wide as `width`, and the height that they take."""
    step = size * 1.3
    rows = wrap(plain(text), max(10, int(width / (size * (_LETTER + 0.04 * bold))))) or [""]
    made = [words((at[0], at[1] + (n + 0.8) * step), row, size=size, bold=bold) for n, row in enumerate(rows)]
    return made, step * len(rows)


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
