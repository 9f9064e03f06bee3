"""Findings as numbered pins, each on the one thing of the rig that it speaks of."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from rigcheck.judge.inspection import Finding, Inspection
from rigcheck.rig.thing import Rig, Thing

__all__ = ["Pin", "Pinned", "finding_anchor", "pin_anchor", "pin_findings"]


class Pin(Struct, frozen=True):
    """A finding with its number, counted from 1 in the order of the inspection."""

    number: int
    finding: Finding


class Pinned(Struct, frozen=True):
    """The pins of each thing by its id, and those whose thing is not in the rig."""

    on: Mapping[int, tuple[Pin, ...]]
    elsewhere: tuple[Pin, ...]

    def of(self, thing: Thing) -> tuple[Pin, ...]:
        """Return the pins of a thing."""
        return self.on.get(id(thing), ())


def finding_anchor(number: int) -> str:
    """Return the id under which the text of a finding stands, for links."""
    return f"finding-{number}"


def pin_anchor(number: int) -> str:
    """Return the id of the pin of a finding in the drawing."""
    return f"pin-{number}"


def pin_findings(rig: Rig, inspection: Inspection) -> Pinned:
    """Return each finding of an inspection as a pin on its thing, each once."""
    by_path = {thing.path: thing for thing in rig.things}
    on: dict[int, list[Pin]] = {}
    elsewhere: list[Pin] = []
    for number, finding in enumerate(inspection.findings, start=1):
        thing = by_path.get(finding.at.path)
        (elsewhere if thing is None else on.setdefault(id(thing), [])).append(Pin(number, finding))
    return Pinned({key: tuple(pins) for key, pins in on.items()}, tuple(elsewhere))
