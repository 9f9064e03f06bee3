"""What a movable hood must draw at its distance, by the published table."""

from __future__ import annotations

from typing import Any

from rigcheck.facts.figure import Figure, Look, Used, Way
from rigcheck.facts.topics.gathering import values_of
from rigcheck.physics.intervals import Span
from rigcheck.physics.welding_air import hood_step
from rigcheck.quantity.interval import Interval, worked_out
from rigcheck.rig.thing import MISSING, Thing

__all__ = ["FIGURES"]


def _line_of_table(site: Thing, look: Look) -> Any:
    """Gather the air of the table's line for the distance, from its least to its greatest."""
    distance = look.fact(site, "hood_distance")
    if not isinstance(distance, Interval):
        return look.wants(site, "hood_distance") if distance is MISSING else None
    steps = [hood_step(distance=end, steps=look.table("hoods")) for end in (distance.lo, distance.hi)]
    flows = [step.air_flow for step in steps if step is not None]
    return (
        (Used("Q", None, "air flow of the table", worked_out(min(flows), max(flows), "flow")),) if flows[1:] else None
    )


def _needed(gathered: tuple[Used, ...]) -> Span:
    return values_of(gathered, "Q")[0]


FIGURES: tuple[Figure, ...] = (
    Figure(
        "site",
        "hood_air_needed",
        (
            Way(
                "Q = that of the line of the table for the distance",
                "29 CFR 1910.252(c)(3)(i)",
                _needed,
                gather=_line_of_table,
                validity="a flanged hood as near as the table begins or nearer, to its end",
                asks=False,
            ),
        ),
    ),
)
"""The figures of this topic."""
