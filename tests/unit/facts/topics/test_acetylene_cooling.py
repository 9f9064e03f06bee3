"""What its own draw does to an acetylene cylinder, in whole rigs."""

from __future__ import annotations

from math import exp, pi

import pytest
from support.small_rigs import is_unknown, one, point, span, wanted, worked

from rigcheck.rig.thing import Thing
from rigcheck.rules.pack import Pack

SIZE = ", height: 1.5 m, diameter: 230 mm"
STAMPED = "tare_mass: 62 kg, contents_mass: 7 kg, pressure: 15 bar, temperature: 15 degC, in_use: true, empty: false"
DENSITY = 1.1092  # kg/m3 of acetylene at 15 degC and 1 atm: CGA G-1 and CRC Handbook, from memory


def rig(
    cylinder: str = STAMPED + SIZE,
    flow: str = "0.9 m3/h",
    day: str = "2 h",
    gas: str = "acetylene",
    air: str = "15 degC",
    temperature: str = "15 degC",
) -> str:
    air = f"ambient_temperature: {air}" if air else ""
    cylinder = cylinder.replace("temperature: 15 degC", f"temperature: {temperature}")
    return (
        f"rig: small\nsite: {{{air}}}\njob: {{hours_per_day: {day}, duty_share: 100 %}}\nlines:\n"
        f"  - gas: {gas}\n    consumption: {flow}\n    parts:\n"
        f"      - cylinder: {{{cylinder}}}\n      - regulator: {{set_pressure: 0.5 bar}}\ntorch: {{nozzle: {{}}}}\n"
    )


def cylinder(text: str, pack: Pack) -> Thing:
    return one(worked(text, pack), "cylinder")


def by_hand(heat: float, capacity: float, through: float, hours: float, flow: float = 0.9) -> float:
    """Return the cooling by Newton's law, K, from 1 / (U A) in series with M c."""
    leaving = flow * DENSITY / 3600.0 * heat
    loss = through * pi * 0.23 * 1.5
    return leaving / loss * (1.0 - exp(-loss * hours * 3600.0 / (62.0 * capacity)))


def test_two_hours_of_a_seventh_an_hour_cool_the_cylinder_by_ten_to_twenty_degrees(pack: Pack) -> None:
    low, high = span(cylinder(rig(), pack), "cold_temperature")
    assert 288.15 - low == pytest.approx(by_hand(670e3, 750.0, 3.0, 2.0), rel=2e-3)
    assert 288.15 - high == pytest.approx(by_hand(605e3, 950.0, 7.0, 2.0), rel=2e-3)


def test_the_pressure_falls_with_it_as_henrys_law_says(pack: Pack) -> None:
    found = cylinder(rig(), pack)
    cold, share = span(found, "cold_temperature"), span(found, "cold_pressure_share")
    for end in (0, 1):
        assert share[end] == pytest.approx(exp(2000.0 * (1.0 / 288.15 - 1.0 / cold[end])), rel=1e-6)


def test_a_cold_cylinder_gives_less_than_a_warm_one(pack: Pack) -> None:
    found = cylinder(rig(), pack)
    warm, cold = span(found, "usable_content"), span(found, "cold_usable_content")
    assert cold[0] < warm[0]
    assert cold[1] < warm[1]
    share = span(found, "cold_pressure_share")
    # By hand: of 15 bar gauge the share, against 2 bar gauge that must stay, all absolute, what stays good to 20 %.
    for end, rough in ((0, 1.2), (1, 0.8)):
        stays = 3.01325 / (16.01325 * share[end]) * rough
        assert cold[end] == pytest.approx(7.0 / DENSITY * (1.0 - stays), rel=2e-3)


def test_the_line_lasts_as_long_as_its_cold_cylinder_gives_gas(pack: Pack) -> None:
    found = worked(rig(), pack)
    line, bottle = one(found, "line"), one(found, "cylinder")
    assert span(line, "drawable_content") == span(bottle, "cold_usable_content")
    assert span(line, "endurance")[0] == pytest.approx(span(line, "drawable_content")[0] / 0.9 * 3600.0)


def test_without_its_tare_nobody_knows_what_the_cold_cylinder_gives(pack: Pack) -> None:
    found = worked(rig(STAMPED.replace("tare_mass: 62 kg, ", "")), pack)
    asked = ["cylinder.tare_mass", "cylinder.height", "cylinder.diameter"]
    assert wanted(one(found, "cylinder"), "cold_temperature") == asked
    assert wanted(one(found, "line"), "drawable_content") == asked


# The balance once more as a colleague would write it, and integrated by steps of a minute.
def stepped(start: float, air: float, flow: float, hours: float, heat: float, capacity: float, loss: float) -> float:
    warmth, steps = start, int(hours * 60)
    for _ in range(steps):
        warmth += 60.0 * (loss * (air - warmth) - flow * DENSITY / 3600.0 * heat) / (62.0 * capacity)
    return warmth


