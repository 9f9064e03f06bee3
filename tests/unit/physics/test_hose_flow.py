"""Hose, joiner, arrester and line: where a figure speaks and where it is unknown."""

from __future__ import annotations

from math import log

import pytest
from msgspec.structs import replace

from rigcheck.physics.friction import (
    LAMINAR_LIMIT,
    TURBULENT_LIMIT,
    darcy_friction,
)
from rigcheck.physics.hose_flow import (
    Hose,
    hose_heads,
    hose_inlet_pressure_abs,
    hose_outlet_mach,
)
from rigcheck.physics.hose_sizing import longest_hose, smallest_bore
from rigcheck.physics.isothermal_flow import (
    Stream,
    inlet_pressure_abs,
    isothermal_mach,
)
from rigcheck.physics.line_flow import RatedPoint, outlet_of_squares, rated_inlet_pressure_abs

OXYGEN = Stream(mass_flow=2e-3, temperature=293.15, molar_mass=0.0319988, compressibility=1.0, viscosity=2.03e-5)
HOSE = Hose(bore=6.3e-3, length=20.0, roughness=0.0, loss_coefficient=0.0)
RATED = RatedPoint(flow=3e-3, inlet_pressure_abs=6e5, outlet_pressure_abs=5.7e5)


def flowing(mass_flow: float) -> Stream:
    return replace(OXYGEN, mass_flow=mass_flow)


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


def test_in_transition_friction_lies_between_the_laminar_and_the_turbulent() -> None:
    # Moody's chart, critical zone: 64/3000 = 0.0213; smooth pipe at 3000 by Colebrook 0.0435 (from memory).
    ends = [
        darcy_friction(reynolds=3000.0, relative_roughness=0.0, turbulent_from=limit)
        for limit in (TURBULENT_LIMIT, LAMINAR_LIMIT)
    ]
    assert ends == [pytest.approx(0.0213, rel=0.005), pytest.approx(0.0435, rel=0.005)]


def test_friction_of_slow_flow_is_never_below_the_laminar_one() -> None:
    # Below about Re = 1200 the line of Colebrook runs under that of Hagen and Poiseuille.
    assert darcy_friction(reynolds=500.0, relative_roughness=0.0, turbulent_from=400.0) == 0.128
    assert darcy_friction(reynolds=500.0, relative_roughness=0.0, turbulent_from=0.0) is None


def test_a_laminar_hose_loses_what_hagen_and_poiseuille_say() -> None:
    # dp = 128 mu L q/(pi D^4) for a drop that is small beside the pressure: any text on fluid mechanics.
    flow, density = 2e-5, 1.5e5 * 0.02603728 / (8.314462618 * 293.15)
    expected = 128 * 1.005e-5 * 20.0 * (flow / density) / (3.141592653589793 * 6.3e-3**4)
    gas = replace(OXYGEN, mass_flow=flow, molar_mass=0.02603728, viscosity=1.005e-5)
    inlet = hose_inlet_pressure_abs(stream=gas, hose=HOSE, outlet_pressure_abs=1.5e5)
    assert inlet is not None
    assert inlet - 1.5e5 == pytest.approx(expected, rel=1e-3)


def test_how_near_a_flow_is_to_choking_is_said() -> None:
    assert isothermal_mach(pressure_abs=4e5, choking_pressure_abs=1e5) == 0.25
    assert isothermal_mach(pressure_abs=0.0, choking_pressure_abs=1e5) is None


def test_how_fast_the_gas_leaves_a_hose_is_said() -> None:
    assert hose_outlet_mach(stream=flowing(0.02), hose=HOSE, outlet_pressure_abs=3.54e5) == pytest.approx(0.5, rel=0.01)
    assert hose_outlet_mach(stream=flowing(0.02), hose=replace(HOSE, bore=0.0), outlet_pressure_abs=3e5) is None


