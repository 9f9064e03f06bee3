"""Distances and times that storage and hot-work rules count with.

How far, how high and how long the rules ask for stands in the rule files; here is only the counting.
"""

from __future__ import annotations

from math import hypot, isfinite

from rigcheck.physics.intervals import monotone
from rigcheck.physics.validity import from_zero, within

__all__ = [
    "clear_distance",
    "shortfall",
    "straight_distance",
    "watch_length",
    "way_over_barrier",
]


_DAY = 86400.0


@monotone(rises=("centre_distance",), falls=("first_radius", "second_radius"))
def clear_distance(*, centre_distance: float, first_radius: float, second_radius: float) -> float | None:
    """Return the clear space between two upright cylinders, m: centre to centre less both radii, 0 where they touch.

    All in m, from 0.

    >>> round(clear_distance(centre_distance=6.4, first_radius=0.115, second_radius=0.115), 3)
    6.17
    """
    if not from_zero(centre_distance, first_radius, second_radius):
        return None
    return max(0.0, centre_distance - first_radius - second_radius)


@monotone(rises=("along_floor", "height_apart"))
def straight_distance(*, along_floor: float, height_apart: float) -> float | None:
    """Return the straight distance between two places, m: hypot(a, h).

    `along_floor`, `height_apart`: m, from 0.
    Sparks from work at a height land further out: count a radius on the floor by `along_floor` alone.

    >>> straight_distance(along_floor=3.0, height_apart=4.0)
    5.0
    """
    return hypot(along_floor, height_apart) if from_zero(along_floor, height_apart) else None


@monotone(rises=("first_to_barrier", "second_to_barrier", "barrier_height"), falls=("first_height", "second_height"))
def way_over_barrier(
    *,
    first_to_barrier: float,
    second_to_barrier: float,
    first_height: float,
    second_height: float,
    barrier_height: float,
) -> float | None:
    """Return the shortest way from one thing over a barrier to another, m.

    hypot(a, H - h1) + hypot(b, H - h2).
    `first_to_barrier`, `second_to_barrier`: m, from 0; `first_height`, `second_height`: of the two things, m, from 0,
    at most the barrier's; `barrier_height`: H, m.
    None where a thing looks over the barrier: then it does not stand between them.

    Two cylinders of 1.5 m, each 0.4 m from a wall of 1.8 m:
    >>> round(way_over_barrier(first_to_barrier=0.4, second_to_barrier=0.4, first_height=1.5, second_height=1.5,
    ...     barrier_height=1.8), 3)
    1.0
    """
    if not from_zero(first_to_barrier, second_to_barrier, first_height, second_height, barrier_height):
        return None
    if max(first_height, second_height) > barrier_height:
        return None
    first = hypot(first_to_barrier, barrier_height - first_height)
    return first + hypot(second_to_barrier, barrier_height - second_height)


@monotone(rises=("required",), falls=("found",))
def shortfall(*, found: float, required: float) -> float | None:
    """Return how much is missing to what is required, in their own unit; 0 where nothing is.

    `found`, `required`: distances (m), heights (m) or times (s), finite.

    35 ft asked for, 10 m found:
    >>> round(shortfall(found=10.0, required=35 * 0.3048), 3)
    0.668
    """
    return max(0.0, required - found) if isfinite(found) and isfinite(required) else None


def watch_length(*, work_ended: float, watch_ended: float) -> float | None:
    """Return how long a fire watch stayed after the work ended, s.

    Both: s after midnight by the clock, 0 to 86400; a watch that ends on an earlier hour ended on the next day.

    Work until 15:00, watch until 15:25, then work until 23:50, watch until 00:20:
    >>> watch_length(work_ended=15 * 3600.0, watch_ended=15 * 3600.0 + 1500.0)
    1500.0
    >>> watch_length(work_ended=23 * 3600.0 + 3000.0, watch_ended=1200.0)
    1800.0
    """
    if not (within(work_ended, 0.0, _DAY) and within(watch_ended, 0.0, _DAY)):
        return None
    return (watch_ended - work_ended) % _DAY
