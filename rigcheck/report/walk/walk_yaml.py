"""A walk as a sheet to be typed: one row for each answer, empty until somebody writes what stands on the paper."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rigcheck.report.walk.walk_rows import ActRows, Asked, Blank
from rigcheck.rules.overlay import Laid, overlay_words
from rigcheck.text.harmless import harmless
from rigcheck.text.scalar_text import scalar_text

__all__ = ["walk_yaml"]


def walk_yaml(rows: Iterable[ActRows], rig: str, day: str, by: str, laid: Iterable[Laid] = ()) -> Iterator[str]:
    """Yield a sheet in which every answer is empty; nothing is known of the rig until one is written.

    `rig`: the path of its file, seen from the sheet; `by`: who looked, by role, or nothing;
    `laid`: what was laid on top of the rules that ship.
    """
    yield "# What stands on the paper, by its numbers. An empty answer says nothing of the rig. Then:\n"
    yield "# rigcheck answer RIG and the name of this file. “cannot tell, no light” is an answer too.\n"
    for told in overlay_words(laid):
        yield f"# {' '.join(harmless(told).split())}\n"
    yield f"sheet: {scalar_text(rig)}\nday: {day}\nby: {scalar_text(by) if by else '# a role, as fitter'}\nanswers:\n"
    station = ""
    for act in rows:
        if act.station != station:
            station = act.station
            yield f"\n  # == {station} ==\n"
        yield f"\n  # {act.title}: {act.do}\n"
        for asked in act.asked:
            yield f"  # {asked.number}. {asked.signal.upper()}: {asked.ask}\n"
            yield from _list(asked) if asked.ticks else (_row(asked.number, blank) for blank in asked.blanks)


def _row(number: int, blank: Blank) -> str:
    told = " | ".join(blank.words) or blank.write
    comment = f"{blank.thing}: {told}" if told else blank.thing
    return f"  {number} {blank.path} {blank.fact}:    # {comment}\n"


def _list(asked: Asked) -> Iterator[str]:
    ticks = " | ".join(f"{number} {one}" for number, one in enumerate(asked.ticks, start=1))
    for path in dict.fromkeys(blank.path for blank in asked.blanks):
        own = [blank for blank in asked.blanks if blank.path == path]
        facts = " ".join(blank.fact for blank in own)
        yield f"  {asked.number} {path} {facts}:    # {own[0].thing}: {ticks} | none: {asked.none}\n"
