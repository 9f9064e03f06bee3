"""How hard cylinders are drawn: acetylene by the share an hour, and oxygen let in fast."""

from __future__ import annotations

from typing import Any

from rigcheck.facts.figure import Figure, Look, Used, Way
from rigcheck.facts.topics.gathering import cylinders_of, values_of
from rigcheck.physics.intervals import Span
from rigcheck.rig.thing import MISSING, Thing

__all__ = ["FIGURES"]


def _count(line: Thing, look: Look) -> Any:
    """Gather the cylinders that are written, or else the number that is stated of the manifold they stand for."""
    cylinders = cylinders_of(line)
    if cylinders:
        return tuple(Used("cylinder", one, "kind", "cylinder") for one in cylinders)
    source = line.facts.get("source")
    if source is None or "manifold" not in source.kind.lineage:
        return None
    count = look.fact(source, "cylinder_count")
    return look.wants(source, "cylinder_count") if count is MISSING else (Used("n", source, "cylinder_count", count),)


def _number(gathered: tuple[Used, ...]) -> Span:
    stated = values_of(gathered, "n")
    return stated[0] if stated else (float(len(gathered)), float(len(gathered)))


FIGURES: tuple[Figure, ...] = (
    Figure(
        "line",
        "feeding_cylinders",
        (Way("n = cylinders in the line that are neither empty nor out of use", "count", _number, gather=_count),),
    ),
)
"""The figures of this topic."""
