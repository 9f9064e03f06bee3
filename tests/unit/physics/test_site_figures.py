"""Leaks, air, stability, distances, gases: where a figure speaks and where it is unknown."""

from __future__ import annotations

from math import inf, pi, radians

import pytest

from rigcheck.physics import (
    air,
    distance,
    flammability,
    gas_properties,
    leak,
    leak_units,
    line_purge,
    low_pressure_main,
    pressure_ceiling,
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


@pytest.mark.parametrize("name", ["volume", "start_temperature", "end_temperature", "time", "base_pressure_abs"])
def test_a_leak_of_nothing_or_in_no_time_is_unknown(name: str) -> None:
    assert leak.leak_from_decay(**LEAK) is not None
    assert leak.leak_from_decay(**{**LEAK, name: 0.0}) is None
    assert leak.leak_uncertainty(**{**LEAK, name: 0.0}, **NO_DOUBT) is None


def test_gas_that_comes_in_is_a_negative_leak() -> None:
    assert leak.leak_from_decay(**LEAK) > 0.0  # type: ignore[operator]
    turned = {**LEAK, "start_pressure_abs": 5.9e5, "end_pressure_abs": 6e5}
    assert leak.leak_from_decay(**turned) == pytest.approx(-leak.leak_from_decay(**LEAK))  # type: ignore[operator]


def test_a_leak_without_doubt_has_no_uncertainty_and_one_doubt_alone_is_its_own_share() -> None:
    assert leak.leak_uncertainty(**LEAK, **NO_DOUBT) == 0.0
    found = leak.leak_from_decay(**LEAK)
    assert found is not None
    assert leak.leak_uncertainty(**LEAK, **{**NO_DOUBT, "volume_uncertainty": 3e-6}) == pytest.approx(0.01 * found)
    assert leak.leak_uncertainty(**LEAK, **{**NO_DOUBT, "time_uncertainty": -1.0}) is None


def test_the_waiting_time_is_the_inverse_of_the_least_leak_seen() -> None:
    asked = {"volume": 3e-4, "pressure_step": 5e3, "base_pressure_abs": 101325.0}
    least = leak.least_leak_seen(**asked, time=300.0)
    assert least is not None
    assert leak.waiting_time(**asked, leak=least) == pytest.approx(300.0)
    assert leak.waiting_time(**asked, leak=0.0) is None


def test_warmth_moves_the_gauge_by_its_share_of_the_absolute_temperature() -> None:
    warmed = leak.warmth_pressure_change(pressure_abs=6e5, start_temperature=293.15, end_temperature=298.15)
    assert warmed == pytest.approx(6e5 * 5 / 293.15)


def test_a_bubble_needs_a_pressure_behind_it() -> None:
    tension = {"surface_tension": 0.073, "outside_pressure_abs": 1e5}
    assert leak.bubble_least_pore(**tension, inside_pressure_abs=1e5) is None
    assert leak.bubble_least_pore(**tension, inside_pressure_abs=2e5) is not None


def test_a_unit_of_leak_that_is_not_known_is_unknown() -> None:
    assert leak_units.leak_in_pa_m3(value=1.0, unit="bubbles") is None
    assert leak_units.leak_in_unit(throughput=1.0, unit="bubbles") is None


@pytest.mark.parametrize("unit", sorted(leak_units.LEAK_UNITS))
def test_a_leak_comes_back_from_each_unit(unit: str) -> None:
    there = leak_units.leak_in_unit(throughput=0.37, unit=unit)
    assert there is not None
    assert leak_units.leak_in_pa_m3(value=there, unit=unit) == pytest.approx(0.37)


def test_a_limit_that_is_never_reached_takes_for_ever() -> None:
    vented = {**ROOM, "fresh_air": 1.0}
    assert air.time_to_share(**vented, start_share=0.209, limit_share=0.235, mixing=1.0) == inf


def test_a_limit_that_is_already_reached_takes_no_time() -> None:
    assert air.time_to_share(**ROOM, start_share=0.235, limit_share=0.235, mixing=1.0) == 0.0


@pytest.mark.parametrize("mixing", [0.0, -0.1, 1.1])
def test_a_room_is_mixed_more_than_not_at_all_and_at_most_perfectly(mixing: float) -> None:
    assert air.time_to_share(**ROOM, start_share=0.209, limit_share=0.235, mixing=mixing) is None
    assert air.share_at_time(**ROOM, start_share=0.209, mixing=mixing, time=60.0) is None


def test_no_fresh_air_thins_a_leak_below_what_the_fresh_air_holds() -> None:
    asked = {"leak": 1e-3, "leak_share": 1.0, "mixing": 1.0}
    assert air.air_needed(**asked, fresh_share=0.209, limit_share=0.209) is None
    assert air.air_needed(**asked, fresh_share=0.209, limit_share=0.235) is not None


def test_a_room_that_is_half_mixed_needs_twice_the_air() -> None:
    asked = {"leak": 1e-3, "leak_share": 1.0, "fresh_share": 0.0, "limit_share": 0.0025}
    mixed, half = air.air_needed(**asked, mixing=1.0), air.air_needed(**asked, mixing=0.5)
    assert mixed is not None
    assert half == pytest.approx(2.0 * mixed)
    cleared = air.clearing_time(room_volume=30.0, fresh_air=0.1, start_over_target=10.0, mixing=1.0)
    slower = air.clearing_time(room_volume=30.0, fresh_air=0.1, start_over_target=10.0, mixing=0.5)
    assert cleared is not None
    assert slower == pytest.approx(2.0 * cleared)


def test_nothing_leaks_and_no_air_comes_so_nothing_is_settled() -> None:
    assert air.settled_share(leak=0.0, leak_share=1.0, fresh_air=0.0, fresh_share=0.0) is None


def test_another_gas_pushes_oxygen_out() -> None:
    left = air.share_after_release(room_volume=10.0, released=1.0, released_share=0.0, start_share=0.209)
    assert left == pytest.approx(0.209 * 0.904837, rel=1e-5)


def test_a_lean_gas_never_brings_air_to_its_limit() -> None:
    asked = {"released": 1.0, "start_share": 0.0, "limit_share": 0.025}
    assert air.cloud_volume(**asked, released_share=0.02) is None
    assert air.cloud_volume(**asked, released_share=0.025) == pytest.approx(1.0)


def test_the_printed_rule_is_for_small_sources_only() -> None:
    asked = {"room_volume": 30.0, "target_share": 0.01, "mixing": 1.0}
    assert air.small_source_rise_time(**asked, gas_flow=0.03, fresh_air=0.1) is None
    assert air.small_source_rise_time(**asked, gas_flow=0.001, fresh_air=0.2) == inf


def test_the_printed_rule_and_the_balance_agree_for_a_small_source() -> None:
    printed = air.small_source_rise_time(
        room_volume=30.0, gas_flow=1e-4, fresh_air=0.1, target_share=2.5e-4, mixing=1.0
    )
    exact = air.time_to_share(
        room_volume=30.0,
        leak=1e-4,
        leak_share=1.0,
        fresh_air=0.1,
        fresh_share=0.0,
        start_share=0.0,
        limit_share=2.5e-4,
        mixing=1.0,
    )
    assert printed == pytest.approx(exact, rel=2e-3)  # they part by about G/Q


def test_a_share_of_a_limit_is_within_the_range_of_shares() -> None:
    assert air.share_of_limit(share=0.005, limit_share=0.025) == pytest.approx(0.2)
    assert air.share_of_limit(share=0.005, limit_share=0.0) is None
    assert air.share_of_limit(share=1.5, limit_share=0.025) is None


def test_a_purge_sweeps_what_its_changes_say() -> None:
    changes = line_purge.purge_changes(start_share=0.209, end_share=0.0209)
    assert changes is not None
    assert line_purge.purge_share_left(changes=changes) == pytest.approx(0.1)
    assert line_purge.purge_changes(start_share=0.1, end_share=0.2) is None


def test_a_purge_without_flow_has_no_time() -> None:
    line = {"line_volume": 3e-4, "line_pressure_abs": 1.5e5, "base_pressure_abs": 1e5, "changes": 3.0}
    assert line_purge.purge_time(**line, volume_flow=0.0) is None
    assert line_purge.purge_volume(**{**line, "line_pressure_abs": 0.0}) is None


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


def test_a_hood_past_the_end_of_its_table_is_unknown() -> None:
    assert welding_air.hood_step(distance=8.1 * 0.0254, steps=HOODS) is None
    assert welding_air.hood_step(distance=0.0, steps=HOODS) is None
    assert welding_air.hood_air_flow(distance=0.31, capture_speed=0.5) is None


def test_a_hood_table_with_an_unknown_unit_is_refused() -> None:
    with pytest.raises(ValueError, match="cubits"):
        welding_air.read_hood_steps({"tables": [{"units": {"distance": "cubits"}, "rows": []}]})


def test_a_room_without_welders_has_no_space_for_each() -> None:
    assert welding_air.space_for_each(room_volume=300.0, welders=0) is None
    assert welding_air.general_air_flow(welders=0, flow_for_each=0.94) == 0.0
    assert welding_air.general_air_flow(welders=-1, flow_for_each=0.94) is None


def test_the_table_s_duct_runs_near_its_4000_feet_a_minute() -> None:
    # 29 CFR 1910.252(c)(3)(i): duct diameters are for 4000 ft/min to the nearest half inch.
    speeds = [step.air_flow / (pi / 4.0 * step.duct**2) for step in HOODS]
    assert [round(speed / 0.3048 * 60, -2) for speed in speeds] == [3100, 4100]


def test_limits_of_a_gas_or_a_data_set_that_is_not_there_are_unknown() -> None:
    assert flammability.limits_in_air(gas="oxygen", data_set="NFPA 497 (2008)") is None
    assert flammability.limits_in_air(gas="propane", data_set="hearsay") is None
    assert flammability.widest_limits(gas="oxygen") is None


def test_the_widest_limits_are_at_least_as_wide_as_each_data_set() -> None:
    for rows in flammability.DATA_SETS.values():
        for gas, row in rows.items():
            widest = flammability.widest_limits(gas=gas)
            assert widest is not None and widest.lower <= row.lower
            assert row.upper is None or (widest.upper is not None and widest.upper >= row.upper)


def test_a_mixture_is_unknown_where_a_limit_is_missing_or_much_is_inert() -> None:
    lower = {"methane": 0.05, "propane": 0.021}
    assert flammability.mixture_lower_limit(shares={"methane": 0.5, "butane": 0.5}, lower_limits=lower) is None
    assert flammability.mixture_lower_limit(shares={"methane": 0.5}, lower_limits=lower) is None
    assert flammability.mixture_lower_limit(shares={}, lower_limits=lower) is None
    pure = flammability.mixture_lower_limit(shares={"methane": 1.0}, lower_limits=lower)
    assert pure == pytest.approx(0.05)


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


def test_touching_cylinders_have_no_space_between() -> None:
    assert distance.clear_distance(centre_distance=0.2, first_radius=0.115, second_radius=0.115) == 0.0
    assert distance.clear_distance(centre_distance=-1.0, first_radius=0.1, second_radius=0.1) is None


def test_nothing_is_short_where_more_than_enough_is_there() -> None:
    assert distance.shortfall(found=7.0, required=6.096) == 0.0
    assert distance.shortfall(found=inf, required=6.096) is None


def test_what_looks_over_a_barrier_is_not_behind_it() -> None:
    sides = {"first_to_barrier": 1.0, "second_to_barrier": 1.0, "barrier_height": 1.5}
    assert distance.way_over_barrier(**sides, first_height=1.6, second_height=1.0) is None
    level = distance.way_over_barrier(**sides, first_height=1.5, second_height=1.5)
    assert level == pytest.approx(2.0)


def test_a_watch_runs_past_midnight() -> None:
    assert distance.watch_length(work_ended=86000.0, watch_ended=400.0) == pytest.approx(800.0)
    assert distance.watch_length(work_ended=86401.0, watch_ended=400.0) is None


def test_an_absolute_bound_decides_under_pressure() -> None:
    bounds = {"most_gauge": 1.0e5, "most_abs": 2.0e5}
    assert pressure_ceiling.allowed_pressure_gauge(**bounds, atmosphere_abs=0.8e5) == 1.0e5
    assert pressure_ceiling.allowed_pressure_gauge(**bounds, atmosphere_abs=1.5e5) == pytest.approx(0.5e5)
    assert pressure_ceiling.allowed_pressure_gauge(**bounds, atmosphere_abs=2.1e5) is None


def test_the_standard_atmosphere_ends_at_eleven_kilometres() -> None:
    assert pressure_ceiling.atmospheric_pressure(altitude=11000.1) is None
    assert pressure_ceiling.atmospheric_pressure(altitude=0.0) == 101325.0


@pytest.mark.parametrize("factor", [4.9, 12.1])
def test_a_decomposition_factor_is_a_measured_one(factor: float) -> None:
    assert pressure_ceiling.decomposition_pressure_abs(start_pressure_abs=2e5, factor=factor) is None


def test_low_pressure_formulas_are_for_low_pressure() -> None:
    asked = {"volume_flow": 1e-3, "length": 50.0}
    assert low_pressure_main.morel_bore(**asked, pressure_drop=5000.0) is None
    assert low_pressure_main.bernat_bore(**asked, pressure_drop=0.0) is None
    assert low_pressure_main.gravity_constant(constant_unit_gravity=1313.5, specific_gravity=0.0) is None


@pytest.mark.parametrize("temperature", [229.9, 400.1])
def test_gas_properties_are_unknown_off_their_range(temperature: float) -> None:
    gas = gas_properties.GASES["oxygen"]
    assert gas_properties.viscosity(gas=gas, temperature=temperature) is None
    assert gas_properties.second_virial(gas=gas, temperature=temperature) is None
    assert gas_properties.density(gas=gas, pressure_abs=1e5, temperature=temperature) is None


def test_a_flow_comes_back_from_mass_to_volume() -> None:
    base = {"gas": gas_properties.GASES["acetylene"], "base_pressure_abs": 101325.0, "base_temperature": 288.15}
    mass = gas_properties.mass_flow(**base, volume_flow=1e-3)
    assert mass is not None
    assert gas_properties.volume_flow(**base, mass_flow=mass) == pytest.approx(1e-3)
    assert gas_properties.mass_flow(**base, volume_flow=-1e-3) is None


def test_a_mixture_of_gases_is_whole_and_known() -> None:
    assert gas_properties.mixture_molar_mass(shares={"methane": 0.5}) is None
    assert gas_properties.mixture_molar_mass(shares={"phlogiston": 1.0}) is None
    assert gas_properties.mixture_molar_mass(shares={"methane": 1.0}) == pytest.approx(0.01604246)


def test_the_blends_lie_within_their_spread() -> None:
    rich = gas_properties.mixture_molar_mass(shares={"methane": 0.87, "ethane": 0.09, "propane": 0.04})
    natural = gas_properties.GASES["natural-gas"]
    for molar_mass in (rich, gas_properties.GASES["methane"].molar_mass):
        assert molar_mass == pytest.approx(natural.molar_mass, rel=natural.spread)


def test_a_sign_that_does_not_change_has_no_crossing() -> None:
    assert root_search.crossing(lambda x: x * x + 1.0, -1.0, 1.0) is None
    assert root_search.crossing(lambda x: x, 0.0, 1.0) == 0.0
    assert root_search.crossing(lambda x: x - 1.0, 0.0, 1.0) == 1.0
    assert root_search.crossing(lambda x: 3.0 - x, 0.0, 10.0) == 3.0


def test_a_statement_that_never_turns_has_no_last_true_place() -> None:
    assert root_search.last_true(lambda _: True, 0.0, 1.0) is None
    assert root_search.last_true(lambda _: False, 0.0, 1.0) is None
