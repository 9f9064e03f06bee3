"""Endurance, coupling and cutting demand at their edges."""

from __future__ import annotations

from math import inf

import pytest

from rigcheck.physics import combustion, contents, cutting, endurance, vaporisation

AT_15 = contents.BASE_STATES["15 degC, 1.01325 bar"]


def test_no_flow_lasts_for_ever() -> None:
    assert endurance.endurance(usable=1.0, flow=0.0) == inf


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


def test_a_fuel_without_a_torch_ratio_is_unknown() -> None:
    assert combustion.torch_ratio(fuel="oxygen", flame="preheat") is None
    assert combustion.torch_oxygen(fuel="nitrogen", flame="neutral", fuel_flow=1.0) is None
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


@pytest.mark.parametrize(("fuel", "kin"), [("butane", "propane"), ("ethylene", "propylene")])
@pytest.mark.parametrize("flame", combustion.FLAMES)
def test_an_estimated_flame_is_as_far_from_full_combustion_as_that_of_its_next_of_kin(
    fuel: str, kin: str, flame: str
) -> None:
    # By hand: C_c H_h takes c + h/4; propane 5, butane 6.5, propylene 4.5, ethylene 3 volumes of oxygen.
    full = {"propane": 5.0, "butane": 6.5, "propylene": 4.5, "ethylene": 3.0}
    ratios = [combustion.torch_ratio(fuel=one, flame=flame) for one in (fuel, kin)]
    assert ratios[0] is not None and ratios[1] is not None
    assert ratios[0] / full[fuel] == pytest.approx(ratios[1] / full[kin], rel=0.03)
