"""Leaks, mixtures and rooms against cited examples and against independent reckoning."""

from __future__ import annotations

import re
from math import exp

import numpy
import pint
import pytest
from chemicals.safety import LFL, UFL, fire_mixing
from scipy.integrate import solve_ivp
from shapely import LineString, Point

from rigcheck.physics.air import settled_share, share_after_release, share_at_time, time_to_share
from rigcheck.physics.flammability import DATA_SETS, limits_in_air, mixture_lower_limit
from rigcheck.physics.leak import leak_from_decay, leak_uncertainty, share_within_limit
from rigcheck.physics.leak_units import LEAK_UNITS, molar_leak
from rigcheck.physics.stability import centre_of_mass, push_force, side_arm, tip_angle
from rigcheck.physics.welding_air import hood_air_flow

NUMBERS = {
    "acetylene": "74-86-2",
    "butane": "106-97-8",
    "ethane": "74-84-0",
    "ethylene": "74-85-1",
    "hydrogen": "1333-74-0",
    "methane": "74-82-8",
    "methylacetylene": "74-99-7",
    "propane": "74-98-6",
    "propylene": "115-07-1",
}


@pytest.mark.parametrize("data_set", ["NFPA 497 (2008)", "IEC 60079-20-1 (2010)"])
@pytest.mark.parametrize("gas", sorted(NUMBERS))
def test_flammable_limits_are_those_of_the_named_data_set(gas: str, data_set: str) -> None:
    found = limits_in_air(gas=gas, data_set=data_set)
    assert found is not None
    theirs = (LFL(CASRN=NUMBERS[gas], method=data_set), UFL(CASRN=NUMBERS[gas], method=data_set))
    assert tuple(found) == theirs


def test_le_chateliers_rule_gives_the_textbook_answer() -> None:
    # Crowl & Louvar, Chemical Process Safety, 2nd ed.: hexane 0.24 %, methane 0.61 %, ethylene 0.15 %; 2.75 %.
    amounts, limits = (0.0024, 0.0061, 0.0015), (0.012, 0.053, 0.031)
    names = ("hexane", "methane", "ethylene")
    shares = {name: amount / sum(amounts) for name, amount in zip(names, amounts, strict=True)}
    found = mixture_lower_limit(shares=shares, lower_limits=dict(zip(names, limits, strict=True)))
    assert found == pytest.approx(0.02751172136637642)
    assert found == pytest.approx(fire_mixing(ys=list(shares.values()), FLs=list(limits)))


def test_the_limit_of_natural_gas_is_worked_out_from_its_parts() -> None:
    lowers = {name: row.lower for name, row in DATA_SETS["IEC 60079-20-1 (2010)"].items()}
    worked_out = mixture_lower_limit(shares={"methane": 0.85, "ethane": 0.10, "propane": 0.05}, lower_limits=lowers)
    stated = limits_in_air(gas="natural-gas", data_set="Le Chatelier on IEC 60079-20-1 (2010)")
    assert stated is not None
    assert stated.lower == pytest.approx(worked_out, abs=5e-5)


def test_leak_uncertainty_is_what_a_monte_carlo_run_gives() -> None:
    # JCGM 101:2008: propagate distributions by drawing; 400 000 draws give the spread to about 0.2 %.
    draw = numpy.random.default_rng(20240229)
    count = 400_000
    volume = draw.normal(3.1e-4, 6e-6, count)
    start, end = draw.normal(6.0e5, 800.0, count), draw.normal(5.9e5, 800.0, count)
    warm, cool = draw.normal(293.15, 0.3, count), draw.normal(292.15, 0.3, count)
    time = draw.normal(600.0, 2.0, count)
    leaks = volume * 288.15 / (101325.0 * time) * (start / warm - end / cool)
    stated = {
        "volume": 3.1e-4,
        "start_pressure_abs": 6.0e5,
        "end_pressure_abs": 5.9e5,
        "start_temperature": 293.15,
        "end_temperature": 292.15,
        "time": 600.0,
        "base_pressure_abs": 101325.0,
        "base_temperature": 288.15,
    }
    ours = leak_uncertainty(
        **stated,
        volume_uncertainty=6e-6,
        pressure_uncertainty=800.0,
        temperature_uncertainty=0.3,
        time_uncertainty=2.0,
    )
    assert ours == pytest.approx(float(leaks.std()), rel=0.01)
    assert leak_from_decay(**stated) == pytest.approx(float(leaks.mean()), rel=0.01)


@pytest.mark.parametrize(("sigmas", "share"), [(-1.0, 0.158655), (0.0, 0.5), (1.0, 0.841345), (1.644854, 0.95)])
def test_the_share_within_a_limit_is_the_normal_table(sigmas: float, share: float) -> None:
    # Normal distribution table, any statistics text.
    found = share_within_limit(leak=10.0, standard_uncertainty=2.0, limit=10.0 + 2.0 * sigmas)
    assert found == pytest.approx(share, abs=1e-6)


def test_a_standard_cubic_centimetre_a_second_is_the_published_amount() -> None:
    # 1 atm cm3/s at 0 degC = 4.4615e-5 mol/s: molar volume 22413.969 cm3/mol, CODATA 2018.
    found = molar_leak(throughput=LEAK_UNITS["atm cm3/s"], temperature=273.15)
    assert found == pytest.approx(1.0 / 22413.969, rel=1e-6)


@pytest.mark.parametrize("unit", sorted(LEAK_UNITS))
def test_units_of_leak_are_those_of_a_units_library(unit: str) -> None:
    # pint, which knows the Torr as 101325/760 Pa.
    spelled = re.sub(r"([a-z])3", r"\1**3", unit.replace(" ", " * ").replace("Torr", "torr"))
    theirs = pint.UnitRegistry().Quantity(1.0, spelled).to("Pa * m**3 / s").magnitude
    assert LEAK_UNITS[unit] == pytest.approx(theirs, rel=1e-6)


