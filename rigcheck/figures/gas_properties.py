"""What the gases of a rig are: molar mass, viscosity, heat capacity ratio, compressibility.

Viscosity: Perry's Chemical Engineers' Handbook, 8th ed., table 2-312, as carried by the chemicals library 1.5.2.
Critical constants and acentric factors: the chemicals library 1.5.2.
Heat capacity ratio: ideal gas at 20 degC; Poling, Prausnitz & O'Connell, 5th ed., as carried by chemicals 1.5.2.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import exp, inf, isfinite, log, sqrt
from types import MappingProxyType

__all__ = [
    "FALLS_WITH",
    "GASES",
    "GAS_CONSTANT",
    "RISES_WITH",
    "Gas",
    "compressibility",
    "density",
    "gas_called",
    "mass_flow",
    "mixture_molar_mass",
    "second_virial",
    "sutherland_viscosity",
    "viscosity",
    "volume_flow",
]

GAS_CONSTANT = 8.314462618
"""J/(mol K); exact since the SI of 2019 (CODATA 2018)."""

RISES_WITH = {
    "viscosity": ("temperature",),
    "sutherland_viscosity": ("temperature", "reference_viscosity"),
    "density": ("pressure_abs",),
    "mass_flow": ("volume_flow", "base_pressure_abs"),
    "volume_flow": ("mass_flow", "base_temperature"),
}
FALLS_WITH = {
    "density": ("temperature",),
    "mass_flow": ("base_temperature",),
    "volume_flow": ("base_pressure_abs",),
}


@dataclass(frozen=True, slots=True)
class Gas:
    """One gas; SI units.

    `spread` is the relative half-width of molar mass and viscosity: zero for a pure gas,
    more for a gas whose make-up differs from place to place.
    """

    name: str
    molar_mass: float
    heat_capacity_ratio: float
    viscosity_terms: tuple[float, float, float, float]
    critical_temperature: float
    critical_pressure: float
    acentric_factor: float
    spread: float


_PURE = (
    Gas(
        "acetylene",
        0.02603728,
        1.236,
        (1.2025e-6, 0.4952, 291.4, 0.0),
        308.3,
        5988200.0,
        0.178,
        0.0,
    ),
    Gas("air", 0.02896546, 1.400, (1.425e-6, 0.5039, 108.3, 0.0), 132.45, 3774000.0, -0.008, 0.0),
    Gas(
        "argon",
        0.039948,
        1.667,
        (9.2121e-7, 0.60529, 83.24, 0.0),
        150.687,
        4863000.0,
        -0.00219,
        0.0,
    ),
    Gas("butane", 0.0581222, 1.093, (3.4387e-8, 0.94604, 0.0, 0.0), 425.125, 3796000.0, 0.201, 0.0),
    Gas(
        "carbon-dioxide",
        0.0440095,
        1.292,
        (2.148e-6, 0.46, 290.0, 0.0),
        304.1282,
        7377300.0,
        0.22394,
        0.0,
    ),
    Gas(
        "ethane",
        0.03006904,
        1.190,
        (2.5906e-7, 0.67988, 98.902, 0.0),
        305.322,
        4872200.0,
        0.0995,
        0.0,
    ),
    Gas(
        "ethylene",
        0.02805316,
        1.243,
        (2.0789e-6, 0.4163, 352.7, 0.0),
        282.35,
        5041800.0,
        0.0866,
        0.0,
    ),
    Gas(
        "hydrogen",
        0.00201588,
        1.407,
        (1.797e-7, 0.685, -0.59, 140.0),
        33.145,
        1296400.0,
        -0.219,
        0.0,
    ),
    Gas(
        "methane",
        0.01604246,
        1.305,
        (5.2546e-7, 0.59006, 105.67, 0.0),
        190.564,
        4599200.0,
        0.01142,
        0.0,
    ),
    Gas(
        "methylacetylene",
        0.04006386,
        1.160,
        (1.163e-6, 0.4787, 316.0, 0.0),
        402.38,
        5626000.0,
        0.204,
        0.0,
    ),
    Gas(
        "nitrogen",
        0.0280134,
        1.400,
        (6.5592e-7, 0.6081, 54.714, 0.0),
        126.192,
        3395800.0,
        0.0372,
        0.0,
    ),
    Gas("oxygen", 0.0319988, 1.395, (1.101e-6, 0.5634, 96.3, 0.0), 154.581, 5043000.0, 0.0222, 0.0),
    Gas(
        "propadiene",
        0.04006386,
        1.166,
        (6.0758e-7, 0.53845, 173.45, 0.0),
        398.0,
        5215600.0,
        0.115,
        0.0,
    ),
    Gas("propane", 0.04409562, 1.129, (4.9054e-8, 0.90125, 0.0, 0.0), 369.89, 4251200.0, 0.1521, 0.0),
    Gas(
        "propylene",
        0.04207974,
        1.150,
        (7.3919e-7, 0.5423, 263.73, 0.0),
        364.211,
        4555000.0,
        0.146,
        0.0,
    ),
)

# Sold in many make-ups: terms of the main gas, a typical molar mass, and a spread that covers the trade (from memory).
_BLENDS = (
    Gas(
        "natural-gas",
        0.01724,
        1.30,
        (5.2546e-7, 0.59006, 105.67, 0.0),
        194.0,
        4600000.0,
        0.02,
        0.10,
    ),
    Gas(
        "methylacetylene-mix",
        0.0415,
        1.15,
        (1.163e-6, 0.4787, 316.0, 0.0),
        398.0,
        5300000.0,
        0.16,
        0.05,
    ),
)

GASES: Mapping[str, Gas] = MappingProxyType({gas.name: gas for gas in (*_PURE, *_BLENDS)})
"""Every gas that has properties here, by name; butane is n-butane."""


def gas_called(name: str) -> Gas | None:
    """Return the gas of that name, or None where nothing is known of it."""
    return GASES.get(name)


def viscosity(*, gas: Gas, temperature: float) -> float | None:
    """Return the dynamic viscosity of a gas at low pressure, Pa s.

    mu = C1 T^C2 / (1 + C3/T + C4/T^2), T in K: Sutherland's law with a free power.
    `temperature`: K, 230 to 400 (inside the tabulated range of every gas here).
    Holds near ambient pressure; at 20 bar a gas here is up to about 5 % more viscous.
    Source: Perry's Chemical Engineers' Handbook, 8th ed., table 2-312, as carried by chemicals 1.5.2.

    >>> f"{viscosity(gas=GASES['acetylene'], temperature=293.15):.4g}"
    '1.005e-05'
    """
    if not 230.0 <= temperature <= 400.0:
        return None
    first, power, third, fourth = gas.viscosity_terms
    return first * float(temperature**power) / (1.0 + third / temperature + fourth / temperature**2)


def sutherland_viscosity(
    *,
    reference_viscosity: float,
    reference_temperature: float,
    sutherland_constant: float,
    temperature: float,
) -> float | None:
    """Return the dynamic viscosity by Sutherland's law, Pa s.

    mu = mu0 (T/T0)^1.5 (T0 + S) / (T + S).
    `reference_viscosity`: mu0, Pa s; `reference_temperature`: T0, K; `sutherland_constant`: S, K, above 0;
    `temperature`: T, K, 200 to 1000.
    Source: Sutherland, Philosophical Magazine 36 (1893) 507 (from memory);
    constants for air 1.716e-5 Pa s, 273 K, 111 K: White, Viscous Fluid Flow, table 1-2 (from memory).

    >>> found = sutherland_viscosity(reference_viscosity=1.716e-5, reference_temperature=273.0,
    ...     sutherland_constant=111.0, temperature=300.0)
    >>> f"{found:.4g}"
    '1.847e-05'
    """
    if not (200.0 <= temperature <= 1000.0 and reference_viscosity > 0.0 < reference_temperature):
        return None
    if not sutherland_constant > 0.0:
        return None
    ratio = temperature / reference_temperature
    return (
        reference_viscosity
        * ratio
        * sqrt(ratio)
        * (reference_temperature + sutherland_constant)
        / (temperature + sutherland_constant)
    )


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


def mass_flow(*, gas: Gas, volume_flow: float, base_pressure_abs: float, base_temperature: float) -> float | None:
    """Return the mass flow of a volume flow that is counted at a base state, kg/s.

    m = q rho(base).
    `volume_flow`: m3/s at the base, from 0; base as `density`: 101325 Pa and 288.15 K for a flow "at 15 degC, 1 atm".

    >>> round(mass_flow(gas=GASES['oxygen'], volume_flow=10 / 3600,
    ...     base_pressure_abs=101325.0, base_temperature=288.15) * 1e3, 3)
    3.762
    """
    thickness = density(gas=gas, pressure_abs=base_pressure_abs, temperature=base_temperature)
    if thickness is None or not 0.0 <= volume_flow < float("inf"):
        return None
    return volume_flow * thickness


def volume_flow(*, gas: Gas, mass_flow: float, base_pressure_abs: float, base_temperature: float) -> float | None:
    """Return the volume flow at a base state of a mass flow, m3/s: the inverse of `mass_flow`.

    `mass_flow`: kg/s, from 0; base as `density`.
    """
    thickness = density(gas=gas, pressure_abs=base_pressure_abs, temperature=base_temperature)
    if not thickness or not 0.0 <= mass_flow < float("inf"):
        return None
    return mass_flow / thickness


def mixture_molar_mass(*, shares: Mapping[str, float]) -> float | None:
    """Return the molar mass of a gas mixture, kg/mol.

    M = sum of x_i M_i.
    `shares`: mole (volume) share of each gas by its name in `GASES`; they add up to 1 within 0.001.

    >>> round(mixture_molar_mass(shares={'oxygen': 0.21, 'nitrogen': 0.79}) * 1e3, 2)
    28.85
    """
    if not all(isfinite(share) and share >= 0.0 and name in GASES for name, share in shares.items()):
        return None
    if abs(sum(shares.values()) - 1.0) > 0.001:
        return None
    return sum(share * GASES[name].molar_mass for name, share in shares.items())
