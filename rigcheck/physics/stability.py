"""When a loaded trolley or a standing cylinder tips over.

Statics of a rigid body on hard ground: it tips when its weight, or weight and push, act through the edge of the base.
Sway on tyres, soft ground, wind, a pull on the hose and a running start all take some of the margin away.
Angles in radians.
Source of all: moment balance about the edge of the base, any text on statics.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import atan, cos, hypot, pi, sin

from rigcheck.physics.intervals import Span, monotone
from rigcheck.physics.validity import above_zero, from_zero

__all__ = [
    "STANDARD_GRAVITY",
    "centre_of_mass",
    "push_force",
    "side_arm",
    "tip_angle",
    "weight",
]

STANDARD_GRAVITY = 9.80665
"""m/s2; CGPM 1901."""


def centre_of_mass(*, masses: Sequence[Span], places: Sequence[Span]) -> Span | None:
    """Return where the common centre of mass may be, m: the least and greatest of sum(m x)/sum(m).

    `masses`: of each part, kg, from 0, one at least above 0; `places`: of their centres, along one line, m.
    Exact over every mass and place in its range: the centre is lowest where all places are, and where what lies below
    it weighs most and what lies above it least.
    Source: moments, any text on statics; ranges: Information Sciences 132 (2001) 195, the centroid
    of an interval (from memory).

    >>> known = [(20.0, 20.0), (75.0, 75.0), (70.0, 70.0)]
    >>> [round(end, 4) for end in centre_of_mass(masses=known, places=[(0.5, 0.5), (0.85, 0.85), (0.65, 0.65)])]
    [0.7227, 0.7227]
    >>> centre_of_mass(masses=[(1.0, 3.0), (1.0, 1.0)], places=[(0.0, 0.0), (4.0, 4.0)])
    (1.0, 2.0)
    """
    if not masses or not all(0.0 <= low <= high for low, high in masses) or not sum(low for low, _ in masses) > 0.0:
        return None
    least = _least_mean([(place[0], *mass) for mass, place in zip(masses, places, strict=True)])
    greatest = -_least_mean([(-place[1], *mass) for mass, place in zip(masses, places, strict=True)])
    return least, greatest


def _least_mean(loads: list[tuple[float, float, float]]) -> float:
    """Return the least mean of (place, least mass, greatest mass): heavy from the lowest up while that lowers it."""
    total = sum(low for _, low, _ in loads)
    moment = sum(value * low for value, low, _ in loads)
    for value, low, high in sorted(loads):
        if value * total >= moment:
            break
        moment += value * (high - low)
        total += high - low
    return moment / total


@monotone(rises=("mass",))
def weight(*, mass: float) -> float | None:
    """Return the weight of a mass under standard gravity, N: W = m g.

    `mass`: kg, from 0.
    """
    return mass * STANDARD_GRAVITY if from_zero(mass) else None


# No direction in the offset: it acts by how far it is from the middle, whichever way.
def side_arm(*, track: float, foot: float, wheel_base: float, axle_distance: float, offset: float) -> float | None:
    """Return how far the centre of mass is inside the nearer side edge of the base, m; below 0 outside it.

    a = ((t/2 - |x|) B - w d)/sqrt(B^2 + w^2), w = (t - f)/2: the edge runs from a wheel to the end of the foot.
    `track`: t, over the wheels, m, above 0; `foot`: f, width of the foot, m, from 0: 0 for one point in the middle;
    `wheel_base`: B, axle to foot, m, above 0; `axle_distance`: d, axle to the centre of mass, m, from 0;
    `offset`: x from the middle, m, either sign.
    Rises with wheel base and foot, falls with offset and axle distance, where the foot is no wider than the track; with
    the track it may first rise and then fall.
    Source: distance of a point from a line, any text on geometry.

    Wheels 700 mm apart, a foot of 350 mm half a metre before them:
    >>> round(side_arm(track=0.7, foot=0.35, wheel_base=0.5, axle_distance=0.25, offset=0.0), 3)
    0.248
    >>> round(side_arm(track=0.7, foot=0.7, wheel_base=0.5, axle_distance=0.25, offset=0.02), 3)
    0.33
    """
    if not (above_zero(track, wheel_base) and from_zero(foot, axle_distance)):
        return None
    slant = (track - foot) / 2.0
    return ((track / 2.0 - abs(offset)) * wheel_base - slant * axle_distance) / hypot(wheel_base, slant)


@monotone(rises=("arm",), falls=("centre_height",))
def tip_angle(*, arm: float, centre_height: float) -> float | None:
    """Return the lean at which the load tips, rad: atan(a/h).

    `arm`: how far the centre of mass is inside the edge that it tips over, m, from 0;
    `centre_height`: height of the centre of mass, m, above 0.
    None where the centre of mass is outside the base: it does not stand at all.

    >>> from math import degrees
    >>> round(degrees(tip_angle(arm=0.246061, centre_height=0.722727)), 2)
    18.8
    """
    return atan(arm / centre_height) if from_zero(arm) and above_zero(centre_height) else None


@monotone(rises=("weight", "lever_arm"), falls=("slope", "push_height", "centre_height"))
def push_force(
    *, weight: float, lever_arm: float, centre_height: float, push_height: float, slope: float
) -> float | None:
    """Return the push along the ground, towards the lower edge, that starts to tip the load, N.

    F = W (a cos(s) - h sin(s))/H: the weight's moment about the lower edge over the push's height.
    `weight`: N, above 0; `lever_arm`: a, m, above 0; `centre_height`: h, m, above 0;
    `push_height`: H, m above the ground, above 0; `slope`: s, rad, from 0.
    Assumes that the base does not slide first.
    None where the load tips of itself on that slope.

    A full 244 ft3 cylinder, 9 in across, pushed at the valve:
    >>> round(push_force(weight=707.267, lever_arm=0.1143, centre_height=0.7, push_height=1.3716, slope=0.0), 2)
    58.94
    """
    if not above_zero(weight, lever_arm, centre_height, push_height) or not 0.0 <= slope < pi / 2:
        return None
    force = weight * (lever_arm * cos(slope) - centre_height * sin(slope)) / push_height
    return force if force >= 0.0 else None
