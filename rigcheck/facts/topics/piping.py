"""Pipework against the pressure that it works at, and the room of a portable generator."""

from __future__ import annotations

from rigcheck.facts.figure import Figure, Way
from rigcheck.physics.intervals import divided

__all__ = ["FIGURES"]

FIGURES: tuple[Figure, ...] = (
    Figure(
        "pipework",
        "test_share",
        (
            Way(
                "share = p_test/p_pipe",
                "29 CFR 1910.253(d)(5)(i)",
                lambda test, works: divided(test, works),
                inputs={"test": "test_pressure", "works": "outlet_point.pipe_pressure"},
            ),
        ),
    ),
    Figure(
        "acetylene generator",
        "room_per_charge",
        (
            Way(
                "n = V_room/V_charge",
                "29 CFR 1910.253(f)(5)(i)(C)",
                lambda room, charge: divided(room, charge),
                inputs={"room": "rig.site.air_volume", "charge": "charge_gas"},
            ),
        ),
    ),
)
"""The figures of this topic."""
