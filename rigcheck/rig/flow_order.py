"""The things of a rig in the order of the flow: lines part by part, torches, then what stands around."""

from __future__ import annotations

from collections.abc import Iterator

from rigcheck.rig.thing import Rig, Thing

__all__ = ["in_flow", "lines_of"]


def in_flow(rig: Rig) -> list[Thing]:
    """Return every thing of a rig once, each followed by what is built into it; the rig itself comes last."""
    order = [thing for line in rig.of_kind("line") for thing in (line, *_along(line))]
    order += rig.of_kind("torch")
    order += (thing for thing in rig.things if thing is not rig.root)
    return list(dict.fromkeys([*(one for thing in order for one in _with_inner(thing)), rig.root]))


def lines_of(thing: Thing | None) -> frozenset[Thing] | None:
    """Return the lines that a thing stands in or ends; None for what belongs to the whole rig."""
    while thing is not None:
        line = thing.facts.get("line")
        if isinstance(line, Thing):
            return frozenset([line])
        if "torch" in thing.kind.lineage:
            return frozenset(thing.facts.get("lines", ()))
        thing = thing.parent
    return None


def _along(line: Thing) -> Iterator[Thing]:
    for part in line.facts.get("parts", ()):
        yield part
        yield from (joint for joint in line.facts.get("joints", ()) if joint.facts.get("upstream") is part)


def _with_inner(thing: Thing) -> Iterator[Thing]:
    yield thing
    if thing.kind.name in ("line", "rig"):  # what they hold stands in the flow itself
        return
    for key in thing.kind.holds:
        held = thing.facts.get(key)
        for one in held if isinstance(held, tuple) else (held,):
            if isinstance(one, Thing):
                yield from _with_inner(one)
