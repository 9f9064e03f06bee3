"""A pressure that is bounded both by gauge and by absolute, and what a decomposition makes of a pressure."""

from __future__ import annotations

from rigcheck.physics.intervals import monotone
from rigcheck.physics.validity import above_zero, from_zero, within

__all__ = [
    "allowed_pressure_gauge",
    "atmospheric_pressure",
    "decomposition_pressure_abs",
]


@monotone(falls=("altitude",))
def atmospheric_pressure(*, altitude: float) -> float | None:
    """Return the standard pressure of the air at an altitude, Pa absolute.

    p = 101325 (1 - 0.0065 h/288.15)^5.25588, h the geopotential altitude.
    `altitude`: m above sea level, -500 to 11000; weather moves the real pressure by up to about 5 %.
    Source: ISO 2533:1975, the standard atmosphere below 11 km (from memory).

    >>> round(atmospheric_pressure(altitude=1700.0))
    82501
    """
    if not within(altitude, -500.0, 11000.0):
        return None
    return float(101325.0 * (1.0 - 0.0065 * altitude / 288.15) ** 5.255876)


@monotone(rises=("most_gauge", "most_abs"), falls=("atmosphere_abs",))
def allowed_pressure_gauge(*, most_gauge: float, most_abs: float, atmosphere_abs: float) -> float | None:
    """Return the gauge pressure that both bounds allow, Pa gauge: min(pg, pa - p0).

    `most_gauge`: Pa gauge, from 0; `most_abs`: Pa absolute; `atmosphere_abs`: around the rig, Pa absolute, above 0;
    in a pressurised place such as a tunnel it is more than one atmosphere and the absolute bound decides.
    None where the atmosphere alone is above the absolute bound.
    Source: 29 CFR 1910.253(a)(2), which bounds acetylene both ways.

    15 psig and 30 psia, at sea level and at 1.3 bar of air:
    >>> psi = 6894.757293
    >>> round(allowed_pressure_gauge(most_gauge=15 * psi, most_abs=30 * psi, atmosphere_abs=101325.0))
    103421
    >>> round(allowed_pressure_gauge(most_gauge=15 * psi, most_abs=30 * psi, atmosphere_abs=130000.0))
    76843
    """
    if not from_zero(most_gauge) or not above_zero(most_abs, atmosphere_abs) or most_abs < atmosphere_abs:
        return None
    return min(most_gauge, most_abs - atmosphere_abs)


@monotone(rises=("start_pressure_abs", "factor"))
def decomposition_pressure_abs(*, start_pressure_abs: float, factor: float) -> float | None:
    """Return the pressure after acetylene has decomposed in a closed part, Pa absolute: p f.

    `start_pressure_abs`: Pa, above 0; `factor`: 5 to 12; a deflagration in a closed vessel gives about 10 to 11.
    A detonation in a long line gives several times that, and its shock more again: this is no bound for it.
    Source: Berthelot & Vieille in Leeds & Butterfield, 2nd ed., ch. XI: 21.13 atm became 213.15 atm.

    >>> round(decomposition_pressure_abs(start_pressure_abs=21.13, factor=10.09), 1)
    213.2
    """
    return start_pressure_abs * factor if above_zero(start_pressure_abs) and within(factor, 5.0, 12.0) else None
