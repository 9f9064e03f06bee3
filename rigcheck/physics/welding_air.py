"""Air for welders: space, general ventilation and hoods, as far as 29 CFR 1910.252(c) is arithmetic.

The limits themselves (space for one welder, ceiling, rate, capture speed) are arguments: they stand in the rule files.
The hood table is data too: `rules/tables/hoods.yaml`, read by the caller.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from rigcheck.physics.validity import above_zero
from rigcheck.quantity.units import find_unit

__all__ = [
    "HoodStep",
    "hood_step",
    "read_hood_steps",
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
