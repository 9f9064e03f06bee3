"""What a cylinder and a supply hold: against reference equations, handbooks and the trade's own figures."""

from __future__ import annotations

import pytest
from CoolProp.CoolProp import PropsSI
from support.small_rigs import is_unknown, one, point, span, wanted, worked

from rigcheck.rules.pack import Pack

AIR, WARM = 101_325.0, 288.15  # Pa, K: the base state


def oxygen(cylinder: str, more: str = "") -> str:
    return (
        f"rig: small\nsite: {{ambient_temperature: 15 degC}}\nlines:\n"
        f"  - gas: oxygen\n    parts:\n      - cylinder: {{{cylinder}}}\n"
        f"      - regulator: {{set_pressure: 4 bar}}\n{more}"
    )


def acetylene(cylinder: str) -> str:
    return (
        f"rig: small\nlines:\n  - gas: acetylene\n    parts:\n      - cylinder: {{{cylinder}}}\n"
        f"      - regulator: {{set_pressure: 0.7 bar}}\n"
    )


def reference(pressure_gauge: float, temperature: float, capacity: float) -> float:
    """Return the volume by CoolProp's reference equation for oxygen (Schmidt & Wagner 1985), m3 at 15 degC, 1 atm."""
    dense = PropsSI("D", "P", pressure_gauge + AIR, "T", temperature, "Oxygen")
    return float(capacity * dense / PropsSI("D", "P", AIR, "T", WARM, "Oxygen"))


@pytest.mark.parametrize("pressure", [10, 100, 200, 300])
def test_oxygen_is_counted_by_real_gas(pack: Pack, pressure: int) -> None:
    rig = worked(oxygen(f"water_capacity: 50 L, pressure: {pressure} bar, temperature: 20 degC"), pack)
    found = point(one(rig, "cylinder"), "content")
    assert found == pytest.approx(reference(pressure * 1e5, 293.15, 0.05), rel=0.005)


def test_a_full_oxygen_cylinder_holds_what_the_trade_says(pack: Pack) -> None:
    # The trade sells 50 L at 200 bar as 10.6 to 10.7 m3 (common practice, from memory).
    rig = worked(oxygen("water_capacity: 50 L, working_pressure: 200 bar"), pack)
    assert point(one(rig, "cylinder"), "full_content") == pytest.approx(10.65, rel=0.005)


def test_a_cylinder_whose_temperature_is_not_stated_has_that_of_the_air(pack: Pack) -> None:
    rig = worked(oxygen("water_capacity: 50 L, pressure: 200 bar"), pack)
    assert point(one(rig, "cylinder"), "gas_temperature") == pytest.approx(288.15)


def test_an_interval_of_pressure_and_temperature_comes_out_as_an_interval(pack: Pack) -> None:
    text = oxygen("water_capacity: 50 L, pressure: 100 ± 5 bar, temperature: 10 to 30 degC")
    low, high = span(one(worked(text, pack), "cylinder"), "content")
    # Least: low pressure and warm; greatest: high pressure and cold.
    assert low == pytest.approx(reference(95e5, 303.15, 0.05), rel=0.005)
    assert high == pytest.approx(reference(105e5, 283.15, 0.05), rel=0.005)


def test_past_the_range_of_the_equation_nothing_is_said(pack: Pack) -> None:
    rig = worked(oxygen("water_capacity: 50 L, pressure: 400 bar"), pack)
    assert is_unknown(one(rig, "cylinder"), "content")


def test_what_is_missing_is_asked_for_by_name(pack: Pack) -> None:
    rig = worked("rig: small\nlines:\n  - gas: oxygen\n    parts: [cylinder]\n", pack)
    assert wanted(one(rig, "cylinder"), "content") == [
        "cylinder.water_capacity",
        "cylinder.pressure",
        "site.ambient_temperature",
    ]