def test_couplings_count_as_velocity_heads() -> None:
    bare = hose_heads(stream=OXYGEN, hose=HOSE)
    assert bare is not None
    assert hose_heads(stream=OXYGEN, hose=replace(HOSE, loss_coefficient=3.0)) == pytest.approx(bare + 3.0)


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
    ends = {"outlet_pressure_abs": 6e5} | {key: value for key, value in wrong.items() if "pressure" in key}
    stream = replace(OXYGEN, **{key: value for key, value in wrong.items() if key in Stream.__slots__})
    hose = replace(HOSE, **{key: value for key, value in wrong.items() if key in Hose.__slots__})
    assert hose_inlet_pressure_abs(stream=stream, hose=hose, **ends) is None


def test_no_length_is_short_enough_where_the_couplings_lose_it_all() -> None:
    ends = {"inlet_pressure_abs": 6.01e5, "outlet_pressure_abs": 6e5}
    assert longest_hose(stream=flowing(3e-3), hose=HOSE, **ends) is not None
    assert longest_hose(stream=flowing(3e-3), hose=replace(HOSE, loss_coefficient=100.0), **ends) is None


def test_any_length_will_do_without_flow() -> None:
    ends = {"inlet_pressure_abs": 6.01e5, "outlet_pressure_abs": 6e5}
    assert longest_hose(stream=flowing(0.0), hose=HOSE, **ends) is None


@pytest.mark.parametrize("speed", [0.5, 0.9, 0.999, 0.999999])
@pytest.mark.parametrize("heads", [0.0, 1e-6, 1.0, 1e4])
def test_the_inlet_is_found_up_to_where_the_flow_chokes(speed: float, heads: float) -> None:
    inlet = inlet_pressure_abs(outlet_pressure_abs=1e5, choking_pressure_abs=speed * 1e5, heads=heads)
    assert inlet is not None and inlet >= 1e5
    lost = (speed * 1e5) ** 2 * (heads + 2.0 * log(inlet / 1e5))
    assert inlet**2 - 1e10 == pytest.approx(lost, rel=1e-9, abs=1e-2)


def test_no_bore_helps_where_the_outlet_is_wanted_above_the_inlet() -> None:
    assert smallest_bore(stream=flowing(3e-3), hose=HOSE, inlet_pressure_abs=5e5, outlet_pressure_abs=6e5) is None


def test_a_part_at_its_rated_point_loses_what_its_maker_says() -> None:
    assert rated_inlet_pressure_abs(flow=3e-3, rated=RATED, outlet_pressure_abs=5.7e5) == pytest.approx(6e5)


def test_a_part_driven_harder_than_its_rating_is_unknown() -> None:
    assert rated_inlet_pressure_abs(flow=3.3e-3, rated=RATED, outlet_pressure_abs=5.7e5) is None
    assert rated_inlet_pressure_abs(flow=3.3e-3, rated=RATED, outlet_pressure_abs=9e5) is not None


@pytest.mark.parametrize(
    "wrong", [{"flow": 0.0}, {"outlet_pressure_abs": 0.0}, {"outlet_pressure_abs": 7e5}, {"inlet_pressure_abs": -1.0}]
)
def test_a_rating_that_cannot_be_is_unknown(wrong: dict[str, float]) -> None:
    assert rated_inlet_pressure_abs(flow=1e-3, rated=replace(RATED, **wrong), outlet_pressure_abs=5e5) is None


def test_what_two_parts_lose_in_squares_is_added() -> None:
    """Walked part by part or in one stroke, the same comes out."""
    first = outlet_of_squares(inlet_pressure_abs=6e5, squares=5e10)
    assert first is not None
    second = outlet_of_squares(inlet_pressure_abs=first, squares=4e10)
    assert second == pytest.approx(outlet_of_squares(inlet_pressure_abs=6e5, squares=9e10))
    assert outlet_of_squares(inlet_pressure_abs=6e5, squares=3.6e11) is None
