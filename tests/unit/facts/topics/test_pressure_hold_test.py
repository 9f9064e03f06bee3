"""The holding test in whole rigs: fall, leak, and what the gauge could show."""

from __future__ import annotations

from math import pi

import pytest
from support.small_rigs import is_unknown, one, point, span, wanted, worked

from rigcheck.rig.thing import Thing
from rigcheck.rules.pack import Pack

HOSE = "hose: {bore: 6.3 mm, length: 10 m}"
VOLUME = pi / 4.0 * 6.3e-3**2 * 10.0  # m3
BAR = 1e5


def line(test: str, parts: str = HOSE) -> str:
    return f"rig: small\nlines:\n  - gas: oxygen\n    {test}\n    parts: [{parts}]\n"


def of_line(test: str, pack: Pack, parts: str = HOSE) -> Thing:
    return one(worked(line(test.replace(", ", "\n    "), parts), pack), "line")


def test_hoses_hold_what_their_bores_and_lengths_make(pack: Pack) -> None:
    # By hand: pi/4 x 0.0063^2 x 10 = 311.7 mL, and pi/4 x 0.008^2 x 5 = 251.3 mL.
    found = of_line("draw: intermittent", pack, f"{HOSE}, hose: {{bore: 8 mm, length: 5 m}}")
    assert point(found, "hose_volume") == pytest.approx(563.1e-6, rel=1e-3)


def test_the_least_leak_is_one_gauge_step_over_the_time(pack: Pack) -> None:
    # By hand: 311.7 mL x 0.1 bar/1.01325 bar in 10 min = 184.6 mL/h, twenty times the 8 cm3/h of the standard.
    found = of_line("hold_gauge_step: 0.1 bar, hold_time: 10 min", pack)
    assert point(found, "least_leak_seen") == pytest.approx(184.6e-6 / 3600.0, rel=1e-3)


def test_a_fall_is_counted_as_a_leak_give_or_take_a_step(pack: Pack) -> None:
    found = of_line("hold_gauge_step: 0.1 bar, hold_time: 10 min, pressure_drop: 0.5 bar", pack)
    low, high = span(found, "leak_rate")
    assert low == pytest.approx(VOLUME * 0.4 / 1.01325 / 600.0)
    assert high == pytest.approx(VOLUME * 0.6 / 1.01325 / 600.0)


def test_a_gauge_that_stood_still_proves_no_less_than_its_step(pack: Pack) -> None:
    found = of_line("hold_gauge_step: 0.1 bar, hold_time: 10 min, pressure_drop: 0 bar", pack)
    assert span(found, "leak_rate") == pytest.approx((0.0, point(found, "least_leak_seen")))


READ = "hold_start_pressure: {start} bar, hold_end_pressure: {end} bar, hold_time: 1 h, hold_gauge_step: {step} bar"
WARMTH = "hold_start_temperature: {before} degC, hold_end_temperature: {after} degC"


def readings(start: float, end: float, step: float, before: float, after: float) -> str:
    return READ.format(start=start, end=end, step=step) + ", " + WARMTH.format(before=before, after=after)


def test_a_fall_that_cooling_explains_is_no_fall(pack: Pack) -> None:
    # Gay-Lussac: 6.01325 bar abs cooled from 30 to 20 degC becomes 5.8149, a fall of 0.198 bar.
    found = of_line(readings(5.0, 4.802, 0.01, 30, 20), pack)
    assert point(found, "hold_fall") == 0.0


def test_warming_hides_a_leak_that_the_correction_brings_back(pack: Pack) -> None:
    # Steady at 5 bar while the gas warms from 20 to 30 degC: 0.198 bar should have been gained.
    found = of_line(readings(5.0, 5.0, 0.01, 20, 30), pack)
    assert point(found, "hold_fall") == pytest.approx(6.01325e5 * (1.0 - 293.15 / 303.15), rel=1e-6)


def test_without_temperatures_the_fall_is_the_difference(pack: Pack) -> None:
    found = of_line("hold_start_pressure: 5 bar, hold_end_pressure: 4.9 bar", pack)
    assert point(found, "hold_fall") == pytest.approx(0.1 * BAR)


def test_the_leak_by_readings_follows_the_published_equation(pack: Pack) -> None:
    # 40 CFR 1065.644, eq. 1065.644-1, at 15 degC and 1 atm: q = V Tb/(pb t) (p1/T1 - p2/T2), steps of 0.001 bar.
    low, high = span(of_line(readings(5.0, 4.0, 0.001, 25, 20), pack), "leak_rate")
    middle = VOLUME * 288.15 / (101325.0 * 3600.0) * (6.01325e5 / 298.15 - 5.01325e5 / 293.15)
    assert low < middle < high
    assert high - low == pytest.approx(2.0 * VOLUME * 288.15 / (101325.0 * 3600.0) * 100.0 / 295.65, rel=0.05)


def test_a_rise_is_no_negative_leak(pack: Pack) -> None:
    assert span(of_line(readings(4.0, 5.0, 0.01, 20, 20), pack), "leak_rate") == (0.0, 0.0)


def test_no_time_gives_no_leak(pack: Pack) -> None:
    found = of_line("hold_gauge_step: 0.1 bar, hold_time: 0 min, pressure_drop: 0.5 bar", pack)
    assert is_unknown(found, "leak_rate")
    assert is_unknown(found, "least_leak_seen")


def test_what_the_holding_test_lacks_is_asked_for_by_name(pack: Pack) -> None:
    found = of_line("draw: intermittent", pack, "hose")
    assert set(wanted(found, "leak_rate")) == {
        "hose.bore",
        "hose.length",
        "line.hold_time",
        "line.hold_gauge_step",
        "line.pressure_drop",
    }
