"""The cold acetylene cylinder against libraries and against an integrated heat balance."""

from __future__ import annotations

from math import log

import numpy
import pytest
from chemicals.vapor_pressure import Psat_data_WagnerPoling, Wagner_original
from CoolProp.CoolProp import PropsSI
from scipy.integrate import solve_ivp
from scipy.optimize import minimize_scalar

from rigcheck.physics.cold_cylinder import (
    HEAT_CAPACITY,
    SOLUTION_HEAT,
    cold_pressure_share,
    coldest_exchange,
    cooling_of_draw,
    temperature_after_draw,
)

MOLAR_MASS = 0.02603728  # kg/mol, acetylene: IUPAC atomic weights
GAS_CONSTANT = 8.314462618  # J/(mol K), CODATA 2018
DRAW = {"solution_heat": 638e3, "cylinder_mass": 62.0, "heat_capacity": 850.0}


def slope(one: tuple[float, float], other: tuple[float, float]) -> float:
    """Return the heat that van 't Hoff's equation finds between two points (K, value), J/kg."""
    return GAS_CONSTANT * log(one[1] / other[1]) / (1.0 / one[0] - 1.0 / other[0]) / MOLAR_MASS


@pytest.mark.parametrize("warmer", [(293.15, 20.0), (313.15, 13.0)])
def test_the_heat_of_solution_is_the_slope_of_the_solubility(warmer: tuple[float, float]) -> None:
    # Volumes in one of acetone at 0, 20 and 40 degC: solubility tables (from memory).
    assert SOLUTION_HEAT[0] < slope((273.15, 33.0), warmer) < SOLUTION_HEAT[1]


def test_the_heat_of_solution_is_near_that_of_condensing_acetylene() -> None:
    # An ideal solution takes up a gas with its heat of condensation: slope of the vapour pressure of acetylene by the
    # Wagner equation of Poling, Prausnitz & O'Connell, The Properties of Gases and Liquids, 5th ed., as carried by
    # chemicals; acetone binds acetylene by a hydrogen bond, so the heat of solution is the greater one.
    row = Psat_data_WagnerPoling.loc["74-86-2"]

    def vapour(temperature: float) -> float:
        return float(Wagner_original(temperature, row["Tc"], row["Pc"], row["A"], row["B"], row["C"], row["D"]))

    ideal = slope((273.15, 1.0 / vapour(273.15)), (303.15, 1.0 / vapour(303.15)))
    middle = sum(SOLUTION_HEAT) / 2.0
    assert 0.85 * middle < ideal < middle


@pytest.mark.parametrize(
    ("shell", "porous", "solvent"),
    [(40.0, 10.0, 12.5), (42.0, 9.0, 11.0), (48.0, 11.0, 14.0)],
    ids=["40 L light shell", "little solvent", "50 L"],
)
def test_the_heat_capacity_is_the_mean_of_the_parts(shell: float, porous: float, solvent: float) -> None:
    # Steel 470 J/(kg K) and calcium silicate 900: engineering handbooks (from memory); acetone by CoolProp.
    acetone = PropsSI("C", "T", 288.15, "P", 15e5, "Acetone")
    mean = (shell * 470.0 + porous * 900.0 + solvent * acetone) / (shell + porous + solvent)
    assert HEAT_CAPACITY[0] < mean < HEAT_CAPACITY[1]


@pytest.mark.outside(
    "cold_cylinder.temperature_after_draw", "cold_cylinder.cooling_of_draw", by="the integrated heat balance, scipy"
)
@pytest.mark.parametrize(("start", "air"), [(15.0, 15.0), (41.0, 16.0), (15.0, -10.0), (-5.0, 20.0)])
@pytest.mark.parametrize("hours", [0.25, 1.0, 8.0])
@pytest.mark.parametrize("coefficient", [3.0, 7.0])
def test_the_temperature_is_that_of_the_integrated_heat_balance(
    hours: float, coefficient: float, start: float, air: float
) -> None:
    flow, loss, held = 0.6 / 3600.0, coefficient * 1.08, 62.0 * 850.0

    def balance(_: float, warmth: numpy.ndarray) -> numpy.ndarray:
        return (loss * (air - warmth) - flow * DRAW["solution_heat"]) / held

    run = solve_ivp(balance, (0.0, hours * 3600.0), [start], rtol=1e-10, atol=1e-12)
    ours = temperature_after_draw(
        temperature=start + 273.15,
        air_temperature=air + 273.15,
        cooling=cooling_of_draw(drawn_mass=flow * hours * 3600.0, **DRAW) or 0.0,
        exchange=loss * hours * 3600.0 / held,
    )
    assert ours == pytest.approx(run.y[0, -1] + 273.15, abs=1e-6)


def test_without_air_it_cools_by_the_draw_alone() -> None:
    # The limit of a bad wall: the same mass drawn, no heat back.
    cooling = cooling_of_draw(drawn_mass=0.6, **DRAW) or 0.0
    found = temperature_after_draw(temperature=290.0, air_temperature=250.0, cooling=cooling, exchange=0.0)
    assert found == pytest.approx(290.0 - cooling)


@pytest.mark.outside("cold_cylinder.temperature_after_draw", by="steady heat balance")
def test_it_settles_where_the_air_gives_back_what_the_gas_takes() -> None:
    # Inverse: in the end U A dT is the heat that leaves with the gas.
    time, held = 1e7, 62.0 * 850.0
    cooling = cooling_of_draw(drawn_mass=0.3 / 3600.0 * time, **DRAW) or 0.0
    found = temperature_after_draw(
        temperature=280.0, air_temperature=290.0, cooling=cooling, exchange=5.0 * 1.08 * time / held
    )
    assert found is not None
    assert 5.0 * 1.08 * (290.0 - found) == pytest.approx(0.3 / 3600.0 * 638e3)


@pytest.mark.outside("cold_cylinder.coldest_exchange", by="search for the least, scipy")
@pytest.mark.parametrize("excess", [1.0, 10.0, 30.0])
def test_the_coldest_exchange_is_where_a_search_finds_the_least_temperature(excess: float) -> None:
    def ends(exchange: float) -> float:
        found = temperature_after_draw(
            temperature=280.0 + excess, air_temperature=280.0, cooling=20.0, exchange=exchange
        )
        return found or 0.0

    search = minimize_scalar(ends, bounds=(0.0, 50.0), method="bounded", options={"xatol": 1e-10})
    ours = coldest_exchange(excess=excess, cooling=20.0)
    if ours is None:
        assert search.x == pytest.approx(0.0, abs=1e-3)  # it never falls: the draw cools less than the air warms
    else:
        assert ours == pytest.approx(search.x, rel=1e-3)


@pytest.mark.parametrize("cooling", [59.9, 60.1])
def test_past_sixty_degrees_it_is_unknown(cooling: float) -> None:
    found = temperature_after_draw(temperature=290.0, air_temperature=290.0, cooling=cooling, exchange=0.0)
    assert (found is None) is (cooling > 60.0)


@pytest.mark.outside("cold_cylinder.cold_pressure_share", by="solubility tables, from memory")
def test_a_frozen_cylinder_shows_what_the_table_of_solubility_says() -> None:
    # The same gas in solution: pressure goes against the volumes that a volume takes up, 20 at 20 and 33 at 0 degC.
    assert cold_pressure_share(temperature=293.15, cold_temperature=273.15) == pytest.approx(20.0 / 33.0, rel=0.02)
