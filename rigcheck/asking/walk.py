"""The walk: what is asked of somebody who goes round a rig, station by station, gravest first.

A page is one act of looking with what is still open of it; facts that cannot turn a verdict any more are not on it.
The walk is made anew after each answer from what is known then: stopping and going on changes nothing.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping

from msgspec import Struct, field

from rigcheck.asking.open_facts import OpenFact, OpenRig
from rigcheck.judge.finding import Waiting
from rigcheck.rig.thing import Thing
from rigcheck.rules.looks import Lesser, Look, Looks
from rigcheck.rules.rule import GRAVITY, Signal

__all__ = ["MOST_LOOKS", "Page", "Stop", "in_flow", "walk_of"]

MOST_LOOKS = 9
"""Looks in one station: a longer one is left to the eye in parts (under ten, by published advice on checklists)."""

_Key = tuple[str, str]
_STEP = re.compile(r"([^.\[\]]+)(?:\[(\d+)\])?")
_FIRST = 100  # a fact that decides whether others are asked goes before graver ones


class Page(Struct, frozen=True):
    """One question of a look about one thing, or about like things of the rig.

    `facts` are asked in their order; `open`: what is open, by path of the thing and fact; `listed`: the list of lesser
    defects that it shows; `again`: it was answered, and is asked once more before gas is let on.
    """

    look: Look
    station: str
    things: tuple[Thing, ...]
    facts: tuple[str, ...]
    open: Mapping[_Key, OpenFact]
    listed: Lesser | None = None
    again: bool = False

    @property
    def signal(self) -> Signal:
        """How grave the gravest breach is that it could find."""
        return max((one.signal for one in self.open.values()), key=GRAVITY.__getitem__)

    @property
    def waiting(self) -> tuple[Waiting, ...]:
        """The rules that wait for it, gravest first."""
        found = {waits.rule: waits for one in self.open.values() for waits in one.waiting}
        return tuple(sorted(found.values(), key=lambda waits: (-GRAVITY[waits.signal], waits.rule)))

    @property
    def after_work(self) -> bool:
        """Whether it can be told once the rig was at work, and no sooner."""
        return set(self.facts) <= set(self.look.after_work)

    @property
    def act(self) -> tuple[str, str]:
        """The act of looking that it belongs to: several questions are answered by one."""
        return self.look.name, self.things[0].path

    @property
    def key(self) -> tuple[str, tuple[str, ...], tuple[str, ...]]:
        """What tells it from every other page of the walk."""
        return self.look.name, tuple(one.path for one in self.things), self.facts


class Stop(Struct, frozen=True):
    """A station of this rig's walk, with the pages that are left there."""

    station: str
    title: str
    pages: tuple[Page, ...]


class _Draft(Struct):
    """A page that is being put together."""

    look: Look
    facts: tuple[str, ...]
    listed: Lesser | None
    station: int
    things: dict[str, Thing] = field(default_factory=dict)
    open: dict[_Key, OpenFact] = field(default_factory=dict)


def walk_of(
    found: OpenRig,
    looks: Looks,
    *,
    put_down: Iterable[_Key] = (),
    only: Signal | None = None,
    after_find: Iterable[str] = (),
) -> tuple[Stop, ...]:
    """Return the stations of a walk with what is still to be asked there.

    `put_down`: facts that this person answered or could not tell, by path and name: they do not come again;
    `only`: the least grave signal word that is asked after; `after_find`: paths of things of which something was found
    wrong with the last answer, about which all else is asked at once.
    """
    closed, hot = frozenset(put_down), frozenset(after_find)
    least = GRAVITY[only] if only else 0
    drafts: dict[tuple[object, ...], _Draft] = {}
    spoken_of = {path for path, _ in closed}
    for key, one in found.facts.items():
        if key[1] == "kind" and key[0] in spoken_of:  # somebody was there, and told what he could
            continue
        if key not in closed and (GRAVITY[one.signal] >= least or key[0] in hot):
            _enter(drafts, looks, key, one, alone=key[0] in hot)
    pages = [(draft.station, _page(draft, looks)) for draft in drafts.values()]
    gravest: dict[object, int] = {}
    for station, page in pages:
        act = station, page.act
        gravest[act] = max(gravest.get(act, 0), GRAVITY[page.signal] + _FIRST * _decides(page, found))
    acts = {act: number for number, act in enumerate(gravest)}
    answered = _answered(looks, found, closed)

    def place(pair: tuple[int, Page]) -> tuple[object, ...]:
        act = pair[0], pair[1].act
        again = _is_alike(pair[1]) and any((pair[1].look.name, name) in answered for name in pair[1].facts)
        return _order(pair[0], pair[1], hot, (-gravest[act], again, acts[act]), _decides(pair[1], found))

    pages.sort(key=place)
    return tuple(_stops(pages, looks, hot))


