"""Why somebody cannot tell: the reasons to choose from, of each thing those that can be meant."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from rigcheck.rig.put_down import may_be_absent
from rigcheck.rig.thing import Thing
from rigcheck.rules.looks import Looks

__all__ = ["reasons_for"]


def reasons_for(looks: Looks, things: Iterable[Thing]) -> Mapping[str, str]:
    """Return the reasons that can be meant of all of these things, each with its sentence."""
    absent = all(may_be_absent(one) for one in things)
    return {key: sentence for key, sentence in looks.cannot_tell.items() if absent or key != looks.absent}
