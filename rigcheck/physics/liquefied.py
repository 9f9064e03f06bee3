"""Gases that stand in a cylinder as liquid under their vapour: pressure, boiling point, latent heat, liquid density.

Pure substances, and mixtures of them by Raoult's law.
Propane is taken from `vapour_pressure`, which follows its reference equation more closely.
Coefficients of the others: Perry's Chemical Engineers' Handbook, 8th ed., tables 2-8 (vapour pressure),
2-150 (latent heat) and 2-32 (liquid density), as carried by the chemicals library 1.5.2.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import exp, inf, isfinite, log
from types import MappingProxyType
from typing import NamedTuple

from rigcheck.physics.gas_table import GASES
from rigcheck.physics.intervals import Span, monotone
from rigcheck.physics.root_search import crossing
from rigcheck.physics.validity import within
from rigcheck.physics.vapour_pressure import (
    propane_latent_heat,
    propane_liquid_density,
    propane_vapour_pressure,
)

__all__ = [
    "BUTANE_IN_PROPANE",
    "LIQUIDS",
    "Liquid",
    "boiling_temperature",
    "latent_heat",
    "liquid_density",
    "mixture_vapour_pressure",
    "saturation_pressure",
]

BUTANE_IN_PROPANE: Span = (0.0, 0.1)
"""Share in moles of butane in what is sold as propane: at most 2.5 % by volume under ASTM D1835, at most 10 % of
hydrocarbons with four atoms of carbon under BS 4250 (both from memory).
"""


_COLDEST, _HOTTEST = 200.0, 360.0  # K


class Liquid(NamedTuple):
    """Coefficients of one liquid: the coldest that it is used at and its critical temperature (K);
    vapour pressure (Pa), latent heat (J/kmol) and density (kmol/m3), as their tables order them.
    """

    coldest: float
    critical_temperature: float
    vapour: tuple[float, float, float, float, float]
    latent: tuple[float, float, float, float]
    density: tuple[float, float, float]


LIQUIDS: Mapping[str, Liquid] = MappingProxyType(
    {
        "butane": Liquid(
            _COLDEST,
            425.12,
            (66.343, -4363.2, -7.046, 9.4509e-6, 2.0),
            (3.6238e7, 0.8337, -0.82274, 0.39613),
            (1.0677, 0.27188, 0.28688),
        ),
        "carbon-dioxide": Liquid(
            216.58,
            304.21,
            (140.54, -4735.0, -21.268, 0.040909, 1.0),
            (2.173e7, 0.382, -0.4339, 0.42213),
            (2.768, 0.26212, 0.2908),
        ),
        "methylacetylene": Liquid(
            _COLDEST,
            402.4,
            (50.242, -3811.9, -4.2526, 6.5326e-17, 6.0),
            (3.1889e7, 0.37881, 0.0, 0.0),
            (1.6085, 0.26436, 0.27987),
        ),
        "propadiene": Liquid(
            _COLDEST,
            394.0,
            (57.069, -3682.7, -5.5662, 6.5133e-6, 2.0),
            (2.9535e7, 0.41367, 0.0, 0.0),
            (1.6087, 0.26543, 0.29895),
        ),
        "propylene": Liquid(
            _COLDEST,
            364.85,
            (43.905, -3097.8, -3.4425, 9.9989e-17, 6.0),
            (2.5216e7, 0.33721, -0.18399, 0.22377),
            (1.4403, 0.26852, 0.28775),
        ),
    }
)
"""The liquids that have coefficients here, by the gas's name; butane is n-butane."""


@monotone(rises=("temperature",))
def saturation_pressure(*, liquid: str, temperature: float) -> float | None:
    """Return the absolute vapour pressure of a pure liquid, Pa.

    ln p = C1 + C2/T + C3 ln T + C4 T^C5; for propane `vapour_pressure.propane_vapour_pressure`.
    `liquid`: "propane" or a name in `LIQUIDS`;
    `temperature`: K, 200 (carbon dioxide: its triple point) to 360, and up to 0.98 of the critical one.
    Against CoolProp 8.0.0: butane and carbon dioxide within 0.4 %, propylene within 1.6 %.

    >>> round(saturation_pressure(liquid="butane", temperature=273.15) / 1e5, 3)
    1.034
    """
    if liquid == "propane" and within(temperature, _COLDEST, _HOTTEST):
        return propane_vapour_pressure(temperature=temperature)
    found = _within_range(liquid, temperature)
    if found is None:
        return None
    first, second, third, fourth, power = found.vapour
    return exp(first + second / temperature + third * log(temperature) + fourth * float(temperature**power))


