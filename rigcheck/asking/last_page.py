"""The last page before gas is let on: what may have changed since it was seen is asked once more."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping

from rigcheck.asking.answers import Told
from rigcheck.asking.asked_again import comes_again
from rigcheck.asking.open_facts import OpenFact, OpenRig
from rigcheck.asking.walk import Page, Stop, in_flow
from rigcheck.judge.finding import Waiting
from rigcheck.judge.judged import Judged
from rigcheck.rig.thing import Thing
from rigcheck.rules.looks import Look, Looks
from rigcheck.rules.rule import Rule

__all__ = ["before_gas", "changing", "known_after_work", "last_page"]

_TITLE = "Before gas is let on"
_Key = tuple[str, str]


def last_page(judged: Judged, looks: Looks, told: Told) -> Stop | None:
    """Return the killer facts that were answered once, each on one page for all its things; None where none is left.

    They are those that may have changed since, and of the readings one in eight.
    A fact that broke its rule needs no second look: something is to be done about it first.
    """
    standing = _standing(judged)
    once = {key for key, times in told.times.items() if times == 1} - told.cannot_tell.keys()
    drawn = {key for key in once if _drawn(key, judged, looks)}
    pages = [
        page
        for look in looks.looks.values()
        for name in dict.fromkeys((*look.again, *look.facts))
        if (page := _page(look, name, judged, looks, standing, once if name in look.again else drawn)) is not None
    ]
    return Stop("", _TITLE, tuple(pages)) if pages else None


def _drawn(key: _Key, judged: Judged, looks: Looks) -> bool:
    """Whether a fact is one of the readings that come again."""
    thing = next((one for one in judged.rig.things if one.path == key[0]), None)
    if thing is None:
        return False
    if any(key[1] in told for look in looks.for_kind(thing.kind.lineage) for told in look.dated.values()):
        return False  # a day that the look told, and nobody read off
    answering = looks.answering(thing.kind.lineage, key[1])
    return any(comes_again(look, thing, key[1], judged.day) for look in answering)


def changing(found: OpenRig, looks: Looks) -> frozenset[_Key]:
    """Return the open facts that may change from one minute to the next."""
    return _named(found, looks, lambda look: look.again)


def known_after_work(found: OpenRig, looks: Looks) -> frozenset[_Key]:
    """Return the open facts that are known once the rig was at work: how it was purged, opened, left."""
    return _named(found, looks, lambda look: look.after_work)


def _named(found: OpenRig, looks: Looks, names: Callable[[Look], Iterable[str]]) -> frozenset[_Key]:
    return frozenset(
        (path, name)
        for (path, name), one in found.facts.items()
        if any(name in names(look) for look in looks.answering(one.thing.kind.lineage, name))
    )


def before_gas(stops: Iterable[Stop]) -> tuple[Stop, ...]:
    """Return what is left of a daily walk as its last page."""
    pages = tuple(page for stop in stops for page in stop.pages)
    return (Stop("", _TITLE, pages),) if pages else ()


def _page(
    look: Look, name: str, judged: Judged, looks: Looks, standing: Mapping[Thing, list[Rule]], once: set[_Key]
) -> Page | None:
    found: dict[_Key, OpenFact] = {}
    things = []
    for thing in judged.rig.things:
        rules = [rule for rule in standing.get(thing, ()) if name in rule.facts]
        if rules and (thing.path, name) in once and look in looks.answering(thing.kind.lineage, name):
            waiting = tuple(Waiting(rule.name, rule.signal, rule.claim, rule.place) for rule in rules)
            found[thing.path, name] = OpenFact(thing, name, thing.kind.facts[name].entry.ask, "", waiting)
            things.append(thing)
    return Page(look, look.station, in_flow(things), (name,), found, again=True) if things else None


def _standing(judged: Judged) -> Mapping[Thing, list[Rule]]:
    """Return the DANGER rules that hold, by thing of the rig as loaded."""
    found: dict[Thing, list[Rule]] = {}
    for thing, rule in _held(judged):
        if rule.signal == "danger" and thing.origin is not None:
            found.setdefault(thing.origin, []).append(rule)
    return found


def _held(judged: Judged) -> Iterator[tuple[Thing, Rule]]:
    return ((thing, rule) for thing, rule, verdict, _ in judged.judgements() if verdict in ("holds", "presumed"))
