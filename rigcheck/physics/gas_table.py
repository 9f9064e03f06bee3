"""The gases of a rig and their constants.

Viscosity: Perry's Chemical Engineers' Handbook, 8th ed., table 2-312, as carried by the chemicals library 1.5.2.
Critical constants and acentric factors: the chemicals library 1.5.2.
Heat capacity ratio: ideal gas at 20 degC; Poling, Prausnitz & O'Connell, 5th ed., as carried by chemicals 1.5.2.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from msgspec import Struct

__all__ = ["GASES", "Gas"]


class Gas(Struct, frozen=True):
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
    Gas("acetylene", 0.02603728, 1.236, (1.2025e-6, 0.4952, 291.4, 0.0), 308.3, 5988200.0, 0.178, 0.0),
    Gas("air", 0.02896546, 1.400, (1.425e-6, 0.5039, 108.3, 0.0), 132.45, 3774000.0, -0.008, 0.0),
    Gas("argon", 0.039948, 1.667, (9.2121e-7, 0.60529, 83.24, 0.0), 150.687, 4863000.0, -0.00219, 0.0),
    Gas("butane", 0.0581222, 1.093, (3.4387e-8, 0.94604, 0.0, 0.0), 425.125, 3796000.0, 0.201, 0.0),
    Gas("carbon-dioxide", 0.0440095, 1.292, (2.148e-6, 0.46, 290.0, 0.0), 304.1282, 7377300.0, 0.22394, 0.0),
    Gas("ethane", 0.03006904, 1.190, (2.5906e-7, 0.67988, 98.902, 0.0), 305.322, 4872200.0, 0.0995, 0.0),
    Gas("ethylene", 0.02805316, 1.243, (2.0789e-6, 0.4163, 352.7, 0.0), 282.35, 5041800.0, 0.0866, 0.0),
    Gas("hydrogen", 0.00201588, 1.407, (1.797e-7, 0.685, -0.59, 140.0), 33.145, 1296400.0, -0.219, 0.0),
    Gas("methane", 0.01604246, 1.305, (5.2546e-7, 0.59006, 105.67, 0.0), 190.564, 4599200.0, 0.01142, 0.0),
    Gas("methylacetylene", 0.04006386, 1.160, (1.163e-6, 0.4787, 316.0, 0.0), 402.38, 5626000.0, 0.204, 0.0),
    Gas("nitrogen", 0.0280134, 1.400, (6.5592e-7, 0.6081, 54.714, 0.0), 126.192, 3395800.0, 0.0372, 0.0),
    Gas("oxygen", 0.0319988, 1.395, (1.101e-6, 0.5634, 96.3, 0.0), 154.581, 5043000.0, 0.0222, 0.0),
    Gas("propadiene", 0.04006386, 1.166, (6.0758e-7, 0.53845, 173.45, 0.0), 398.0, 5215600.0, 0.115, 0.0),
    Gas("propane", 0.04409562, 1.129, (4.9054e-8, 0.90125, 0.0, 0.0), 369.89, 4251200.0, 0.1521, 0.0),
    Gas("propylene", 0.04207974, 1.150, (7.3919e-7, 0.5423, 263.73, 0.0), 364.211, 4555000.0, 0.146, 0.0),
)

# Sold in many make-ups: terms of the main gas, a typical molar mass, and a spread that covers the trade (from memory).
_BLENDS = (
    Gas("natural-gas", 0.01724, 1.30, (5.2546e-7, 0.59006, 105.67, 0.0), 194.0, 4600000.0, 0.02, 0.10),
    Gas("methylacetylene-mix", 0.0415, 1.15, (1.163e-6, 0.4787, 316.0, 0.0), 398.0, 5300000.0, 0.16, 0.05),
)

GASES: Mapping[str, Gas] = MappingProxyType({gas.name: gas for gas in (*_PURE, *_BLENDS)})
"""Every gas that has properties here, by name; butane is n-butane."""
