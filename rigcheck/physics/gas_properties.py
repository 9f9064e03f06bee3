"""What the gases of a rig do: viscosity, compressibility, density, and flow by mass and by volume.

The constants and their sources are in `gas_table`.
"""

from __future__ import annotations

from math import exp, inf, log

from rigcheck.physics.gas_table import GASES, Gas
from rigcheck.physics.intervals import monotone

__all__ = [
    "GASES",
    "GAS_CONSTANT",
    "Gas",
    "compressibility",
    "density",
    "second_virial",
    "viscosity",
]

GAS_CONSTANT = 8.314462618
"""J/(mol K); exact since the SI of 2019 (CODATA 2018)."""


@monotone(rises=("temperature",))
def viscosity(*, gas: Gas, temperature: float) -> float | None:
    """Return the dynamic viscosity of a gas at low pressure, Pa s.

    mu = C1 T^C2 / (1 + C3/T + C4/T^2), T in K: Sutherland's law with a free power.
    `temperature`: K, 230 to 400 (inside the tabulated range of every gas here).
    Holds near ambient pressure; at 20 bar oxygen is 2 % more viscous, methane 3 %.
    Measured against CoolProp 8.0.0, -23 to 50 degC: within 0.6 %, but butane 2.3 % and propane 3.5 %;
    acetylene, ethylene and methylacetylene within 4 % of the VDI Heat Atlas.
    Source: Perry's Chemical Engineers' Handbook, 8th ed., table 2-312, as carried by chemicals 1.5.2.

    >>> f"{viscosity(gas=GASES['acetylene'], temperature=293.15):.4g}"
    '1.005e-05'
    """
    if not 230.0 <= temperature <= 400.0:
        return None
    first, power, third, fourth = gas.viscosity_terms
    return first * float(temperature**power) / (1.0 + third / temperature + fourth / temperature**2)


def second_virial(*, gas: Gas, temperature: float) -> float | None:
    """Return the second virial coefficient B of a gas, m3/mol.

    B Pc/(R Tc) = f0(Tr) + omega f1(Tr), Tr = T/Tc.
    `temperature`: K, 230 to 400.
    Source: Tsonopoulos, AIChE Journal 20 (1974) 263, for gases without a dipole (from memory; checked against
    the chemicals library and the reference equations of CoolProp).

    >>> f"{second_virial(gas=GASES['acetylene'], temperature=288.15):.4g}"
    '-0.0001707'
    """
    if not 230.0 <= temperature <= 400.0:
        return None
    reduced = temperature / gas.critical_temperature
    simple = 0.1445 - 0.33 / reduced - 0.1385 / reduced**2 - 0.0121 / reduced**3 - 0.000607 / reduced**8
    shaped = 0.0637 + 0.331 / reduced**2 - 0.423 / reduced**3 - 0.008 / reduced**8
    scale = GAS_CONSTANT * gas.critical_temperature / gas.critical_pressure
    return scale * (simple + gas.acentric_factor * shaped)


def compressibility(*, gas: Gas, pressure_abs: float, temperature: float) -> float | None:
    """Return the compressibility factor Z of a gas (no unit).

    Z = 1 + B p/(R T): the virial equation cut after the second term.
    `pressure_abs`: Pa, 0 up to where Z leaves 0.92 to 1.08, and below 0.97 of the vapour pressure: from there on
    a gas that liquefies is no gas; `temperature`: K, 230 to 400.
    Measured against CoolProp 8.0.0: density within 0.7 % over the whole range, 0.05 % at one atmosphere.
    Source: any text on gas properties; B as `second_virial`.

    >>> round(compressibility(gas=GASES['oxygen'], pressure_abs=10e5, temperature=288.15), 2)
    0.99
    """
    virial = second_virial(gas=gas, temperature=temperature)
    if virial is None or not pressure_abs >= 0.0:
        return None
    if pressure_abs > 0.97 * _condensing_pressure(gas, temperature):
        return None
    factor = 1.0 + virial * pressure_abs / (GAS_CONSTANT * temperature)
    return factor if 0.92 <= factor <= 1.08 else None


def _condensing_pressure(gas: Gas, temperature: float) -> float:
    # Lee & Kesler, AIChE Journal 21 (1975) 510 (from memory): within about 2 % for these gases.
    reduced = temperature / gas.critical_temperature
    if reduced >= 1.0:
        return inf
    simple = 5.92714 - 6.09648 / reduced - 1.28862 * log(reduced) + 0.169347 * reduced**6
    shaped = 15.2518 - 15.6875 / reduced - 13.4721 * log(reduced) + 0.43577 * reduced**6
    return gas.critical_pressure * exp(simple + gas.acentric_factor * shaped)


@monotone(rises=("pressure_abs",), falls=("temperature",))
def density(*, gas: Gas, pressure_abs: float, temperature: float) -> float | None:
    """Return the density of a gas, kg/m3.

    rho = p M/(Z R T); ranges as `compressibility`.

    >>> round(density(gas=GASES['oxygen'], pressure_abs=101325.0, temperature=288.15), 3)
    1.354
    """
    factor = compressibility(gas=gas, pressure_abs=pressure_abs, temperature=temperature)
    if factor is None:
        return None
    return pressure_abs * gas.molar_mass / (factor * GAS_CONSTANT * temperature)
