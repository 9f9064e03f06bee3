"""A page read by a strict HTML parser, and what accessibility asks of it, counted without a browser."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from xml.etree.ElementTree import Element

import html5lib

HTML = "{http://www.w3.org/1999/xhtml}"
SVG = "{http://www.w3.org/2000/svg}"


@lru_cache(maxsize=4)  # of one page many things are read
def parsed(page: str) -> Element:
    """Return the tree of a page, to be read only.

    Raises `ParseError` of html5lib at the first fault of syntax (WHATWG HTML).
    """
    tree: Element = html5lib.HTMLParser(strict=True).parse(page)
    return tree


def words_of(element: Element) -> str:
    """Return all text of an element in one line."""
    return " ".join(" ".join(element.itertext()).split())


def headings(tree: Element) -> list[int]:
    """Return the levels of the headings in their order."""
    return [int(one.tag[-1]) for one in tree.iter() if re.fullmatch(rf"{re.escape(HTML)}h[1-6]", str(one.tag))]


def names(tree: Element) -> list[str]:
    """Return every id."""
    return [one.attrib["id"] for one in tree.iter() if "id" in one.attrib]


def pointed_at(tree: Element) -> Iterator[str]:
    """Yield every id that a link or a label points at."""
    for one in tree.iter():
        if "href" in one.attrib:
            yield one.attrib["href"].removeprefix("#")
        for key in ("aria-labelledby", "aria-describedby"):
            yield from one.attrib.get(key, "").split()


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two colours written #rrggbb (WCAG 2.2, definition of contrast ratio)."""
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: str) -> float:
    channels = (int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5))
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def schemes(style: str) -> dict[str, dict[str, str]]:
    """Return the colours that a style names, in the light and in the dark."""
    roots = re.findall(r":root \{([^}]*)\}", style)
    light, dark = (dict(re.findall(r"--(\w+): (#[0-9a-f]{6})", root)) for root in roots[:2])
    return {"light": light, "dark": dark}
