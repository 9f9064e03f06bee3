"""What looks put down as not to be known of the things of a rig, and why."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from msgspec import Struct

from rigcheck.rig.look_file import LookFile, NotTold
from rigcheck.rig.thing import Thing
from rigcheck.rig.thing_names import NamedThings
from rigcheck.text.place import Place

__all__ = ["PutDown", "may_be_absent", "put_down_of"]


class PutDown(Struct, frozen=True):
    """Why a fact of a thing could not be told when somebody looked last; `day` is a day number, `by` a role.

    `may_be_absent`: the standard rig alone says that the thing is there, and nobody saw anything of it since.
    """

    thing: Thing
    fact: str
    because: str
    day: int
    by: str
    place: Place
    may_be_absent: bool


def may_be_absent(thing: Thing) -> bool:
    """Whether a thing is a part of which the standard rig alone says that it is there.

    That is no leave to pass over what somebody wrote down himself, nor the place, the people or the work: a free "does
    not apply" is what lists are filled in with.
    """
    return bool(thing.file) and "part" in thing.kind.lineage


def put_down_of(looks: Iterable[LookFile], things: Iterable[Thing]) -> tuple[PutDown, ...]:
    """Return the last that was put down of each fact; what looks saw is laid in before."""
    named = NamedThings(things)
    last = {(one.thing, one.fact): one for look in looks if look.cannot_tell for one in _of_look(look, named)}
    return tuple(last.values())


def _of_look(look: LookFile, named: NamedThings) -> Iterator[PutDown]:
    for row in look.cannot_tell:
        for thing in named.called(row.thing) if row.because else ():
            absent = may_be_absent(thing) and not _seen_since(thing, look, row)
            yield PutDown(thing, row.fact, row.because, look.day, look.by, row.place, absent)


def _seen_since(thing: Thing, look: LookFile, row: NotTold) -> bool:
    said = ((name, one) for name, statements in thing.said.items() for one in statements if one.basis == "seen")
    return any((one.day or 0) > look.day or (one.place.file == look.file and name == row.fact) for name, one in said)
