"""How cold an acetylene cylinder becomes by its own draw, and how far its pressure falls with that.

Acetylene that leaves its acetone takes its heat of solution from shell, porous mass and acetone; some comes back
through the wall from the air.
The cylinder is taken as one lump at one temperature; the heat held by the acetylene still dissolved is left out,
so a full cylinder cools somewhat less.
"""

from __future__ import annotations

from math import exp, expm1

from rigcheck.physics.dissolved import solubility_in_acetone
from rigcheck.physics.intervals import Span, monotone
from rigcheck.physics.root_search import crossing
from rigcheck.physics.validity import above_zero, from_zero, within

__all__ = [
    "HEAT_CAPACITY",
    "SOLUTION_HEAT",
    "STILL_AIR",
    "cold_pressure_share",
    "coldest_exchange",
    "cooling_of_draw",
    "temperature_after_draw",
]


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

_MOST = 60.0  # K of cooling
_WARMTHS = (230.0, 340.0)  # K


@monotone(rises=("drawn_mass", "solution_heat"), falls=("cylinder_mass", "heat_capacity"))
def cooling_of_draw(
    *, drawn_mass: float, solution_heat: float, cylinder_mass: float, heat_capacity: float
) -> float | None:
    """Return how far an acetylene cylinder would cool by a draw, K, if no heat came in from outside.

    dT = m L/(M c): heat of solution over the heat held by shell, porous mass and acetone.
    `drawn_mass`: m, kg, from 0; `solution_heat`: L, J/kg, above 0 (`SOLUTION_HEAT`);
    `cylinder_mass`: M, its tare, kg, above 0; `heat_capacity`: c, mean, J/(kg K), above 0 (`HEAT_CAPACITY`).
    Source: heat balance.

    >>> round(cooling_of_draw(drawn_mass=2.0, solution_heat=638e3, cylinder_mass=67.0, heat_capacity=800.0))
    24
    """
    if not (from_zero(drawn_mass) and above_zero(solution_heat, cylinder_mass, heat_capacity)):
        return None
    return drawn_mass * solution_heat / (cylinder_mass * heat_capacity)


@monotone(rises=("temperature", "air_temperature"), falls=("cooling",))
def temperature_after_draw(
    *, temperature: float, air_temperature: float, cooling: float, exchange: float
) -> float | None:
    """Return the temperature of an acetylene cylinder at the end of a steady draw in air, K.

    T = T_air + (T0 - T_air) exp(-x) - dT (1 - exp(-x))/x: the balance M c dT'/dt = -m' L + U A (T_air - T').
    `temperature`: T0, at the start, `air_temperature`: T_air, K, 230 to 340; `cooling`: dT, as `cooling_of_draw`, K,
    from 0; `exchange`: x = U A t/(M c), how many times over the air could warm or cool it meanwhile, no unit, from 0.
    In `exchange` it first falls and then rises where the cylinder is warmer than the air: `coldest_exchange`.
    Source: lumped heat balance, as in any text on heat transfer (Newton's law of cooling).
    None past 60 K below both: there neither the heat of solution nor the solubility is known.

    1 kg/h, a seventh of a full cylinder an hour, for seven hours out of a cylinder as warm as the air:
    >>> spent = cooling_of_draw(drawn_mass=7.0, solution_heat=638e3, cylinder_mass=62.0, heat_capacity=850.0)
    >>> warmth = 5.0 * 1.08 * 7 * 3600.0 / (62.0 * 850.0)
    >>> cold = temperature_after_draw(temperature=288.15, air_temperature=288.15, cooling=spent, exchange=warmth)
    >>> round(288.15 - cold, 1)
    30.3
    """
    if not (within(temperature, *_WARMTHS) and within(air_temperature, *_WARMTHS)):
        return None
    if not from_zero(cooling, exchange):
        return None
    left = -expm1(-exchange) / exchange if exchange > 0.0 else 1.0
    cold = air_temperature + (temperature - air_temperature) * exp(-exchange) - cooling * left
    return cold if cold >= min(temperature, air_temperature) - _MOST else None


@monotone(rises=("excess",), falls=("cooling",))
def coldest_exchange(*, excess: float, cooling: float) -> float | None:
    """Return the exchange with the air at which a cylinder that is warmer than the air ends coldest, no unit.

    (e^x - 1 - x)/x^2 = (T0 - T_air)/dT: where `temperature_after_draw` turns from falling to rising.
    `excess`: T0 - T_air, K; `cooling`: dT, K, above 0; None where it never falls, or falls past an exchange of 50.
    Source: the derivative of that balance, set to zero.

    >>> round(coldest_exchange(excess=20.0, cooling=20.0), 3)
    1.793
    """
    if not above_zero(excess, cooling):
        return None
    return crossing(lambda x: cooling * (expm1(x) - x) / x**2 - excess, 1e-4, 50.0)


@monotone(rises=("cold_temperature",), falls=("temperature",))
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
