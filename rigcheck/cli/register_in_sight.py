"""A register as it is judged by itself: with what looks saw of its things."""

from __future__ import annotations

import os
from collections.abc import Iterator

from msgspec.structs import replace

from rigcheck.cli.evidence_input import EVIDENCE_FOLDERS, rig_named
from rigcheck.cli.inputs import listed_yaml, rig_bytes, shown_name
from rigcheck.cli.register_input import read_register
from rigcheck.cli.tags_in_looks import tags_named
from rigcheck.rig.look_file import read_look
from rigcheck.rig.thing import Rig
from rigcheck.rig.thing_names import folded_name
from rigcheck.rules.pack import Pack
from rigcheck.text.faults import Fault, Refused

__all__ = ["register_in_sight"]


def register_in_sight(path: str, pack: Pack, *, strict: bool = False) -> Rig:
    """Return a register to be judged, with what looks saw of its things, in whatever rig those were: a part that was
    found faulty and taken out of its rig stands in none.

    Looks are found beside the register, in the folders that lie there, and in their own folders for looks.
    `strict` as in `read_rig`. Raises `Refused`, OSError.
    """
    register = read_register(path, pack, strict=strict)
    things = {folded_name(tag): thing for tag, thing in register.things.items()}
    faults: list[Fault] = []
    for one in _within_sight(os.path.normpath(path)):
        tags = tags_named(one) if rig_named(one) else ()
        seen = [things[tag] for tag in dict.fromkeys(tags) if tag in things]
        if not seen:
            continue
        try:
            look = read_look(rig_bytes(one), shown_name(one), pack.vocabulary)
            faults += (fault for thing in seen for fault in look.follow(thing, pack.vocabulary))
        except Refused as refused:
            faults += (fault._replace(alone=True) for fault in refused.faults)
    if faults and strict:
        raise Refused(faults)
    return replace(register.rig, unread=(*register.rig.unread, *faults)) if faults else register.rig


def _within_sight(path: str) -> Iterator[str]:
    """Yield the YAML files beside a register, and those of the folders beside it that can be listed."""
    folder = os.path.dirname(path)
    found = [os.path.join(folder, one) for one in listed_yaml(folder or ".")]
    for one in sorted(os.listdir(folder or ".")):
        beside = os.path.join(folder, one)
        if one.startswith(".") or not os.path.isdir(beside) or not os.access(beside, os.R_OK | os.X_OK):
            continue
        for inside in (beside, *(os.path.join(beside, name) for name in EVIDENCE_FOLDERS)):
            if os.path.isdir(inside):
                found += (os.path.join(inside, name) for name in listed_yaml(inside))
    yield from (one for one in found if os.path.isfile(one) and os.access(one, os.R_OK))
