"""Where a part is missing from a line: at which joint, what should stand there, and which findings say so."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from rigcheck.judge.finding import Found
from rigcheck.judge.inspection import Finding, Inspection
from rigcheck.rig.thing import Rig, Thing

__all__ = ["gaps_of"]


def gaps_of(rig: Rig, inspection: Inspection) -> Mapping[int, tuple[str, ...]]:
    """Return by the id of a joint what is told of its gaps, as 'no arrester (finding 3)'."""
    told: dict[int, dict[str, list[int]]] = {}
    for number, finding in enumerate(inspection.findings, start=1):
        for joint, missing in _gaps(rig, finding):
            told.setdefault(id(joint), {}).setdefault(missing, []).append(number)
    return {joint: tuple(_words(missing, by) for missing, by in found.items()) for joint, found in told.items()}


def _gaps(rig: Rig, finding: Finding) -> Iterator[tuple[Thing, str]]:
    """Yield the joints of a finding at which another part should stand than does."""
    for found in finding.found:
        if found.sort == "neighbour" and found.bound:
            yield from ((joint, found.bound) for joint in rig.of_kind("joint") if _between(rig, joint, finding, found))


def _between(rig: Rig, joint: Thing, finding: Finding, found: Found) -> bool:
    ends = [joint.facts["upstream"], joint.facts["downstream"]]
    looked_at = [end for end in ends if end.path == finding.at.path]
    other = [end for end in ends if rig.place(end) == found.place]
    return bool(looked_at and other) and looked_at[0] is not other[0]


def _words(missing: str, by: list[int]) -> str:
    numbers = ", ".join(map(str, dict.fromkeys(by)))
    return f"no {missing} (finding{'s' if len(set(by)) > 1 else ''} {numbers})"
