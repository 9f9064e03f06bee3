"""A walk as a look to be typed: the # before an answer is taken away, and the value is written."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rigcheck.asking.answers import begun_look
from rigcheck.report.walk.walk_rows import ActRows, Blank

__all__ = ["walk_yaml"]


def walk_yaml(rows: Iterable[ActRows], rig: str, day: str, by: str) -> Iterator[str]:
    """Yield a look of which every answer is still a comment; nothing is known of the rig until one is written."""
    yield begun_look(rig, day, by)
    station = ""
    for act in rows:
        if act.station != station:
            station = act.station
            yield f"\n  # == {station} ==\n"
        yield f"\n  # {act.title}: {act.do}\n"
        for asked in act.asked:
            yield f"  # {asked.number}. {asked.signal.upper()}: {asked.ask}\n"
            yield from (
                f"  # - {{thing: {_quoted(blank.path)}, {blank.fact}: }}{_words(blank)}\n" for blank in asked.blanks
            )


def _quoted(path: str) -> str:
    return f'"{path}"' if "[" in path else path


def _words(blank: Blank) -> str:
    told = " | ".join(blank.words) or blank.write
    return f"    # {blank.thing}: {told}" if told else f"    # {blank.thing}"
