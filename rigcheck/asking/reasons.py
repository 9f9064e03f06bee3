"""Why somebody cannot tell: the reasons to choose from, of each thing those that can be meant."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from rigcheck.rig.thing import Thing
from rigcheck.rules.looks import Looks

__all__ = ["may_be_absent", "reasons_for"]


def may_be_absent(thing: Thing) -> bool:
    """Whether a thing is a part of which the standard rig alone says that it is there.

    That is no leave to pass over what somebody wrote down himself, nor the place, the people or the work: a free "does
    not apply" is what lists are filled in with.
    """
    return bool(thing.file) and "part" in thing.kind.lineage


def reasons_for(looks: Looks, things: Iterable[Thing]) -> Mapping[str, str]:
    """Return the reasons that can be meant of all of these things, each with its sentence."""
    absent = all(may_be_absent(one) for one in things)
    return {key: sentence for key, sentence in looks.cannot_tell.items() if absent or key != looks.absent}
