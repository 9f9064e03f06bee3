"""Purges, leaks and whole supplies in the air of a room; the room of the welders."""

from __future__ import annotations

from math import exp, pi

import pytest
from support.small_rigs import is_unknown, one, point, span, wanted, worked

from rigcheck.rig.thing import Thing
from rigcheck.rules.pack import Pack

LOWER = {"acetylene": 0.023, "propane": 0.017}  # volume shares, IEC 60079-20-1 (2010), by the chemicals library 1.5.2

AIR = "ambient_temperature: 15 degC, altitude: 0 m"


def rig(gas: str, line: str = "", site: str = "room_volume: 10 m3", hose: str = "bore: 8 mm, length: 20 m") -> str:
    return (
        f"rig: small\njob: {{hours_per_day: 8 h}}\nsite: {{{AIR}, {site}}}\n"
        f"lines:\n  - gas: {gas}\n    consumption: 600 L/h\n"
        f"    purge_time: 60 s\n{line}    parts:\n      - regulator: {{set_pressure: 0.5 bar}}\n"
        f"      - hose: {{{hose}}}\ntorch: {{}}\n"
    )


def line_of(text: str, pack: Pack) -> Thing:
    return one(worked(text, pack), "line")


# --- purges ---


def test_a_purge_sweeps_the_hoses_the_times_that_the_limit_asks_for(pack: Pack) -> None:
    # By hand: 3 x 1.005 L x 1.51325 bar/1.01325 bar = 4.504 L; at 10 L/min that takes 27 s.
    # 5 % more for a hose that swells, and 60 mL in regulator and torch, at most.
    low, high = span(line_of(rig("acetylene"), pack), "purge_needed")
    assert low == pytest.approx(27.0, rel=0.005)
    assert high == pytest.approx(27.0 * (1.05 * 1.0053 + 0.06) / 1.0053, rel=0.005)


def test_a_purge_lets_out_flow_times_time(pack: Pack) -> None:
    assert point(line_of(rig("acetylene"), pack), "purge_gas") == pytest.approx(10e-3)


def test_a_purge_that_nobody_timed_may_have_lasted_for_ever(pack: Pack) -> None:
    found = line_of(rig("acetylene").replace("    purge_time: 60 s\n", ""), pack)
    assert wanted(found, "purge_gas") == ["line.purge_time"]
    assert span(found, "purge_gas_needed")[0] == pytest.approx(4.504e-3, rel=0.005)


@pytest.mark.parametrize("gas", sorted(LOWER))
def test_fuel_in_a_small_room_is_told_as_a_share_of_its_lower_limit(gas: str, pack: Pack) -> None:
    # By hand for acetylene: 10 L in 10 m3 is 0.1 %, and 0.1 %/2.3 % = 4.3 % of the lower limit.
    found = point(line_of(rig(gas), pack), "purge_explosive_share")
    assert found == pytest.approx(1e-3 / LOWER[gas], rel=0.001)


def test_an_oxygen_purge_enriches_a_small_room(pack: Pack) -> None:
    # By hand: 10 L in 0.3 m3 without fresh air: 1 - 0.791 exp(-1/30) = 23.49 %.
    text = rig("oxygen", site="room_volume: 0.3 m3")
    assert point(line_of(text, pack), "purge_oxygen_content") == pytest.approx(0.2349, abs=1e-4)


def test_fuel_has_no_oxygen_content_and_oxygen_no_explosive_share(pack: Pack) -> None:
    assert is_unknown(line_of(rig("acetylene"), pack), "purge_oxygen_content")
    assert is_unknown(line_of(rig("oxygen"), pack), "purge_explosive_share")


def test_a_purge_makes_a_cloud(pack: Pack) -> None:
    # By hand: 10 L/2.3 % = 435 L of acetylene; oxygen to 23.5 %: 10 L x 0.791/0.026 = 304 L.
    assert point(line_of(rig("acetylene"), pack), "purge_cloud") == pytest.approx(0.435, rel=0.001)
    assert point(line_of(rig("oxygen"), pack), "purge_cloud") == pytest.approx(0.3042, rel=0.001)


# --- leaks ---

TEST = "    hold_time: 10 min\n    hold_gauge_step: 0.1 bar\n    pressure_drop: 0.5 bar\n"


def leak() -> tuple[float, float]:
    volume = pi / 4.0 * 8e-3**2 * 20.0
    unread = 0.008 * 1.51325  # bar: no temperature was read at 0.5 bar gauge
    most = 1.05 * volume + 2 * 30e-6  # a hose that swells, a regulator and a torch
    return volume * (0.4 - unread) / 1.01325 / 600.0, most * (0.6 + unread) / 1.01325 / 600.0


def test_a_day_of_a_leak_in_still_air_fills_the_room(pack: Pack) -> None:
    low, high = span(line_of(rig("acetylene", TEST), pack), "leak_explosive_share")
    least, most = (1.0 - exp(-one_leak * 8 * 3600.0 / 10.0) for one_leak in leak())
    assert (low, high) == pytest.approx((least / 0.023, most / 0.023))


