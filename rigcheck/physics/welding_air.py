"""Air for welders: space, general ventilation and hoods, as far as 29 CFR 1910.252(c) is arithmetic.

The limits themselves (space for one welder, ceiling, rate, capture speed) are arguments: they stand in the rule files.
The hood table is data too: `rules/tables/hoods.yaml`, read by the caller.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import pi
from typing import Any, NamedTuple

from rigcheck.physics.intervals import monotone
from rigcheck.physics.validity import above_zero, from_zero
from rigcheck.quantity.units import find_unit

__all__ = [
    "HoodStep",
    "air_changes",
    "general_air_flow",
    "hood_air_flow",
    "hood_step",
    "read_hood_steps",
    "room_volume",
    "space_for_each",
]


class HoodStep(NamedTuple):
    """One line of a hood table: up to which distance (m), the least air flow (m3/s), the duct's diameter (m)."""

    distance: float
    air_flow: float
    duct: float


def read_hood_steps(document: Mapping[str, Any]) -> tuple[HoodStep, ...]:
    """Return the rows of the first table of a document of hood tables, nearest distance first, in SI.

    `document`: as parsed from YAML, `tables` with `units` and `rows`; see `rules/tables/hoods.yaml`.
    Raises ValueError naming the unit where one is not known.
    """
    table = document["tables"][0]
    factors = {column: _factor(unit) for column, unit in table["units"].items()}
    rows = (HoodStep(*(row[name] * factors[name] for name in HoodStep._fields)) for row in table["rows"])
    return tuple(sorted(rows))


def _factor(spelling: str) -> float:
    unit = find_unit(spelling)
    if unit is None:
        raise ValueError(f"a hood table has an unknown unit: {spelling!r}")
    return float(unit.factor)


@monotone(rises=("length", "width", "height"))
def room_volume(*, length: float, width: float, height: float) -> float | None:
    """Return the volume of a room, m3; all three in m, from 0.

    >>> round(room_volume(length=20 * 0.3048, width=14 * 0.3048, height=12 * 0.3048) / 0.3048**3)
    3360
    """
    return length * width * height if from_zero(length, width, height) else None


@monotone(rises=("room_volume",))
def space_for_each(*, room_volume: float, welders: int) -> float | None:
    """Return the room volume for each welder, m3; `room_volume`: m3, from 0; `welders`: from 1.

    >>> space_for_each(room_volume=850.0, welders=3)
    283.3333333333333
    """
    return room_volume / welders if from_zero(room_volume) and welders >= 1 else None


@monotone(rises=("flow_for_each",))
def general_air_flow(*, welders: int, flow_for_each: float) -> float | None:
    """Return the general ventilation for all welders together, m3/s.

    `welders`: from 0, those without a hood or an air-line respirator of their own; `flow_for_each`: m3/s, above 0.
    Source: 29 CFR 1910.252(c)(2)(ii).

    Three welders at 2000 ft3/min, in m3/min:
    >>> round(general_air_flow(welders=3, flow_for_each=2000 * 0.3048**3 / 60) * 60)
    170
    """
    return welders * flow_for_each if welders >= 0 and above_zero(flow_for_each) else None


@monotone(rises=("air_flow",), falls=("room_volume",))
def air_changes(*, air_flow: float, room_volume: float) -> float | None:
    """Return how often a second the air of a room is changed, 1/s; `air_flow`: m3/s, from 0; `room_volume`: m3.

    >>> round(air_changes(air_flow=300 / 3600, room_volume=30.0) * 3600)
    10
    """
    return air_flow / room_volume if from_zero(air_flow) and above_zero(room_volume) else None


def hood_step(*, distance: float, steps: tuple[HoodStep, ...]) -> HoodStep | None:
    """Return the line of a hood table that serves a distance from hood to work, or None past its end.

    `distance`: m, above 0, at its furthest; nearer than the table begins, its first line serves with air to spare.
    `steps`: by rising distance, as `read_hood_steps` gives them.

    >>> steps = (HoodStep(0.1524, 0.0708, 0.0762), HoodStep(0.2032, 0.1298, 0.0889))
    >>> hood_step(distance=0.18, steps=steps).air_flow
    0.1298
    """
    if not above_zero(distance):
        return None
    return next((step for step in steps if distance <= step.distance * (1.0 + 1e-9)), None)


@monotone(rises=("distance", "capture_speed"))
def hood_air_flow(*, distance: float, capture_speed: float) -> float | None:
    """Return the air flow of a flanged hood that draws at a wanted speed at a distance, m3/s: 2 pi x^2 v.

    `distance`: m, 0.1 to 0.3 from hood to work; `capture_speed`: m/s, above 0.
    The flange makes the opening draw from a half sphere.
    The table of 29 CFR 1910.252(c)(3)(i) is this to within 5 % for 100 ft/min.
    Source: point sink in a plane, any text on potential flow.

    >>> round(hood_air_flow(distance=12 * 0.0254, capture_speed=100 * 0.3048 / 60) * 60 / 0.3048**3)
    628
    """
    if not 0.1 <= distance <= 0.3048 * (1.0 + 1e-9) or not above_zero(capture_speed):
        return None
    return 2.0 * pi * distance**2 * capture_speed
