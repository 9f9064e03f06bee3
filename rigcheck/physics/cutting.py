"""Oxygen cutting: the jet's oxygen, its purity, the preheat acetylene, and the heat that steel needs to catch.

The oxygen of the cutting jet is apart from the oxygen of the preheat flame (`combustion.torch_oxygen`);
the oxygen line carries both.
"""

from __future__ import annotations

from rigcheck.physics.choked_flow import bore_mass_flow
from rigcheck.physics.contents import BaseState, standard_volume
from rigcheck.physics.gas_properties import GAS_CONSTANT, GASES
from rigcheck.physics.intervals import Span, monotone
from rigcheck.physics.validity import from_zero, within

__all__ = [
    "KINDLING_STEEL",
    "acetylene_beside_oxygen",
    "cutting_oxygen_flow",
    "oxygen_line_flow",
    "purity_oxygen_factor",
    "purity_speed_factor",
]


KINDLING_STEEL: Span = (1033.15, 1144.26)
"""K; 1400 to 1600 degF, at which steel catches in oxygen (NAVEDTRA 14250, Steelworker, ch. 4)."""

_PURE, _LEAST = 0.995, 0.985  # volume share; the span of the published effect
_SPEED_LOST, _OXYGEN_ADDED = 0.15, 0.25  # over that span


@monotone(rises=("bore", "pressure_gauge", "atmosphere", "discharge_coefficient"), falls=("temperature",))
def cutting_oxygen_flow(
    *,
    bore: float,
    pressure_gauge: float,
    atmosphere: float,
    temperature: float,
    discharge_coefficient: float,
    base: BaseState,
) -> float | None:
    """Return the oxygen of the cutting jet, m3/s at the base state.

    Flow of oxygen through the nozzle's cutting bore (`choked_flow.bore_mass_flow`), over its density at base.
    `bore`: m, above 0; `pressure_gauge`: of the oxygen at the torch inlet with the lever down, Pa, from 0;
    `atmosphere`: Pa, absolute; `temperature`: of the oxygen, K, 200 to 400;
    `discharge_coefficient`: above 0 to 1, near 1 for a smooth bore; less for what the torch's own passages lose.
    From about 0.9 bar gauge the jet is choked; below, it flows slower and less than in proportion to the pressure.
    The pressure lost in hose and torch must be taken off the regulator's setting first.
    Source: the nozzle equation, any text on thermodynamics.

    >>> from rigcheck.physics.contents import BASE_STATES
    >>> flow = cutting_oxygen_flow(bore=1.6e-3, pressure_gauge=7 * 98066.5, atmosphere=101325.0, temperature=293.15,
    ...     discharge_coefficient=1.0, base=BASE_STATES["15 degC, 1.01325 bar"])
    >>> round(flow * 3600, 1)
    10.4
    """
    oxygen = GASES["oxygen"]
    mass_flow = bore_mass_flow(
        bore=bore,
        pressure_abs=pressure_gauge + atmosphere,
        back_pressure_abs=atmosphere,
        temperature=temperature,
        heat_capacity_ratio=oxygen.heat_capacity_ratio,
        gas_constant=GAS_CONSTANT / oxygen.molar_mass,
        discharge_coefficient=discharge_coefficient,
    )
    return None if mass_flow is None else standard_volume(gas=oxygen, mass=mass_flow, base=base)


@monotone(rises=("flame_oxygen", "cutting_oxygen", "cutting_share"))
def oxygen_line_flow(*, flame_oxygen: float, cutting_oxygen: float, cutting_share: float) -> float | None:
    """Return what the oxygen cylinder gives on average, in the unit of the flows (m3/s).

    q = flame + share x cutting.
    `flame_oxygen`: of the preheat or welding flame; `cutting_oxygen`: of the jet; both from 0, at one base state;
    `cutting_share`: the share of the burning time that the cutting lever is down, 0 to 1.

    >>> oxygen_line_flow(flame_oxygen=0.5, cutting_oxygen=4.0, cutting_share=0.5)
    2.5
    """
    if not (from_zero(flame_oxygen, cutting_oxygen) and within(cutting_share, 0.0, 1.0)):
        return None
    return flame_oxygen + cutting_share * cutting_oxygen


def acetylene_beside_oxygen(*, cutting_oxygen: float) -> Span | None:
    """Return the least and most preheat acetylene that goes with a cutting oxygen flow, in that flow's unit (m3/s).

    10 % for the thickest section to 25 % for the thinnest.
    `cutting_oxygen`: m3/s, from 0.
    Source: Sheet and Plate Metal Work (public-domain text), cutting metal with oxygen.
    Rough: modern nozzles use as little as 5 % on thick plate.

    >>> acetylene_beside_oxygen(cutting_oxygen=4.0)
    (0.4, 1.0)
    """
    return (0.10 * cutting_oxygen, 0.25 * cutting_oxygen) if from_zero(cutting_oxygen) else None


@monotone(rises=("purity",))
def purity_speed_factor(*, purity: float) -> float | None:
    """Return the cutting speed with less pure oxygen over that at 99.5 %, no unit.

    1 at 99.5 %, 0.85 at 98.5 %, and linear between.
    `purity`: volume share of oxygen, 0.985 to 0.995.
    Source: an oxyfuel cutting lesson on oxygen purity; others say as much as 25 % a per cent (from memory).

    >>> round(purity_speed_factor(purity=0.985), 2)
    0.85
    """
    return 1.0 - _SPEED_LOST * _impurity(purity) if within(purity, _LEAST, _PURE) else None


@monotone(falls=("purity",))
def purity_oxygen_factor(*, purity: float) -> float | None:
    """Return the cutting oxygen used with less pure oxygen over that at 99.5 %, no unit.

    1 at 99.5 %, 1.25 at 98.5 %, and linear between.
    `purity` and source as `purity_speed_factor`.

    >>> round(purity_oxygen_factor(purity=0.99), 3)
    1.125
    """
    return 1.0 + _OXYGEN_ADDED * _impurity(purity) if within(purity, _LEAST, _PURE) else None


def _impurity(purity: float) -> float:
    return (_PURE - purity) / (_PURE - _LEAST)
