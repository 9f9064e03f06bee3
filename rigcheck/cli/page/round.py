"""What is looked at on the local page, and how it is judged."""

from __future__ import annotations

from msgspec import Struct

from rigcheck.facts.known import Purpose
from rigcheck.rules.looks import Looks, looks_of
from rigcheck.rules.pack import Pack
from rigcheck.rules.rule import Signal

__all__ = ["Round"]


class Round(Struct, frozen=True):
    """What is looked at, and how it is judged; the same for everybody who is let in."""

    rig: str
    pack: Pack
    day: int
    purpose: Purpose = "commissioning"
    only: Signal | None = None
    local_code: str = ""
    register: str = ""
    hold_at: Signal = "warning"

    @property
    def looks(self) -> Looks:
        """The looks of the pack."""
        return looks_of(self.pack)