@pytest.mark.parametrize(("start", "air"), [(41.0, 16.0), (15.0, -10.0), (5.0, 20.0)])
def test_a_cylinder_goes_towards_the_air_that_there_is(start: float, air: float, pack: Pack) -> None:
    low, high = span(cylinder(rig(temperature=f"{start} degC", air=f"{air} degC"), pack), "cold_temperature")
    ends = [
        stepped(start + 273.15, air + 273.15, 0.9, 2.0, heat, capacity, through * pi * 0.23 * 1.5)
        for heat in (605e3, 670e3)
        for capacity in (750.0, 950.0)
        for through in (3.0, 4.0, 5.0, 6.0, 7.0)
    ]
    assert low == pytest.approx(min(ends), abs=0.15)
    assert high == pytest.approx(max(ends), abs=0.15)


def test_in_frost_a_cylinder_from_a_warm_store_is_colder_than_in_the_store(pack: Pack) -> None:
    store, frost = (span(cylinder(rig(air=air), pack), "cold_temperature") for air in ("15 degC", "-10 degC"))
    assert frost[0] < store[0] - 5.0
    assert frost[1] < store[1] - 5.0


def test_the_air_is_asked_for(pack: Pack) -> None:
    assert wanted(cylinder(rig(air=""), pack), "cold_temperature") == ["site.ambient_temperature"]


def test_colder_than_the_solubility_is_known_the_share_is_bounded_by_nought(pack: Pack) -> None:
    found = cylinder(rig(day="4 h", air="-25 degC"), pack)
    assert span(found, "cold_temperature")[0] < 253.15
    assert span(found, "cold_pressure_share")[0] == 0.0
    assert span(found, "cold_usable_content")[0] == 0.0


def test_without_its_size_no_heat_from_the_air_is_the_bound(pack: Pack) -> None:
    # By hand: 2 h x 0.9 m3/h x 1.1092 kg/m3 = 1.997 kg; 1.997 x 670 kJ / (62 kg x 0.75 kJ/(kg K)) = 28.8 K at most.
    low, high = span(cylinder(rig(STAMPED), pack), "cold_temperature")
    assert 288.15 - low == pytest.approx(28.8, abs=0.1)
    assert high == 288.15
    assert low < span(cylinder(rig(), pack), "cold_temperature")[0]


def test_past_sixty_degrees_of_cooling_the_size_is_asked_for(pack: Pack) -> None:
    found = cylinder(rig(STAMPED, flow="3 m3/h", day="8 h"), pack)
    assert is_unknown(found, "cold_temperature")
    assert wanted(found, "cold_temperature") == ["cylinder.height", "cylinder.diameter"]


def test_a_day_longer_than_the_content_cools_no_further(pack: Pack) -> None:
    long, longer = (cylinder(rig(day=day), pack) for day in ("10 h", "20 h"))
    assert span(long, "cold_temperature") == span(longer, "cold_temperature")
    assert span(long, "cold_temperature")[0] < span(cylinder(rig(), pack), "cold_temperature")[0]


def coupled(other: str = STAMPED) -> str:
    """Return the rig with two cylinders on a manifold, the second of them another one."""
    head, rest = rig().split(f"      - cylinder: {{{STAMPED + SIZE}}}\n")
    branches = "".join(f"            - parts: [cylinder: {{{one + SIZE}}}]\n" for one in (STAMPED, other))
    return f"{head}      - manifold:\n          branches:\n{branches}{rest}"


def test_coupled_cylinders_cool_less_each(pack: Pack) -> None:
    one_alone, one_of_two = cylinder(rig(), pack), cylinder(coupled(), pack)
    assert 288.15 - span(one_of_two, "cold_temperature")[0] == pytest.approx(
        (288.15 - span(one_alone, "cold_temperature")[0]) / 2.0, rel=1e-6
    )


def test_no_draw_leaves_it_as_warm_as_it_is(pack: Pack) -> None:
    found = cylinder(rig(flow="0 m3/h"), pack)
    assert point(found, "cold_temperature") == 288.15
    assert point(found, "cold_pressure_share") == 1.0


def test_another_gas_has_no_acetone_to_cool(pack: Pack) -> None:
    assert is_unknown(cylinder(rig(gas="propane"), pack), "cold_temperature")


@pytest.mark.parametrize("idle", ["in_use: false", "empty: true"])
def test_of_two_cylinders_only_the_one_that_is_drawn_cools(pack: Pack, idle: str) -> None:
    fact = idle.split(":")[0]
    other = ", ".join(idle if said.startswith(fact) else said for said in STAMPED.split(", "))
    if fact == "empty":  # one that shows its pressure is not
        other = ", ".join("pressure: 1 bar" if said.startswith("pressure") else said for said in other.split(", "))
    drawn, left = worked(coupled(other), pack).of_kind("cylinder")
    assert span(drawn, "cold_temperature") == span(cylinder(rig(), pack), "cold_temperature")
    assert is_unknown(left, "cold_temperature")
