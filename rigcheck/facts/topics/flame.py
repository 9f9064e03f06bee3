"""What the flames of a fuel line burn: oxygen, the air of the room, and the heat that comes of it."""

from __future__ import annotations

from rigcheck.facts.figure import Figure, Used, Way
from rigcheck.facts.topics.gas_data import datum
from rigcheck.facts.topics.gathering import BASE
from rigcheck.physics.combustion import FLAMES, FUELS, air_drawn, combustion_oxygen, gross_heat, net_heat, torch_ratio
from rigcheck.physics.gas_properties import GAS_CONSTANT
from rigcheck.physics.intervals import Span, carried, hull

__all__ = ["FIGURES"]

_burnt = carried(combustion_oxygen)
_drawn = carried(air_drawn)


def _oxygen(fuel: str, flow: Span) -> Span | None:
    return _burnt(fuel=fuel, fuel_flow=flow)


def _air(fuel: str, flow: Span) -> Span | None:
    """Return the air from the flame that the torch feeds best to the one that it feeds least."""
    found = [_drawn(fuel=fuel, flame=flame, fuel_flow=flow) for flame in FLAMES]
    known = [one for one in found if one is not None]
    return hull(known) if len(known) == len(found) else None


def _heat(fuel: str, flow: Span) -> Span | None:
    """Return the heat a second: from that without to that with the heat of the steam."""
    least, most = net_heat(fuel=fuel), gross_heat(fuel=fuel)
    moles = BASE.pressure_abs / (GAS_CONSTANT * BASE.temperature)
    return None if least is None or most is None else (flow[0] * moles * least, flow[1] * moles * most)


def _atoms(fuel: str, flow: Span, gathered: tuple[Used, ...]) -> tuple[Used, ...]:
    found = FUELS[fuel]
    counts = (("c_atoms", "carbon", found.carbon), ("h_atoms", "hydrogen", found.hydrogen))
    return tuple(used for name, of, n in counts for used in datum(name, f"{of} in a molecule of {fuel}", (n, n), ""))


def _atoms_and_ratio(fuel: str, flow: Span, gathered: tuple[Used, ...]) -> tuple[Used, ...]:
    ratios = [ratio for flame in FLAMES if (ratio := torch_ratio(fuel=fuel, flame=flame)) is not None]
    span = (min(ratios), max(ratios)) if ratios else None
    return _atoms(fuel, flow, gathered) + datum(
        "r", f"torch oxygen to {fuel} by volume, neutral to hottest flame", span, ""
    )


def _heats(fuel: str, flow: Span, gathered: tuple[Used, ...]) -> tuple[Used, ...]:
    least, most = net_heat(fuel=fuel), gross_heat(fuel=fuel)
    span = None if least is None or most is None else (least, most)
    return datum("H", f"heat of combustion of {fuel} at 25 degC, net to gross", span, "kJ/mol", 1e3)


_FUEL = {"gas": tuple(FUELS)}
_OF = {"fuel": "gas", "flow": "demand"}
_BURNT = "all fuel burnt to carbon dioxide and water, all torches burning; ideal gas"

FIGURES: tuple[Figure, ...] = (
    Figure(
        "line",
        "oxygen_burnt",
        (
            Way(
                "q = (c + h/4) q_fuel, fuel C_c H_h",
                "stoichiometry",
                _oxygen,
                _OF,
                _FUEL,
                data=_atoms,
                validity=_BURNT,
            ),
        ),
    ),
    Figure(
        "line",
        "air_burnt",
        (
            Way(
                "q = (c + h/4 - r) q_fuel/20.95 %, not below 0; r = volumes of torch oxygen to one of fuel, from a "
                "neutral flame to the hottest",
                "stoichiometry; r by welding handbooks' tables of fuel gases (from memory), butane and ethylene "
                "estimated from propane and propylene; good to about 15 %",
                _air,
                _OF,
                _FUEL,
                data=_atoms_and_ratio,
                validity=_BURNT,
            ),
        ),
    ),
    Figure(
        "line",
        "flame_heat",
        (
            Way(
                "P = q_fuel (1 atm/(R 288.15 K)) H; H from net to gross",
                "Hess's law; heats of formation by CODATA (1989) and the CRC Handbook (from memory)",
                _heat,
                _OF,
                _FUEL,
                data=_heats,
                validity=_BURNT,
            ),
        ),
    ),
)
"""The figures of this topic."""
