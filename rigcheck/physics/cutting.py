"""Oxygen cutting: the jet's oxygen, its purity, the preheat acetylene, and the heat that steel needs to catch.

The oxygen of the cutting jet is apart from the oxygen of the preheat flame (`combustion.torch_oxygen`);
the oxygen line carries both.
"""

from __future__ import annotations

from rigcheck.physics.choked_flow import bore_mass_flow
from rigcheck.physics.contents import BaseState, standard_volume
from rigcheck.physics.gas_properties import GAS_CONSTANT, GASES
from rigcheck.physics.intervals import monotone

__all__ = [
    "cutting_oxygen_flow",
]


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
