"""When a loaded trolley or a standing cylinder tips over.

Statics of a rigid body on hard ground: it tips when its weight, or weight and push, act through the edge of the base.
Sway on tyres, soft ground, wind, a pull on the hose and a running start all take some of the margin away.
Angles in radians.
Source of all: moment balance about the edge of the base, any text on statics.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import atan, cos, hypot, isfinite, pi, sin

from rigcheck.physics.validity import above_zero, from_zero

__all__ = [
    "FALLS_WITH",
    "RISES_WITH",
    "STANDARD_GRAVITY",
    "Load",
    "centre_of_mass",
    "lever_arm",
    "push_force",
    "rise_to_tip",
    "slope_angle",
    "tip_angle",
    "tip_margin",
    "weight",
]

STANDARD_GRAVITY = 9.80665
"""m/s2; CGPM 1901."""

RISES_WITH = {
    "lever_arm": ("half_track",),
    "tip_angle": ("half_track",),
    "slope_angle": ("rise",),
    "tip_margin": ("tip_angle",),
    "push_force": ("weight", "lever_arm"),
    "weight": ("mass",),
    "rise_to_tip": ("lever_arm",),
}
FALLS_WITH = {
    "tip_angle": ("centre_height",),
    "slope_angle": ("run",),
    "tip_margin": ("slope", "lean"),
    "push_force": ("slope", "push_height", "centre_height"),
    "rise_to_tip": ("centre_height",),
}
"""An offset is in neither: it acts by how far it is from the middle, whichever way."""


@dataclass(frozen=True, slots=True)
class Load:
    """A part, or parts together: mass in kg, centre of mass in m from the middle of the track and above the ground.

    `offset` is positive to the one side and negative to the other.
    """

    mass: float
    offset: float
    height: float


def centre_of_mass(*, loads: Sequence[Load]) -> Load | None:
    """Return the parts taken together as one load: total mass and common centre of mass.

    x = sum(m x)/sum(m), z = sum(m z)/sum(m).
    `loads`: at least one, each mass above 0 and height from 0.

    >>> both = centre_of_mass(loads=[Load(20.0, 0.0, 0.5), Load(75.0, -0.13, 0.85), Load(70.0, 0.13, 0.65)])
    >>> (both.mass, round(both.offset, 5), round(both.height, 4))
    (165.0, -0.00394, 0.7227)
    """
    if not loads or not all(above_zero(load.mass) and from_zero(load.height) for load in loads):
        return None
    total = sum(load.mass for load in loads)
    offset = sum(load.mass * load.offset for load in loads) / total
    return Load(total, offset, sum(load.mass * load.height for load in loads) / total) if isfinite(offset) else None


def weight(*, mass: float) -> float | None:
    """Return the weight of a mass under standard gravity, N: W = m g.

    `mass`: kg, from 0.
    """
    return mass * STANDARD_GRAVITY if from_zero(mass) else None


def lever_arm(*, half_track: float, offset: float) -> float | None:
    """Return how far the centre of mass is inside the nearer edge of the base, m: b - |x|.

    `half_track`: m, half the distance between the outsides of the base, or the radius of a cylinder's foot; above 0.
    `offset`: m from the middle, either sign.
    None where the centre of mass is outside the base: it does not stand at all.

    >>> round(lever_arm(half_track=0.25, offset=-0.00393939), 6)
    0.246061
    """
    if not above_zero(half_track) or not abs(offset) <= half_track:
        return None
    return half_track - abs(offset)


def tip_angle(*, half_track: float, offset: float, centre_height: float) -> float | None:
    """Return the sideways lean at which the load tips, rad: atan((b - |x|)/h).

    `half_track`, `offset`: as `lever_arm`; `centre_height`: height of the centre of mass, m, above 0.

    >>> from math import degrees
    >>> round(degrees(tip_angle(half_track=0.25, offset=-0.00393939, centre_height=0.722727)), 2)
    18.8
    """
    arm = lever_arm(half_track=half_track, offset=offset)
    return None if arm is None or not above_zero(centre_height) else atan(arm / centre_height)


def slope_angle(*, rise: float, run: float) -> float | None:
    """Return the angle of a slope, rad: atan(rise/run).

    `rise`: m, from 0; `run`: m on the level, above 0.

    A ramp of 1 in 12:
    >>> from math import degrees
    >>> round(degrees(slope_angle(rise=1.0, run=12.0)), 2)
    4.76
    """
    return atan(rise / run) if from_zero(rise) and above_zero(run) else None


def tip_margin(*, tip_angle: float, slope: float, lean: float) -> float | None:
    """Return what is left before the load tips, rad: tip angle less slope less lean; negative where it tips.

    `tip_angle`: rad, above 0, below pi/2; `slope`: of the ground across the track, rad, 0 to pi/2;
    `lean`: of the load on its trolley towards the lower side, rad, 0 to pi/2.

    >>> from math import degrees, radians
    >>> round(degrees(tip_margin(tip_angle=radians(18.8017), slope=slope_angle(rise=1.0, run=12.0), lean=0.0)), 2)
    14.04
    """
    if not (0.0 < tip_angle < pi / 2 and 0.0 <= slope <= pi / 2 and 0.0 <= lean <= pi / 2):
        return None
    return tip_angle - slope - lean


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


def rise_to_tip(*, lever_arm: float, centre_height: float) -> float | None:
    """Return how far the centre of mass must rise before the load goes over, m.

    sqrt(a^2 + h^2) - h: a knock that gives it less height, as energy over weight, does not tip it.
    `lever_arm`: m, from 0; `centre_height`: m, from 0.

    >>> rise_to_tip(lever_arm=0.3, centre_height=0.4)
    0.09999999999999998
    """
    if not from_zero(lever_arm, centre_height):
        return None
    return hypot(lever_arm, centre_height) - centre_height
