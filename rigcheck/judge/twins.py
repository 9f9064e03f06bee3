"""Things of a register of which the same is known: one of them is judged, and the others come out like it.

A thing of a register leads to what is built into it and to nothing else, so no verdict on it can rest on another one;
18,000 hoses of which 40 sorts were bought are 40 judgements.
"""

from __future__ import annotations

from collections.abc import Container, Hashable, Mapping
from typing import Any

from rigcheck.facts.known import Known
from rigcheck.quantity.interval import Interval
from rigcheck.rig.thing import Rig, Thing

__all__ = ["Mates", "twins_as_known", "twins_of"]


def twins_of(rig: Rig, read: Container[str]) -> dict[Thing, Thing]:
    """Return for each thing of a register, but the first of its sort, that first one; what is built in, likewise.

    Its tag is left out, and any other text that is not among the facts that rules `read`.
    """
    entries: dict[Thing, list[Thing]] = {}
    for thing in rig.things:
        if thing is not rig.root:
            entries.setdefault(_entry_of(thing, rig.root), []).append(thing)
    firsts: dict[Hashable, list[Thing]] = {}
    found: dict[Thing, Thing] = {}
    for members in entries.values():
        first = firsts.setdefault(_stated_of(members, read), members)
        if first is not members:
            found.update(zip(members, first, strict=True))
    return found


def twins_as_known(known: Known, twins: Mapping[Thing, Thing]) -> dict[Thing, Thing]:
    """Return twins as copies of which facts are known.

    What is told of a thing with places of its own is like no other: twins of such a one are worked out by themselves.
    """
    told = {_entry_of(one, known.root) for one in known.things if one.witnesses or one.disputes or one.workings}
    copies = {known.of[thing]: known.of[first] for thing, first in twins.items()}
    found = {one: first for one, first in copies.items() if _entry_of(first, known.root) not in told}
    known.take_in(one for one in copies if one not in found)
    return found


class Mates:
    """For what is in a first entry of a sort, the same in any other entry of that sort."""

    def __init__(self, root: Thing, twins: Mapping[Thing, Thing]) -> None:
        self._root = root
        self._by_entry: dict[Thing, dict[Thing, Thing]] = {}
        for thing, first in twins.items():
            self._by_entry.setdefault(_entry_of(thing, root), {})[first] = thing

    def of(self, first: Thing, twin: Thing) -> Thing:
        """Return what stands where `first` does in the entry that `twin` is in; what is in no entry is itself."""
        return self._by_entry[_entry_of(twin, self._root)].get(first, first)


def _entry_of(thing: Thing, root: Thing) -> Thing:
    while thing.parent is not None and thing.parent is not root:
        thing = thing.parent
    return thing


def _stated_of(members: list[Thing], read: Container[str]) -> Hashable:
    """Return all that a verdict on the things of an entry, and its words, can rest on, besides what they are called."""
    if any(one.said for one in members):
        return members[0]
    number = {thing: at for at, thing in enumerate(members)}
    return tuple(
        [
            (
                one.kind,
                one.key if at else "",
                one.number,
                frozenset([name for name in one.places if _tells(one, name, read)]),
                None if one.seen is None else one.seen[:2],
                tuple([(name, _plain(value, number)) for name, value in one.facts.items() if _tells(one, name, read)]),
            )
            for at, one in enumerate(members)
        ]
    )


def _tells(thing: Thing, name: str, read: Container[str]) -> bool:
    fact = thing.kind.facts.get(name)
    return fact is None or fact.measure != "text" or name in read


def _plain(value: Any, number: Mapping[Thing, int]) -> Hashable:
    """Return a value so that two are equal only where they read the same too."""
    if type(value) is Interval:
        return value.lo, value.hi, value.dimension, value.text, value.unit, value.grain
    if type(value) is tuple:
        return tuple([_plain(one, number) for one in value])
    return number.get(value, value) if type(value) is Thing else (type(value), value)
