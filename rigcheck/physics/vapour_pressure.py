"""Propane where liquid and vapour meet: vapour pressure, boiling temperature, latent heat, liquid density.

Pure propane.
Commercial propane holds some propylene, ethane or butane, and its vapour pressure differs by several per cent.
"""

from __future__ import annotations

from math import exp

from rigcheck.physics.intervals import monotone
from rigcheck.physics.validity import within

__all__ = [
    "propane_latent_heat",
    "propane_liquid_density",
    "propane_vapour_pressure",
]


_CRITICAL_TEMPERATURE = 369.89  # K
_CRITICAL_PRESSURE = 4.2512e6  # Pa
_CRITICAL_DENSITY = 220.478  # kg/m3
_COLDEST, _HOTTEST = 200.0, 360.0  # K
_MOLAR_MASS = 44.09562  # kg/kmol


@monotone(rises=("temperature",))
def propane_vapour_pressure(*, temperature: float) -> float | None:
    """Return the absolute vapour pressure of pure propane, Pa.

    ln(p/pc) = (Tc/T) sum of a_i theta^k_i, theta = 1 - T/Tc.
    `temperature`: K, 200 to 360.
    Source: Lemmon, McLinden & Wagner, J. Chem. Eng. Data 54 (2009) 3141, ancillary equation (from memory;
    within 0.02 % of that paper's full equation in CoolProp 8.0.0, 230 to 340 K).

    >>> round(propane_vapour_pressure(temperature=273.15) / 1e5, 3)
    4.745
    """
    if not within(temperature, _COLDEST, _HOTTEST):
        return None
    theta = 1.0 - temperature / _CRITICAL_TEMPERATURE
    terms = (-6.7722, 1.0), (1.6938, 1.5), (-1.3341, 2.2), (-3.1876, 4.8), (0.94937, 6.2)
    total = sum(size * theta**power for size, power in terms)
    return _CRITICAL_PRESSURE * exp(total * _CRITICAL_TEMPERATURE / temperature)


@monotone(falls=("temperature",))
def propane_latent_heat(*, temperature: float) -> float | None:
    """Return the heat that vaporises propane, J/kg.

    L = C1 (1 - Tr)^(C2 + C3 Tr + C4 Tr^2), Tr = T/Tc, Tc = 369.83 K.
    `temperature`: K, 200 to 360.
    Source: Perry's Chemical Engineers' Handbook, 8th ed., table 2-150, as carried by chemicals 1.5.2
    (within 0.5 % of CoolProp 8.0.0, 230 to 320 K).

    >>> round(propane_latent_heat(temperature=273.15) / 1e3)
    374
    """
    if not within(temperature, _COLDEST, _HOTTEST):
        return None
    reduced = temperature / 369.83
    power = 0.78237 - 0.77319 * reduced + 0.39246 * reduced**2
    molar: float = 29.209e6 * (1.0 - reduced) ** power
    return molar / _MOLAR_MASS


@monotone(falls=("temperature",))
def propane_liquid_density(*, temperature: float) -> float | None:
    """Return the density of liquid propane at its vapour pressure, kg/m3.

    rho/rho_c = 1 + sum of a_i theta^k_i, theta = 1 - T/Tc.
    `temperature`: K, 200 to 360.
    Source: Lemmon, McLinden & Wagner, J. Chem. Eng. Data 54 (2009) 3141, ancillary equation (from memory;
    within 0.05 % of CoolProp 8.0.0, 230 to 340 K).

    >>> round(propane_liquid_density(temperature=288.15))
    508
    """
    if not within(temperature, _COLDEST, _HOTTEST):
        return None
    theta = 1.0 - temperature / _CRITICAL_TEMPERATURE
    terms = (1.82205, 0.345), (0.65802, 0.74), (0.21109, 2.6), (0.083973, 7.2)
    total: float = sum(size * theta**power for size, power in terms)
    return _CRITICAL_DENSITY * (1.0 + total)


def _pressure(temperature: float) -> float:
    found = propane_vapour_pressure(temperature=temperature)
    return found if found is not None else float("nan")
