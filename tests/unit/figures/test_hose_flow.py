"""Hose, joiner, arrester and line: where a figure speaks and where it is unknown."""

from __future__ import annotations

import pytest

from rigcheck.figures.friction import darcy_friction, flow_regime, reynolds_number
from rigcheck.figures.hose_flow import (
    hose_heads,
    hose_inlet_pressure_abs,
    hose_outlet_pressure_abs,
    hose_pressure_drop,
)
from rigcheck.figures.hose_sizing import hose_mass_flow, longest_hose, smallest_bore
from rigcheck.figures.isothermal_flow import choking_pressure_abs, isothermal_mach, mass_flow_between
from rigcheck.figures.line_flow import (
    fitting_inlet_pressure_abs,
    fitting_outlet_pressure_abs,
    line_pressure_abs,
    rated_inlet_pressure_abs,
    rated_outlet_pressure_abs,
)

OXYGEN = {"temperature": 293.15, "molar_mass": 0.0319988, "compressibility": 1.0}
HOSE = {**OXYGEN, "bore": 6.3e-3, "length": 20.0, "roughness": 0.0, "loss_coefficient": 0.0, "viscosity": 2.03e-5}
RATED = {
    "temperature": 293.15,
    "molar_mass": 0.0319988,
    "rated_mass_flow": 3e-3,
    "rated_inlet_pressure_abs": 6e5,
    "rated_outlet_pressure_abs": 5.7e5,
    "rated_temperature": 293.15,
    "rated_molar_mass": 0.0289655,
}


def without(*names: str) -> dict[str, float]:
    return {name: value for name, value in HOSE.items() if name not in names}


@pytest.mark.parametrize(
    ("reynolds", "word"),
    [(0.0, "laminar"), (2039.9, "laminar"), (2040.0, "transition"), (3999.9, "transition"), (4000.0, "turbulent")],
)
def test_the_regime_is_said(reynolds: float, word: str) -> None:
    assert flow_regime(reynolds=reynolds) == word


def test_laminar_friction_does_not_mind_the_wall() -> None:
    assert darcy_friction(reynolds=1000.0, relative_roughness=0.04) == 0.064


@pytest.mark.parametrize(("reynolds", "roughness"), [(0.0, 0.0), (-1.0, 0.0), (1.1e8, 0.0), (1e5, 0.051), (1e5, -1e-9)])
def test_friction_is_unknown_off_the_chart(reynolds: float, roughness: float) -> None:
    assert darcy_friction(reynolds=reynolds, relative_roughness=roughness) is None


def test_friction_jumps_up_where_flow_stops_being_laminar() -> None:
    before = darcy_friction(reynolds=2039.9, relative_roughness=0.0)
    after = darcy_friction(reynolds=2040.1, relative_roughness=0.0)
    assert before is not None and after is not None
    assert after > 1.4 * before


def test_flow_needs_a_bore_and_a_viscosity() -> None:
    assert reynolds_number(mass_flow=1e-3, bore=0.0, viscosity=2e-5) is None
    assert reynolds_number(mass_flow=1e-3, bore=6e-3, viscosity=0.0) is None
    assert flow_regime(reynolds=-1.0) is None


def test_a_laminar_hose_loses_what_hagen_and_poiseuille_say() -> None:
    # dp = 128 mu L q/(pi D^4) for a drop that is small beside the pressure: any text on fluid mechanics.
    flow, density = 2e-5, 1.5e5 * 0.02603728 / (8.314462618 * 293.15)
    expected = 128 * 1.005e-5 * 20.0 * (flow / density) / (3.141592653589793 * 6.3e-3**4)
    gas = {"temperature": 293.15, "molar_mass": 0.02603728, "viscosity": 1.005e-5}
    drop = hose_pressure_drop(**{**HOSE, **gas}, mass_flow=flow, outlet_pressure_abs=1.5e5)
    assert drop == pytest.approx(expected, rel=1e-3)


