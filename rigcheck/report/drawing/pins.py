"""Findings as numbered pins, each on the one thing of the rig that it speaks of."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from rigcheck.judge.inspection import Finding, Inspection
from rigcheck.rig.flow_order import lines_of
from rigcheck.rig.thing import Rig, Thing
from rigcheck.text.place import Place

__all__ = ["Pin", "Pinned", "finding_anchor", "pin_anchor", "pin_findings"]


@dataclass(frozen=True, slots=True)
class Pin:
    """A finding with its number, counted from 1 in the order of the inspection."""

    number: int
    finding: Finding


@dataclass(frozen=True, slots=True)
class Pinned:
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
    by_label: dict[str, list[Thing]] = {}
    for thing in rig.things:
        by_label.setdefault(thing.label, []).append(thing)
    on: dict[int, list[Pin]] = {}
    elsewhere: list[Pin] = []
    taken: set[tuple[int, str]] = set()
    for number, finding in enumerate(inspection.findings, start=1):
        # a rule is broken once by a thing: one that has its finding of this rule is not meant again
        free = [one for one in by_label.get(finding.thing, ()) if (id(one), finding.rule) not in taken]
        meant = _meant(rig, free, finding) if free else None
        if meant is None:
            elsewhere.append(Pin(number, finding))
        else:
            taken.add((id(meant), finding.rule))
            on.setdefault(id(meant), []).append(Pin(number, finding))
    return Pinned({key: tuple(pins) for key, pins in on.items()}, tuple(elsewhere))


def _meant(rig: Rig, things: Sequence[Thing], finding: Finding) -> Thing:
    """Return the thing of a finding; of several called alike, one of the line in which the breach is written."""
    if len(things) == 1:
        return things[0]
    lines = [lines_of(_written(rig.things, found.place)) for found in finding.found]
    known = [one for one in lines if one is not None]
    same = [thing for thing in things if any((lines_of(thing) or frozenset()) & one for one in known)]
    return _written(same or things, finding.place)


def _written(things: Sequence[Thing], place: Place) -> Thing:
    """Return the thing that begins nearest before a place, or else the first."""
    before = [thing for thing in things if (thing.line, thing.column) <= (place.line, place.column)]
    return max(before, key=lambda thing: (thing.line, thing.column)) if before else things[0]