def test_gas_takes_more_room_where_it_is_warm_and_high_up(pack: Pack) -> None:
    # Charles's law: 313.15/288.15; the standard atmosphere has 82,501 Pa at 1,700 m (fluids.ATMOSPHERE_1976).
    warm = rig("acetylene").replace("15 degC, altitude: 0 m", "40 degC, altitude: 1700 m")
    before, after = (point(line_of(text, pack), "purge_cloud") for text in (rig("acetylene"), warm))
    assert after / before == pytest.approx(313.15 / 288.15 * 101_325 / 82_501, rel=1e-3)


def test_where_nobody_said_how_warm_and_how_high_every_usual_room_is_meant(pack: Pack) -> None:
    low, high = span(line_of(rig("acetylene").replace(f"{AIR}, ", ""), pack), "purge_cloud")
    assert low < 0.435 < 0.435 * 313.15 / 288.15 < high


def test_fresh_air_thins_a_leak_out_to_leak_over_air(pack: Pack) -> None:
    # Settled after hours at q/(q + K Q): any text on dilution ventilation; K as the Bureau of Reclamation has it.
    text = rig("acetylene", TEST, "room_volume: 10 m3, air_flow: 100 m3/h")
    low, high = span(line_of(text, pack), "leak_explosive_share")
    least, most = (one / (one + mixed * 100.0 / 3600.0) for one, mixed in zip(leak(), (1.0, 0.2), strict=True))
    assert (low, high) == pytest.approx((least / 0.023, most / 0.023))


def test_a_leak_of_oxygen_enriches(pack: Pack) -> None:
    low, high = span(line_of(rig("oxygen", TEST), pack), "leak_oxygen_content")
    least, most = (1.0 - 0.791 * exp(-one_leak * 8 * 3600.0 / 10.0) for one_leak in leak())
    assert (low, high) == pytest.approx((least, most))


def test_no_leak_and_no_air_leave_the_air_as_it_was(pack: Pack) -> None:
    text = rig("oxygen", TEST.replace("0.5 bar", "0 bar"), "room_volume: 10 m3, ventilation: none")
    assert span(line_of(text, pack), "leak_oxygen_content")[0] == pytest.approx(0.209)


# --- whole supplies ---


def test_a_whole_supply_could_fill_a_room(pack: Pack) -> None:
    # By hand: 5.5 m3 of acetylene/2.3 % = 239 m3, 24 rooms of 10 m3.
    found = line_of(rig("acetylene", "    supply_content: 5.5 m3\n"), pack)
    assert point(found, "supply_cloud") == pytest.approx(239.1, rel=0.001)
    assert point(found, "supply_cloud_share") == pytest.approx(23.91, rel=0.001)


def test_what_the_room_lacks_is_asked_for_by_name(pack: Pack) -> None:
    found = line_of(rig("acetylene", TEST, "place: workshop"), pack)
    assert wanted(found, "purge_explosive_share") == ["site.room_volume"]
    assert wanted(found, "leak_explosive_share") == ["site.room_volume"]


# --- the welders' room ---


def site_of(facts: str, pack: Pack) -> Thing:
    text = f"rig: small\nsite: {{{facts}}}\nlines: [{{gas: oxygen, parts: [cylinder]}}]\n"
    return one(worked(text, pack), "site")


def test_room_and_air_are_shared_among_the_welders(pack: Pack) -> None:
    # 29 CFR 1910.252(c)(2): 10 000 ft3 and 2000 ft3/min for each welder.
    site = site_of("room_volume: 30000 ft3, welders: 3, air_flow: 6000 ft3/min", pack)
    assert point(site, "welder_volume") == pytest.approx(10000 * 0.3048**3)
    assert point(site, "welder_air") == pytest.approx(2000 * 0.3048**3 / 60.0)


def test_what_is_stated_for_each_welder_stands_beside_the_room_and_its_welders(pack: Pack) -> None:
    site = site_of("room_volume: 900 m3, welders: 3, volume_per_welder: 250 m3", pack)
    assert span(site, "welder_volume") == (250.0, 300.0)
    assert "welder_volume" in site.disputes


def test_air_changes_make_a_flow(pack: Pack) -> None:
    assert point(site_of("room_volume: 30 m3, air_changes: 10", pack), "fresh_air") == pytest.approx(300 / 3600)


def test_a_room_that_nothing_airs_has_no_fresh_air(pack: Pack) -> None:
    assert point(site_of("ventilation: none", pack), "fresh_air") == 0.0


def test_a_hood_draws_as_its_table_says(pack: Pack) -> None:
    # 29 CFR 1910.252(c)(3)(i): 585 ft3/min at 10 to 12 in for 100 ft/min; a point sink says 93 ft/min.
    site = site_of("hood_air_flow: 585 ft3/min, hood_distance: 12 in", pack)
    assert point(site, "hood_speed") * 60.0 / 0.3048 == pytest.approx(100.0, rel=0.08)


def test_a_hood_too_far_away_is_not_worked_out(pack: Pack) -> None:
    assert is_unknown(site_of("hood_air_flow: 585 ft3/min, hood_distance: 1 m", pack), "hood_speed")


def test_without_anything_stated_the_stated_facts_are_asked_for(pack: Pack) -> None:
    site = site_of("place: workshop", pack)
    assert wanted(site, "welder_volume") == ["site.volume_per_welder"]
    assert wanted(site, "welder_air") == ["site.air_flow_per_welder"]
    assert wanted(site, "hood_speed") == ["site.hood_velocity"]
