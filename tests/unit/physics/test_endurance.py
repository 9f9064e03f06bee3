"""Endurance, coupling and cutting demand at their edges."""

from __future__ import annotations

from math import inf

import pytest

from rigcheck.physics import combustion, contents, cutting, endurance, vaporisation, withdrawal
from rigcheck.physics.gas_properties import GASES

AT_15 = contents.BASE_STATES["15 degC, 1.01325 bar"]


def test_no_flow_lasts_for_ever() -> None:
    assert endurance.endurance(usable=1.0, flow=0.0) == inf


def test_one_unknown_gas_leaves_the_first_to_run_out_unknown() -> None:
    assert endurance.first_to_run_out(times={"oxygen": 10.0, "acetylene": None}) is None


def test_a_dead_heat_names_no_gas() -> None:
    assert endurance.first_to_run_out(times={"oxygen": 10.0, "acetylene": 10.0}) is None


def test_gases_that_never_run_out_name_no_gas() -> None:
    assert endurance.first_to_run_out(times={"oxygen": inf, "acetylene": inf}) is None
    assert endurance.first_to_run_out(times={}) is None


def test_a_job_of_exactly_three_cylinders_needs_three() -> None:
    assert endurance.cylinders_needed(flow=0.1, time=3.0, usable_each=0.1) == 3
    assert endurance.cylinders_needed(flow=0.1, time=3.01, usable_each=0.1) == 4


def test_a_demand_of_exactly_the_limit_needs_no_further_cylinder() -> None:
    share = withdrawal.PER_HOUR / 7
    assert withdrawal.cylinders_to_couple(flow=3 * 0.7 * share, content_each=0.7, share=share) == 3


def test_an_empty_cylinder_couples_nothing() -> None:
    assert withdrawal.cylinders_to_couple(flow=1.0, content_each=0.0, share=withdrawal.PER_HOUR) is None


def test_a_cylinder_below_its_residual_pressure_has_nothing_to_give() -> None:
    state = {"gas": GASES["oxygen"], "water_capacity": 0.05, "temperature": 288.15}
    assert contents.usable_content(pressure_abs=5e5, residual_pressure_abs=6e5, **state) == 0.0


def test_a_cylinder_lighter_than_its_tare_is_unknown() -> None:
    assert contents.content_by_weight(gross_mass=66.9, tare_mass=67.0) is None
    assert contents.content_by_weight(gross_mass=67.0, tare_mass=67.0) == 0.0


def test_a_jet_too_weak_to_choke_still_flows_and_none_flows_without_pressure() -> None:
    jet = {"bore": 1e-3, "atmosphere": 101325.0, "temperature": 293.15, "discharge_coefficient": 1.0, "base": AT_15}
    weak, choked = (cutting.cutting_oxygen_flow(pressure_gauge=bar * 1e5, **jet) for bar in (0.85, 0.95))
    assert weak is not None and choked is not None
    assert 0.9 * choked < weak < choked
    assert cutting.cutting_oxygen_flow(pressure_gauge=0.0, **jet) == 0.0
    assert cutting.cutting_oxygen_flow(pressure_gauge=-1.0, **jet) is None


def test_flame_and_jet_oxygen_are_kept_apart_until_the_line() -> None:
    flame = combustion.torch_oxygen(fuel="propane", flame="preheat", fuel_flow=1.0)
    assert flame == pytest.approx(4.3)
    assert flame < 5.0 == combustion.combustion_oxygen(fuel="propane", fuel_flow=1.0)
    assert cutting.oxygen_line_flow(flame_oxygen=flame, cutting_oxygen=2.0, cutting_share=0.0) == flame


def test_a_fuel_without_a_torch_ratio_is_unknown() -> None:
    assert combustion.torch_ratio(fuel="butane", flame="preheat") is None
    assert combustion.torch_oxygen(fuel="ethylene", flame="neutral", fuel_flow=1.0) is None
    assert combustion.torch_ratio(fuel="propane", flame="carburising") is None
    assert combustion.oxygen_to_burn(fuel="paraffin") is None


def test_air_no_warmer_than_freezing_gives_no_draw_free_of_frost() -> None:
    wall = {"wetted_area": 1.0, "heat_transfer_coefficient": 11.0}
    assert vaporisation.frost_free_draw(liquid="propane", air_temperature=273.15, **wall) == 0.0
    assert vaporisation.frost_free_draw(liquid="propane", air_temperature=280.0, **wall) > 0.0


def test_a_draw_that_the_liquid_cannot_give_has_no_temperature() -> None:
    wall = {"wetted_area": 0.1, "heat_transfer_coefficient": 11.0, "air_temperature": 288.15}
    assert vaporisation.liquid_temperature(liquid="propane", mass_flow=1.0, **wall) is None


def test_a_regulator_that_wants_more_than_the_vapour_pressure_gets_nothing() -> None:
    wall = {"wetted_area": 1.0, "heat_transfer_coefficient": 11.0, "air_temperature": 263.15}
    assert vaporisation.sustained_draw_at_pressure(liquid="propane", least_pressure_abs=4e5, **wall) == 0.0


def test_purity_outside_the_published_span_is_unknown() -> None:
    assert cutting.purity_speed_factor(purity=0.98) is None
    assert cutting.purity_oxygen_factor(purity=0.999) is None


@pytest.mark.parametrize("name", ["acetylene", "propylene"])
def test_a_gas_without_an_equation_is_unknown_at_cylinder_pressure(name: str) -> None:
    state = {"gas": GASES[name], "water_capacity": 0.05, "temperature": 288.15}
    assert contents.compressed_content(pressure_abs=15e5, **state) is None
    assert contents.settled_pressure(
        gas=GASES[name], pressure_abs=2e5, temperature=288.15, new_temperature=290.0
    ) is None  # fmt: skip


def test_propane_above_its_vapour_pressure_is_no_compressed_gas() -> None:
    state = {"gas": GASES["propane"], "water_capacity": 0.05, "temperature": 288.15}
    assert contents.compressed_content(pressure_abs=7.2e5, **state) is not None
    assert contents.compressed_content(pressure_abs=7.4e5, **state) is None