@monotone(rises=("pressure_abs",))
def boiling_temperature(*, liquid: str, pressure_abs: float) -> float | None:
    """Return the temperature at which a pure liquid boils under a pressure, K: the inverse of `saturation_pressure`.

    `pressure_abs`: Pa; None where it would boil outside the range there.

    >>> round(boiling_temperature(liquid="propylene", pressure_abs=101325.0) - 273.15, 1)
    -47.7
    """
    coldest, hottest = (_COLDEST, _HOTTEST) if liquid == "propane" else _range_of(liquid)

    def excess(temperature: float) -> float:
        found = saturation_pressure(liquid=liquid, temperature=temperature)
        return float("nan") if found is None else found - pressure_abs

    return crossing(excess, coldest, hottest)


@monotone(falls=("temperature",))
def latent_heat(*, liquid: str, temperature: float) -> float | None:
    """Return the heat that vaporises a pure liquid, J/kg.

    L = C1 (1 - Tr)^(C2 + C3 Tr + C4 Tr^2)/M, Tr = T/Tc; for propane `vapour_pressure.propane_latent_heat`.
    Arguments as `saturation_pressure`.
    Against CoolProp 8.0.0: butane within 0.4 %, propylene 2.3 %, carbon dioxide 1.4 %.

    >>> round(latent_heat(liquid="butane", temperature=273.15) / 1e3)
    385
    """
    if liquid == "propane" and within(temperature, _COLDEST, _HOTTEST):
        return propane_latent_heat(temperature=temperature)
    found = _within_range(liquid, temperature)
    if found is None:
        return None
    reduced = temperature / found.critical_temperature
    size, first, second, third = found.latent
    molar: float = size * (1.0 - reduced) ** (first + second * reduced + third * reduced**2)
    return molar / (1e3 * GASES[liquid].molar_mass)


@monotone(falls=("temperature",))
def liquid_density(*, liquid: str, temperature: float) -> float | None:
    """Return the density of a pure liquid at its vapour pressure, kg/m3.

    rho = M C1/C2^(1 + (1 - T/Tc)^C4); for propane `vapour_pressure.propane_liquid_density`.
    Arguments as `saturation_pressure`.
    Against CoolProp 8.0.0: within 0.3 % for butane, 0.8 % for propylene, 0.4 % for carbon dioxide.

    >>> round(liquid_density(liquid="butane", temperature=288.15))
    585
    """
    if liquid == "propane" and within(temperature, _COLDEST, _HOTTEST):
        return propane_liquid_density(temperature=temperature)
    found = _within_range(liquid, temperature)
    if found is None:
        return None
    size, base, power = found.density
    molar: float = size / base ** (1.0 + (1.0 - temperature / found.critical_temperature) ** power)
    return molar * 1e3 * GASES[liquid].molar_mass


@monotone(rises=("temperature",))
def mixture_vapour_pressure(*, shares: Mapping[str, float], temperature: float) -> float | None:
    """Return the absolute pressure over a liquid mixture, Pa: what a full cylinder of LPG shows.

    p = sum of x_i p_i(T) (Raoult's law).
    `shares`: mole share of each liquid, "propane" or a name in `LIQUIDS`, adding up to 1 within 0.001;
    `temperature`: K, as `saturation_pressure`.
    Against CoolProp 8.0.0: propane with butane up to 2 % high at -20 degC, 3 % at 15 and 5 % at 50 degC;
    propane with propylene within 2 %.
    The lighter gas leaves first, so the pressure falls as such a cylinder empties.

    >>> round(mixture_vapour_pressure(shares={"propane": 0.4, "butane": 0.6}, temperature=288.15) / 1e5, 2)
    3.98
    """
    if not shares or not all(isfinite(share) and share >= 0.0 for share in shares.values()):
        return None
    each = {name: saturation_pressure(liquid=name, temperature=temperature) for name in shares}
    known = {name: pressure for name, pressure in each.items() if pressure is not None}
    if len(known) < len(shares) or abs(sum(shares.values()) - 1.0) > 0.001:
        return None
    return sum(share * known[name] for name, share in shares.items())


def _within_range(liquid: str, temperature: float) -> Liquid | None:
    return LIQUIDS.get(liquid) if within(temperature, *_range_of(liquid)) else None


def _range_of(liquid: str) -> tuple[float, float]:
    found = LIQUIDS.get(liquid)
    return (found.coldest, min(_HOTTEST, 0.98 * found.critical_temperature)) if found else (inf, -inf)
