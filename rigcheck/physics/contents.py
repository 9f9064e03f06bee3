"""What a cylinder holds: compressed gas by pressure, any gas by weight, and volume at a named base state.

Pressures are absolute: a gauge reading needs the pressure of the air around it added first.
A cylinder at 0 gauge still holds one water capacity of gas at atmospheric pressure.
The shell counts as rigid; a steel cylinder grows by about 0.1 to 0.2 % between empty and 200 bar.
"""

from __future__ import annotations

from typing import NamedTuple

from rigcheck.physics.gas_properties import Gas
from rigcheck.physics.intervals import monotone
from rigcheck.physics.real_gas import gas_density, gas_pressure
from rigcheck.physics.validity import above_zero, from_zero, within

__all__ = [
    "BASE_STATES",
    "BaseState",
    "compressed_content",
    "content_by_factor",
    "content_by_weight",
    "ideal_settled_pressure",
    "mass_of_volume",
    "settled_pressure",
    "standard_volume",
    "usable_content",
    "water_capacity_for",
]


class BaseState(NamedTuple):
    """The state at which a gas volume is counted: its name, temperature (K) and absolute pressure (Pa)."""

    name: str
    temperature: float
    pressure_abs: float


BASE_STATES: dict[str, BaseState] = {
    state.name: state
    for state in (
        BaseState("15 degC, 1.01325 bar", 288.15, 101_325.0),  # ISO 13443
        BaseState("0 degC, 1.01325 bar", 273.15, 101_325.0),  # "normal" cubic metres; DIN 1343 (from memory)
        BaseState("20 degC, 1.01325 bar", 293.15, 101_325.0),
        BaseState("15 degC, 1 bar", 288.15, 100_000.0),
        BaseState("70 degF, 14.696 psi", 294.2611, 101_325.0),  # cubic feet of the North American gas trade
        BaseState("60 degF, 30 inHg", 288.7056, 101_591.7),  # cubic feet of older handbooks
    )
}
"""The base states in use, by name. A volume of gas means nothing until its base state is named."""


@monotone(rises=("water_capacity", "pressure_abs"), falls=("temperature",))
def compressed_content(*, gas: Gas, water_capacity: float, pressure_abs: float, temperature: float) -> float | None:
    """Return the mass of compressed gas in a cylinder, kg, all of it, down to vacuum.

    m = V rho(p, T).
    `water_capacity`: V, m3, from 0; `pressure_abs`: Pa, 0 to 350e5; `temperature`: of the gas, K, 230 to 340.
    Not for acetylene (dissolved) nor for a liquefied gas: those are weighed.
    Source: `real_gas.gas_density`.

    >>> from rigcheck.physics.gas_properties import GASES
    >>> round(compressed_content(gas=GASES["oxygen"], water_capacity=0.020, pressure_abs=201.01325e5,
    ...     temperature=288.15), 2)
    5.77
    """
    density = gas_density(gas=gas, pressure_abs=pressure_abs, temperature=temperature)
    return None if density is None or not from_zero(water_capacity) else water_capacity * density


# No direction in temperature: between two pressures that lie close together a dense gas gives more when it is
# warmer, though it gives less between pressures far apart.
@monotone(rises=("water_capacity", "pressure_abs"), falls=("residual_pressure_abs",))
def usable_content(
    *,
    gas: Gas,
    water_capacity: float,
    pressure_abs: float,
    residual_pressure_abs: float,
    temperature: float,
) -> float | None:
    """Return the mass of compressed gas that can be drawn before the residual pressure is reached, kg.

    m = V (rho(p, T) - rho(p_residual, T)): both end states at one temperature, so after the cylinder has warmed again.
    `residual_pressure_abs`: Pa, 0 up; other arguments as `compressed_content`.
    Returns 0 where the cylinder is already at or below the residual pressure.

    >>> from rigcheck.physics.gas_properties import GASES
    >>> left = usable_content(gas=GASES["oxygen"], water_capacity=0.050, pressure_abs=201.01325e5,
    ...     residual_pressure_abs=11.01325e5, temperature=288.15)
    >>> round(left, 2)
    13.67
    """
    now = compressed_content(gas=gas, water_capacity=water_capacity, pressure_abs=pressure_abs, temperature=temperature)
    left = compressed_content(
        gas=gas,
        water_capacity=water_capacity,
        pressure_abs=residual_pressure_abs,
        temperature=temperature,
    )
    return None if now is None or left is None else max(0.0, now - left)


@monotone(rises=("mass", "temperature"), falls=("pressure_abs",))
def water_capacity_for(*, gas: Gas, mass: float, pressure_abs: float, temperature: float) -> float | None:
    """Return the water capacity that holds a mass of compressed gas, m3: the inverse of `compressed_content`.

    `mass`: kg, from 0; `pressure_abs`: Pa, above 0 to 350e5; `temperature`: K, 230 to 340.

    >>> from rigcheck.physics.gas_properties import GASES
    >>> round(water_capacity_for(gas=GASES["oxygen"], mass=5.765, pressure_abs=201.01325e5, temperature=288.15), 4)
    0.02
    """
    density = gas_density(gas=gas, pressure_abs=pressure_abs, temperature=temperature)
    return mass / density if density and from_zero(mass) else None