def test_what_can_be_drawn_ends_at_the_pressure_set_at_the_regulator(pack: Pack) -> None:
    rig = worked(oxygen("water_capacity: 50 L, pressure: 150 bar, temperature: 15 degC"), pack)
    line, cylinder = one(rig, "line"), one(rig, "cylinder")
    # ISO 2503 gives the flow of a regulator at an inlet of 2 p2 + 1 bar (from memory); a small one needs 0.3 bar more.
    assert span(line, "residual_pressure") == pytest.approx((4.3e5, 9e5))
    least, most = (reference(150e5, WARM, 0.05) - reference(left, WARM, 0.05) for left in (9e5, 4.3e5))
    assert span(cylinder, "usable_content") == pytest.approx((least, most), rel=0.005)


def test_a_regulator_that_says_what_it_needs_is_counted_down_to_that(pack: Pack) -> None:
    text = oxygen("water_capacity: 50 L").replace("set_pressure: 4 bar", "set_pressure: 4 bar, least_difference: 2 bar")
    assert point(one(worked(text, pack), "line"), "residual_pressure") == pytest.approx(6e5)


def test_a_weighed_cylinder_holds_gross_less_tare(pack: Pack) -> None:
    # Acetylene weighs 1.109 kg/m3 at 15 degC and 1 atm (trade figure, from memory): 8 kg are 7.21 m3.
    cylinder = one(worked(acetylene("gross_mass: 75 kg, tare_mass: 67 kg"), pack), "cylinder")
    assert point(cylinder, "gas_mass") == pytest.approx(8.0)
    assert point(cylinder, "content") == pytest.approx(7.21, rel=0.005)


def test_a_cylinder_that_weighs_less_than_its_tare_says_nothing(pack: Pack) -> None:
    cylinder = one(worked(acetylene("gross_mass: 66 kg, tare_mass: 67 kg"), pack), "cylinder")
    assert is_unknown(cylinder, "content")


def test_acetylene_by_pressure_is_rough_and_about_half_at_half_the_pressure(pack: Pack) -> None:
    # An oxy-acetylene handbook: 125 psi at 70 degF is about half of a cylinder that is full at 250 psi.
    text = acetylene("full_contents_mass: 8 kg, working_pressure: 250 psi, pressure: 125 psi, temperature: 59 degF")
    low, high = span(one(worked(text, pack), "cylinder"), "gas_mass")
    assert low < 4.0 < high
    assert (high - low) / (high + low) == pytest.approx(0.2, rel=0.01)


def test_acetylene_is_first_asked_for_by_weight(pack: Pack) -> None:
    cylinder = one(worked(acetylene("water_capacity: 40 L"), pack), "cylinder")
    assert wanted(cylinder, "content") == ["cylinder.contents_mass"]


def test_propane_is_counted_by_weight(pack: Pack) -> None:
    # 1 kg of propane is 0.527 m3 at 15 degC and 1 atm: CoolProp, Lemmon, McLinden & Wagner (2009).
    text = "rig: small\nlines:\n  - gas: propane\n    parts:\n      - cylinder: {contents_mass: 11 kg}\n"
    cylinder = one(worked(text, pack), "cylinder")
    expected = 11 / PropsSI("D", "P", AIR, "T", WARM, "Propane")
    assert point(cylinder, "content") == pytest.approx(expected, rel=0.002)


BANK = """
rig: small
lines:
  - gas: acetylene
    parts:
      - manifold:
          branches:
            - parts: [cylinder: {contents_mass: 6 kg}]
            - parts: [cylinder: {contents_mass: 5 ± 1 kg}]
            - parts: [cylinder: {contents_mass: 7 kg, empty: true}]
"""


def test_a_bank_holds_the_sum_of_its_cylinders_without_the_empty_ones(pack: Pack) -> None:
    line = one(worked(BANK, pack), "line")
    low, high = span(line, "content")
    assert (low, high) == pytest.approx((10 / 1.109, 12 / 1.109), rel=0.005)
    assert point(line, "feeding_cylinders") == 2


