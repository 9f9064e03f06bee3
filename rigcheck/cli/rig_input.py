"""One rig read from the file that a command names."""

from __future__ import annotations

import os
from types import MappingProxyType

from msgspec.structs import replace

from rigcheck.cli.concessions_file import complain_unreached, read_beside
from rigcheck.cli.console import ProblemFound
from rigcheck.cli.inputs import as_refused, rig_bytes
from rigcheck.cli.site_input import read_rig
from rigcheck.rig.thing import Rig
from rigcheck.rules.pack import Pack
from rigcheck.text.place import Place

__all__ = ["handed_rig", "named_rig", "without_folders"]


def named_rig(name: str, pack: Pack, concessions: str | None = None, register: str | None = None) -> Rig:
    """Return the rig of a file, `-` for standard input, with those of a file of concessions that are for it.

    Raises `Refused`, also where the rig cannot be opened, or `ProblemFound` where the concessions cannot.
    """
    if name == concessions == "-":
        raise ProblemFound("the rig and the concessions cannot both be standard input; name a file for one of them.")
    with as_refused(name):
        rig = read_rig(rig_bytes(name), name, pack, register or "")
    if not concessions:
        return rig
    beside = read_beside(concessions, pack.vocabulary)
    given = beside.given_to(rig)
    if not beside.reached:  # of a yard's file, most are for other rigs
        complain_unreached(beside, ())
    return given


def handed_rig(name: str, pack: Pack, concessions: str | None = None, register: str | None = None) -> Rig:
    """Return the rig of a file, as `named_rig` does, for what is handed to others: no folder of this machine in it."""
    return without_folders(named_rig(name, pack, concessions, register))


def without_folders(rig: Rig) -> Rig:
    """Return a rig whose files are called by their names alone, those too of its register, looks and standard rig.

    The things of the rig that is given are changed: it was read to be handed over.
    """
    for thing in rig.things:
        places = {name: _bare(rig.place(thing, name)) for name in thing.places}
        thing.places, thing.file = MappingProxyType(places), os.path.basename(thing.file)  # type: ignore[assignment]
        thing.said = {name: [one._replace(place=_bare(one.place)) for one in said] for name, said in thing.said.items()}
    granted = tuple(replace(one, file=os.path.basename(one.file)) for one in rig.concessions)
    unread = tuple(fault._replace(place=_bare(fault.place)) for fault in rig.unread)
    return replace(rig, file=os.path.basename(rig.file), concessions=granted, unread=unread)


def _bare(place: Place) -> Place:
    return place._replace(file=os.path.basename(place.file))
