"""Leaks, mixtures and rooms against cited examples and against independent reckoning."""

from __future__ import annotations

import numpy
import pytest
from chemicals.safety import LFL, UFL, fire_mixing
from scipy.integrate import solve_ivp
from shapely import LineString, Point

from rigcheck.physics.air import settled_share, share_at_time, time_to_share
from rigcheck.physics.flammability import DATA_SETS
from rigcheck.physics.stability import centre_of_mass, push_force, side_arm, tip_angle

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
    theirs = (LFL(CASRN=NUMBERS[gas], method=data_set), UFL(CASRN=NUMBERS[gas], method=data_set))
    assert tuple(DATA_SETS[data_set][gas]) == theirs


def test_the_limit_of_natural_gas_is_worked_out_from_its_parts() -> None:
    # Le Chatelier's rule, by the chemicals library: 85 % methane, 10 % ethane and 5 % propane.
    lowers = [DATA_SETS["IEC 60079-20-1 (2010)"][name].lower for name in ("methane", "ethane", "propane")]
    stated = DATA_SETS["Le Chatelier on IEC 60079-20-1 (2010)"]["natural-gas"]
    assert stated.lower == pytest.approx(fire_mixing(ys=[0.85, 0.10, 0.05], FLs=lowers), abs=5e-5)


@pytest.mark.outside("air.share_at_time", by="the balance integrated, scipy")
@pytest.mark.parametrize(("leak", "fresh", "start"), [(1e-3, 0.0, 0.209), (1e-3, 0.02, 0.209), (0.0, 0.05, 0.3)])
def test_a_room_fills_and_clears_as_the_integrated_balance_does(leak: float, fresh: float, start: float) -> None:
    room, outside = 30.0, 0.209

    def balance(_: float, share: numpy.ndarray) -> numpy.ndarray:
        return (leak * 1.0 + fresh * outside - (leak + fresh) * share) / room

    run = solve_ivp(balance, (0.0, 900.0), [start], rtol=1e-10, atol=1e-13)
    ours = share_at_time(
        room_volume=room,
        leak=leak,
        leak_share=1.0,
        fresh_air=fresh,
        fresh_share=outside,
        start_share=start,
        time=900.0,
    )
    assert ours == pytest.approx(run.y[0, -1], rel=1e-8)


@pytest.mark.outside("air.settled_share", by="US Bureau of Reclamation, what enters")
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
    )
    assert never == float("inf")


@pytest.mark.outside(
    "stability.centre_of_mass", "stability.side_arm", "stability.tip_angle", by="every part in a turned frame, numpy"
)
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


@pytest.mark.outside("stability.side_arm", by="shapely")
@pytest.mark.parametrize(("foot", "offset"), [(0.35, 0.0), (0.0, 0.0), (0.0, 0.06), (0.7, -0.1), (0.5, 0.2)])
def test_the_side_arm_is_the_distance_to_the_slanting_edge_of_the_drawn_base(foot: float, offset: float) -> None:
    # shapely, a general geometry library: the base as a polygon over wheels and foot, the centre as a point in it.
    edge = LineString([(0.35, 0.0), (foot / 2.0, 0.5)])
    other = LineString([(-0.35, 0.0), (-foot / 2.0, 0.5)])
    centre = Point(offset, 0.25)
    ours = side_arm(track=0.7, foot=foot, wheel_base=0.5, axle_distance=0.25, offset=offset)
    assert ours == pytest.approx(min(edge.distance(centre), other.distance(centre)), rel=1e-12)
