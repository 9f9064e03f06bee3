"""Whether the loaded trolley stands: masses, centre of mass, the lean and the push that tip it."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import product
from math import degrees, radians
from typing import Any

from rigcheck.facts.figure import Figure, Look, Used, Wants, Way
from rigcheck.facts.topics.spans import added, as_stated, collected, hull, values_of
from rigcheck.physics.intervals import Span
from rigcheck.physics.stability import Load, centre_of_mass, lever_arm, push_force, tip_angle, weight
from rigcheck.rig.thing import MISSING, Thing

__all__ = ["FIGURES"]

_CENTRE_SHARE = (0.45, 0.5)  # of the height to the top of the guard: a cylinder is heavier below; common practice
_PLACES = ("left", "right")
_LETTERS = {"standing_mass": "m", "standing_centre": "z"}

# --- what stands on the trolley ---


def _on_trolley(trolley: Thing, look: Look) -> list[tuple[str, Thing]] | Wants:
    """Return the cylinders on a trolley, each with its side; none where the rig has more than one trolley."""
    if len(trolley.facts["rig"].facts.get("trolley") or ()) != 1:
        return []
    found: list[tuple[str, Thing]] = []
    wanted: list[Any] = []
    for line in trolley.facts["rig"].facts.get("lines") or ():
        cylinders = [part for part in line.facts.get("parts", ()) if part.kind.name == "cylinder"]
        place = look.fact(line, "stands")
        if cylinders and place is MISSING:
            wanted += look.wants(line, "stands")
        elif place in _PLACES:
            found += [(place, cylinder) for cylinder in cylinders]
    return Wants(wanted) if wanted else found


def _platform(cylinder: Thing, look: Look) -> Any:
    """Gather the height of the platform of the one trolley."""
    trolleys = cylinder.facts["rig"].facts.get("trolley") or ()
    return collected(trolleys, "platform_height", look, "platform") if len(trolleys) == 1 else None


def _loads(trolley: Thing, look: Look, facts: Iterable[str]) -> Any:
    """Gather facts of each cylinder on a trolley, named by fact and side; the way needs a cylinder."""
    cylinders = _on_trolley(trolley, look)
    if isinstance(cylinders, Wants):
        return cylinders
    found: list[Used] = []
    wanted: list[Any] = []
    for place, cylinder in cylinders:
        for fact in facts:
            one = collected((cylinder,), fact, look, f"{_LETTERS[fact]}_{place}")
            if isinstance(one, Wants):
                wanted += one
            else:
                found += one
    return Wants(dict.fromkeys(wanted)) if wanted else (tuple(found) or None)


def _masses(trolley: Thing, look: Look) -> Any:
    return _loads(trolley, look, ("standing_mass",))


def _masses_and_centres(trolley: Thing, look: Look) -> Any:
    return _loads(trolley, look, ("standing_mass", "standing_centre"))


def _sides(gathered: tuple[Used, ...], letter: str) -> list[tuple[str, Span]]:
    return [(place, span) for place in _PLACES for span in values_of(gathered, f"{letter}_{place}")]


# --- mass and centre ---


def _whole_mass(own: Span, gathered: tuple[Used, ...]) -> Span:
    return added([own, *(span for _, span in _sides(gathered, "m"))])


def _whole_centre(own: Span, own_centre: Span, gathered: tuple[Used, ...]) -> Span | None:
    masses = [own, *(span for _, span in _sides(gathered, "m"))]
    heights = [own_centre, *(span for _, span in _sides(gathered, "z"))]
    ends = [_centre_height(masses, [height[end] for height in heights]) for end in (0, 1)]
    return None if ends[0] is None or ends[1] is None else (ends[0][0], ends[1][1])


def _centre_height(masses: list[Span], heights: list[float]) -> Span | None:
    """Return the least and greatest height over all corners of the masses."""
    wholes = [
        centre_of_mass(loads=[Load(mass, 0.0, height) for mass, height in zip(corner, heights, strict=True)])
        for corner in product(*map(frozenset, masses))  # a mass that is known has one corner
    ]
    return None if None in wholes else hull([(one.height, one.height) for one in wholes if one is not None])


def _whole_offset(own: Span, spacing: Span, gathered: tuple[Used, ...]) -> Span | None:
    """Return how far the common centre is from the middle; the trolley itself is in the middle.

    It lies furthest to one side where that side is as heavy as it can be and the other as light.
    """
    left, right = _side_mass(gathered, "left"), _side_mass(gathered, "right")
    offsets: list[float] = []
    for apart, trolley, masses in product(set(spacing), set(own), ((left[0], right[1]), (left[1], right[0]))):
        loads = [Load(trolley, 0.0, 0.0)]
        loads += [Load(m, at * apart / 2.0, 0.0) for m, at in zip(masses, (-1.0, 1.0), strict=True) if m > 0.0]
        whole = centre_of_mass(loads=loads)
        if whole is None:
            return None
        offsets.append(whole.offset)
    least = 0.0 if min(offsets) <= 0.0 <= max(offsets) else min(map(abs, offsets))
    return least, max(map(abs, offsets))


def _side_mass(gathered: tuple[Used, ...], side: str) -> Span:
    return added([span for stands, span in _sides(gathered, "m") if stands == side])


# --- tipping ---


def _sideways(track: Span, offset: Span, centre: Span) -> Span | None:
    """Return the angle; it falls with the offset as with the height."""
    low = tip_angle(half_track=track[0] / 2.0, offset=offset[1], centre_height=centre[1])
    high = tip_angle(half_track=track[1] / 2.0, offset=offset[0], centre_height=centre[0])
    return None if low is None or high is None else (degrees(low), degrees(high))


def _endways(wheel_base: Span, axle_distance: Span, centre: Span) -> Span | None:
    """Return the angle over axle or foot, whichever is nearer to the centre of mass; 0 where it may be over neither."""
    nearest = min(min(arm, base - arm) for base in wheel_base for arm in axle_distance)
    middle = min(max(axle_distance[0], wheel_base[1] / 2.0), axle_distance[1])
    widest = min(middle, wheel_base[1] - middle)
    if not widest > 0.0:
        return None
    low = tip_angle(half_track=nearest, offset=0.0, centre_height=centre[1]) if nearest > 0.0 else 0.0
    high = tip_angle(half_track=widest, offset=0.0, centre_height=centre[0])
    return None if low is None or high is None else (degrees(low), degrees(high))


def _lesser(one: Span, other: Span) -> Span:
    return min(one[0], other[0]), min(one[1], other[1])


def _left_over(angle: Span, lean: Span) -> Span:
    return angle[0] - lean[1], angle[1] - lean[0]


def _force(mass: Span, track: Span, offset: Span, centre: Span, push_height: Span, lean: Span) -> Span | None:
    """Return the push at the corners; none is needed where the trolley tips of itself."""
    low = _one_force(mass[0], track[0], offset[1], centre[1], push_height[1], lean[1])
    high = _one_force(mass[1], track[1], offset[0], centre[0], push_height[0], lean[0])
    return None if low is None or high is None else (low, high)


def _one_force(mass: float, track: float, offset: float, centre: float, at: float, lean: float) -> float | None:
    heavy, arm = weight(mass=mass), lever_arm(half_track=track / 2.0, offset=offset)
    if heavy is None or arm is None or not at > 0.0:
        return None
    slope = radians(max(0.0, lean))
    force = push_force(weight=heavy, lever_arm=arm, centre_height=centre, push_height=at, slope=slope)
    return 0.0 if force is None else force


_STATICS = "moment balance about the edge of the base, any text on statics"
_FIRM = "hard ground; no tyre that gives, no running start; hose pull and wind take some away"


def _guessed_centre(height: Span, gathered: tuple[Used, ...]) -> Span:
    platform = values_of(gathered, "platform")[0]
    return platform[0] + _CENTRE_SHARE[0] * height[0], platform[1] + _CENTRE_SHARE[1] * height[1]


def _filling_up(tare: Span, gas: Span) -> Span:
    return tare[0], tare[1] + gas[1]


_MASS = Figure(
    "cylinder",
    "standing_mass",
    (
        Way(
            "m = tare to tare + gas in it now",
            "arithmetic",
            _filling_up,
            inputs={"tare": "tare_mass", "gas": "gas_mass"},
            validity="counted from empty to what it holds, since it empties where it stands",
        ),
        as_stated("gross_mass"),
    ),
    0.05,
    "a cap, a guard and the regulator may be weighed in",
)

_CENTRE = Figure(
    "cylinder",
    "standing_centre",
    (
        as_stated("centre_height"),
        Way(
            "z = platform + 0.45 to 0.5 of the height to the top of the guard",
            "common practice",
            _guessed_centre,
            inputs={"height": "height"},
            gather=_platform,
            validity="an upright cylinder of one diameter",
        ),
    ),
    0.1,
    "the height of the centre is guessed from the shape",
)


def _alone(name: str, formula: str, work_out: Any, inputs: dict[str, str], validity: str = _FIRM) -> Figure:
    return Figure("trolley", name, (Way(formula, _STATICS, work_out, inputs=inputs, validity=validity),))


def _by_lean(lean: str) -> tuple[Way, Way]:
    inputs = {"angle": "tip_angle", "lean": lean}
    force = {"mass": "whole_mass", "track": "track_width", "offset": "whole_offset", "centre": "whole_centre"}
    asks = lean == "tilt"
    return (
        Way("margin = tip angle - lean", _STATICS, _left_over, inputs=inputs, validity=_FIRM, asks=asks),
        Way(
            "F = m g (a cos s - z sin s)/H, a = track/2 - offset, s = lean, H = push height",
            _STATICS,
            _force,
            inputs=force | {"push_height": "push_height", "lean": lean},
            validity="the wheels do not slide first; " + _FIRM,
            asks=asks,
        ),
    )


_LEANS = [_by_lean(lean) for lean in ("tilt", "floor_slope", "rig.site.floor_slope")]

FIGURES: tuple[Figure, ...] = (
    _MASS,
    _CENTRE,
    Figure(
        "trolley",
        "whole_mass",
        (
            as_stated("loaded_mass"),
            Way("m = own + cylinders", "arithmetic", _whole_mass, inputs={"own": "own_mass"}, gather=_masses),
        ),
        0.1,
        "hoses, regulators, torch and what lies on the trolley are not counted",
    ),
    Figure(
        "trolley",
        "whole_centre",
        (
            as_stated("loaded_centre_height"),
            Way(
                "z = sum(m z)/sum(m) of trolley and cylinders",
                _STATICS,
                _whole_centre,
                inputs={"own": "own_mass", "own_centre": "own_centre_height"},
                gather=_masses_and_centres,
                validity="carried over every corner of the masses",
            ),
        ),
        0.1,
        "hoses and what lies on the trolley are not counted",
    ),
    Figure(
        "trolley",
        "whole_offset",
        (
            Way(
                "x = |m_right - m_left| s/(2 sum(m)), s = distance between the axes",
                _STATICS,
                _whole_offset,
                inputs={"own": "own_mass", "spacing": "cylinder_spacing"},
                gather=_masses,
                validity="carried over every corner of the masses; the trolley's own mass in the middle",
            ),
        ),
    ),
    _alone(
        "tip_sideways",
        "a = atan((track/2 - x)/z)",
        _sideways,
        {"track": "track_width", "offset": "whole_offset", "centre": "whole_centre"},
    ),
    _alone(
        "tip_endways",
        "a = atan(min(d, B - d)/z), B = axle to foot, d = axle to the cylinders",
        _endways,
        {"wheel_base": "wheel_base", "axle_distance": "axle_distance", "centre": "whole_centre"},
        "the trolley's own mass counted at the axes of the cylinders; " + _FIRM,
    ),
    _alone("tip_angle", "the lesser of sideways and endways", _lesser, {"one": "tip_sideways", "other": "tip_endways"}),
    Figure("trolley", "tip_margin", tuple(margin for margin, _ in _LEANS)),
    Figure("trolley", "tip_force", tuple(force for _, force in _LEANS)),
)
"""The figures of this topic."""
