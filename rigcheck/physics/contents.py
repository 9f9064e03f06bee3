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
from rigcheck.physics.validity import above_zero, from_zero

__all__ = [
    "BASE_STATES",
    "BaseState",
    "content_by_weight",
    "settled_pressure",
    "standard_volume",
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
