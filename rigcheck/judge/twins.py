"""Things of a register of which the same is known: one of them is judged, and the others come out like it.

A thing of a register leads to what is built into it and to nothing else, so no verdict on it can rest on another one;
18,000 hoses of which 40 sorts were bought are 40 judgements.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping
from typing import Any

from rigcheck.facts.known import Known
from rigcheck.quantity.interval import Interval
from rigcheck.rig.thing import Thing

__all__ = ["twins_of"]


def twins_of(known: Known) -> Mapping[Thing, Thing]:
    """Return for each thing of a register, but the first of its sort, that first one; what is built in, likewise.

    Its tag is left out, and any other text that no rule reads.
    """
    entries: dict[Thing, list[Thing]] = {}
    for thing in known.things:
        if thing is not known.root:
            entries.setdefault(_entry_of(thing, known.root), []).append(thing)
    firsts: dict[Hashable, list[Thing]] = {}
    found: dict[Thing, Thing] = {}
    for members in entries.values():
        first = firsts.setdefault(_known_of(members, known.plan.names), members)
        if first is not members:
            found.update(zip(members, first, strict=True))
    return found


def _entry_of(thing: Thing, root: Thing) -> Thing:
    while thing.parent is not None and thing.parent is not root:
        thing = thing.parent
    return thing


def _known_of(members: list[Thing], read: frozenset[str]) -> Hashable:
    """Return all that a verdict on the things of an entry, and its words, can rest on, besides what they are called."""
    if any(one.said or one.witnesses or one.disputes or one.workings for one in members):
        return members[0]  # told with places of its own: it is like no other
    number = {thing: at for at, thing in enumerate(members)}
    return tuple(
        (
            one.kind,
            one.key if at else "",
            one.number,
            None if one.seen is None else one.seen[:2],
            frozenset(name for name in one.places if _tells(one, name, read)),
            tuple((name, _plain(value, number)) for name, value in one.facts.items() if _tells(one, name, read)),
            tuple((name, _plain_pairs(wanted, number)) for name, wanted in one.wanting.items()),
        )
        for at, one in enumerate(members)
    )


def _tells(thing: Thing, name: str, read: frozenset[str]) -> bool:
    fact = thing.kind.facts.get(name)
    return fact is None or fact.measure != "text" or name in read


def _plain_pairs(wanted: Iterable[tuple[Thing, str]], number: Mapping[Thing, int]) -> Hashable:
    return tuple((number.get(thing, thing), name) for thing, name in wanted)


def _plain(value: Any, number: Mapping[Thing, int]) -> Hashable:
    """Return a value so that two are equal only where they read the same too."""
    if type(value) is Interval:
        return value.lo, value.hi, value.dimension, value.text, value.unit, value.grain
    if type(value) is tuple:
        return tuple([_plain(one, number) for one in value])
    return number.get(value, value) if type(value) is Thing else (type(value), value)
