"""The room of the welders: its volume, its fresh air, what of both falls to each, and the hood."""

from __future__ import annotations

from math import pi

from rigcheck.facts.figure import Figure, Way
from rigcheck.facts.topics.gathering import as_stated
from rigcheck.physics.intervals import Span, divided, multiplied

__all__ = ["FIGURES"]

_HOUR = 3600.0
_NEAR, _FAR = 0.1, 0.3048  # m; where a flanged hood draws as a point in a plane


def _changed(changes: Span, room: Span) -> Span:
    return changes[0] * room[0] / _HOUR, changes[1] * room[1] / _HOUR


def _hood_speed(flow: Span, distance: Span) -> Span | None:
    """Return v = Q/(2 pi x^2), the inverse of `welding_air.hood_air_flow`."""
    if not (distance[0] >= _NEAR and distance[1] <= _FAR * (1.0 + 1e-9)):
        return None
    return flow[0] / (2.0 * pi * distance[1] ** 2), flow[1] / (2.0 * pi * distance[0] ** 2)


def _each(name: str, stated: str, whole: str) -> Figure:
    return Figure(
        "site",
        name,
        (
            as_stated(stated),
            Way(
                "whole / number of welders",
                "29 CFR 1910.252(c)(2)",
                lambda whole, welders: divided(whole, welders),
                inputs={"whole": whole, "welders": "welders"},
                asks=False,
            ),
            as_stated(stated, asks=True),
        ),
        0.05,
        "rooms and fans are measured in round numbers",
    )


FIGURES: tuple[Figure, ...] = (
    Figure(
        "site",
        "air_volume",
        (
            as_stated("room_volume", asks=True),
            Way(
                "V = volume for each welder x welders",
                "arithmetic",
                lambda each, welders: multiplied(each, welders),
                inputs={"each": "volume_per_welder", "welders": "welders"},
                asks=False,
            ),
        ),
    ),
    Figure(
        "site",
        "fresh_air",
        (
            Way(
                "Q = 0: nothing moves the air",
                "common practice",
                lambda: (0.0, 0.0),
                only={"ventilation": ("none", "oxygen")},
                asks=False,
            ),
            as_stated("air_flow", asks=True),
            Way(
                "Q = n V, n = changes an hour",
                "arithmetic",
                _changed,
                inputs={"changes": "air_changes", "room": "air_volume"},
                asks=False,
            ),
        ),
    ),
    _each("welder_volume", "volume_per_welder", "room_volume"),
    _each("welder_air", "air_flow_per_welder", "fresh_air"),
    Figure(
        "site",
        "hood_speed",
        (
            as_stated("hood_velocity", asks=True),
            Way(
                "v = Q/(2 pi x^2)",
                "point sink in a plane; within 5 % of the table of 29 CFR 1910.252(c)(3)(i)",
                _hood_speed,
                inputs={"flow": "hood_air_flow", "distance": "hood_distance"},
                validity="a flanged hood 0.1 m to 12 in from the flame",
                asks=False,
            ),
        ),
    ),
)
"""The figures of this topic."""
