"""How much gas, and how long, it takes to sweep air or another gas out of a line.

Gas goes to the torch tip in the open, one line at a time, away from anything that can light it.
"""

from __future__ import annotations

from math import exp, log

from rigcheck.physics.intervals import monotone
from rigcheck.physics.validity import above_zero, from_zero

__all__ = [
    "purge_changes",
    "purge_share_left",
    "purge_time",
    "purge_volume",
]


@monotone(rises=("line_volume", "line_pressure_abs", "changes"), falls=("base_pressure_abs",))
def purge_volume(
    *, line_volume: float, line_pressure_abs: float, base_pressure_abs: float, changes: float
) -> float | None:
    """Return the gas that a purge sends out, m3 at the base pressure: n V p/pb.

    `line_volume`: m3, from 0; `line_pressure_abs`: in the line while it flows, Pa, above 0;
    `base_pressure_abs`: Pa, above 0; `changes`: line volumes to sweep, from 0.

    >>> round(purge_volume(line_volume=3e-4, line_pressure_abs=1.5e5, base_pressure_abs=1e5, changes=3.0), 6)
    0.00135
    """
    if not from_zero(line_volume, changes) or not above_zero(line_pressure_abs, base_pressure_abs):
        return None
    return changes * line_volume * line_pressure_abs / base_pressure_abs


@monotone(rises=("line_volume", "line_pressure_abs", "changes"), falls=("base_pressure_abs", "volume_flow"))
def purge_time(
    *,
    line_volume: float,
    line_pressure_abs: float,
    base_pressure_abs: float,
    changes: float,
    volume_flow: float,
) -> float | None:
    """Return how long a purge takes, s: `purge_volume` over the flow.

    `volume_flow`: m3/s at the base pressure, above 0; the others as there.

    >>> purge_time(line_volume=1e-3, line_pressure_abs=1.5e5, base_pressure_abs=1e5, changes=2.0, volume_flow=1e-4)
    30.0
    """
    volume = purge_volume(
        line_volume=line_volume,
        line_pressure_abs=line_pressure_abs,
        base_pressure_abs=base_pressure_abs,
        changes=changes,
    )
    return None if volume is None or not above_zero(volume_flow) else volume / volume_flow


@monotone(falls=("changes",))
def purge_share_left(*, changes: float) -> float | None:
    """Return how much of the first gas is left at worst, as a share of what there was (no unit): exp(-n).

    `changes`: line volumes swept, from 0.
    At worst the two gases mix all along; in a plain hose the new gas pushes most of the old one out before it.

    >>> round(purge_share_left(changes=3.0), 3)
    0.05
    """
    return exp(-changes) if from_zero(changes) else None


@monotone(rises=("start_share",), falls=("end_share",))
def purge_changes(*, start_share: float, end_share: float) -> float | None:
    """Return the line volumes that bring a share down at worst (no unit): ln(c0/c1).

    `start_share`, `end_share`: above 0 to 1, the end not above the start.
    The inverse of `purge_share_left`.

    From air's 20.9 % to 1 % of oxygen:
    >>> round(purge_changes(start_share=0.209, end_share=0.01), 2)
    3.04
    """
    return log(start_share / end_share) if 0.0 < end_share <= start_share <= 1.0 else None
