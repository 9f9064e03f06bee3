"""What a flame burns and gives, what a hood must draw, how long a leak takes, what a hot cylinder shows."""

from __future__ import annotations

from math import log

import pytest
from CoolProp.CoolProp import PropsSI
from support.small_rigs import one, point, span, worked

from rigcheck.rules.pack import Pack

AIR, HOUR, FOOT = 101_325.0, 3600.0, 0.3048


def fuel(gas: str, more: str = "") -> str:
    return (
        f"rig: small\nsite: {{ambient_temperature: 15 degC, altitude: 0 m, room_volume: 10 m3{more}}}\n"
        f"lines:\n  - gas: {gas}\n    consumption: 1 m3/h\n    hold_time: 10 min\n    hold_gauge_step: 0.1 bar\n"
        "    pressure_drop: 0.5 bar\n    parts:\n      - regulator: {set_pressure: 0.5 bar}\n"
        "      - hose: {bore: 8 mm, length: 20 m}\ntorch: {}\n"
    )


def test_a_flame_gives_the_heat_that_the_trade_counts_with(pack: Pack) -> None:
    # Acetylene: 1470 Btu/ft3 gross (trade figure, from memory); 1 m3/h of it is 15.2 kW.
    low, high = span(one(worked(fuel("acetylene"), pack), "line"), "flame_heat")
    assert high == pytest.approx(1470 * 1055.06 / FOOT**3 / HOUR, rel=0.02)
    assert low / high == pytest.approx(1 - 44.0 / 1301.0, rel=0.002)  # one of water for each of acetylene stays steam


def test_a_flame_burns_oxygen_by_its_equation_and_takes_the_rest_from_the_room(pack: Pack) -> None:
    # C3H8 + 5 O2; C2H2 + 2.5 O2, of which the torch feeds 1.1 volumes.
    assert point(one(worked(fuel("propane"), pack), "line"), "oxygen_burnt") * HOUR == pytest.approx(5.0)
    line = one(worked(fuel("acetylene"), pack), "line")
    assert span(line, "air_burnt")[1] * HOUR == pytest.approx((2.5 - 1.1) / 0.2095, rel=1e-3)


@pytest.mark.parametrize(("distance", "flow"), [("5 in", 150), ("8 in", 275), ("9 in", 425)])
def test_a_hood_draws_what_its_line_of_the_table_says(distance: str, flow: int, pack: Pack) -> None:
    # 29 CFR 1910.252(c)(3)(i).
    site = one(worked(fuel("acetylene", f", hood_distance: {distance}"), pack), "site")
    assert point(site, "hood_air_needed") == pytest.approx(flow * FOOT**3 / 60, rel=1e-6)


def test_a_leak_takes_as_long_to_the_limit_as_the_stirred_balance_says(pack: Pack) -> None:
    # t = V/q ln(1/(1 - c)) without fresh air, any text on ventilation; c is a tenth of 2.3 %.
    line = one(worked(fuel("acetylene"), pack), "line")
    leak, times = span(line, "leak_rate"), span(line, "time_to_limit")
    wanted = [10.0 / flow * log(1 / (1 - 0.1 * 0.023)) for flow in (leak[1], leak[0])]
    assert times == pytest.approx(tuple(wanted), rel=1e-6)


def test_a_cylinder_in_the_heat_shows_what_the_reference_equation_says(pack: Pack) -> None:
    text = (
        "rig: small\nlines:\n  - gas: oxygen\n    parts:\n      - cylinder: {pressure: 200 bar, temperature: 15 degC}\n"
    )
    density = PropsSI("D", "P", 200e5 + AIR, "T", 288.15, "Oxygen")
    expected = PropsSI("P", "D", density, "T", 327.15, "Oxygen") - AIR
    assert point(one(worked(text, pack), "cylinder"), "hot_pressure") == pytest.approx(expected, rel=0.005)
