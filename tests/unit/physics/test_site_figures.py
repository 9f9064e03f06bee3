"""Leaks, air, stability, distances, gases: where a figure speaks and where it is unknown."""

from __future__ import annotations

from math import inf, pi, radians

import pytest

from rigcheck.physics import (
    air,
    flammability,
    gas_properties,
    leak,
    root_search,
    stability,
    welding_air,
)

LEAK = {
    "volume": 3e-4,
    "start_pressure_abs": 6e5,
    "end_pressure_abs": 5.9e5,
    "start_temperature": 293.15,
    "end_temperature": 293.15,
    "time": 600.0,
    "base_pressure_abs": 101325.0,
    "base_temperature": 288.15,
}
NO_DOUBT = {
    "volume_uncertainty": 0.0,
    "pressure_uncertainty": 0.0,
    "temperature_uncertainty": 0.0,
    "time_uncertainty": 0.0,
}
ROOM = {"room_volume": 30.0, "leak": 1e-3, "leak_share": 1.0, "fresh_air": 0.0, "fresh_share": 0.209}


def test_gas_that_comes_in_is_a_negative_leak() -> None:
    assert leak.leak_from_decay(**LEAK) > 0.0  # type: ignore[operator]
    turned = {**LEAK, "start_pressure_abs": 5.9e5, "end_pressure_abs": 6e5}
    assert leak.leak_from_decay(**turned) == pytest.approx(-leak.leak_from_decay(**LEAK))  # type: ignore[operator]


def test_a_bubble_needs_a_pressure_behind_it() -> None:
    tension = {"surface_tension": 0.073, "outside_pressure_abs": 1e5}
    assert leak.bubble_least_pore(**tension, inside_pressure_abs=1e5) is None
    assert leak.bubble_least_pore(**tension, inside_pressure_abs=2e5) is not None


def test_a_limit_that_is_never_reached_takes_for_ever() -> None:
    vented = {**ROOM, "fresh_air": 1.0}
    assert air.time_to_share(**vented, start_share=0.209, limit_share=0.235) == inf


def test_a_limit_that_is_already_reached_takes_no_time() -> None:
    assert air.time_to_share(**ROOM, start_share=0.235, limit_share=0.235) == 0.0


def test_nothing_leaks_and_no_air_comes_so_nothing_is_settled() -> None:
    assert air.settled_share(leak=0.0, leak_share=1.0, fresh_air=0.0, fresh_share=0.0) is None


HOODS = welding_air.read_hood_steps(
    {
        "tables": [
            {
                "units": {"distance": "in", "air_flow": "ft3/min", "duct": "in"},
                "rows": [
                    {"distance": 8, "air_flow": 275, "duct": 3.5},
                    {"distance": 6, "air_flow": 150, "duct": 3},
                ],
            }
        ]
    }
)


def test_a_hood_table_is_read_by_rising_distance_in_si() -> None:
    assert [round(step.distance, 4) for step in HOODS] == [0.1524, 0.2032]
    assert HOODS[0].air_flow == pytest.approx(150 * 0.3048**3 / 60)


@pytest.mark.parametrize(("inches", "flow"), [(2.0, 150), (6.0, 150), (6.01, 275), (8.0, 275)])
def test_a_hood_takes_the_line_of_its_furthest_distance(inches: float, flow: int) -> None:
    step = welding_air.hood_step(distance=inches * 0.0254, steps=HOODS)
    assert step is not None
    assert round(step.air_flow * 60 / 0.3048**3) == flow


def test_a_hood_table_with_an_unknown_unit_is_refused() -> None:
    with pytest.raises(ValueError, match="cubits"):
        welding_air.read_hood_steps({"tables": [{"units": {"distance": "cubits"}, "rows": []}]})


def test_the_table_s_duct_runs_near_its_4000_feet_a_minute() -> None:
    # 29 CFR 1910.252(c)(3)(i): duct diameters are for 4000 ft/min to the nearest half inch.
    speeds = [step.air_flow / (pi / 4.0 * step.duct**2) for step in HOODS]
    assert [round(speed / 0.3048 * 60, -2) for speed in speeds] == [3100, 4100]


def test_the_widest_limits_are_at_least_as_wide_as_each_data_set() -> None:
    for rows in flammability.DATA_SETS.values():
        for gas, row in rows.items():
            widest = flammability.widest_limits(gas=gas)
            assert widest is not None and widest.lower <= row.lower
            assert row.upper is None or (widest.upper is not None and widest.upper >= row.upper)


def test_a_load_outside_its_track_does_not_stand() -> None:
    base = {"track": 0.5, "foot": 0.5, "wheel_base": 0.5, "axle_distance": 0.2}
    outside = stability.side_arm(**base, offset=0.26)
    assert outside is not None
    assert outside < 0.0
    assert stability.side_arm(**base, offset=-0.25) == 0.0
    assert stability.tip_angle(arm=outside, centre_height=0.7) is None


def test_a_load_leans_to_either_side_alike() -> None:
    base = {"track": 0.5, "foot": 0.3, "wheel_base": 0.5, "axle_distance": 0.2}
    assert stability.side_arm(**base, offset=-0.1) == stability.side_arm(**base, offset=0.1)


def test_a_load_of_nothing_has_no_centre() -> None:
    assert stability.centre_of_mass(masses=[], places=[]) is None
    assert stability.centre_of_mass(masses=[(0.0, 1.0)], places=[(0.5, 0.5)]) is None
    assert stability.centre_of_mass(masses=[(-1.0, 10.0)], places=[(0.5, 0.5)]) is None


def test_a_load_that_tips_of_itself_has_no_push() -> None:
    asked = {"weight": 1600.0, "lever_arm": 0.2, "centre_height": 0.7, "push_height": 1.1}
    assert stability.push_force(**asked, slope=radians(17.0)) is None
    assert stability.push_force(**asked, slope=0.0) == pytest.approx(1600.0 * 0.2 / 1.1)


@pytest.mark.parametrize("temperature", [229.9, 400.1])
def test_gas_properties_are_unknown_off_their_range(temperature: float) -> None:
    gas = gas_properties.GASES["oxygen"]
    assert gas_properties.viscosity(gas=gas, temperature=temperature) is None
    assert gas_properties.second_virial(gas=gas, temperature=temperature) is None
    assert gas_properties.density(gas=gas, pressure_abs=1e5, temperature=temperature) is None


def test_a_sign_that_does_not_change_has_no_crossing() -> None:
    assert root_search.crossing(lambda x: x * x + 1.0, -1.0, 1.0) is None
    assert root_search.crossing(lambda x: x, 0.0, 1.0) == 0.0
    assert root_search.crossing(lambda x: x - 1.0, 0.0, 1.0) == 1.0
    assert root_search.crossing(lambda x: 3.0 - x, 0.0, 10.0) == 3.0


def test_a_statement_that_never_turns_has_no_last_true_place() -> None:
    assert root_search.last_true(lambda _: True, 0.0, 1.0) is None
    assert root_search.last_true(lambda _: False, 0.0, 1.0) is None
