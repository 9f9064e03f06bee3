"""Where a walk stands: what is asked next, what is left, what was found. A function of the rig and what is on disk."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping

from msgspec import Struct
from msgspec.structs import replace

from rigcheck.asking.answers import Told
from rigcheck.asking.last_page import before_gas, changing, known_after_work, last_page
from rigcheck.asking.open_facts import NOT_SHOWN, OpenFact, OpenRig, open_rig
from rigcheck.asking.walk import Page, Stop, walk_of
from rigcheck.judge.finding import Finding
from rigcheck.judge.judged import Judged
from rigcheck.rig.put_down import may_be_absent
from rigcheck.rig.thing import Thing
from rigcheck.rules.looks import Looks
from rigcheck.rules.rule import Signal

__all__ = ["Walk", "walk_on"]


class Walk(Struct, frozen=True):
    """One moment of a walk.

    `stops`: what is still to be asked, station by station; `left`: verdicts that nobody has shown, by signal word
    (they only become fewer); `later`: of a daily look, those besides that wait only for how the rig is worked with:
    nobody can show them before gas is let on, and they do not count as shown either; `not_told`: what nobody here
    could tell and a rule still waits for; `gone`: things of which somebody said that they are not there: nothing of
    them is asked, and nothing of them is known; `findings`: of the rig as judged now; `after_work`: the daily look
    before gas is let on is at its end, and what is still to be asked can be told once the rig was at work.
    """

    stops: tuple[Stop, ...]
    left: Mapping[Signal, int]
    findings: tuple[Finding, ...]
    not_told: tuple[OpenFact, ...]
    gone: tuple[Thing, ...] = ()
    after_work: bool = False
    later: Mapping[Signal, int] = {}

    @property
    def next_page(self) -> Page | None:
        """The page that is asked now; None at the end of the walk."""
        return self.stops[0].pages[0] if self.stops else None


def walk_on(
    judged: Judged, looks: Looks, told: Told, *, only: Signal | None = None, after_find: Iterable[str] = ()
) -> Walk:
    """Return where the walk stands, by what a look tells so far.

    The daily walk is short. It asks what may change from one minute to the next once, at the end of what comes before
    gas is let on, and how the rig was used after that; a longer one asks all where it is met, and the former once more.
    `only`: the least grave signal word that is asked after; `after_find`: things of which something was just found.
    """
    found, hot = open_rig(judged), tuple(after_find)
    gone = tuple(_gone(judged, looks, told))
    told = _without(told, found, gone)
    not_told = tuple(one for key, one in found.facts.items() if key in told.cannot_tell and not _is_in(key[0], gone))
    if judged.rules.purpose == "use":
        before, after = _daily(found, looks, told, only, hot)
        late = bool(after) and not before
        later = _later(judged, found, known_after_work(found, looks) - told.cannot_tell.keys())
        left = Counter(found.left)
        left.subtract(later)
        return Walk((*before, *after), +left, found.findings, not_told, gone, after_work=late, later=later)
    stops = walk_of(found, looks, put_down=told.closed, only=only, after_find=hot)
    if not stops and judged.rules.purpose != "standard":
        last = last_page(judged, looks, told)
        stops = (last,) if last else ()
    return Walk(stops, found.left, found.findings, not_told, gone)


def _later(judged: Judged, found: OpenRig, worked: frozenset[tuple[str, str]]) -> Mapping[Signal, int]:
    """Return how many verdicts are open that wait for nothing but what is known once the rig was at work.

    A rule that waits for anything else too, at whatever thing, is open now.
    """
    waiting = {key in worked: set[str]() for key in found.facts}
    for key, one in found.facts.items():
        waiting[key in worked].update(waits.rule for waits in one.waiting)
    then = waiting.get(True, set()) - waiting.get(False, set())
    open_ = (rule for _, rule, verdict, _ in judged.judgements() if verdict in NOT_SHOWN and rule.name in then)
    return Counter(rule.signal for rule in open_)


def _gone(judged: Judged, looks: Looks, told: Told) -> Iterator[Thing]:
    """Yield the things of which the last that was said is that they are not there."""
    said = told.cannot_tell.items()
    paths = {key[0] for key, because in said if because == looks.absent and not told.times.get(key)}
    return (thing for thing in judged.rig.things if thing.path in paths and may_be_absent(thing))


def _is_in(path: str, things: Iterable[Thing]) -> bool:
    """Whether a place is one of these things, or within one."""
    return any(path == one.path or path.startswith((f"{one.path}.", f"{one.path}[")) for one in things)


def _without(told: Told, found: OpenRig, gone: tuple[Thing, ...]) -> Told:
    """Return what a look tells, with all that is open of things that are not there put down too."""
    more = {key: "" for key in found.facts if key not in told.cannot_tell and _is_in(key[0], gone)}
    return replace(told, cannot_tell={**told.cannot_tell, **more}) if more else told


def _daily(
    found: OpenRig, looks: Looks, told: Told, only: Signal | None, hot: tuple[str, ...]
) -> tuple[tuple[Stop, ...], tuple[Stop, ...]]:
    """Return what is asked before gas is let on, and what is asked when the work is over."""
    worked, last = known_after_work(found, looks), changing(found, looks)
    rest = found.facts.keys() - worked - last
    first = walk_of(found, looks, put_down=told.closed | worked | last, only=only, after_find=hot)
    again = walk_of(found, looks, put_down=told.closed | worked | rest, only=only, after_find=hot)
    after = walk_of(found, looks, put_down=told.closed | last | rest, only=only, after_find=hot)
    return (*first, *before_gas(again)), after
