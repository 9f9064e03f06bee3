"""Where a part is missing from a line: at which joint, what should stand there, and which findings say so."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from rigcheck.judge.inspection import Finding, Inspection
from rigcheck.rig.thing import Rig, Thing

__all__ = ["gaps_of"]


def gaps_of(rig: Rig, inspection: Inspection) -> Mapping[int, tuple[str, ...]]:
    """Return by the id of a joint what is told of its gaps, as 'no arrester (finding 3)'."""
    told: dict[int, dict[str, list[int]]] = {}
    joints = _by_path(rig)
    for number, finding in enumerate(inspection.findings, start=1):
        for joint, missing in _gaps(rig, joints, finding):
            told.setdefault(id(joint), {}).setdefault(missing, []).append(number)
    return {joint: tuple(_words(missing, by) for missing, by in found.items()) for joint, found in told.items()}


_Joints = Mapping[str, list[tuple[Thing, Thing]]]
"""By the path of each part: the joints at it, each with the part on its other side."""


def _by_path(rig: Rig) -> _Joints:
    joints: dict[str, list[tuple[Thing, Thing]]] = {}
    for joint in rig.of_kind("joint"):
        one, other = joint.facts["upstream"], joint.facts["downstream"]
        joints.setdefault(one.path, []).append((joint, other))
        joints.setdefault(other.path, []).append((joint, one))
    return joints


def _gaps(rig: Rig, joints: _Joints, finding: Finding) -> Iterator[tuple[Thing, str]]:
    """Yield the joints of a finding at which another part should stand than does."""
    for found in finding.found:
        if found.sort == "neighbour" and found.bound:
            for joint, other in joints.get(finding.at.path, ()):
                if rig.place(other) == found.place:
                    yield joint, found.bound


def _words(missing: str, by: list[int]) -> str:
    numbers = ", ".join(map(str, dict.fromkeys(by)))
    return f"no {missing} (finding{'s' if len(set(by)) > 1 else ''} {numbers})"
