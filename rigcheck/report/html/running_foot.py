"""What stands at the foot of every printed page: whose page it is, its number, who decides."""

from __future__ import annotations

from markupsafe import Markup

from rigcheck.report.html.page import on_page

__all__ = ["running_foot"]

_BOX = 'font: 7.5pt Helvetica, Arial, "Liberation Sans", "DejaVu Sans", sans-serif; vertical-align: top;'
_CAUTION = "The local code, the makers' instructions and a competent or licensed person decide."


def running_foot(told: str) -> Markup:
    """Return the style that prints `told`, the caution and the page number under every page."""
    text = f'"{_quoted(told)}\\a {_quoted(_CAUTION)}"'
    number = '"page " counter(page) " of " counter(pages)'
    left = f"@bottom-left {{ {_BOX} white-space: pre-wrap; width: 80%; content: {text}; }}"
    right = f"@bottom-right {{ {_BOX} width: 20%; content: {number}; }}"
    return Markup(f"@page {{ {left} {right} }}\n")  # noqa: S704


def _quoted(text: str) -> str:
    r"""Return text for a CSS string in which only plain letters stand as they are (CSS Syntax 3, 4.3.7 escapes).

    >>> _quoted('a"<')
    'a\\22 \\3c '
    """
    plain = (one if one.isascii() and (one.isalnum() or one == " ") else f"\\{ord(one):x} " for one in on_page(text))
    return "".join(plain)
