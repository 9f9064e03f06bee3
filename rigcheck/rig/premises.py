"""A site file to its premises: buildings, stores, permits and rigs, and how far they stand from each other."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from itertools import combinations
from typing import Any

from rigcheck.rig.shared_facts import site_body
from rigcheck.rig.thing import Rig, Thing
from rigcheck.rig.thing_reader import Reading
from rigcheck.rig.vocabulary import Vocabulary
from rigcheck.text.faults import Refused, nearest_word, shown_text
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import Mapping as MappingNode

__all__ = ["OUTDOORS", "PREMISES", "Stand", "load_premises"]

_TOP = ("site", "shared", "$schema")
PREMISES = "premises"
OUTDOORS = "outdoors"
_MOST_PAIRS = 400  # of some 28 stores and rigs; a larger site is several

Stand = Callable[[str], "tuple[Mapping[str, Any], Place]"]
"""What the file of a rig, by its path as the site writes it, says of it to the site; and where. Raises `Refused`."""


def load_premises(
    data: bytes, file: str, vocabulary: Vocabulary, stand: Stand, *, what_can_be_read: bool = False
) -> Rig:
    """Return the premises that a site file describes, to be judged as a rig is. Raises `Refused`.

    `what_can_be_read`: as of a rig; of a rig whose own file cannot be read nothing is known but what stands here.
    """
    reading = Reading(file, vocabulary)
    body = site_body(data, reading)
    site = reading.thing(vocabulary.kinds[PREMISES], "site", None, body)
    reading.state(site, site.kind.facts["name"], body.items["site"])
    reading.fill(site, body, _TOP)
    for key in site.kind.holds:
        site.facts.setdefault(key, ())
    if _can_be_read(reading):
        _rigs_in(reading, site, stand)
        _Places(reading, site).lead()
    if reading.faults and not (what_can_be_read and _can_be_read(reading)):
        raise Refused(reading.faults)
    reading.doubt()
    for thing in reading.things:
        thing.facts["rig"] = site
    for thing in reading.things:
        thing.seal()
    return Rig(file, site, tuple(reading.things), frozenset(), unread=Refused(reading.faults).faults)


def _can_be_read(reading: Reading) -> bool:
    """Whether what was read means what it says without what was not."""
    return all(fault.alone for fault in reading.faults)


def _rigs_in(reading: Reading, site: Thing, stand: Stand) -> None:
    """Take what each rig's own file says of it; what the site file states of it stands."""
    for rig in site.facts["rigs"]:
        try:
            said, place = stand(str(rig.facts["file"]))
        except Refused as refused:
            reading.faults += (fault._replace(alone=True) for fault in refused.faults)
            continue
        except (OSError, ValueError) as error:
            read = f"The rig {rig.facts['file']} cannot be read: {getattr(error, 'strerror', None) or error}."
            reading.pass_over(rig.places["file"], read, "Write the path of the rig's file, seen from here.")
            continue
        for name, value in said.items():
            if name not in rig.places:
                rig.facts[name], rig.places[name] = value, place


class _Places:
    """What the names of a site file lead to."""

    def __init__(self, reading: Reading, site: Thing) -> None:
        self.reading, self.site = reading, site
        self.buildings, self.permits = self._named("buildings"), self._named("permits")
        self.standing = self._named("stores") | self._named("rigs")

    def lead(self) -> None:
        """Make every name lead to the thing that it means, and every two things that may need to be apart a pair."""
        facts = self.site.facts
        for one in (*facts["stores"], *facts["rigs"]):
            one.facts["building"] = self._building(one)
        for rig in facts["rigs"]:
            rig.facts["permit"] = self._led(rig, "under_permit", self.permits, "permit")
        for building in facts["buildings"]:
            for key in ("stores", "rigs"):
                building.facts[key] = tuple(one for one in facts[key] if one.facts["building"] is building)
        for permit in facts["permits"]:
            permit.facts["rigs"] = tuple(rig for rig in facts["rigs"] if rig.facts["permit"] is permit)
        self._pair()

    def _named(self, key: str) -> dict[str, Thing]:
        found: dict[str, Thing] = {}
        for thing in self.site.facts[key]:
            name = thing.facts.get("name")
            if isinstance(name, str) and name in found:
                read = f"A second one is called {shown_text(name)}."
                self.reading.refuse(thing.places["name"], read, "Give each a name of its own.")
            elif isinstance(name, str):
                found[name] = thing
        return found

    def _building(self, one: Thing) -> Thing | None:
        if one.facts.get("stands_in") == OUTDOORS:
            return None
        return self._led(one, "stands_in", self.buildings, "building")

    def _led(self, thing: Thing, fact: str, known: Mapping[str, Thing], what: str) -> Thing | None:
        name = thing.facts.get(fact)
        if not isinstance(name, str) or name == "none":
            return None
        if name not in known:
            near = nearest_word(name, known)
            read = f"No {what} is called {shown_text(name)}."
            self.reading.refuse(thing.places[fact], read, f"Write a name that stands under '{what}s:'.", near)
        return known.get(name)

    def _pair(self) -> None:
        """Relate the distances that are written, and add those that nobody wrote: they are asked for."""
        written = set()
        for one in self.site.facts["separations"]:
            ends = tuple(self._led(one, key, self.standing, "store or rig") for key in ("first", "second"))
            one.facts["ends"] = tuple(end for end in ends if end is not None)
            written.add(frozenset(ends))
            one.key, one.number = _between(one.facts["ends"]), 0
        implied = [pair for pair in self._pairs() if frozenset(pair) not in written]
        made = [self._implied(pair) for pair in implied[:_MOST_PAIRS]]
        self.site.facts["separations"] = (*self.site.facts["separations"], *made)

    def _pairs(self) -> Iterator[tuple[Thing, Thing]]:
        return combinations((*self.site.facts["stores"], *self.site.facts["rigs"]), 2)

    def _implied(self, pair: tuple[Thing, Thing]) -> Thing:
        kind = self.reading.vocabulary.kinds["separation"]
        made = self.reading.thing(kind, _between(pair), self.site, MappingNode(self.site.line, self.site.column))
        made.facts |= {"premises": self.site, "ends": pair}
        return made


def _between(ends: Iterable[Thing]) -> str:
    return "separation of " + " and ".join(str(end.facts.get("name") or end.label) for end in ends)
