"""Acetylene in its acetone, warm, cold and drawn on, against tables of solubility and a handbook's pressures."""

from __future__ import annotations

from itertools import product
from math import log

import pytest
from CoolProp.CoolProp import PropsSI
from scipy.integrate import solve_ivp
from support.known import known

from rigcheck.physics import cold_cylinder, dissolved
from rigcheck.physics.gas_properties import GAS_CONSTANT

AIR = 101_325.0


SOLVED = ((273.15, 33.0), (293.15, 20.0), (313.15, 13.0))
"""K, volumes of acetylene in one of acetone under one atmosphere: solubility tables (from memory)."""


@pytest.mark.outside("cold_cylinder.cooling_of_draw", by="heat taken off by parts, acetone by CoolProp")
def test_a_draw_cools_shell_mass_and_acetone_by_the_heat_that_the_solubility_tells() -> None:
    # 42 kg of steel at 470 and 9 kg of porous mass at 900 J/(kg K) (from memory), 11 kg of acetone; 2 kg drawn.
    (cold, more), (warm, less) = SOLVED[0], SOLVED[1]
    solution = GAS_CONSTANT * log(more / less) / (1.0 / cold - 1.0 / warm) / 0.02603728
    heat = 42.0 * 470.0 + 9.0 * 900.0 + 11.0 * PropsSI("C", "T", 288.15, "P", 15e5, "Acetone")
    ends = [
        known(cold_cylinder.cooling_of_draw(drawn_mass=2.0, solution_heat=s, cylinder_mass=62.0, heat_capacity=c))
        for s, c in product(cold_cylinder.SOLUTION_HEAT, cold_cylinder.HEAT_CAPACITY)
    ]
    assert min(ends) < 2.0 * solution / heat < max(ends)


@pytest.mark.outside("cold_cylinder.coldest_exchange", by="the integrated heat balance, scipy")
@pytest.mark.parametrize("excess", [12.0, 25.0])
def test_no_other_wall_ends_colder_than_the_one_of_the_coldest_exchange(excess: float) -> None:
    worst = known(cold_cylinder.coldest_exchange(excess=excess, cooling=20.0))

    def end(exchange: float) -> float:
        run = solve_ivp(lambda _, t: -20.0 - exchange * t, (0.0, 1.0), [excess], rtol=1e-11, atol=1e-12)
        return float(run.y[0, -1])

    assert end(worst) < end(0.97 * worst)
    assert end(worst) < end(1.03 * worst)


@pytest.mark.outside(
    *("cold_cylinder.cold_pressure_share", "dissolved.acetylene_pressure_at"), by="handbook's pressures of one cylinder"
)
@pytest.mark.parametrize(("fahrenheit", "gauge"), [(90.0, 315.0), (50.0, 190.0)])
def test_a_full_acetylene_cylinder_shows_what_the_handbook_says(fahrenheit: float, gauge: float) -> None:
    """An oxy-acetylene handbook: 250 psi at 70 degF are 315 psi at 90 and 190 psi at 50 degF."""
    psi, start, end = 6894.757, (70.0 + 459.67) / 1.8, (fahrenheit + 459.67) / 1.8
    expected = (gauge * psi + AIR) / (250.0 * psi + AIR)
    share = cold_cylinder.cold_pressure_share(temperature=start, cold_temperature=end)
    assert share == pytest.approx(expected, rel=0.04)
    settled = dissolved.acetylene_pressure_at(pressure_abs=250.0 * psi + AIR, temperature=start, new_temperature=end)
    assert settled == pytest.approx(gauge * psi + AIR, rel=0.04)


@pytest.mark.outside(
    *("dissolved.acetylene_pressure_at", "dissolved.acetylene_share_left", "dissolved.solubility_in_acetone"),
    by="solubility tables, from memory",
)
@pytest.mark.parametrize(("temperature", "volumes"), SOLVED)
def test_what_acetone_holds_at_other_temperatures_follows_the_tables(temperature: float, volumes: float) -> None:
    solved = dissolved.solubility_in_acetone(temperature=temperature)
    assert solved == pytest.approx(volumes, rel=dissolved.ROUGHNESS)
    state = {"pressure_abs": 10e5, "temperature": 293.15}
    settled = dissolved.acetylene_pressure_at(**state, new_temperature=temperature)
    assert settled == pytest.approx(10e5 * 20.0 / volumes, rel=0.04)
    left = dissolved.acetylene_share_left(
        pressure_abs=10e5, temperature=temperature, full_pressure_abs=20e5, full_temperature=293.15
    )
    assert left == pytest.approx(0.5 * volumes / 20.0, rel=0.04)
