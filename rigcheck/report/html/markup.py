"""HTML as strings: every text that came from a file is escaped, and what would act unseen is shown."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape

__all__ = ["Rows", "joined", "listed", "rows", "section", "shown", "table", "tag"]

Rows = Iterable[tuple[str, str]]
"""Labels with the markup that belongs to each."""


def shown(text: str) -> str:
    """Return text as markup on one line; a control character or a turn of the writing direction as its number.

    >>> shown("a<b\\u202e")
    'a&lt;b[U+202E]'
    """
    line = " ".join(text.split())
    if not line.isprintable():
        line = "".join(letter if letter.isprintable() else f"[U+{ord(letter):04X}]" for letter in line)
    return escape(line, quote=True)


def tag(name: str, inner: str, **attributes: str) -> str:
    """Return an element around markup; `class_` and `aria_label` are written class and aria-label.

    An attribute without a value is left out.
    """
    pairs = ((key.rstrip("_").replace("_", "-"), value) for key, value in attributes.items() if value)
    told = "".join(f' {key}="{shown(value)}"' for key, value in pairs)
    return f"<{name}{told}>{inner}</{name}>"


def joined(parts: Iterable[str]) -> str:
    """Return markup one piece a line."""
    return "\n".join(part for part in parts if part)


def section(anchor: str, title: str, *parts: str) -> str:
    """Return a part of the page under its heading, which it is named by."""
    head = tag("h2", shown(title), id=f"{anchor}-heading")
    return tag("section", joined(["", head, *parts, ""]), id=anchor, aria_labelledby=f"{anchor}-heading")


def rows(pairs: Rows, class_: str = "rows") -> str:
    """Return labels and texts as a list of descriptions."""
    told = (f"<div><dt>{shown(label)}</dt><dd>{text}</dd></div>" for label, text in pairs)
    return tag("dl", joined(told), class_=class_)


def listed(items: Iterable[str], class_: str = "") -> str:
    """Return pieces of markup as a list; nothing where there are none."""
    told = joined(tag("li", item) for item in items)
    return tag("ul", told, class_=class_) if told else ""


def table(anchor: str, caption: str, heads: Sequence[str], lines: Iterable[Sequence[str]], class_: str = "") -> str:
    """Return a table whose lines begin with their heading; a narrow screen scrolls it, not the page."""
    head = "".join(tag("th", shown(one), scope="col") for one in heads)
    body = joined(_line(line) for line in lines)
    inner = joined(
        [
            tag("caption", shown(caption), id=f"{anchor}-caption"),
            f"<thead><tr>{head}</tr></thead>",
            tag("tbody", body),
        ]
    )
    named = f"{anchor}-caption"
    return tag(
        "div",
        tag("table", inner),
        class_=f"scroll {class_}".strip(),
        role="region",
        aria_labelledby=named,
        tabindex="0",
    )


def _line(cells: Sequence[str]) -> str:
    first, *others = cells
    return tag("tr", tag("th", first, scope="row") + "".join(tag("td", cell) for cell in others))