def test_a_flow_that_chokes_is_unknown() -> None:
    choking = choking_pressure_abs(mass_flow=0.02, bore=6.3e-3, **OXYGEN)
    assert choking == pytest.approx(1.77e5, rel=0.01)
    asked = {**HOSE, "mass_flow": 0.02}
    assert hose_inlet_pressure_abs(**asked, outlet_pressure_abs=1.7e5) is None
    assert hose_inlet_pressure_abs(**asked, outlet_pressure_abs=1.8e5) is not None
    assert hose_outlet_pressure_abs(**asked, inlet_pressure_abs=5e5) is None


def test_how_near_a_flow_is_to_choking_is_said() -> None:
    assert isothermal_mach(pressure_abs=4e5, choking_pressure_abs=1e5) == 0.25
    assert isothermal_mach(pressure_abs=0.0, choking_pressure_abs=1e5) is None


def test_couplings_count_as_velocity_heads() -> None:
    bare = hose_heads(mass_flow=2e-3, bore=6.3e-3, length=20.0, roughness=0.0, loss_coefficient=0.0, viscosity=2e-5)
    fitted = hose_heads(mass_flow=2e-3, bore=6.3e-3, length=20.0, roughness=0.0, loss_coefficient=3.0, viscosity=2e-5)
    assert bare is not None
    assert fitted == pytest.approx(bare + 3.0)


@pytest.mark.parametrize(
    "wrong",
    [
        {"bore": 0.0},
        {"length": -1.0},
        {"loss_coefficient": -1.0},
        {"temperature": 0.0},
        {"molar_mass": 0.0},
        {"viscosity": 0.0},
        {"compressibility": 0.0},
        {"mass_flow": -1e-3},
        {"outlet_pressure_abs": 0.0},
        {"outlet_pressure_abs": float("inf")},
        {"roughness": 1e-3},
    ],
)
def test_a_hose_that_cannot_be_is_unknown(wrong: dict[str, float]) -> None:
    asked = {**HOSE, "mass_flow": 2e-3, "outlet_pressure_abs": 6e5, **wrong}
    assert hose_inlet_pressure_abs(**asked) is None
    assert hose_pressure_drop(**asked) is None


def test_no_length_is_short_enough_where_the_couplings_lose_it_all() -> None:
    asked = {**without("length"), "mass_flow": 3e-3, "inlet_pressure_abs": 6.01e5, "outlet_pressure_abs": 6e5}
    assert longest_hose(**asked) is not None
    assert longest_hose(**{**asked, "loss_coefficient": 100.0}) is None


def test_any_length_will_do_without_flow() -> None:
    asked = {**without("length"), "mass_flow": 0.0, "inlet_pressure_abs": 6.01e5, "outlet_pressure_abs": 6e5}
    assert longest_hose(**asked) is None


def test_no_flow_comes_out_above_the_inlet_pressure() -> None:
    assert hose_mass_flow(**HOSE, inlet_pressure_abs=5e5, outlet_pressure_abs=6e5) is None


def test_a_flow_that_only_choking_would_bound_is_unknown() -> None:
    assert hose_mass_flow(**{**HOSE, "length": 0.5}, inlet_pressure_abs=12e5, outlet_pressure_abs=1.1e5) is None
    assert (
        mass_flow_between(inlet_pressure_abs=12e5, outlet_pressure_abs=1.1e5, bore=6.3e-3, heads=1.0, **OXYGEN) is None
    )


def test_the_smallest_bore_is_found_and_a_finer_one_fails() -> None:
    asked = {**without("bore"), "mass_flow": 3e-3}
    bore = smallest_bore(**asked, inlet_pressure_abs=6.5e5, outlet_pressure_abs=6e5)
    assert bore is not None
    outlet = hose_outlet_pressure_abs(**asked, bore=bore, inlet_pressure_abs=6.5e5)
    finer = hose_outlet_pressure_abs(**asked, bore=0.999 * bore, inlet_pressure_abs=6.5e5)
    assert outlet is not None and finer is not None
    assert finer < 6e5 <= outlet


