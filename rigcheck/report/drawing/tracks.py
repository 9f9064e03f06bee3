"""The lines of a rig made ready to be drawn: sides, tracks side by side, and the order of the rows."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Literal

from msgspec import Struct

from rigcheck.rig.thing import Rig, Thing

__all__ = ["Run", "Side", "lay_runs"]

Side = Literal["left", "right"]


class Run(Struct, frozen=True):
    """One line: its parts in rows, each on a track; track 0 is the innermost of the side.

    `band`: by the id of a part, the number of the torch before which it is drawn;
    `joints`: those of the line in order; `sources`: cylinders that stand in the picture.
    """

    line: Thing
    side: Side
    parts: tuple[Thing, ...]
    joints: tuple[Thing, ...]
    track: Mapping[int, int]
    band: Mapping[int, int]
    sources: tuple[Thing, ...]

    @property
    def tracks(self) -> int:
        """How many tracks it takes."""
        return len({*self.track.values()}) and max(self.track.values()) + 1

    def ups(self, part: Thing) -> list[Thing]:
        """Return the joints that lead to a part."""
        return [joint for joint in self.joints if joint.facts["downstream"] is part]

    def downs(self, part: Thing) -> list[Thing]:
        """Return the joints that lead from a part."""
        return [joint for joint in self.joints if joint.facts["upstream"] is part]


def lay_runs(rig: Rig) -> tuple[Run, ...]:
    """Return the lines of a rig, each on a side, those on the trolley last: they take the outer tracks."""
    lines = list(rig.of_kind("line"))
    sides = _sides(lines)
    torches = list(rig.root.facts.get("torch") or ())
    runs = [_run(line, sides[id(line)], torches) for line in lines]
    return tuple(sorted(runs, key=lambda run: run.line.facts.get("stands") in ("left", "right")))


def _sides(lines: Iterable[Thing]) -> dict[int, Side]:
    """Return a side for each line: where it stands, or else fuel on the left while that is free."""
    listed = list(lines)
    sides: dict[int, Side] = {}
    for line in listed:
        stands = line.facts.get("stands")
        if stands == "left" or stands == "right":
            sides[id(line)] = stands
    for line in listed:
        if id(line) not in sides:
            sides[id(line)] = _free_side(line, set(sides.values()))
    return sides


def _free_side(line: Thing, taken: set[Side]) -> Side:
    wanted: Side = "right" if line.facts.get("gas") == "oxygen" else "left"
    other: Side = "left" if wanted == "right" else "right"
    return other if wanted in taken and other not in taken else wanted


def _run(line: Thing, side: Side, torches: list[Thing]) -> Run:
    parts = tuple(line.facts.get("parts", ()))
    joints = tuple(line.facts.get("joints", ()))
    band = _bands(parts, joints, torches)
    ordered = tuple(sorted(parts, key=lambda part: band[id(part)]))
    sources = tuple(part for part in ordered if part.kind.drawn_as == "cylinder" and not _before(part, joints))
    return Run(line, side, ordered, joints, _tracks(ordered, joints, band), band, sources)


def _before(part: Thing, joints: Iterable[Thing]) -> list[Thing]:
    return [joint.facts["upstream"] for joint in joints if joint.facts["downstream"] is part]


def _after(part: Thing, joints: Iterable[Thing]) -> list[Thing]:
    return [joint.facts["downstream"] for joint in joints if joint.facts["upstream"] is part]


def _bands(parts: Iterable[Thing], joints: Iterable[Thing], torches: list[Thing]) -> dict[int, int]:
    """Return the number of the first torch that each part feeds; what feeds none comes last."""
    number = {id(torch): place for place, torch in enumerate(torches)}
    last = max(len(torches) - 1, 0)
    band: dict[int, int] = {}
    for part in reversed(list(parts)):  # a part stands after all that feed it
        led = [number[id(to)] if id(to) in number else band.get(id(to), last) for to in _after(part, joints)]
        band[id(part)] = min(led, default=last)
    return band


def _tracks(parts: Iterable[Thing], joints: tuple[Thing, ...], band: Mapping[int, int]) -> dict[int, int]:
    """Return a track for each part: branches lie side by side, the first one goes straight on."""
    track: dict[int, int] = {}
    busy: set[int] = set()
    for part in parts:
        before = [track[id(one)] for one in _before(part, joints) if id(one) in track]
        if id(part) not in track:
            track[id(part)] = min(before) if before else _first_free(busy)
        busy -= set(before)  # they run together here
        busy.add(track[id(part)])
        branches = sorted(_after(part, joints), key=lambda one: band.get(id(one), 0))
        for place, one in enumerate(branches if len(branches) > 1 else ()):
            track[id(one)] = track[id(part)] if place == 0 else _first_free(busy)
            busy.add(track[id(one)])
    return track


def _first_free(busy: set[int]) -> int:
    return next(number for number in range(len(busy) + 1) if number not in busy)
