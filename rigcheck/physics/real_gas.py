"""Density of a gas at cylinder pressure, by a published equation of state.

Gases with an equation in `helmholtz` are computed from it; the other gases of `gas_properties`
(acetylene, propylene and the like, which no rig holds as a compressed gas) by the virial equation, as far as that
holds: at 15 degC to 11 bar for acetylene, 14 bar for carbon dioxide, 5 bar for propylene, and until
it condenses for butane.
Range of every figure here: 230 to 340 K (-43 to 67 degC), up to 350 bar absolute.
Measured against the reference equations of CoolProp 8.0.0, 10 to 300 bar and 0 to 50 degC: oxygen within 0.18 %,
argon within 0.20 %, methane within 0.04 %, hydrogen within 0.03 %, nitrogen within 0.01 %;
propane vapour within 0.14 %.
Over the whole range: 0.22 % for oxygen, 0.24 % for argon, 0.08 % for hydrogen, 0.07 % for methane.
None of these coefficients was fitted here.
"""

from __future__ import annotations

from math import exp

from rigcheck.physics.gas_properties import Gas
from rigcheck.physics.gas_properties import density as virial_density
from rigcheck.physics.helmholtz import EQUATIONS, Equation
from rigcheck.physics.intervals import monotone
from rigcheck.physics.validity import within
from rigcheck.physics.vapour_pressure import propane_vapour_pressure

__all__ = ["gas_density", "gas_pressure"]


_COLDEST, _HOTTEST = 230.0, 340.0  # K
_HIGHEST = 350e5  # Pa; the upper end of GERG-2008's normal range


@monotone(rises=("pressure_abs",), falls=("temperature",))
def gas_density(*, gas: Gas, pressure_abs: float, temperature: float) -> float | None:
    """Return the density of a gas, kg/m3.

    Solves p = rho R T (1 + delta d(alpha_r)/d(delta)) for rho by Newton's method from the ideal gas.
    `pressure_abs`: Pa, 0 to 350e5, below the vapour pressure, and for a gas without an equation of state of its own
    within the range of `gas_properties.compressibility`.
    `temperature`: K, 230 to 340.
    Returns None outside these ranges.
    Source: see `helmholtz`; for the virial equation, `gas_properties`.

    >>> from rigcheck.physics.gas_properties import GASES
    >>> round(gas_density(gas=GASES["oxygen"], pressure_abs=200e5, temperature=288.15), 1)
    286.9
    """
    if not (within(pressure_abs, 0.0, _HIGHEST) and within(temperature, _COLDEST, _HOTTEST)):
        return None
    if gas.name not in EQUATIONS:
        return virial_density(gas=gas, pressure_abs=pressure_abs, temperature=temperature)
    if gas.name == "propane" and _condenses(pressure_abs, temperature):
        return None
    return _solved(EQUATIONS[gas.name], pressure_abs, temperature) * gas.molar_mass


@monotone(rises=("density", "temperature"))
def gas_pressure(*, gas: Gas, density: float, temperature: float) -> float | None:
    """Return the absolute pressure of a gas of known density, Pa: the inverse of `gas_density`.

    `density`: kg/m3, from 0; `temperature`: K, 230 to 340.
    Returns None where no equation of state is at hand, or where the pressure would leave 0 to 350e5 Pa.
    Propane is left out: at a density between vapour and liquid it has two phases.

    >>> from rigcheck.physics.gas_properties import GASES
    >>> round(gas_pressure(gas=GASES["oxygen"], density=286.878, temperature=288.15) / 1e5, 1)
    200.0
    """
    equation = EQUATIONS.get(gas.name)
    if equation is None or gas.name == "propane" or not within(temperature, _COLDEST, _HOTTEST):
        return None
    if not within(density / gas.molar_mass, 0.0, 3.0 * equation.reducing_density):
        return None
    pressure, _ = _pressure_and_slope(equation, density / gas.molar_mass, temperature)
    return pressure if within(pressure, 0.0, _HIGHEST) else None


def _condenses(pressure_abs: float, temperature: float) -> bool:
    highest = propane_vapour_pressure(temperature=temperature)
    return highest is None or pressure_abs > highest


def _solved(equation: Equation, pressure: float, temperature: float) -> float:
    """Return the density in mol/m3; from the ideal gas, Newton's method climbs to the gas side's root."""
    density = pressure / (equation.gas_constant * temperature)
    for _ in range(50):
        reached, slope = _pressure_and_slope(equation, density, temperature)
        step = (pressure - reached) / slope
        density += step
        if abs(step) <= 1e-12 * density:
            break
    return density


def _pressure_and_slope(equation: Equation, density: float, temperature: float) -> tuple[float, float]:
    """Return the pressure (Pa) at a density (mol/m3), and how fast it rises with density."""
    delta, tau = density / equation.reducing_density, equation.reducing_temperature / temperature
    first = second = 0.0  # delta d(alpha)/d(delta); delta^2 d2(alpha)/d(delta)2
    for n, d, t, power in equation.terms:
        fade = delta**power if power else 0.0
        size = n * delta**d * tau**t * exp(-fade)
        slope = d - power * fade
        first += size * slope
        second += size * (slope * (slope - 1.0) - power * power * fade)
    ideal = equation.gas_constant * temperature
    return density * ideal * (1.0 + first), ideal * (1.0 + 2.0 * first + second)
