"""Where a walk stands: what is asked next, what is left, what was found. A function of the rig and what is on disk."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from msgspec import Struct

from rigcheck.asking.answers import Told
from rigcheck.asking.last_page import before_gas, changing, last_page
from rigcheck.asking.open_facts import OpenFact, open_rig
from rigcheck.asking.walk import Page, Stop, walk_of
from rigcheck.judge.finding import Finding
from rigcheck.judge.judged import Judged
from rigcheck.rules.looks import Looks
from rigcheck.rules.rule import Signal

__all__ = ["Walk", "walk_on"]


class Walk(Struct, frozen=True):
    """One moment of a walk.

    `stops`: what is still to be asked, station by station; `left`: verdicts that nobody has shown, by signal word
    (they only become fewer); `not_told`: what nobody here could tell and a rule still waits for;
    `findings`: of the rig as judged now.
    """

    stops: tuple[Stop, ...]
    left: Mapping[Signal, int]
    findings: tuple[Finding, ...]
    not_told: tuple[OpenFact, ...]

    @property
    def next_page(self) -> Page | None:
        """The page that is asked now; None at the end of the walk."""
        return self.stops[0].pages[0] if self.stops else None


def walk_on(
    judged: Judged, looks: Looks, told: Told, *, only: Signal | None = None, after_find: Iterable[str] = ()
) -> Walk:
    """Return where the walk stands, by what a look tells so far.

    The daily walk is short, and asks what may change from one minute to the next once, at its end; a longer one asks it
    where it is met, and once more at the end.
    `only`: the least grave signal word that is asked after; `after_find`: things of which something was just found.
    """
    found, hot = open_rig(judged), tuple(after_find)
    daily = judged.rules.purpose == "use"
    held_back = changing(found, looks) if daily else frozenset()
    stops = walk_of(found, looks, put_down=told.closed | held_back, only=only, after_find=hot)
    if not stops and daily:
        stops = before_gas(walk_of(found, looks, put_down=told.closed, only=only, after_find=hot))
    elif not stops and judged.rules.purpose != "standard":
        last = last_page(judged, looks, told)
        stops = (last,) if last else ()
    not_told = tuple(one for key, one in found.facts.items() if key in told.cannot_tell)
    return Walk(stops, found.left, found.findings, not_told)