@monotone(rises=("gross_mass",), falls=("tare_mass",))
def content_by_weight(*, gross_mass: float, tare_mass: float) -> float | None:
    """Return the mass of gas in a cylinder on the scales, kg: the method for acetylene and for liquefied gases.

    m = gross - tare.
    `gross_mass`: as weighed now, kg; `tare_mass`: as stamped, kg, both above 0.
    For acetylene the tare includes the porous mass and the acetone: some acetone leaves with the gas,
    so a cylinder that has been drawn hard weighs less than its content would.
    Returns None where the cylinder weighs less than its tare: a wrong tare, or lost acetone.

    >>> round(content_by_weight(gross_mass=75.0, tare_mass=67.0), 1)
    8.0
    """
    if not above_zero(gross_mass, tare_mass) or gross_mass < tare_mass:
        return None
    return gross_mass - tare_mass


@monotone(rises=("volume_per_pressure", "pressure_gauge"))
def content_by_factor(*, volume_per_pressure: float, pressure_gauge: float) -> float | None:
    """Return the volume of gas above atmospheric pressure by a cylinder size's own factor, m3.

    V = k p: the rule of a duration table, linear in pressure.
    A factor made at the filling pressure is up to 2 % high below it for oxygen filled to 150 or 200 bar,
    and up to 5 % low for oxygen filled to 300 bar.
    `volume_per_pressure`: k, m3/Pa, from 0, at the base state of the table that k is from;
    `pressure_gauge`: Pa, 0 to 350e5.
    Source: respiratory-care duration factors (E size 0.28 L/psi, H size 3.14 L/psi).

    >>> round(content_by_factor(volume_per_pressure=3.14e-3 / 6894.757, pressure_gauge=2200 * 6894.757), 3)
    6.908
    """
    if not (from_zero(volume_per_pressure) and within(pressure_gauge, 0.0, 350e5)):
        return None
    return volume_per_pressure * pressure_gauge


@monotone(rises=("mass",))
def standard_volume(*, gas: Gas, mass: float, base: BaseState) -> float | None:
    """Return the volume of a mass of gas at a base state, m3.

    V = m / rho(base).
    `mass`: kg, from 0; `base`: one of `BASE_STATES`, or another at 230 to 340 K.

    >>> from rigcheck.physics.gas_properties import GASES
    >>> round(standard_volume(gas=GASES["propane"], mass=1.0, base=BASE_STATES["15 degC, 1.01325 bar"]), 3)
    0.527
    """
    density = gas_density(gas=gas, pressure_abs=base.pressure_abs, temperature=base.temperature)
    return mass / density if density and from_zero(mass) else None


@monotone(rises=("volume",))
def mass_of_volume(*, gas: Gas, volume: float, base: BaseState) -> float | None:
    """Return the mass of a volume of gas that is counted at a base state, kg: the inverse of `standard_volume`.

    `volume`: m3, from 0.

    >>> from rigcheck.physics.gas_properties import GASES
    >>> round(mass_of_volume(gas=GASES["oxygen"], volume=1.0, base=BASE_STATES["0 degC, 1.01325 bar"]), 3)
    1.429
    """
    density = gas_density(gas=gas, pressure_abs=base.pressure_abs, temperature=base.temperature)
    return None if density is None or not from_zero(volume) else volume * density


@monotone(rises=("pressure_abs", "new_temperature"), falls=("temperature",))
def settled_pressure(*, gas: Gas, pressure_abs: float, temperature: float, new_temperature: float) -> float | None:
    """Return the absolute pressure of a closed cylinder of compressed gas after it has gone to another temperature, Pa.

    rho(p1, T1) = rho(p2, T2): constant density.
    `pressure_abs`: Pa, above 0 to 350e5; `temperature`, `new_temperature`: of the gas, K, 230 to 340.
    Real gas: a full oxygen cylinder follows temperature more steeply than the ideal gas does.
    Source: `real_gas`.

    >>> from rigcheck.physics.gas_properties import GASES
    >>> hot = settled_pressure(gas=GASES["oxygen"], pressure_abs=201.01325e5, temperature=288.15,
    ...     new_temperature=323.15)
    >>> round(hot / 1e5 - 1.01325)
    238
    """
    density = gas_density(gas=gas, pressure_abs=pressure_abs, temperature=temperature)
    return None if density is None else gas_pressure(gas=gas, density=density, temperature=new_temperature)


@monotone(rises=("pressure_abs", "new_temperature"), falls=("temperature",))
def ideal_settled_pressure(*, pressure_abs: float, temperature: float, new_temperature: float) -> float | None:
    """Return the same as `settled_pressure` for an ideal gas, Pa: to compare with old tables, not to judge by.

    p2 = p1 T2/T1 (Charles).
    `pressure_abs`: Pa, from 0; temperatures in K, 230 to 340.
    Source of the worked example: Manly, Oxy-Acetylene Welding and Cutting (1916), oxygen cylinder table:
    1800 psi gauge at 68 degF is 1912 psi gauge at 100 degF.

    >>> psi, atmosphere = 6894.757, 101325.0
    >>> warm = ideal_settled_pressure(pressure_abs=1800 * psi + atmosphere, temperature=293.15,
    ...     new_temperature=310.93)
    >>> round((warm - atmosphere) / psi, -1)
    1910.0
    """
    if not (from_zero(pressure_abs) and within(temperature, 230.0, 340.0) and within(new_temperature, 230.0, 340.0)):
        return None
    return pressure_abs * new_temperature / temperature