def test_a_stated_supply_is_no_lid_over_the_cylinders_that_it_is_the_sum_of(pack: Pack) -> None:
    counted = span(one(worked(BANK, pack), "line"), "content")
    text = BANK.replace("parts:\n      - manifold", "supply_content: 5 m3\n    parts:\n      - manifold", 1)
    line = one(worked(text, pack), "line")
    assert span(line, "content") == pytest.approx((5.0, counted[1]))
    assert "content" in line.disputes


def test_a_wall_point_holds_nothing_that_could_be_counted(pack: Pack) -> None:
    text = "rig: small\nlines:\n  - gas: acetylene\n    parts: [outlet_point, hose]\n"
    line = one(worked(text, pack), "line")
    assert is_unknown(line, "content")
    assert wanted(line, "content") == ["line.supply_content"]


def test_a_manifold_holds_its_cylinders_when_they_are_full(pack: Pack) -> None:
    # 7.5 kg are 6.76 m3 at 1.109 kg/m3 (trade figure, from memory); an empty cylinder comes back full.
    text = BANK
    for mass in ("6 kg", "5 ± 1 kg", "7 kg"):
        text = text.replace(f"contents_mass: {mass}", "full_contents_mass: 7.5 kg")
    manifold = one(worked(text, pack), "manifold")
    assert point(manifold, "full_content") == pytest.approx(3 * 6.76, rel=0.005)
    assert point(manifold, "full_mass") == pytest.approx(22.5)


def test_a_manifold_is_asked_for_its_capacity(pack: Pack) -> None:
    assert wanted(one(worked(BANK, pack), "manifold"), "full_content") == ["manifold.capacity"]


def test_acetylene_that_stays_in_solution_at_the_residual_pressure_cannot_be_drawn(pack: Pack) -> None:
    # Henry's law: 3.013 of 16.013 bar absolute is 18.8 % of 5.41 m3, and that is good to a fifth of itself.
    low, high = span(
        one(worked(acetylene("contents_mass: 6 kg, pressure: 15 bar"), pack), "cylinder"), "usable_content"
    )
    assert low == pytest.approx(5.41 * (1 - 0.188 * 1.2), rel=0.005)
    assert high == pytest.approx(5.41 * (1 - 0.188 * 0.8), rel=0.005)


def test_a_cylinder_that_is_out_of_use_does_not_feed(pack: Pack) -> None:
    line = one(worked(BANK.replace("contents_mass: 6 kg", "contents_mass: 6 kg, in_use: false"), pack), "line")
    assert point(line, "feeding_cylinders") == 1


def test_no_more_can_be_drawn_than_is_stated_to_be_there(pack: Pack) -> None:
    text = oxygen("water_capacity: 50 L, pressure: 182 bar, temperature: 18 degC")
    drawn = span(one(worked(text, pack), "line"), "usable_content")
    for said in (9.0, 9.9):
        stated = text.replace("gas: oxygen\n", f"gas: oxygen\n    supply_content: {said} m3\n")
        assert span(one(worked(stated, pack), "line"), "usable_content")[1] == pytest.approx(min(said, drawn[1]))
    assert 9.0 < drawn[1] < 9.9


@pytest.mark.parametrize(
    ("size", "feet"), [("oxygen-122", 122), ("oxygen-244", 244), ("MC", 10), ("B", 40), ("acetylene-225", 225)]
)
def test_a_full_cylinder_of_a_trade_size_holds_the_cubic_feet_of_its_name(size: str, feet: int, pack: Pack) -> None:
    # Cubic feet at 70 degF and one atmosphere; 49 CFR 173.301(h)(1) for MC and B, else common practice.
    gas = "oxygen" if "oxygen" in size else "acetylene"
    text = f"rig: small\nlines: [{{gas: {gas}, parts: [cylinder: {{trade_size: {size}, approval_mark: DOT}}]}}]\n"
    low, high = span(one(worked(text, pack), "cylinder"), "full_content")
    assert low < feet * 0.3048**3 * 288.15 / 294.26 < high < 1.08 * low
