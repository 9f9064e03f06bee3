"""The loaded trolley in whole rigs: mass, centre, the lean and the push that tip it."""

from __future__ import annotations

from math import atan, cos, degrees, radians, sin

import pytest
from support.small_rigs import one, point, span, wanted, worked

from rigcheck.rules.pack import Pack

CYLINDERS = """\
lines:
  - gas: acetylene
    stands: left
    parts: [cylinder: {gross_mass: 75 kg, centre_height: 0.85 m}]
  - gas: oxygen
    stands: right
    parts: [cylinder: {gross_mass: 70 kg, centre_height: 0.65 m}]
"""
TROLLEY = "own_mass: 20 kg, own_centre_height: 0.5 m, track_width: 0.5 m, cylinder_spacing: 0.26 m"
ENDS = "foot_width: 0.5 m, wheel_base: 0.5 m, axle_distance: 0.3 m, push_height: 1.2 m"


def rig(trolley: str, cylinders: str = CYLINDERS) -> str:
    return f"rig: small\n{cylinders}trolley: {{{trolley}}}\n"


def test_masses_and_centres_are_taken_together(pack: Pack) -> None:
    # By hand: M = 20 + 75 + 70 = 165 kg; z = (20 x 0.5 + 75 x 0.85 + 70 x 0.65)/165 = 0.7227 m;
    # x = (75 - 70) x 0.13/165 = 3.94 mm. Centre of mass: any text on statics.
    trolley = one(worked(rig(f"{TROLLEY}, {ENDS}"), pack), "trolley")
    assert point(trolley, "whole_mass") == pytest.approx(165.0)
    assert point(trolley, "whole_centre") == pytest.approx(0.722727, abs=1e-6)
    assert point(trolley, "whole_offset") == pytest.approx(0.00393939, abs=1e-8)


def test_the_trolley_tips_where_its_weight_passes_the_edge(pack: Pack) -> None:
    # By hand: sideways atan((0.25 - 0.00394)/0.7227) = 18.80 deg; endways atan(min(0.3, 0.2)/0.7227) = 15.47 deg.
    trolley = one(worked(rig(f"{TROLLEY}, {ENDS}, tilt: 6 deg"), pack), "trolley")
    assert point(trolley, "tip_sideways") == pytest.approx(18.80, abs=0.01)
    assert point(trolley, "tip_endways") == pytest.approx(degrees(atan(0.2 / 0.722727)), abs=1e-4)
    assert point(trolley, "tip_angle") == pytest.approx(15.47, abs=0.01)
    assert point(trolley, "tip_margin") == pytest.approx(9.47, abs=0.01)


def test_the_push_that_tips_it_balances_the_weight(pack: Pack) -> None:
    trolley = one(worked(rig(f"{TROLLEY}, {ENDS}, tilt: 6 deg"), pack), "trolley")
    lean = radians(6.0)
    expected = 165.0 * 9.80665 * (0.2 * cos(lean) - 0.722727 * sin(lean)) / 1.2
    assert point(trolley, "tip_force") == pytest.approx(expected, rel=1e-5)


def test_a_trolley_that_tips_of_itself_stands_no_push(pack: Pack) -> None:
    trolley = one(worked(rig(f"{TROLLEY}, {ENDS}, tilt: 25 deg"), pack), "trolley")
    assert point(trolley, "tip_force") == 0.0
    assert span(trolley, "tip_margin")[1] < 0.0


def test_the_slope_of_the_floor_stands_for_a_lean_that_nobody_measured(pack: Pack) -> None:
    # A ramp of 1 in 12 is 4.76 deg.
    trolley = one(worked(rig(f"{TROLLEY}, {ENDS}, floor_slope: 4.76 deg"), pack), "trolley")
    assert point(trolley, "tip_margin") == pytest.approx(15.47 - 4.76, abs=0.01)


def test_a_stated_mass_and_centre_come_first(pack: Pack) -> None:
    more = "loaded_mass: 180 kg, loaded_centre_height: 0.8 m"
    trolley = one(worked(rig(f"{TROLLEY}, {ENDS}, {more}"), pack), "trolley")
    assert (point(trolley, "whole_mass"), point(trolley, "whole_centre")) == (180.0, 0.8)


def test_a_stated_mass_empties_too(pack: Pack) -> None:
    gas = CYLINDERS.replace("gross_mass: 75 kg", "contents_mass: 7 kg").replace(
        "gross_mass: 70 kg", "contents_mass: 12 kg"
    )
    trolley = one(worked(rig("loaded_mass: 180 kg", gas), pack), "trolley")
    assert span(trolley, "emptying_mass") == (161.0, 180.0)
    assert point(trolley, "whole_mass") == 180.0


def test_the_least_push_is_that_of_the_emptied_trolley(pack: Pack) -> None:
    weighed = CYLINDERS.replace("gross_mass: 75 kg", "tare_mass: 62 kg, contents_mass: 7 kg")
    found = one(worked(rig(f"{TROLLEY}, {ENDS}, tilt: 0 deg, loaded_mass: 180 kg", weighed), pack), "trolley")
    # By hand: 20 + 62 + 70 = 152 kg, over the foot 0.2 m before the centre, pushed at 1.2 m.
    assert span(found, "tip_force")[0] == pytest.approx(152.0 * 9.80665 * 0.2 / 1.2)


