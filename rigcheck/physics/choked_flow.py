"""Flow through a short bore: cutting oxygen through its nozzle, and a leak at high pressure.

Isentropic flow of an ideal gas, at the speed of sound (`choked_mass_flow`) or below it too (`bore_mass_flow`).
"""

from __future__ import annotations

from math import pi, sqrt

from rigcheck.physics.intervals import monotone
from rigcheck.physics.validity import above_zero, from_zero, within

__all__ = [
    "bore_mass_flow",
    "critical_pressure_ratio",
]


@monotone(falls=("heat_capacity_ratio",))
def critical_pressure_ratio(*, heat_capacity_ratio: float) -> float | None:
    """Return the pressure at the throat over the pressure upstream when the flow is choked, no unit.

    p*/p0 = (2/(k + 1))^(k/(k - 1)).
    `heat_capacity_ratio`: k, 1.05 to 1.7.
    Source: Cengel & Boles, Thermodynamics, one-dimensional isentropic flow;
    their example: k = 1.289, p0 = 1.4 MPa gives p* = 767 kPa.

    >>> round(critical_pressure_ratio(heat_capacity_ratio=1.289) * 1400)
    767
    """
    k = heat_capacity_ratio
    return (2.0 / (k + 1.0)) ** (k / (k - 1.0)) if within(k, 1.05, 1.7) else None


@monotone(
    rises=("bore", "pressure_abs", "discharge_coefficient", "heat_capacity_ratio"),
    falls=("back_pressure_abs", "temperature", "gas_constant"),
)
def bore_mass_flow(
    *,
    bore: float,
    pressure_abs: float,
    back_pressure_abs: float,
    temperature: float,
    heat_capacity_ratio: float,
    gas_constant: float,
    discharge_coefficient: float,
) -> float | None:
    """Return the mass flow through a short bore, choked or not, kg/s.

    m = C A p0 sqrt(2 k/((k - 1) R T0) (r^(2/k) - r^((k + 1)/k))), r = p_back/p0, but not below the critical ratio,
    from which on it is `choked_mass_flow`.
    Arguments as there; `pressure_abs`: not below `back_pressure_abs`; 0 where the two are the same.
    `discharge_coefficient`: of this bore at this pressure; that of a sharp hole is less below the speed of sound.
    Source: Cengel & Boles, Thermodynamics, isentropic flow through nozzles; fluids 1.3.1 gives the same.

    >>> flow = bore_mass_flow(bore=1e-3, pressure_abs=1.5e5, back_pressure_abs=101325.0, temperature=293.15,
    ...     heat_capacity_ratio=1.4, gas_constant=259.84, discharge_coefficient=1.0)
    >>> round(flow * 1e3, 3)
    0.278
    """
    critical = critical_pressure_ratio(heat_capacity_ratio=heat_capacity_ratio)
    if critical is None or not above_zero(bore, pressure_abs, gas_constant) or not from_zero(back_pressure_abs):
        return None
    if not (within(temperature, 200.0, 400.0) and within(discharge_coefficient, 1e-9, 1.0)):
        return None
    if back_pressure_abs > pressure_abs:
        return None
    ratio = max(critical, back_pressure_abs / pressure_abs)
    flux = pressure_abs * sqrt(_expansion(ratio, heat_capacity_ratio) / (gas_constant * temperature))
    return discharge_coefficient * pi / 4.0 * bore**2 * flux


def _expansion(ratio: float, k: float) -> float:
    """Return the square of the mass flow of a unit of throat area, over p0^2/(R T0), at a pressure ratio."""
    lost: float = ratio ** (2.0 / k) - ratio ** ((k + 1.0) / k)
    return max(0.0, 2.0 * k / (k - 1.0) * lost)
