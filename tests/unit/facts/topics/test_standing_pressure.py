"""The highest pressure that can stand on each part, swept along the line."""

from __future__ import annotations

import pytest
from support.small_rigs import is_unknown, one, point, span, worked

from rigcheck.rig.thing import Thing
from rigcheck.rules.pack import Pack

BAR = 1e5


def kinds(parts: str, pack: Pack, gas: str = "oxygen", site: str = "") -> dict[str, Thing]:
    rig = worked(f"rig: r\n{site}lines:\n  - {{gas: {gas}, parts: [{parts}]}}\ntorch: {{}}\n", pack)
    return {part.kind.name: part for part in one(rig, "line").facts["parts"]}


def test_what_stands_between_a_cylinder_and_its_regulator_bears_the_stamp(pack: Pack) -> None:
    parts = "cylinder: {working_pressure: 200 bar}, pigtail, arrester, regulator"
    found = kinds(parts, pack)
    assert [point(found[kind], "most_pressure") for kind in ("pigtail", "arrester", "regulator")] == [200 * BAR] * 3


def test_behind_a_regulator_the_greater_of_its_two_pressures_counts(pack: Pack) -> None:
    found = kinds("cylinder, regulator: {set_pressure: 4 bar, static_pressure: 6 bar}, hose", pack)
    assert point(found["hose"], "most_pressure") == 6 * BAR


def test_a_main_stands_on_what_it_feeds(pack: Pack) -> None:
    assert point(kinds("outlet_point: {pipe_pressure: 10 bar}, hose", pack)["hose"], "most_pressure") == 10 * BAR


def test_a_pressure_above_the_stamp_counts_taken_back_to_its_temperature(pack: Pack) -> None:
    read = "cylinder: {working_pressure: 200 bar, pressure: 240 bar, temperature: 15 degC}, regulator"
    assert point(kinds(read, pack)["regulator"], "most_pressure") == pytest.approx(240 * BAR)
    warm = read.replace("15 degC", "50 degC")  # by hand: 241.01325 x 288.15/323.15 - 1.01325 = 213.9 bar
    assert point(kinds(warm, pack)["regulator"], "most_pressure") == pytest.approx(213.9 * BAR, rel=1e-4)


def test_acetylene_that_is_warm_is_not_taken_for_more_than_its_stamp(pack: Pack) -> None:
    parts = "cylinder: {working_pressure: 18 bar, pressure: 24 bar}, regulator"
    low, high = span(kinds(parts, pack, "acetylene")["regulator"], "most_pressure")
    assert low == 18 * BAR and high == pytest.approx(24 * BAR)


def test_a_liquefied_gas_presses_by_its_temperature(pack: Pack) -> None:
    # Propane at 20 degC: 8.365 bar absolute (NIST Chemistry WebBook, from memory), 7.35 bar on a gauge.
    found = kinds("cylinder, regulator", pack, "propane", "site: {ambient_temperature: 20 degC}\n")
    # A tenth of butane in it, as commercial propane may have, takes 0.63 bar of that off by Raoult's law.
    assert span(found["regulator"], "most_pressure") == pytest.approx((6.72 * BAR, 7.35 * BAR), rel=0.01)


def test_without_a_stamp_nothing_is_known(pack: Pack) -> None:
    assert is_unknown(kinds("cylinder, regulator", pack)["regulator"], "most_pressure")


def test_1800_psi_in_a_240_psi_cylinder_is_far_beyond_it_at_any_temperature(pack: Pack) -> None:
    low, _ = span(
        kinds("cylinder: {working_pressure: 240 psi, pressure: 1800 psi}, regulator", pack)["cylinder"], "hot_share"
    )
    assert low > 6.0