def test_a_cylinder_counts_from_empty_to_what_it_holds(pack: Pack) -> None:
    text = rig(TROLLEY, CYLINDERS.replace("gross_mass: 75 kg", "tare_mass: 62 kg, contents_mass: 7 kg"))
    assert span(one(worked(text, pack), "cylinder"), "standing_mass") == (62.0, 69.0)
    trolley = one(worked(text, pack), "trolley")
    assert point(trolley, "whole_mass") == 159.0
    assert span(trolley, "emptying_mass") == (152.0, 159.0)


def test_one_empty_cylinder_moves_the_centre_to_the_other_side(pack: Pack) -> None:
    # Least and greatest over the corners: 62 against 70 kg, and 69 against 70 kg.
    text = rig(TROLLEY, CYLINDERS.replace("gross_mass: 75 kg", "tare_mass: 62 kg, contents_mass: 7 kg"))
    low, high = span(one(worked(text, pack), "trolley"), "whole_offset")
    assert low == pytest.approx(1.0 * 0.13 / 159.0)
    assert high == pytest.approx(8.0 * 0.13 / 152.0)


def test_a_cylinder_of_unknown_centre_is_taken_a_little_below_its_middle(pack: Pack) -> None:
    text = rig(
        "platform_height: 0.1 m", "lines:\n  - {gas: oxygen, stands: left, parts: [cylinder: {height: 1.5 m}]}\n"
    )
    assert span(one(worked(text, pack), "cylinder"), "standing_centre") == pytest.approx((0.775, 0.85))


def test_cylinders_off_the_trolley_do_not_load_it(pack: Pack) -> None:
    text = rig(TROLLEY, CYLINDERS.replace("stands: left", "stands: off-trolley"))
    assert point(one(worked(text, pack), "trolley"), "whole_mass") == pytest.approx(90.0)


def test_a_centre_over_an_edge_of_the_base_tips_at_no_lean(pack: Pack) -> None:
    trolley = one(worked(rig(f"{TROLLEY}, wheel_base: 0.3 m, axle_distance: 0.3 m"), pack), "trolley")
    assert point(trolley, "tip_endways") == 0.0


@pytest.mark.parametrize(("foot", "arm"), [("700 mm", 0.35), ("350 mm", 0.248), ("0 mm", 0.1434)])
def test_a_narrow_foot_cuts_the_corners_of_the_base(foot: str, arm: float, pack: Pack) -> None:
    # By hand: the line from a wheel at (350, 0) to the end of the foot at (f/2, 500) passes the point (0, 250) at
    # (350 x 500 - (700 - f)/2 x 250)/sqrt(500^2 + ((700 - f)/2)^2) mm.
    base = f"track_width: 700 mm, wheel_base: 500 mm, axle_distance: 250 mm, foot_width: {foot}"
    even = CYLINDERS.replace("gross_mass: 75 kg", "gross_mass: 70 kg")
    trolley = one(
        worked(rig(f"own_mass: 20 kg, own_centre_height: 0.5 m, cylinder_spacing: 0.26 m, {base}", even), pack),
        "trolley",
    )
    assert point(trolley, "side_arm") == pytest.approx(arm, abs=5e-4)


def test_with_one_cylinder_off_the_other_pulls_the_trolley_over(pack: Pack) -> None:
    # By hand, the oxygen cylinder alone: M = 90 kg, x = 70 x 0.13/90 = 0.1011 m, z = (10 + 45.5)/90 = 0.6167 m,
    # atan((0.25 - 0.1011)/0.6167) = 13.57 deg; the acetylene cylinder alone: M = 95 kg, x = 0.1026 m,
    # z = (10 + 63.75)/95 = 0.7763 m, atan(0.1474/0.7763) = 10.75 deg; endways atan(0.2/0.7763) = 14.45 deg.
    trolley = one(worked(rig(f"{TROLLEY}, {ENDS}, tilt: 2 deg"), pack), "trolley")
    assert point(trolley, "changing_angle") == pytest.approx(10.75, abs=0.01)
    assert point(trolley, "changing_margin") == pytest.approx(8.75, abs=0.01)
    assert point(trolley, "changing_angle") < point(trolley, "tip_angle")


def test_what_stability_lacks_is_asked_for_by_name(pack: Pack) -> None:
    trolley = one(worked(rig("tilt: 5 deg"), pack), "trolley")
    assert set(wanted(trolley, "tip_margin")) == {
        "trolley.track_width",
        "trolley.foot_width",
        "trolley.wheel_base",
        "trolley.axle_distance",
        "trolley.cylinder_spacing",
        "trolley.own_mass",
        "trolley.own_centre_height",
    }


def test_a_wider_interval_holds_every_case_in_it(pack: Pack) -> None:
    wide = one(worked(rig(f"{TROLLEY}, {ENDS}, tilt: 4 to 8 deg"), pack), "trolley")
    narrow = one(worked(rig(f"{TROLLEY}, {ENDS}, tilt: 6 deg"), pack), "trolley")
    for fact in ("tip_margin", "tip_force"):
        (low, high), value = span(wide, fact), point(narrow, fact)
        assert low < value < high
