"""Leaks against the tightness standard in whole rigs: bubbles, what is allowed, how long a gauge would take."""

from __future__ import annotations

from math import pi

import pytest
from support.small_rigs import is_unknown, one, point, span, wanted, worked

from rigcheck.rig.thing import Thing
from rigcheck.rules.pack import Pack

HOUR = 3600.0
CM3 = 1e-6 / HOUR  # m3/s in one cm3/h


def rig(test: str = "draw: intermittent", joint: str = "leak_test: leaks") -> str:
    return (
        f"rig: small\nlines:\n  - gas: acetylene\n    {test}\n    parts:\n      - regulator: {{set_pressure: 1 bar}}\n"
        f"      - joint: {{{joint}}}\n      - hose: {{bore: 6.3 mm, length: 10 m}}\ntorch: {{}}\n"
    )


def joint(text: str, pack: Pack) -> Thing:
    return next(thing for thing in worked(text, pack).of_kind("joint") if "leak_test" in thing.facts)


def test_a_bubble_of_two_millimetres_a_second_is_fifteen_cubic_centimetres_an_hour(pack: Pack) -> None:
    # By hand: pi/6 x 2^3 = 4.19 mm3 a second = 15.1 cm3/h, twice what the standard allows.
    found = joint(rig(joint="leak_test: leaks, bubble_size: 2 mm, bubble_interval: 1 s"), pack)
    assert point(found, "bubble_leak") / CM3 == pytest.approx(15.08, rel=1e-3)


def test_the_size_of_the_bubble_counts_by_its_cube(pack: Pack) -> None:
    found = joint(rig(joint="leak_test: leaks, bubble_size: 2 to 4 mm, bubble_interval: 1 to 2 s"), pack)
    low, high = span(found, "bubble_leak")
    assert high / low == pytest.approx(16.0)


def test_the_bubbles_of_a_leaking_joint_are_asked_for_and_of_a_tight_one_not(pack: Pack) -> None:
    assert wanted(joint(rig(), pack), "bubble_leak") == ["hose end.bubble_size", "hose end.bubble_interval"]
    assert wanted(joint(rig(joint="leak_test: tight"), pack), "bubble_leak") == []


def test_bubbles_without_a_pause_between_them_give_no_rate(pack: Pack) -> None:
    found = joint(rig(joint="leak_test: leaks, bubble_size: 2 mm, bubble_interval: 0 s"), pack)
    assert is_unknown(found, "bubble_leak")


def test_leak_fluid_sees_a_thousand_times_finer_than_the_gauge(pack: Pack) -> None:
    line = one(worked(rig("hold_gauge_step: 0.1 bar\n    hold_time: 10 min"), pack), "line")
    # ASTM E515: 1e-5 and 1e-4 standard cm3/s, so 0.036 and 0.36 cm3/h;
    # by hand: 311.7 mL x 0.1 bar/1.01325 bar in 10 min = 184.6 cm3/h.
    low, high = span(line, "least_bubble_seen")
    assert (low / CM3, high / CM3) == pytest.approx((0.036, 0.36))
    assert span(line, "least_leak_seen")[0] / CM3 == pytest.approx(184.6, rel=1e-3)


def test_the_finest_hole_is_that_whose_capillary_pressure_is_the_set_one(pack: Pack) -> None:
    # By hand, Young-Laplace: 4 x 0.025 N/m / 100 kPa = 1.0 um; with 0.035 N/m 1.4 um.
    low, high = span(one(worked(rig(), pack), "line"), "least_hole_seen")
    assert low == pytest.approx(1.0e-6)
    assert high == pytest.approx(1.4e-6)


def test_every_joint_may_leak_as_the_standard_says(pack: Pack) -> None:
    # Two joints, regulator to hose and hose to torch: 2 x 8 cm3/h.
    line = one(worked(rig(), pack), "line")
    assert len(line.facts["joints"]) == 2
    assert point(line, "allowed_leak") / CM3 == pytest.approx(16.0)


def test_a_coarse_gauge_would_have_to_be_watched_for_hours(pack: Pack) -> None:
    line = one(worked(rig("hold_gauge_step: 0.1 bar"), pack), "line")
    volume = pi / 4.0 * 6.3e-3**2 * 10.0
    low, high = span(line, "hold_time_needed")
    assert low == pytest.approx(volume * 0.1 / 1.01325 / (16.0 * CM3))
    assert low / HOUR == pytest.approx(1.92, rel=2e-3)
    assert high == pytest.approx((1.05 * volume + 2 * 30e-6) * 0.1 / 1.01325 / (16.0 * CM3))
