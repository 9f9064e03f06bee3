"""Flow through a short bore: cutting oxygen through its nozzle, and a leak at high pressure.

Isentropic flow of an ideal gas, at the speed of sound (`choked_mass_flow`) or below it too (`bore_mass_flow`).
"""

from __future__ import annotations

from math import pi, sqrt

from rigcheck.physics.intervals import monotone
from rigcheck.physics.validity import above_zero, from_zero, within

__all__ = [
    "bore_for_flow",
    "bore_mass_flow",
    "choked_mass_flow",
    "critical_pressure_ratio",
    "critical_temperature_ratio",
    "least_choking_pressure",
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


@monotone(falls=("heat_capacity_ratio",))
def critical_temperature_ratio(*, heat_capacity_ratio: float) -> float | None:
    """Return the temperature at the throat over that upstream when the flow is choked, no unit.

    T*/T0 = 2/(k + 1).
    `heat_capacity_ratio`: k, 1.05 to 1.7.
    Source: as `critical_pressure_ratio`; the same example, T0 = 473 K gives T* = 413 K.

    >>> round(critical_temperature_ratio(heat_capacity_ratio=1.289) * 473)
    413
    """
    return 2.0 / (heat_capacity_ratio + 1.0) if within(heat_capacity_ratio, 1.05, 1.7) else None


@monotone(rises=("back_pressure_abs", "heat_capacity_ratio"))
def least_choking_pressure(*, back_pressure_abs: float, heat_capacity_ratio: float) -> float | None:
    """Return the lowest absolute pressure upstream at which the flow is choked, Pa.

    p0 = p_back / (p*/p0).
    `back_pressure_abs`: Pa, from 0; `heat_capacity_ratio`: 1.05 to 1.7.
    Oxygen into air at sea level: 1.918 bar absolute, about 0.91 bar gauge.

    >>> round(least_choking_pressure(back_pressure_abs=101325.0, heat_capacity_ratio=1.4) / 1e5, 3)
    1.918
    """
    ratio = critical_pressure_ratio(heat_capacity_ratio=heat_capacity_ratio)
    return None if ratio is None or not from_zero(back_pressure_abs) else back_pressure_abs / ratio


@monotone(
    rises=("bore", "pressure_abs", "discharge_coefficient", "heat_capacity_ratio"),
    falls=("temperature", "gas_constant"),
)
def choked_mass_flow(
    *,
    bore: float,
    pressure_abs: float,
    back_pressure_abs: float,
    temperature: float,
    heat_capacity_ratio: float,
    gas_constant: float,
    discharge_coefficient: float,
) -> float | None:
    """Return the mass flow through a bore in which the gas reaches the speed of sound, kg/s.

    m = C A p0 sqrt(k/(R T0)) (2/(k + 1))^((k + 1)/(2 (k - 1))).
    `bore`: of the throat, m, above 0; `pressure_abs`, `temperature`: upstream, at rest, Pa and K, 200 to 400 K;
    `back_pressure_abs`: around the outlet, Pa, from 0; `heat_capacity_ratio`: k, 1.05 to 1.7;
    `gas_constant`: of the gas, J/(kg K); `discharge_coefficient`: C, above 0 to 1.
    Returns None where the pressure is too low for the flow to be choked (`least_choking_pressure`).
    Ideal gas: against the isentrope of the reference equation (CoolProp 8.0.0) at 20 degC it is 0.7 % low for oxygen
    at 12 bar, 3 % at 50 bar and 10 % at 200 bar; at -20 degC 1.1 %, 4 % and 17 %.
    Source: Cengel & Boles, Thermodynamics, mass flow through a choked nozzle; for k = 1.4 it is the textbook constant
    0.6847 p0 A/sqrt(R T0) (White, Fluid Mechanics, from memory).

    >>> flow = choked_mass_flow(bore=(4.0 / 3.141592654) ** 0.5, pressure_abs=3e5, back_pressure_abs=1e5,
    ...     temperature=300.0, heat_capacity_ratio=1.4, gas_constant=287.0, discharge_coefficient=1.0)
    >>> round(flow / 3e5 * (287.0 * 300.0) ** 0.5, 4)
    0.6847
    """
    least = least_choking_pressure(back_pressure_abs=back_pressure_abs, heat_capacity_ratio=heat_capacity_ratio)
    if least is None or not pressure_abs >= least or not above_zero(bore, pressure_abs, gas_constant):
        return None
    if not (within(temperature, 200.0, 400.0) and within(discharge_coefficient, 1e-9, 1.0)):
        return None
    flux = _choked_flux(pressure_abs, temperature, heat_capacity_ratio, gas_constant)
    return discharge_coefficient * pi / 4.0 * bore**2 * flux


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


@monotone(rises=("mass_flow", "temperature"), falls=("pressure_abs", "discharge_coefficient", "heat_capacity_ratio"))
def bore_for_flow(
    *,
    mass_flow: float,
    pressure_abs: float,
    back_pressure_abs: float,
    temperature: float,
    heat_capacity_ratio: float,
    gas_constant: float,
    discharge_coefficient: float,
) -> float | None:
    """Return the bore that passes a mass flow when choked, m: the inverse of `choked_mass_flow`.

    `mass_flow`: kg/s, above 0; other arguments as `choked_mass_flow`.

    >>> round(bore_for_flow(mass_flow=0.01, pressure_abs=6e5, back_pressure_abs=101325.0, temperature=293.15,
    ...     heat_capacity_ratio=1.4, gas_constant=259.84, discharge_coefficient=1.0) * 1e3, 2)
    2.92
    """
    at_one_metre = choked_mass_flow(
        bore=1.0,
        pressure_abs=pressure_abs,
        back_pressure_abs=back_pressure_abs,
        temperature=temperature,
        heat_capacity_ratio=heat_capacity_ratio,
        gas_constant=gas_constant,
        discharge_coefficient=discharge_coefficient,
    )
    return sqrt(mass_flow / at_one_metre) if at_one_metre and above_zero(mass_flow) else None


def _choked_flux(pressure: float, temperature: float, k: float, constant: float) -> float:
    """Return the choked mass flow of a unit of throat area, kg/(m2 s)."""
    shape: float = (2.0 / (k + 1.0)) ** ((k + 1.0) / (2.0 * (k - 1.0)))
    return pressure * sqrt(k / (constant * temperature)) * shape


def _expansion(ratio: float, k: float) -> float:
    """Return the square of the mass flow of a unit of throat area, over p0^2/(R T0), at a pressure ratio."""
    lost: float = ratio ** (2.0 / k) - ratio ** ((k + 1.0) / k)
    return max(0.0, 2.0 * k / (k - 1.0) * lost)
