"""The cold acetylene cylinder against libraries and against an integrated heat balance."""

from __future__ import annotations

from math import log

import numpy
import pytest
from chemicals.vapor_pressure import Psat_data_WagnerPoling, Wagner_original
from CoolProp.CoolProp import PropsSI
from scipy.integrate import solve_ivp

from rigcheck.physics.cold_cylinder import (
    HEAT_CAPACITY,
    SOLUTION_HEAT,
    cold_pressure_share,
    cooling_in_air,
    cooling_of_draw,
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


@pytest.mark.parametrize("hours", [0.25, 1.0, 8.0])
@pytest.mark.parametrize("coefficient", [3.0, 7.0])
def test_the_cooling_is_that_of_the_integrated_heat_balance(hours: float, coefficient: float) -> None:
    flow, area = 0.6 / 3600.0, 1.08

    def balance(_: float, cold: numpy.ndarray) -> numpy.ndarray:
        return (flow * DRAW["solution_heat"] - coefficient * area * cold) / (62.0 * 850.0)

    run = solve_ivp(balance, (0.0, hours * 3600.0), [0.0], rtol=1e-10, atol=1e-12)
    ours = cooling_in_air(
        mass_flow=flow, time=hours * 3600.0, wall_area=area, heat_transfer_coefficient=coefficient, **DRAW
    )
    assert ours == pytest.approx(run.y[0, -1], rel=1e-7)


def test_without_air_it_cools_by_the_draw_alone() -> None:
    # The limit of a bad wall: the same mass drawn, no heat back.
    slow = cooling_in_air(mass_flow=0.6 / 3600.0, time=3600.0, wall_area=1.08, heat_transfer_coefficient=1e-6, **DRAW)
    assert slow == pytest.approx(cooling_of_draw(drawn_mass=0.6, **DRAW), rel=1e-5)


def test_it_settles_where_the_air_gives_back_what_the_gas_takes() -> None:
    # Inverse: in the end U A dT is the heat that leaves with the gas.
    cooling = cooling_in_air(mass_flow=0.3 / 3600.0, time=1e7, wall_area=1.08, heat_transfer_coefficient=5.0, **DRAW)
    assert cooling is not None
    assert 5.0 * 1.08 * cooling == pytest.approx(0.3 / 3600.0 * 638e3)


@pytest.mark.parametrize("cooling", [59.9, 60.1])
def test_past_sixty_degrees_it_is_unknown(cooling: float) -> None:
    mass = cooling * 62.0 * 850.0 / 638e3
    assert (cooling_of_draw(drawn_mass=mass, **DRAW) is None) is (cooling > 60.0)
    found = cooling_in_air(mass_flow=mass, time=1.0, wall_area=1.0, heat_transfer_coefficient=1e-6, **DRAW)
    assert (found is None) is (cooling > 60.0)


def test_a_frozen_cylinder_shows_what_the_table_of_solubility_says() -> None:
    # The same gas in solution: pressure goes against the volumes that a volume takes up, 20 at 20 and 33 at 0 degC.
    assert cold_pressure_share(temperature=293.15, cold_temperature=273.15) == pytest.approx(20.0 / 33.0, rel=0.02)
