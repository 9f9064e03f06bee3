"""One rig read from the file that a command names."""

from __future__ import annotations

from rigcheck.cli.gathering import rig_bytes, shown_name, unreadable
from rigcheck.faults import Refused
from rigcheck.rig.loader import load_rig
from rigcheck.rig.thing import Rig
from rigcheck.rules.pack import Pack

__all__ = ["named_rig"]


def named_rig(name: str, pack: Pack) -> Rig:
    """Return the rig of a file, `-` for standard input. Raises `Refused`, also where it cannot be opened."""
    try:
        return load_rig(rig_bytes(name), shown_name(name), pack.vocabulary)
    except OSError as error:
        raise Refused([unreadable(name, error)]) from None
