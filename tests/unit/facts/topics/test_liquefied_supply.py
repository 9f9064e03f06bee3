"""What a cylinder of liquefied gas gives: against CoolProp's reference equations of the same gases."""

from __future__ import annotations

from math import pi

import pytest
from CoolProp.CoolProp import PropsSI
from support.small_rigs import is_unknown, one, point, span, worked

from rigcheck.rules.pack import Pack

HOUR = 3600.0


def propane(cylinder: str, air: str = "15 degC") -> str:
    return (
        f"rig: small\nsite: {{ambient_temperature: {air}}}\nlines:\n  - gas: propane\n    parts:\n"
        f"      - cylinder: {{{cylinder}}}\n      - regulator: {{set_pressure: 1 bar}}\n"
    )


BOTTLE = "upright: true, contents_mass: 46 kg, diameter: 381 mm"


def by_hand(heat: float, air: float, mass: float, diameter: float, fluid: str = "Propane") -> float:
    """Return the draw by CoolProp's fluid, m3/s at 15 degC and 1 atm, for a heat coefficient in W/(m2 K)."""
    least = 2e5 + 101_325.0
    boiling = PropsSI("T", "P", least, "Q", 0, fluid)
    latent = PropsSI("H", "P", least, "Q", 1, fluid) - PropsSI("H", "P", least, "Q", 0, fluid)
    volume = mass / PropsSI("D", "T", air, "Q", 0, fluid)
    area = pi * diameter**2 / 4 + 4 * volume / diameter
    flow = heat * area * (air - boiling) / latent
    return float(flow / PropsSI("D", "P", 101_325.0, "T", 288.15, fluid))


def test_a_propane_cylinder_gives_what_heat_through_its_wetted_wall_boils_off(pack: Pack) -> None:
    low, high = span(one(worked(propane(BOTTLE), pack), "line"), "sustained_draw")
    assert low == pytest.approx(by_hand(10.0, 288.15, 46.0, 0.381), rel=0.01)
    assert high == pytest.approx(by_hand(20.0, 288.15, 46.0, 0.381), rel=0.01)


@pytest.mark.parametrize("weaker", ["contents_mass: 46 kg -> contents_mass: 10 kg", "15 degC -> 0 degC"])
def test_less_liquid_and_colder_air_give_less(pack: Pack, weaker: str) -> None:
    before, after = weaker.split(" -> ")
    strong = span(one(worked(propane(BOTTLE), pack), "line"), "sustained_draw")
    weak = span(one(worked(propane(BOTTLE).replace(before, after), pack), "line"), "sustained_draw")
    assert weak[0] < strong[0]
    assert weak[1] < strong[1]


def test_in_hard_frost_propane_gives_nothing_against_two_bar(pack: Pack) -> None:
    # Propane boils at -14 degC under 2 bar gauge (CoolProp): at -20 degC no heat flows in.
    assert point(one(worked(propane(BOTTLE, "-20 degC"), pack), "line"), "sustained_draw") == 0.0


def test_at_freezing_any_draw_may_frost(pack: Pack) -> None:
    assert point(one(worked(propane(BOTTLE, "0 degC"), pack), "line"), "frost_free_draw") == 0.0


def test_an_interval_of_the_diameter_holds_every_point_of_it(pack: Pack) -> None:
    text = propane("upright: true, contents_mass: 2 kg, diameter: DD")
    low, high = span(one(worked(text.replace("DD", "100 to 500 mm"), pack), "cylinder"), "sustained_draw")
    for diameter in (100, 150, 200, 230, 300, 400, 500):
        inner = span(one(worked(text.replace("DD", f"{diameter} mm"), pack), "cylinder"), "sustained_draw")
        assert low <= inner[0] <= inner[1] <= high


def test_the_suppliers_table_comes_first_and_serves_a_lying_cylinder(pack: Pack) -> None:
    text = propane(BOTTLE.replace("upright: true", "upright: false, supplier_draw: 2 m3/h"))
    assert point(one(worked(text, pack), "line"), "sustained_draw") * HOUR == pytest.approx(2.0)


def test_the_pressure_of_propane_follows_its_temperature(pack: Pack) -> None:
    cylinder = one(worked(propane(BOTTLE + ", temperature: 20 degC"), pack), "cylinder")
    expected = PropsSI("P", "T", 293.15, "Q", 0, "Propane") - 101_325.0
    low, high = span(cylinder, "vapour_pressure")
    assert high == pytest.approx(expected, rel=0.002)
    # Commercial propane may have a tenth of butane in it; CoolProp's mixture of the two reference equations.
    assert low == pytest.approx(PropsSI("P", "T", 293.15, "Q", 0, "Propane[0.9]&Butane[0.1]") - 101_325.0, rel=0.03)


def test_propane_of_stated_make_up_has_its_own_pressure(pack: Pack) -> None:
    cylinder = one(worked(propane(BOTTLE + ", temperature: 20 degC, butane_share: 40 %"), pack), "cylinder")
    expected = PropsSI("P", "T", 293.15, "Q", 0, "Propane[0.6]&Butane[0.4]") - 101_325.0
    assert point(cylinder, "vapour_pressure") == pytest.approx(expected, rel=0.04)


