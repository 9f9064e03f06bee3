"""A walk on paper as one HTML page, for A4: it loads nothing and runs nothing, and no box is ticked."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby

from markupsafe import Markup

from rigcheck.report.html.heads import WALK_HEAD
from rigcheck.report.html.page import page, style_of
from rigcheck.report.html.running_foot import running_foot
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.report.walk.walk_rows import ActRows
from rigcheck.rules.overlay import Laid, overlay_words

__all__ = ["walk_page"]


def walk_page(rows: Iterable[ActRows], rig: str, day: str, pack: str, laid: Iterable[Laid] = ()) -> str:
    """Return the page of a walk; whatever a user wrote is escaped; `laid`: what was laid on top of what ships."""
    sides = [(after, _stations(acts)) for after, acts in groupby(rows, key=lambda act: act.after_work)]
    return page(
        "walk.html",
        head=Markup(WALK_HEAD),  # noqa: S704
        title=f"Walk: {rig}",
        style=style_of("base", "walk") + running_foot(f"Walk, {rig}, {day}"),
        rig=rig,
        day=day,
        pack=pack,
        laid=overlay_words(laid),
        sides=sides,
        caution=CAUTION,
    )


def _stations(acts: Iterable[ActRows]) -> list[tuple[str, list[ActRows]]]:
    return [(title, list(own)) for title, own in groupby(acts, key=lambda act: act.station)]
