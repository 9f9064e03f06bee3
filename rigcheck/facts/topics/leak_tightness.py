"""Leaks against the tightness standard: what leak fluid shows, what the standard allows, how long a gauge takes."""

from __future__ import annotations

from typing import Any

from rigcheck.facts.figure import Figure, Look, Used, Way
from rigcheck.facts.topics.gathering import ATMOSPHERE, absolute
from rigcheck.physics.intervals import Span, carried
from rigcheck.physics.leak import (
    FLUID_SHOWS,
    LEAK_FLUID_TENSION,
    bubble_least_pore,
)
from rigcheck.quantity.interval import Interval
from rigcheck.rig.thing import Thing

__all__ = ["FIGURES"]

_pore = carried(bubble_least_pore)


def _finest_hole(pressure: Span) -> Span | None:
    """Return the diameter of the finest hole that a bubble comes out of, m."""
    radius = _pore(
        surface_tension=LEAK_FLUID_TENSION, inside_pressure_abs=absolute(pressure), outside_pressure_abs=ATMOSPHERE
    )
    return (2.0 * radius[0], 2.0 * radius[1]) if radius else None


def _joints(line: Thing, look: Look) -> Any:
    """Gather the joints of a line, counted."""
    count = len(line.facts.get("joints", ()))
    return (Used("n", line, "joints", Interval(count, count, "count", str(count))),) if count else None


def _allowed(each: Span, gathered: tuple[Used, ...]) -> Span:
    number = gathered[0].value.lo
    return number * each[0], number * each[1]


FIGURES: tuple[Figure, ...] = (
    Figure(
        "line",
        "least_bubble_seen",
        (
            Way(
                "q = the normal limit of the method to the least leak that operators agree on",
                "ASTM E515, 1e-5 and 1e-4 standard cm3/s",
                lambda: FLUID_SHOWS,
                validity="one joint, fluid brushed on and watched in good light; "
                "acetylene dissolves in the fluid, and a fine leak of it may show no bubble",
            ),
        ),
    ),
    Figure(
        "line",
        "least_hole_seen",
        (
            Way(
                "d = 4 gamma / p; gamma = 0.025 to 0.035 N/m",
                "Young-Laplace equation; gamma from memory",
                _finest_hole,
                inputs={"pressure": "set_pressure"},
                validity="a round hole that the fluid wets, at the pressure set; a finer one holds the fluid",
            ),
        ),
    ),
    Figure(
        "line",
        "allowed_leak",
        (
            Way(
                "q = n q_standard; n = joints of the line",
                "ISO 9090 (from memory), for each joint",
                _allowed,
                inputs={"each": "limit:joint_leak_rate"},
                gather=_joints,
                validity="the standard's leak to the outside of one piece of equipment, counted for each joint",
            ),
        ),
    ),
)
"""The figures of this topic."""
