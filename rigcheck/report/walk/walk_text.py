"""A walk on paper as text: boxes to tick, blanks to fill, in the order of the walk."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.report.text.layout import Line, labelled, wrapped
from rigcheck.report.text.overlay_lines import overlay_lines
from rigcheck.report.walk.walk_rows import ActRows, Asked, Blank
from rigcheck.rules.overlay import Laid

__all__ = ["WALK_HEAD", "walk_lines"]

WALK_HEAD = "rigcheck walk\n"
_COLUMN = 6
_CANNOT = "[ ] cannot tell, because ____________"
_COUNTED = "All of them, counted: _____"


def walk_lines(rows: Iterable[ActRows], rig: str, day: str, width: int, laid: Iterable[Laid] = ()) -> Iterator[Line]:
    """Yield a walk as a sheet of at most `width` columns; `laid`: what was laid on top of the rules that ship."""
    yield from wrapped(f"Walk round the rig “{rig}”, {day}", width, style="head")
    yield from overlay_lines(laid, width, 12)
    yield from wrapped("Looked at by (role): ____________________   began: ______   ended: ______", width)
    yield from wrapped("Tick what is there, never what should be. What you cannot tell is an answer too.", width)
    station, after = "", False
    for act in rows:
        if act.after_work and not after:
            after = True
            yield Line()
            yield from wrapped("When the work is over", width, style="head")
        if act.station != station:
            station = act.station
            yield Line()
            yield from wrapped(f"== {station} ==", width, style="head")
        yield Line()
        yield from labelled(act.signal.upper(), f"{act.title}. {act.do}", width, column=9, label_style=act.signal)
        for asked in act.asked:
            yield from _asked(asked, width)
    yield Line()
    yield from wrapped("Signed (I looked): ____________________", width)
    yield from wrapped(CAUTION, width, style="quiet")


def _asked(asked: Asked, width: int) -> Iterator[Line]:
    yield from labelled(f"{asked.number:>4}", asked.ask, width, column=_COLUMN)
    if asked.ticks:
        for thing in dict.fromkeys(blank.thing for blank in asked.blanks):
            yield from _boxes(thing, [f"[ ] {one}" for one in (*asked.ticks, asked.none)], width)
        return
    for group in asked.groups:
        counted = [_COUNTED] if len(group) > 1 else []
        yield from _boxes("; ".join(blank.thing for blank in group), [*counted, *_of(group[0])], width)
        if counted:
            yield from labelled("", "Not so (which, and what): ____________________", width, column=_COLUMN)


def _of(blank: Blank) -> list[str]:
    few = blank.words and not blank.write
    return [f"[ ] {word}" for word in blank.words] if few else [f"__________ {blank.write}".rstrip()]


def _boxes(thing: str, boxes: list[str], width: int) -> Iterator[Line]:
    """Yield boxes with their words, a box never apart from its word."""
    yield from wrapped(thing, width, indent=" " * _COLUMN, style="quiet")
    row = " " * _COLUMN
    for one in (*boxes, _CANNOT):
        if row.strip() and len(row) + len(one) + 3 > width:
            yield Line((("", row),))
            row = " " * _COLUMN
        if _COLUMN + len(one) > width:
            yield from labelled("", one, width, column=_COLUMN)
            continue
        row += ("   " if row.strip() else "") + one
    if row.strip():
        yield Line((("", row),))
