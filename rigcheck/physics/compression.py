"""What happens to oxygen that is shut in fast: heat of compression when a valve is thrown open.

Idealised: no heat is lost, the gas is ideal with a constant heat capacity ratio, and nothing mixes.
It tells why valves are opened slowly, not what temperature a given regulator reaches:
real gas, mixing and cold walls make it less, burning of a seat or of dirt makes it far more.
"""

from __future__ import annotations

from rigcheck.physics.intervals import monotone
from rigcheck.physics.validity import above_zero, within

__all__ = ["compression_ratio_to_reach", "compression_temperature"]


@monotone(rises=("temperature", "pressure_after_abs", "heat_capacity_ratio"), falls=("pressure_before_abs",))
def compression_temperature(
    *,
    temperature: float,
    pressure_before_abs: float,
    pressure_after_abs: float,
    heat_capacity_ratio: float,
) -> float | None:
    """Return the temperature of a gas after adiabatic compression, K, idealised.

    T2 = T1 (p2/p1)^((k - 1)/k).
    `temperature`: T1, K, 200 to 400; `pressure_before_abs`: p1, Pa, above 0; `pressure_after_abs`: p2, Pa, from p1
    to 400e5; `heat_capacity_ratio`: k, 1.05 to 1.7, held constant.
    Returns None past 2000 K, where oxygen begins to come apart.
    With k = 1.4 it stands above the reference equation of state for oxygen (CoolProp 8.0.0, isentrope from 20 degC and
    1.013 bar) by 8 % of the absolute temperature at 50 bar and 15 % at 200 bar, as the real k falls with heat.
    Source: isentropic ideal gas, any text on thermodynamics.

    >>> hot = compression_temperature(temperature=293.15, pressure_before_abs=101325.0,
    ...     pressure_after_abs=200e5, heat_capacity_ratio=1.4)
    >>> round(hot - 273.15, -1)
    1050.0
    """
    if not (above_zero(pressure_before_abs) and within(pressure_after_abs, pressure_before_abs, 400e5)):
        return None
    if not (within(temperature, 200.0, 400.0) and within(heat_capacity_ratio, 1.05, 1.7)):
        return None
    power = (heat_capacity_ratio - 1.0) / heat_capacity_ratio
    hot = temperature * (pressure_after_abs / pressure_before_abs) ** power
    return hot if hot <= 2000.0 else None


@monotone(rises=("final_temperature",), falls=("temperature", "heat_capacity_ratio"))
def compression_ratio_to_reach(
    *, temperature: float, final_temperature: float, heat_capacity_ratio: float
) -> float | None:
    """Return the pressure ratio that heats a gas to a temperature, no unit: the inverse of `compression_temperature`.

    p2/p1 = (T2/T1)^(k/(k - 1)).
    `temperature`: T1, K, 200 to 400; `final_temperature`: T2, K, from T1 to 2000, as a seat's ignition temperature;
    `heat_capacity_ratio`: k, 1.05 to 1.7.

    >>> round(compression_ratio_to_reach(temperature=293.15, final_temperature=586.3, heat_capacity_ratio=1.4), 1)
    11.3
    """
    if not (within(temperature, 200.0, 400.0) and within(final_temperature, temperature, 2000.0)):
        return None
    if not within(heat_capacity_ratio, 1.05, 1.7):
        return None
    return float((final_temperature / temperature) ** (heat_capacity_ratio / (heat_capacity_ratio - 1.0)))
