"""`--concessions FILE`: concessions that are kept beside the rigs."""

from __future__ import annotations

from collections.abc import Iterable

from rigcheck.cli.console import ProblemFound, complain
from rigcheck.cli.inputs import rig_bytes, shown_name
from rigcheck.rig.concessions import Beside, load_beside
from rigcheck.rig.vocabulary import Vocabulary

__all__ = ["complain_unreached", "read_beside"]


def read_beside(name: str, vocabulary: Vocabulary) -> Beside:
    """Return the concessions of a file. Raises `Refused`, or `ProblemFound` where it cannot be read."""
    try:
        data = rig_bytes(name)
    except OSError as error:
        raise ProblemFound(f"the concessions {name} cannot be read: {error.strerror or error}.") from None
    return load_beside(data, shown_name(name), vocabulary)


def complain_unreached(beside: Beside, reached: Iterable[int]) -> None:
    """Name the concessions that were for none of the rigs; it is no fault where only some rigs are looked at."""
    known = set(reached)
    lines = [str(thing.line) for number, (_, thing) in enumerate(beside.entries) if number not in known]
    if lines:
        told = ", ".join(lines[:20]) + (f" and {len(lines) - 20} more" if len(lines) > 20 else "")
        complain(f"{beside.file}: for none of the rigs that were looked at: the concessions of line {told}.")
