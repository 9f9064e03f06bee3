"""How fuel gases burn: oxygen by chemistry and by torch practice, and the heat they give.

Two kinds of oxygen must not be mixed up.
Combustion oxygen is all that the fuel needs to burn out, from the torch and from the air around the flame.
Torch oxygen is what the torch itself feeds into the preheat flame; it comes out of the cylinder.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from rigcheck.physics.intervals import monotone
from rigcheck.physics.validity import from_zero

__all__ = [
    "FLAMES",
    "FUELS",
    "Fuel",
    "air_drawn",
    "combustion_oxygen",
    "gross_heat",
    "net_heat",
    "oxygen_to_burn",
    "torch_oxygen",
    "torch_ratio",
]


class Fuel(NamedTuple):
    """A fuel gas C_c H_h: atoms, standard enthalpy of formation at 25 degC as gas (J/mol), torch ratios.

    `neutral` and `preheat`: volumes of torch oxygen to one of fuel, for a neutral flame and for the hottest,
    which is the preheat flame of a cutting torch; None where no ratio is at hand.
    """

    carbon: int
    hydrogen: int
    formation: float
    neutral: float | None
    preheat: float | None


# Formation: CRC Handbook of Chemistry and Physics, standard thermodynamic properties (from memory).
# Torch ratios: welding handbooks' fuel gas table (from memory); methylacetylene-mix as published in a text on
# preheating fuels: neutral at 2.5, hottest at 3.5; ethylene and butane at the share of full combustion at which
# their next of kin, propylene and propane, have these flames (an estimate).
FUELS: Mapping[str, Fuel] = MappingProxyType(
    {
        "acetylene": Fuel(2, 2, 227_400.0, 1.1, 1.1),
        "propane": Fuel(3, 8, -103_800.0, 3.5, 4.3),
        "propylene": Fuel(3, 6, 20_000.0, 2.6, 3.5),
        "methane": Fuel(1, 4, -74_600.0, 1.5, 1.9),
        "natural-gas": Fuel(1, 4, -74_600.0, 1.5, 1.9),
        "hydrogen": Fuel(0, 2, 0.0, 0.25, 0.5),
        "methylacetylene-mix": Fuel(3, 4, 184_900.0, 2.5, 3.5),
        "ethylene": Fuel(2, 4, 52_400.0, 1.7, 2.3),
        "butane": Fuel(4, 10, -125_700.0, 4.6, 5.6),
    }
)
"""The fuels by name; the mix counts as methylacetylene, natural gas as methane, and butane as n-butane."""

FLAMES = ("neutral", "preheat")
"""The settings of a flame that have a torch ratio."""

_CARBON_DIOXIDE, _WATER = (
    -393_510.0,
    -285_830.0,
)  # J/mol, formation at 25 degC, gas and liquid (CODATA 1989)
_WATER_LATENT = 44_000.0  # J/mol at 25 degC (CODATA 1989: -241.826 against -285.830 kJ/mol)
_OXYGEN_IN_AIR = 0.2095  # volume share in dry air


def oxygen_to_burn(*, fuel: str) -> float | None:
    """Return the volumes of oxygen that burn one volume of fuel to carbon dioxide and water, no unit.

    C_c H_h + (c + h/4) O2: oxygen from all sources.
    `fuel`: a name in `FUELS`; None for any other.
    Source: stoichiometry.

    >>> oxygen_to_burn(fuel="acetylene")
    2.5
    """
    found = FUELS.get(fuel)
    return None if found is None else found.carbon + found.hydrogen / 4.0


def torch_ratio(*, fuel: str, flame: str) -> float | None:
    """Return the volumes of oxygen that the torch feeds to one volume of fuel, no unit; good to about 15 %.

    `fuel`: a name in `FUELS`; `flame`: "neutral" or "preheat" (the hottest flame, as for cutting); else None.
    The rest of what `oxygen_to_burn` asks for comes from the air around the flame.
    Source: welding handbooks' fuel gas table (from memory).

    >>> torch_ratio(fuel="propane", flame="preheat")
    4.3
    """
    found = FUELS.get(fuel)
    if found is None or flame not in FLAMES:
        return None
    return found.neutral if flame == "neutral" else found.preheat


@monotone(rises=("fuel_flow",))
def combustion_oxygen(*, fuel: str, fuel_flow: float) -> float | None:
    """Return the oxygen that a fuel flow needs in all, from torch and air, in the unit of the fuel flow (m3/s).

    `fuel_flow`: m3/s, from 0; both flows at one base state, as ideal gases.

    >>> combustion_oxygen(fuel="propane", fuel_flow=2.0)
    10.0
    """
    ratio = oxygen_to_burn(fuel=fuel)
    return None if ratio is None or not from_zero(fuel_flow) else ratio * fuel_flow


@monotone(rises=("fuel_flow",))
def torch_oxygen(*, fuel: str, flame: str, fuel_flow: float) -> float | None:
    """Return the oxygen that the torch feeds into a flame, in the unit of the fuel flow (m3/s).

    Without the cutting jet. Arguments as `torch_ratio`; `fuel_flow`: m3/s, from 0.

    >>> torch_oxygen(fuel="acetylene", flame="neutral", fuel_flow=10.0)
    11.0
    """
    ratio = torch_ratio(fuel=fuel, flame=flame)
    return None if ratio is None or not from_zero(fuel_flow) else ratio * fuel_flow


@monotone(rises=("fuel_flow",))
def air_drawn(*, fuel: str, flame: str, fuel_flow: float) -> float | None:
    """Return the room air whose oxygen a flame uses up, in the unit of the fuel flow (m3/s).

    V = (oxygen to burn - torch oxygen)/0.2095, not below 0.
    Arguments as `torch_oxygen`.

    >>> round(air_drawn(fuel="acetylene", flame="neutral", fuel_flow=1.0), 2)
    6.68
    """
    needed = combustion_oxygen(fuel=fuel, fuel_flow=fuel_flow)
    fed = torch_oxygen(fuel=fuel, flame=flame, fuel_flow=fuel_flow)
    return None if needed is None or fed is None else max(0.0, needed - fed) / _OXYGEN_IN_AIR


def gross_heat(*, fuel: str) -> float | None:
    """Return the heat of combustion of a fuel with the water condensed, J/mol, at 25 degC.

    H = H_fuel - c H_CO2 - (h/2) H_water(liquid), by enthalpies of formation.
    Source: Hess's law; data as stated at `FUELS`.

    >>> round(gross_heat(fuel="methane") / 1e3)
    891
    """
    found = FUELS.get(fuel)
    if found is None:
        return None
    return found.formation - found.carbon * _CARBON_DIOXIDE - found.hydrogen / 2.0 * _WATER


def net_heat(*, fuel: str) -> float | None:
    """Return the heat of combustion of a fuel with the water left as vapour, J/mol, at 25 degC.

    >>> round(net_heat(fuel="methane") / 1e3)
    803
    """
    found, gross = FUELS.get(fuel), gross_heat(fuel=fuel)
    return None if found is None or gross is None else gross - found.hydrogen / 2.0 * _WATER_LATENT