def test_no_bore_helps_where_the_outlet_is_wanted_above_the_inlet() -> None:
    asked = {**without("bore"), "mass_flow": 3e-3}
    assert smallest_bore(**asked, inlet_pressure_abs=5e5, outlet_pressure_abs=6e5) is None


def test_a_joiner_gives_back_what_was_asked_of_it() -> None:
    asked = {**OXYGEN, "mass_flow": 3e-3, "bore": 4e-3, "loss_coefficient": 1.2}
    inlet = fitting_inlet_pressure_abs(**asked, outlet_pressure_abs=6e5)
    assert inlet is not None and inlet > 6e5
    assert fitting_outlet_pressure_abs(**asked, inlet_pressure_abs=inlet) == pytest.approx(6e5)


def test_an_arrester_at_its_rated_point_loses_what_its_maker_says() -> None:
    asked = {**RATED, "rated_molar_mass": RATED["molar_mass"], "mass_flow": 3e-3}
    assert rated_inlet_pressure_abs(**asked, outlet_pressure_abs=5.7e5) == pytest.approx(6e5)
    assert rated_outlet_pressure_abs(**asked, inlet_pressure_abs=6e5) == pytest.approx(5.7e5)


def test_an_arrester_rated_in_air_loses_less_mass_for_mass_in_a_heavier_gas() -> None:
    # At one mass flow a denser gas is slower: dp goes as 1/density, so oxygen loses 28.97/32.00 of what air does.
    inlet = rated_inlet_pressure_abs(**RATED, mass_flow=3e-3, outlet_pressure_abs=5.7e5)
    assert inlet is not None
    assert (inlet**2 - 5.7e5**2) / (6e5**2 - 5.7e5**2) == pytest.approx(0.0289655 / 0.0319988)


def test_an_arrester_driven_harder_than_its_rating_is_unknown() -> None:
    assert rated_inlet_pressure_abs(**RATED, mass_flow=3.3e-3, outlet_pressure_abs=5.7e5) is None
    assert rated_outlet_pressure_abs(**RATED, mass_flow=3.3e-3, inlet_pressure_abs=6e5) is None
    assert rated_inlet_pressure_abs(**RATED, mass_flow=3.3e-3, outlet_pressure_abs=9e5) is not None


def test_a_line_is_walked_part_by_part_and_back() -> None:
    hose, joiner = {**HOSE, "mass_flow": 2e-3}, {**OXYGEN, "mass_flow": 2e-3, "bore": 5e-3, "loss_coefficient": 2.0}
    arrester = {**RATED, "mass_flow": 2e-3}
    inlet = line_pressure_abs(
        start_pressure_abs=5e5,
        steps=[
            lambda pressure: rated_inlet_pressure_abs(**arrester, outlet_pressure_abs=pressure),
            lambda pressure: hose_inlet_pressure_abs(**hose, outlet_pressure_abs=pressure),
            lambda pressure: fitting_inlet_pressure_abs(**joiner, outlet_pressure_abs=pressure),
        ],
    )
    assert inlet is not None
    outlet = line_pressure_abs(
        start_pressure_abs=inlet,
        steps=[
            lambda pressure: fitting_outlet_pressure_abs(**joiner, inlet_pressure_abs=pressure),
            lambda pressure: hose_outlet_pressure_abs(**hose, inlet_pressure_abs=pressure),
            lambda pressure: rated_outlet_pressure_abs(**arrester, inlet_pressure_abs=pressure),
        ],
    )
    assert outlet == pytest.approx(5e5)


def test_a_line_with_one_unknown_part_is_unknown() -> None:
    assert line_pressure_abs(start_pressure_abs=5e5, steps=[lambda _: None, lambda pressure: pressure]) is None
