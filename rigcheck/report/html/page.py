"""Pages from templates, by Jinja: every text is escaped, and a letter that would act unseen is shown by its number.

A report loads nothing and runs nothing; the local page has one style and one script of its own.
Templates lie in `templates/`, the looks in `styles/`, the script in `scripts/`, beside this module.
"""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup, escape

from rigcheck.report.safety_colours import RED, SIGNAL_COLOURS
from rigcheck.text.harmless import harmless, visible

__all__ = ["as_it_is", "in_one_piece", "on_page", "page", "script_of", "style_of"]

_HERE = Path(__file__).parent
_WORDS = re.compile(r"(\w+(?:[-/.]\w+)+)")
_TORN = re.compile(r"(?=.{3,16}$)(?=.*\d)\w+(?:[-/.]\w+)+")  # of a phone's 320 px a word of 16 letters is half
_BEFORE_UNIT = re.compile(r"(?<=\d) (?=[A-Za-z%°])")
_NO_BREAK = "\N{NO-BREAK SPACE}"


def page(template: str, **told: object) -> str:
    """Return the page of a template of `templates/`; what it says comes from `told`.

    Raises `UndefinedError` of Jinja where the template wants something that is not told.
    """
    return _environment().get_template(template).render(**told)


@cache
def _environment() -> Environment:
    made = Environment(
        loader=FileSystemLoader(_HERE / "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=_shown,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters |= {"in_one_piece": in_one_piece, "capital": _capital, "rows_as_they_are": as_it_is}
    made.filters |= {"untorn": untorn}
    return made


def _shown(value: object) -> object:
    return on_page(value) if isinstance(value, str) and not isinstance(value, Markup) else value


def on_page(text: str) -> str:
    """Return text on one line, made harmless; a blank at which no row ends stays.

    >>> on_page(" a\n<b\u202e")
    'a <b[U+202E]'
    """
    return harmless(text, kept=_NO_BREAK)


def in_one_piece(text: str) -> str:
    """Return text in which no row ends between a number and its unit.

    >>> in_one_piece("at most 0.3 bar")
    'at most 0.3\\xa0bar'
    """
    return _BEFORE_UNIT.sub(_NO_BREAK, text)


def untorn(text: str) -> Markup:
    """Return text in which no row ends within a day or a tag, as 2026-11-25 and H-0231; a long word may be torn.

    >>> untorn("due 2026-11-25")
    Markup('due <span class="whole">2026-11-25</span>')
    """
    words = _WORDS.split(on_page(text))
    spans = (f'<span class="whole">{escape(one)}</span>' if _TORN.fullmatch(one) else escape(one) for one in words)
    return Markup("".join(spans))  # noqa: S704  escaped word by word


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def as_it_is(row: str) -> Markup:
    """Return a row with the blanks that it begins with, in which every character can be seen."""
    return Markup(escape(visible(row)))  # noqa: S704  escaped on the spot


@cache
def style_of(*names: str) -> Markup:
    """Return files of `styles/` as one style; it begins with the colours of the signal words as custom properties."""
    colours = [f"--{word}: {ground}; --on-{word}: {ink};" for word, (ground, ink) in SIGNAL_COLOURS.items()]
    told = "\n".join((_HERE / "styles" / f"{name}.css").read_text(encoding="utf-8") for name in names)
    return Markup(f"html {{ {' '.join(colours)} --hold: {RED}; --on-hold: #ffffff; }}\n{told}")  # noqa: S704


@cache
def script_of(name: str) -> str:
    """Return a file of `scripts/`."""
    return (_HERE / "scripts" / f"{name}.js").read_text(encoding="utf-8")