def _enter(drafts: dict[tuple[object, ...], _Draft], looks: Looks, key: _Key, one: OpenFact, *, alone: bool) -> None:
    name = _asked_for(looks, one)
    if name is None:
        return
    look = looks.answering(one.thing.kind.lineage, name)[0]
    for number, (facts, alike, listed) in enumerate(look.groups):
        if name in facts:
            where = "" if alike and not alone else key[0]
            station = _station(looks, look, one.thing)
            draft = drafts.setdefault((look.name, number, where), _Draft(look, facts, listed, station))
            draft.things[key[0]] = one.thing
            at = key[0], name
            draft.open[at] = one if at not in draft.open else _graver(one, draft.open[at])
            return


def _graver(one: OpenFact, other: OpenFact) -> OpenFact:
    return max(one, other, key=lambda fact: GRAVITY[fact.signal])


def _asked_for(looks: Looks, one: OpenFact) -> str | None:
    """Return the fact that is asked after; whether a thing is there at all is known once anything of it was seen."""
    lineage = one.thing.kind.lineage
    if one.name != "kind":
        return one.name if looks.answering(lineage, one.name) else None
    listed = sorted(looks.for_kind(lineage), key=lambda look: look.act not in ("look", "touch"))
    return next((name for look in listed for name in look.facts if look in looks.answering(lineage, name)), None)


def _page(draft: _Draft, looks: Looks) -> Page:
    names = {name for _, name in draft.open}
    facts = tuple(name for name in draft.facts if name in names)
    station = list(looks.stations)[draft.station]
    return Page(draft.look, station, in_flow(draft.things.values()), facts, draft.open, draft.listed)


def in_flow(things: Iterable[Thing]) -> tuple[Thing, ...]:
    """Return the things of a page in the one order that a page has them in: fields of its form are counted by it."""
    return tuple(sorted(things, key=lambda thing: _flow_order(thing.path)))


def _flow_order(path: str) -> tuple[tuple[str, int], ...]:
    """Return what places are sorted by: lines, and parts of a line in the order of the flow."""
    return tuple((name, int(number or 0)) for name, number in _STEP.findall(path))


def _decides(page: Page, found: OpenRig) -> bool:
    """Whether a page of the gravest sort decides whether others are asked at all."""
    return page.signal == "danger" and not found.deciding.isdisjoint(page.open)


# --- stations and their order ---


def _station(looks: Looks, look: Look, thing: Thing) -> int:
    """Return at which station of the walk a look is made; a part of the torch is met where the torch is."""
    names = list(looks.stations)
    if looks.stations[look.station].along_line and _line(thing) is None:
        own = next((one for one in looks.for_kind(_outermost(thing).kind.lineage) if _stands(looks, one)), None)
        return names.index(own.station if own else look.station)
    return names.index(look.station)


def _stands(looks: Looks, look: Look) -> bool:
    return not looks.stations[look.station].along_line


def _outermost(thing: Thing) -> Thing:
    while thing.parent is not None and thing.parent.parent is not None:
        thing = thing.parent
    return thing


def _order(station: int, page: Page, hot: frozenset[str], act: tuple[object, ...], decides: bool) -> tuple[object, ...]:
    """Return what pages are sorted by: deciding facts, then the gravest act, all of one act while the hand is there.

    Of pages that are as grave, the look says which comes first: what a later one hangs on stands before it there.
    """
    found = not any(one.path in hot for one in page.things)
    number = next(at for at, (facts, _, _) in enumerate(page.look.groups) if page.facts[0] in facts)
    return found, station, *act, not decides, -GRAVITY[page.signal], number


def _is_alike(page: Page) -> bool:
    """Whether a page is about all things of its kind side by side."""
    return any(alike and page.facts[0] in facts for facts, alike, _ in page.look.groups)


def _answered(looks: Looks, found: OpenRig, closed: frozenset[_Key]) -> frozenset[tuple[str, str]]:
    """Return the looks and facts that were answered of some thing: where the same is asked of another one since, it
    waits until no more can be opened, so that nobody comes back for each of four arresters.
    """
    kinds = {path: one.thing.kind.lineage for (path, _), one in found.facts.items()}
    told = ((kinds[path], name) for path, name in closed if path in kinds)
    return frozenset((look.name, name) for lineage, name in told for look in looks.answering(lineage, name))


def _stops(pages: list[tuple[int, Page]], looks: Looks, hot: frozenset[str]) -> Iterator[Stop]:
    at: tuple[bool, int] | None = None
    gathered: list[list[Page]] = []
    for station, page in pages:
        here = (any(one.path in hot for one in page.things), station)
        if here != at:
            gathered.append([])
            at = here
        gathered[-1].append(page)
    for group in gathered:
        yield from _parted(group, looks)


def _parted(group: list[Page], looks: Looks) -> Iterator[Stop]:
    title = looks.stations[group[0].station].title
    parts = [group[at : at + MOST_LOOKS] for at in range(0, len(group), MOST_LOOKS)]
    for number, pages in enumerate(parts, start=1):
        shown = f"{title}, {number} of {len(parts)}" if len(parts) > 1 else title
        yield Stop(group[0].station, shown, tuple(pages))


def _line(thing: Thing) -> Thing | None:
    at: Thing | None = thing
    while at is not None:
        found = at.facts.get("line")
        if isinstance(found, Thing):
            return found
        at = at.parent
    return None
