"""Whether the loaded trolley stands: the base that it stands on, the lean and the push that tip it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from math import degrees, radians
from typing import Any

from rigcheck.facts.figure import Figure, Used, Way
from rigcheck.facts.topics.trolley_load import STATICS, burdens, height_of, masses_and_centres, offset_of
from rigcheck.physics.intervals import Span
from rigcheck.physics.stability import push_force, side_arm, tip_angle, weight

__all__ = ["FIGURES"]

# --- how far the centre is inside the edges of the base ---


def _side_arm(track: Span, foot: Span, wheel_base: Span, axle_distance: Span, offset: Span) -> Span | None:
    """Return the distance over every corner that can be least or greatest, and at the widest track in between."""
    ends = [(wheel_base, 1), (foot, 1), (axle_distance, 0), (offset, 0)]
    if foot[1] <= track[0]:  # then it rises with the first two and falls with the others
        corners = [[span[far if end else 1 - far] for span, far in ends] for end in (0, 1)]
    else:
        corners = [list(corner) for corner in product(*(frozenset(span) for span, _ in ends))]
    found = []
    for base, end, along, aside in corners:
        for wide in {*track, *_widest(track, end, base, along, aside)}:
            found.append(side_arm(track=wide, foot=end, wheel_base=base, axle_distance=along, offset=aside))
    known = [arm for arm in found if arm is not None]
    return (max(0.0, min(known)), max(0.0, *known)) if len(known) == len(found) else None


def _widest(track: Span, foot: float, base: float, along: float, aside: float) -> Iterator[float]:
    """Yield the track between the ends at which the slanting edge is furthest off."""
    half = foot / 2.0 - aside
    if half > 0.0:
        turning = foot + 2.0 * base * (base - along) / half
        if track[0] < turning < track[1]:
            yield turning


def _end_arm(wheel_base: Span, axle_distance: Span) -> Span:
    """Return the distance from axle or foot, whichever is nearer; 0 where the centre may be over neither."""
    nearest = min(min(arm, base - arm) for base in wheel_base for arm in axle_distance)
    middle = min(max(axle_distance[0], wheel_base[1] / 2.0), axle_distance[1])
    return max(0.0, nearest), max(0.0, min(middle, wheel_base[1] - middle))


def _lesser(one: Span, other: Span) -> Span:
    return min(one[0], other[0]), min(one[1], other[1])


# --- lean and push ---


def _angle(arm: Span, centre: Span) -> Span | None:
    """Return the lean, deg; 0 where the centre may be outside the base."""
    low, high = (tip_angle(arm=arm[end], centre_height=centre[1 - end]) for end in (0, 1))
    return None if low is None or high is None else (degrees(low), degrees(high))


def _force(mass: Span, arm: Span, centre: Span, push_height: Span, lean: Span) -> Span | None:
    """Return the push at the corners; none is needed where the trolley tips of itself."""
    low = _one_force(mass[0], arm[0], centre[1], push_height[1], lean[1])
    high = _one_force(mass[1], arm[1], centre[0], push_height[0], lean[0])
    return None if low is None or high is None else (low, high)


def _one_force(mass: float, arm: float, centre: float, at: float, lean: float) -> float | None:
    heavy = weight(mass=mass)
    if heavy is None or not at > 0.0:
        return None
    slope = radians(max(0.0, lean))
    force = push_force(weight=heavy, lever_arm=arm, centre_height=centre, push_height=at, slope=slope)
    return 0.0 if force is None else force


# --- while a cylinder is changed ---


def _changing_angle(
    own: Span,
    own_centre: Span,
    spacing: Span,
    track: Span,
    foot: Span,
    wheel_base: Span,
    axle_distance: Span,
    gathered: tuple[Used, ...],
) -> Span | None:
    """Return the lean at which the trolley tips while the worst one of its cylinders is off."""
    standing = burdens(gathered)
    end = _end_arm(wheel_base, axle_distance)
    angles = []
    for gone in range(len(standing)):
        left = standing[:gone] + standing[gone + 1 :]
        centre, offset = height_of(own, own_centre, left), offset_of(own, spacing, left)
        side = offset and _side_arm(track, foot, wheel_base, axle_distance, offset)
        angle = side and centre and _angle(_lesser(side, end), centre)
        if not angle:
            return None
        angles.append(angle)
    return (min(low for low, _ in angles), min(high for _, high in angles)) if angles else None


_FIRM = "hard ground; no tyre that gives, no running start; hose pull and wind take some away"
_OWN_AT_AXES = "the trolley's own mass counted at the axes of the cylinders; "
_BASE = {
    "track": "track_width",
    "foot": "foot_width",
    "wheel_base": "wheel_base",
    "axle_distance": "axle_distance",
}
_EDGE = "a = ((t/2 - x) B - w d)/sqrt(B^2 + w^2), w = (t - f)/2, t = track, f = foot, B = axle to foot"


def _alone(name: str, formula: str, work_out: Any, inputs: dict[str, str], validity: str = _FIRM) -> Figure:
    return Figure("trolley", name, (Way(formula, STATICS, work_out, inputs=inputs, validity=validity),))


def _by_lean(name: str, work_out: Any, formula: str, inputs: dict[str, str], validity: str = _FIRM) -> Figure:
    """Return a figure that takes the lean as measured, or else the slope of the floor under it or of the site."""
    ways = (
        Way(formula, STATICS, work_out, inputs=inputs | {"lean": lean}, validity=validity, asks=lean == "tilt")
        for lean in ("tilt", "floor_slope", "rig.site.floor_slope")
    )
    return Figure("trolley", name, tuple(ways))


FIGURES: tuple[Figure, ...] = (
    _alone("side_arm", _EDGE, _side_arm, _BASE | {"offset": "whole_offset"}, _OWN_AT_AXES + _FIRM),
    _alone(
        "end_arm",
        "a = min(d, B - d), B = axle to foot, d = axle to the cylinders",
        _end_arm,
        {"wheel_base": "wheel_base", "axle_distance": "axle_distance"},
        _OWN_AT_AXES + _FIRM,
    ),
    _by_lean(
        "tip_force",
        _force,
        "F = m g (a cos s - z sin s)/H; s = lean, H = push height",
        {"mass": "emptying_mass", "arm": "tip_arm", "centre": "whole_centre", "push_height": "push_height"},
        "pushed over the nearest edge; the wheels do not slide first; " + _FIRM,
    ),
    Figure(
        "trolley",
        "changing_angle",
        (
            Way(
                "the least of angle = atan(min(a_side, a_end)/z) with each of the cylinders off; "
                f"z = sum(m z)/sum(m), x = m s/(2 sum(m)) of what stays; {_EDGE}; a_end = min(d, B - d)",
                STATICS,
                _changing_angle,
                inputs={"own": "own_mass", "own_centre": "own_centre_height", "spacing": "cylinder_spacing"} | _BASE,
                gather=masses_and_centres,
                validity="over every mass in its range; " + _OWN_AT_AXES + _FIRM,
            ),
        ),
    ),
)
"""The figures of this topic."""