@pytest.mark.parametrize(("gas", "fluid"), [("butane", "n-Butane"), ("propylene", "Propylene")])
def test_other_liquefied_gases_follow_their_own_equations(pack: Pack, gas: str, fluid: str) -> None:
    text = propane(BOTTLE, "35 degC").replace("gas: propane", f"gas: {gas}")
    rig = worked(text, pack)
    expected = PropsSI("P", "T", 308.15, "Q", 0, fluid) - 101_325.0
    assert point(one(rig, "cylinder"), "vapour_pressure") == pytest.approx(expected, rel=0.02)
    low, high = span(one(rig, "line"), "sustained_draw")
    assert low == pytest.approx(by_hand(10.0, 308.15, 46.0, 0.381, fluid), rel=0.03)
    assert high == pytest.approx(by_hand(20.0, 308.15, 46.0, 0.381, fluid), rel=0.03)


def test_butane_gives_nothing_in_the_cold(pack: Pack) -> None:
    # n-Butane boils at -0.5 degC under one atmosphere (CoolProp): at 0 degC it cannot feed a regulator.
    rig = worked(propane(BOTTLE, "0 degC").replace("gas: propane", "gas: butane"), pack)
    assert point(one(rig, "cylinder"), "vapour_pressure") < 0.05e5
    assert point(one(rig, "line"), "sustained_draw") == 0.0


def test_a_mixture_of_no_stated_make_up_has_no_vapour_pressure(pack: Pack) -> None:
    text = propane(BOTTLE).replace("gas: propane", "gas: methylacetylene-mix")
    rig = worked(text, pack)
    assert is_unknown(one(rig, "cylinder"), "vapour_pressure")
    assert is_unknown(one(rig, "line"), "sustained_draw")


@pytest.mark.parametrize(("gas", "air", "share"), [("propane", -25, 0), ("propane", 10, 1), ("butane", 10, 0)])
def test_what_is_too_cold_to_boil_against_the_regulator_cannot_be_drawn(
    pack: Pack, gas: str, air: int, share: int
) -> None:
    # CoolProp: propane at -25 degC has 1.0 bar gauge, at 10 degC 5.4; n-butane at 10 degC has 0.5; two bar must stay.
    fluid = {"propane": "Propane", "butane": "n-Butane"}[gas]
    above = PropsSI("P", "T", 273.15 + air, "Q", 0, fluid) - 101_325.0 > 2e5
    cylinder = one(worked(propane(BOTTLE, f"{air} degC").replace("gas: propane", f"gas: {gas}"), pack), "cylinder")
    assert point(cylinder, "usable_content") == share * point(cylinder, "content")
    assert above == bool(share)


def test_liquefied_gas_of_unknown_warmth_counts_as_drawn_to_the_last(pack: Pack) -> None:
    text = propane(BOTTLE).replace("site: {ambient_temperature: 15 degC}\n", "")
    cylinder = one(worked(text, pack), "cylinder")
    assert is_unknown(cylinder, "vapour_pressure")
    assert point(cylinder, "usable_content") == point(cylinder, "content")


def test_vapour_pressure_near_what_must_stay_leaves_it_open(pack: Pack) -> None:
    # CoolProp: propane has 2 bar gauge at -14 degC.
    cylinder = one(worked(propane(BOTTLE, "-16 to -12 degC"), pack), "cylinder")
    assert span(cylinder, "usable_content") == (0.0, pytest.approx(point(cylinder, "content")))


LYING = "upright: false, diameter: 381 mm, height: 1.2 m, water_capacity: 100 L"


def test_a_lying_cylinder_half_full_boils_by_half_its_wall(pack: Pack) -> None:
    # By hand: half of pi x 0.381 x 1.2 m of wall and half of two ends of pi/4 x 0.381^2; 15 K above freezing,
    # CoolProp's latent heat at 0 degC.
    half = PropsSI("D", "T", 288.15, "Q", 0, "Propane") * 0.05
    area = pi * 0.381 * 1.2 / 2 + pi / 4 * 0.381**2
    latent = PropsSI("H", "T", 273.15, "Q", 1, "Propane") - PropsSI("H", "T", 273.15, "Q", 0, "Propane")
    expected = area * 15.0 / latent / PropsSI("D", "P", 101_325.0, "T", 288.15, "Propane")
    low, high = span(one(worked(propane(f"{LYING}, contents_mass: {half:.6f} kg"), pack), "line"), "frost_free_draw")
    assert low == pytest.approx(10.0 * expected, rel=0.01)
    assert high == pytest.approx(20.0 * expected, rel=0.01)


def test_a_lying_cylinder_wets_more_wall_than_an_upright_one_of_the_same_content(pack: Pack) -> None:
    lying, upright = (
        span(one(worked(propane(f"{text}, contents_mass: 10 kg"), pack), "line"), "sustained_draw")
        for text in (LYING, LYING.replace("upright: false", "upright: true"))
    )
    assert lying[0] > upright[0]


def test_more_liquid_than_the_cylinder_holds_is_outside_what_is_known(pack: Pack) -> None:
    assert is_unknown(one(worked(propane(f"{LYING}, contents_mass: 60 kg"), pack), "line"), "sustained_draw")