def test_a_leak_of_air_weighs_what_the_vacuum_trade_says() -> None:
    # 1 mbar L/s of air at 20 degC is 4.3 g/h: vacuum technology handbooks (from memory).
    found = molar_leak(throughput=0.1, temperature=293.15)
    assert found is not None
    assert found * 0.02896546 * 3.6e6 == pytest.approx(4.28, rel=0.005)


@pytest.mark.parametrize("mixing", [0.2, 1.0])
@pytest.mark.parametrize(("leak", "fresh", "start"), [(1e-3, 0.0, 0.209), (1e-3, 0.02, 0.209), (0.0, 0.05, 0.3)])
def test_a_room_fills_and_clears_as_the_integrated_balance_does(
    leak: float, fresh: float, start: float, mixing: float
) -> None:
    room, outside = 30.0, 0.209

    def balance(_: float, share: numpy.ndarray) -> numpy.ndarray:
        return mixing * (leak * 1.0 + fresh * outside - (leak + fresh) * share) / room

    run = solve_ivp(balance, (0.0, 900.0), [start], rtol=1e-10, atol=1e-13)
    ours = share_at_time(
        room_volume=room,
        leak=leak,
        leak_share=1.0,
        fresh_air=fresh,
        fresh_share=outside,
        start_share=start,
        mixing=mixing,
        time=900.0,
    )
    assert ours == pytest.approx(run.y[0, -1], rel=1e-8)


def test_a_release_all_at_once_is_a_leak_without_ventilation() -> None:
    at_once = share_after_release(room_volume=30.0, released=1.5, released_share=1.0, start_share=0.209)
    slowly = share_at_time(
        room_volume=30.0,
        leak=1e-3,
        leak_share=1.0,
        fresh_air=0.0,
        fresh_share=0.209,
        start_share=0.209,
        mixing=1.0,
        time=1500.0,
    )
    assert at_once == pytest.approx(slowly)
    assert at_once == pytest.approx(1.0 - 0.791 * exp(-0.05))


def test_the_exact_balance_settles_at_what_enters() -> None:
    # The printed form of the Bureau of Reclamation settles at 15/85; a mixture of 15 % can fill a room to 15 % only.
    settled = settled_share(leak=15.0, leak_share=1.0, fresh_air=85.0, fresh_share=0.0)
    assert settled == pytest.approx(0.15)
    never = time_to_share(
        room_volume=1000.0,
        leak=15.0,
        leak_share=1.0,
        fresh_air=85.0,
        fresh_share=0.0,
        start_share=0.0,
        limit_share=0.16,
        mixing=1.0,
    )
    assert never == float("inf")


@pytest.mark.parametrize(("inches", "flow"), [(6.0, 150.0), (8.0, 275.0), (10.0, 425.0), (12.0, 600.0)])
def test_a_hood_that_draws_from_a_half_sphere_is_the_table_of_the_regulation(inches: float, flow: float) -> None:
    # 29 CFR 1910.252(c)(3)(i), 100 ft/min at the furthest distance of each line; the last two from memory.
    found = hood_air_flow(distance=inches * 0.0254, capture_speed=100 * 0.3048 / 60)
    assert found is not None
    assert found * 60 / 0.3048**3 == pytest.approx(flow, rel=0.05)


def test_a_load_tips_where_its_weight_passes_the_wheel_in_a_turned_frame() -> None:
    # Turn every part of the load about the lower wheel and see on which side of it the weight falls.
    loads = [(20.0, 0.0, 0.5), (75.0, -0.13, 0.85), (70.0, 0.13, 0.65)]
    masses = [(mass, mass) for mass, _, _ in loads]
    aside = centre_of_mass(masses=masses, places=[(offset, offset) for _, offset, _ in loads])
    high = centre_of_mass(masses=masses, places=[(height, height) for _, _, height in loads])
    assert aside is not None and high is not None
    arm = side_arm(track=0.5, foot=0.5, wheel_base=0.5, axle_distance=0.2, offset=aside[0])
    angle = tip_angle(arm=arm or 0.0, centre_height=high[0])
    assert angle is not None
    for tilt, stands in ((angle - 1e-6, True), (angle + 1e-6, False)):
        turn = complex(numpy.cos(tilt), numpy.sin(tilt))
        moment = sum(mass * (complex(offset + 0.25, height) * turn).real for mass, offset, height in loads)
        assert (moment > 0.0) is stands


def test_a_load_on_the_slope_of_its_tip_angle_needs_no_push() -> None:
    arm, height = 0.2, 0.7
    angle = tip_angle(arm=arm, centre_height=height)
    assert angle is not None
    force = push_force(weight=1600.0, lever_arm=arm, centre_height=height, push_height=1.1, slope=angle - 1e-12)
    assert force == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize(("foot", "offset"), [(0.35, 0.0), (0.0, 0.0), (0.0, 0.06), (0.7, -0.1), (0.5, 0.2)])
def test_the_side_arm_is_the_distance_to_the_slanting_edge_of_the_drawn_base(foot: float, offset: float) -> None:
    # shapely, a general geometry library: the base as a polygon over wheels and foot, the centre as a point in it.
    edge = LineString([(0.35, 0.0), (foot / 2.0, 0.5)])
    other = LineString([(-0.35, 0.0), (-foot / 2.0, 0.5)])
    centre = Point(offset, 0.25)
    ours = side_arm(track=0.7, foot=foot, wheel_base=0.5, axle_distance=0.25, offset=offset)
    assert ours == pytest.approx(min(edge.distance(centre), other.distance(centre)), rel=1e-12)
