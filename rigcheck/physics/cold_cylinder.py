"""How cold an acetylene cylinder becomes by its own draw, and how far its pressure falls with that.

Acetylene that leaves its acetone takes its heat of solution from shell, porous mass and acetone; some comes back
through the wall from the air.
The cylinder is taken as one lump at one temperature; the heat held by the acetylene still dissolved is left out,
so a full cylinder cools somewhat less.
"""

from __future__ import annotations

from math import expm1

from rigcheck.physics.dissolved import solubility_in_acetone
from rigcheck.physics.intervals import Span
from rigcheck.physics.validity import above_zero, from_zero, within

__all__ = [
    "FALLS_WITH",
    "HEAT_CAPACITY",
    "RISES_WITH",
    "SOLUTION_HEAT",
    "STILL_AIR",
    "cold_pressure_share",
    "cooling_in_air",
    "cooling_of_draw",
]

RISES_WITH = {
    "cold_pressure_share": ("cold_temperature",),
    "cooling_in_air": ("mass_flow", "time", "solution_heat"),
    "cooling_of_draw": ("drawn_mass", "solution_heat"),
}
FALLS_WITH = {
    "cold_pressure_share": ("temperature",),
    "cooling_in_air": ("cylinder_mass", "heat_capacity", "wall_area", "heat_transfer_coefficient"),
    "cooling_of_draw": ("cylinder_mass", "heat_capacity"),
}

SOLUTION_HEAT: Span = (605e3, 670e3)
"""J/kg of acetylene that leaves acetone: 16.6 kJ/mol give or take 5 %.

Van 't Hoff on its solubility, 33, 20 and 13 volumes at 0, 20 and 40 degC (from memory).
"""

HEAT_CAPACITY: Span = (750.0, 950.0)
"""J/(kg K) of the tare of a steel cylinder, all of it.

Six to seven tenths steel (460 to 490), the rest porous mass (840 to 1000) and acetone (2130 to 2170): from memory.
"""

STILL_AIR: Span = (3.0, 7.0)
"""W/(m2 K) from still air into the middle of the porous mass.

Derived here, not published: 5 to 10 at the wall by convection and radiation, in series with the porous mass,
4 k/R with k of 0.25 to 0.5 W/(m K) and R of 0.115 m (from memory).
"""

_MOST = 60.0  # K; further down neither the heat of solution nor the solubility is known


def cooling_of_draw(
    *, drawn_mass: float, solution_heat: float, cylinder_mass: float, heat_capacity: float
) -> float | None:
    """Return how far an acetylene cylinder would cool by a draw, K, if no heat came in from outside.

    dT = m L/(M c): heat of solution over the heat held by shell, porous mass and acetone.
    `drawn_mass`: m, kg, from 0; `solution_heat`: L, J/kg, above 0 (`SOLUTION_HEAT`);
    `cylinder_mass`: M, its tare, kg, above 0; `heat_capacity`: c, mean, J/(kg K), above 0 (`HEAT_CAPACITY`).
    The most that it can cool: in air some heat comes back, more so the slower the draw.
    Source: heat balance.
    Returns None past 60 K of cooling.

    >>> round(cooling_of_draw(drawn_mass=2.0, solution_heat=638e3, cylinder_mass=67.0, heat_capacity=800.0))
    24
    """
    if not (from_zero(drawn_mass) and above_zero(solution_heat, cylinder_mass, heat_capacity)):
        return None
    cooling = drawn_mass * solution_heat / (cylinder_mass * heat_capacity)
    return cooling if within(cooling, 0.0, _MOST) else None


def cooling_in_air(
    *,
    mass_flow: float,
    time: float,
    solution_heat: float,
    cylinder_mass: float,
    heat_capacity: float,
    wall_area: float,
    heat_transfer_coefficient: float,
) -> float | None:
    """Return how far an acetylene cylinder has cooled after a steady draw in air, K.

    dT = m' L/(U A) (1 - exp(-U A t/(M c))): the balance M c dT'/dt = m' L - U A T' from a cylinder as warm as the air.
    `mass_flow`: m', kg/s, from 0; `time`: t, s, from 0; `wall_area`: A, m2; `heat_transfer_coefficient`: U, W/(m2 K)
    (`STILL_AIR`); both above 0; the rest as `cooling_of_draw`, which it is for a very short time.
    Source: lumped heat balance, as in any text on heat transfer (Newton's law of cooling).
    Returns None past 60 K of cooling.

    1 kg/h, a seventh of a full cylinder an hour, for seven hours:
    >>> round(cooling_in_air(mass_flow=1.0 / 3600, time=7 * 3600.0, solution_heat=638e3, cylinder_mass=62.0,
    ...     heat_capacity=850.0, wall_area=1.08, heat_transfer_coefficient=5.0), 1)
    30.3
    """
    if not (from_zero(mass_flow, time) and above_zero(solution_heat, cylinder_mass, heat_capacity)):
        return None
    if not above_zero(wall_area, heat_transfer_coefficient):
        return None
    through = heat_transfer_coefficient * wall_area
    settled = mass_flow * solution_heat / through
    cooling = -settled * expm1(-through * time / (cylinder_mass * heat_capacity))
    return cooling if within(cooling, 0.0, _MOST) else None


def cold_pressure_share(*, temperature: float, cold_temperature: float) -> float | None:
    """Return the pressure of a cooled acetylene cylinder as a share of what it was with the same gas in it, no unit.

    p_cold/p = S(T)/S(T_cold), absolute pressures (Henry).
    `temperature`, `cold_temperature`: K, 253 to 323.
    Source: solubility by `dissolved.solubility_in_acetone`.

    From 15 degC to freezing a third of the pressure is gone:
    >>> round(cold_pressure_share(temperature=288.15, cold_temperature=273.15), 2)
    0.68
    """
    warm = solubility_in_acetone(temperature=temperature)
    cold = solubility_in_acetone(temperature=cold_temperature)
    return None if warm is None or cold is None else warm / cold
