"""The rows of a walk on paper: act by act, question by question, with boxes and blanks, none of them marked."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

from msgspec import Struct

from rigcheck.asking.walk import Page, Stop
from rigcheck.report.text.page_text import choices_of
from rigcheck.rig.fact import Fact
from rigcheck.rig.spelling import what_to_write
from rigcheck.rig.thing import Thing
from rigcheck.rules.rule import GRAVITY, Signal

__all__ = ["ActRows", "Asked", "Blank", "walk_rows"]

_EACH = 3  # things that have a row each
_DAY = "as 2026-11-25"
_FEW = 20  # words that stand as boxes; of more the one that is meant is written


class Blank(Struct, frozen=True):
    """What is filled in for one fact of one thing: boxes for `words`, or a blank with `write` beside it."""

    path: str
    thing: str
    fact: str
    words: tuple[str, ...]
    write: str


class Asked(Struct, frozen=True):
    """One question with a blank for each thing; `ticks` are the defects of a list, `none` is its end.

    `groups`: of many things, those of one line share their boxes and are counted, and what differs is written; what is
    marked for a gas differs from line to line, and a reading is written for each thing.
    """

    number: int
    ask: str
    signal: Signal
    blanks: tuple[Blank, ...]
    ticks: tuple[str, ...] = ()
    none: str = ""

    @property
    def groups(self) -> tuple[tuple[Blank, ...], ...]:
        grouped: dict[object, list[Blank]] = {}
        for one in self.blanks:
            shares = len(self.blanks) > _EACH and (one.words or one.write == _DAY)
            key = (one.path.partition(".")[0], one.words, one.write) if shares else one.path
            grouped.setdefault(key, []).append(one)
        return tuple(map(tuple, grouped.values()))


class ActRows(Struct, frozen=True):
    """One act of looking at a station: its title, what is done, and what is asked.

    `after_work`: it is told when the work is over, on another side of the paper.
    """

    station: str
    title: str
    do: str
    asked: tuple[Asked, ...]
    after_work: bool = False

    @property
    def signal(self) -> Signal:
        """The gravest signal word of what is asked."""
        return max((one.signal for one in self.asked), key=GRAVITY.__getitem__)


def walk_rows(stops: Iterable[Stop], *, daily: bool = False) -> tuple[ActRows, ...]:
    """Return the rows of a walk in its order; questions are numbered through.

    `daily`: what is told when the work is over stands apart.
    """
    pages = [(stop, page) for stop in stops for page in stop.pages]
    rows: list[ActRows] = []
    number = 1
    for (title, act), group in groupby(pages, key=lambda pair: (pair[0].title, pair[1].look.name)):
        asked: list[Asked] = []
        look, after = None, False
        for _, page in group:
            look, after = page.look, daily and page.after_work
            for one in _asked(page, number):
                asked.append(one)
                number += 1
        assert look is not None, act
        rows.append(ActRows(title, look.look, look.do, tuple(asked), after))
    return tuple(rows)


def _asked(page: Page, number: int) -> Iterator[Asked]:
    if page.listed is not None:
        shown = [tick.shows for tick in page.listed.ticks if set(tick.tells) & set(page.facts)]
        blanks = tuple(
            Blank(thing.path, thing.label, name, _words(thing.kind.facts[name]), "")
            for thing in page.things
            for name in page.facts
            if (thing.path, name) in page.open
        )
        yield Asked(number, "Which of these do you see?", page.signal, blanks, tuple(shown), page.listed.none)
        return
    for at, name in enumerate(page.facts):
        things = [thing for thing in page.things if (thing.path, name) in page.open]
        ask = page.open[things[0].path, name].ask
        first = things[0].kind.facts[name].entry.ask
        signal = max((page.open[thing.path, name].signal for thing in things), key=GRAVITY.__getitem__)
        yield Asked(number + at, first or ask, signal, tuple(_blank(thing, name) for thing in things))


def _blank(thing: Thing, name: str) -> Blank:
    fact = thing.kind.facts[name]
    words = _words(fact)
    write = "" if words and len(words) <= _FEW else _unit(fact)
    return Blank(thing.path, thing.label, name, words, write)


def _words(fact: Fact) -> tuple[str, ...]:
    return tuple(word for word, _ in choices_of(fact))


def _unit(fact: Fact) -> str:
    """Return the unit that is mostly used, or how it is written; no example, for it would be copied."""
    told = what_to_write(fact)
    example, _, units = told.partition(" (in ")
    if units:
        return example.rpartition(" ")[2]
    if fact.measure == "day":
        return _DAY
    return "" if fact.measure in ("text", "count") else "one of its words"
