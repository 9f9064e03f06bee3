"""What torches draw and how long the gas lasts, worked by hand."""

from __future__ import annotations

from math import pi, sqrt

import pytest
from fluids import nozzle_expansibility
from support.small_rigs import is_unknown, one, point, span, wanted, worked

from rigcheck.rig.thing import Thing
from rigcheck.rules.pack import Pack

HOUR = 3600.0


def cutting(nozzle: str, job: str = "", line: str = "", torch: str = "") -> str:
    return f"""
rig: small
site: {{ambient_temperature: 20 degC, altitude: 0 m}}
job: {{process: cutting, thickness: 25 mm{job}}}
lines:
  - gas: acetylene
    parts:
      - cylinder: {{contents_mass: 6 kg, pressure: 15 bar, working_pressure: 19 bar, full_contents_mass: 7.5 kg}}
      - regulator: {{set_pressure: 0.5 bar}}
  - gas: oxygen
{line}    parts:
      - cylinder: {{water_capacity: 50 L, pressure: 200 bar, working_pressure: 200 bar, temperature: 15 degC}}
      - regulator: {{set_pressure: 5 bar}}
torch:
{torch}  nozzle: {{{nozzle}}}
"""


def flow(text: str, pack: Pack, gas: str) -> tuple[float, float]:
    low, high = span(one(worked(text, pack), "line", gas), "demand")
    return low * HOUR, high * HOUR


STATED = "fuel_flow: 400 L/h, heating_oxygen_flow: 500 L/h, cutting_oxygen_flow: 4 m3/h"


def test_the_oxygen_line_gives_flame_and_jet_together(pack: Pack) -> None:
    assert flow(cutting(STATED), pack, "acetylene") == pytest.approx((0.4, 0.4))
    assert flow(cutting(STATED), pack, "oxygen") == pytest.approx((4.5, 4.5))


def test_flame_oxygen_follows_from_the_fuel(pack: Pack) -> None:
    # Welding handbooks' fuel gas table (from memory): 1.1 volumes of torch oxygen to one of acetylene; 15 % rough.
    nozzle = one(worked(cutting("fuel_flow: 400 L/h"), pack), "nozzle")
    low, high = span(nozzle, "flame_oxygen")
    assert (low * HOUR, high * HOUR) == pytest.approx((0.4 * 1.1 * 0.85, 0.4 * 1.1 * 1.15))


def test_the_jet_is_choked_flow_through_the_bore(pack: Pack) -> None:
    # By hand with White's constant (Fluid Mechanics, k = 1.4): m = 0.6847 p0 A / sqrt(R T)
    # = 0.6847 x 801325 Pa x 2.0106e-6 m2 / sqrt(259.84 x 293.15) = 3.997 g/s; at 1.354 kg/m3 10.63 m3/h.
    nozzle = one(worked(cutting("cutting_bore: 1.6 mm, oxygen_pressure: 7 bar"), pack), "nozzle")
    low, high = span(nozzle, "jet_oxygen")
    assert high * HOUR == pytest.approx(10.63, rel=0.005)
    assert low == pytest.approx(0.8 * high)


def test_a_jet_below_the_speed_of_sound_is_counted_too(pack: Pack) -> None:
    # By the expansibility factor of a nozzle in a wide pipe, as the fluids library has it (ISO 5167-3).
    nozzle = one(worked(cutting("cutting_bore: 1.6 mm, oxygen_pressure: 0.5 bar"), pack), "nozzle")
    low, high = span(nozzle, "jet_oxygen")
    before, after = 151325.0, 101325.0
    factor = nozzle_expansibility(D=10.0, Do=1.6e-3, P1=before, P2=after, k=1.395)
    mass = pi / 4 * 1.6e-3**2 * factor * sqrt(2 * before / (259.84 * 293.15) * (before - after))
    assert high == pytest.approx(mass / 1.354, rel=0.002)
    assert low == pytest.approx(0.8 * high)


def test_a_jet_without_a_pressure_falls_back_to_published_rows(pack: Pack) -> None:
    # AWS handbook table (from memory), 1/2 to 1 in: 55 to 160 cu ft an hour.
    nozzle = one(worked(cutting("cutting_bore: 1.6 mm"), pack), "nozzle")
    low, high = span(nozzle, "jet_oxygen")
    assert (low * HOUR, high * HOUR) == pytest.approx((55 * 0.0283168, 160 * 0.0283168), rel=1e-4)


def test_a_welding_tip_has_no_jet_and_its_fuel_by_published_size(pack: Pack) -> None:
    # British trade data (from memory): tip number 7 burns 200 L of acetylene an hour, with 1.1 times the oxygen.
    text = cutting("size: 7").replace("process: cutting", "process: welding")
    assert flow(text, pack, "acetylene") == pytest.approx((0.2, 0.2))
    assert flow(text, pack, "oxygen") == pytest.approx((0.2 * 1.1 * 0.85, 0.2 * 1.1 * 1.15))


def test_a_nozzle_of_which_nothing_is_known_is_asked_for_its_table(pack: Pack) -> None:
    text = cutting("form: one-piece").replace("process: cutting, thickness: 25 mm", "process: heating")
    rig = worked(text, pack)
    assert wanted(one(rig, "line", "acetylene"), "demand") == ["nozzle.fuel_flow"]
    assert wanted(one(rig, "line", "oxygen"), "demand") == ["nozzle.heating_oxygen_flow"]


def test_a_stated_consumption_that_agrees_with_the_nozzle_counts(pack: Pack) -> None:
    text = cutting(STATED, line="    consumption: 4.7 m3/h\n")
    assert flow(text, pack, "oxygen") == pytest.approx((4.7, 4.7))


def test_a_stated_consumption_that_does_not_agree_leaves_all_that_lies_between(pack: Pack) -> None:
    text = cutting(STATED, line="    consumption: 7 m3/h\n")
    assert flow(text, pack, "oxygen") == pytest.approx((4.5, 7.0))


def test_what_is_stated_of_the_torch_stands_beside_what_its_nozzle_draws(pack: Pack) -> None:
    assert flow(cutting(STATED, torch="  fuel_flow: 600 L/h\n"), pack, "acetylene") == pytest.approx((0.4, 0.6))


SEVERAL = """
rig: small
job: {process: heating, duty_share: 50 %}
lines:
  - gas: acetylene
    torches_fed: N
    parts:
      - cylinder: {contents_mass: 6 kg}
      - header:
          branches:
            - {to: a, parts: [hose]}
            - {to: b, parts: [hose]}
            - {to: c, parts: [hose]}
torch:
  - {name: a, fuel_flow: 700 L/h}
  - {name: b, fuel_flow: 900 L/h, duty_share: 20 %}
  - {name: c, fuel_flow: 100 to 200 L/h}
"""


@pytest.mark.parametrize(("count", "least", "most"), [("1", 0.9, 0.9), ("2", 1.6, 1.6), ("3", 1.7, 1.8)])
def test_as_many_torches_as_burn_at_once_are_added_the_largest_first(
    pack: Pack, count: str, least: float, most: float
) -> None:
    assert flow(SEVERAL.replace(": N", f": {count}"), pack, "acetylene") == pytest.approx((least, most))


def test_of_several_torches_it_is_asked_how_many_burn_at_once(pack: Pack) -> None:
    rig = worked(SEVERAL.replace("    torches_fed: N\n", ""), pack)
    assert wanted(one(rig, "line"), "demand") == ["line.torches_fed"]


def test_more_torches_than_are_written_cannot_be_added(pack: Pack) -> None:
    assert is_unknown(one(worked(SEVERAL.replace(": N", ": 4"), pack), "line"), "demand")


def test_one_torch_may_stand_for_several_alike(pack: Pack) -> None:
    text = cutting(STATED, job=", torches_in_use: 3")
    assert flow(text, pack, "acetylene") == pytest.approx((1.2, 1.2))


def test_the_mean_lies_between_the_torches_shares_of_burning(pack: Pack) -> None:
    low, high = span(one(worked(SEVERAL.replace(": N", ": 2"), pack), "line"), "mean_demand")
    assert (low * HOUR, high * HOUR) == pytest.approx((1.6 * 0.2, 1.6 * 0.5))


def test_gas_lasts_its_usable_content_over_the_mean_flow(pack: Pack) -> None:
    # By hand: 50 L of oxygen at 200 bar hold 10.65 m3 (trade figure), at 5 bar 0.30 m3; 10.35 m3 / (4.5 m3/h x 50 %).
    line = one(worked(cutting(STATED, job=", duty_share: 50 %, hours_per_day: 10 h"), pack), "line", "oxygen")
    # A regulator set to 5 bar needs 5.3 to 11 bar before it, by ISO 2503 (from memory): 0.3 m3 more may stay behind.
    low, high = span(line, "endurance")
    assert high / HOUR == pytest.approx(10.35 / 2.25, rel=0.005)
    assert low / HOUR == pytest.approx((10.35 - 0.3) / 2.25, rel=0.01)
    # 22.5 m3 a day: 2.17 cylinders; beside the one connected 12.15 m3 are short: 1.17 cylinders.
    assert point(line, "cylinders_for_job") == 3
    assert point(line, "spares_needed") == 2


def test_nothing_more_is_needed_where_the_gas_lasts(pack: Pack) -> None:
    line = one(worked(cutting(STATED, job=", duty_share: 50 %, hours_per_day: 4 h"), pack), "line", "oxygen")
    assert point(line, "spares_needed") == 0


def test_the_gas_that_runs_out_first_is_named(pack: Pack) -> None:
    # Oxygen lasts 4.6 h; 5.4 m3 of acetylene, less what stays in solution, at 0.2 m3/h more than 20 h.
    text = cutting(STATED, job=", duty_share: 50 %, hours_per_day: 8 h").replace(
        "contents_mass: 6 kg,", "contents_mass: 6 kg, tare_mass: 62 kg, height: 1.5 m, diameter: 230 mm,"
    )
    rig = worked(
        text.replace("parts:\n      - cylinder: {c", "parts:\n      - cylinder: {in_use: true, empty: false, c"), pack
    )
    assert rig.root.facts["first_to_run_out"] == "oxygen"


def test_no_gas_is_named_where_the_times_overlap(pack: Pack) -> None:
    text = cutting("fuel_flow: 1.5 to 3 m3/h, heating_oxygen_flow: 0.5 m3/h, cutting_oxygen_flow: 4 m3/h")
    rig = worked(text.replace("thickness: 25 mm", "thickness: 25 mm, duty_share: 50 %"), pack)
    assert is_unknown(rig.root, "first_to_run_out")


def test_the_share_of_burning_is_asked_of_the_job(pack: Pack) -> None:
    line = one(worked(cutting(STATED), pack), "line", "oxygen")
    assert wanted(line, "endurance") == ["job.duty_share"]


@pytest.mark.parametrize(("process", "ratio"), [("welding", 3.5), ("heating", 4.3)])
def test_welding_burns_a_neutral_flame_and_heating_the_hottest(pack: Pack, process: str, ratio: float) -> None:
    # Welding handbooks' fuel gas table (from memory): propane neutral at 3.5 volumes of oxygen, hottest at 4.3.
    text = cutting("fuel_flow: 1 m3/h").replace("gas: acetylene", "gas: propane")
    low, high = span(
        one(worked(text.replace("process: cutting", f"process: {process}"), pack), "nozzle"), "flame_oxygen"
    )
    assert (low * HOUR, high * HOUR) == pytest.approx((ratio * 0.85, ratio * 1.15))


def nozzle_of(text: str, pack: Pack) -> Thing:
    return one(worked(text, pack), "nozzle")


MARKED = "cutting_bore: 1.6 mm, oxygen_pressure: 7 bar, cutting_oxygen_flow: "


def test_the_bore_passes_what_the_choked_nozzle_equation_says(pack: Pack) -> None:
    # White, Fluid Mechanics (from memory): m = 0.6847 p0 A/sqrt(R T0) with k = 1.4; R = 259.84 J/(kg K), at 20 degC;
    # 0.6847 x 801 325 Pa x 2.0106 mm2 / 275.99 m/s = 4.00 g/s, over 1.3547 kg/m3 = 10.62 m3/h, and 0.8 of it.
    low, high = span(nozzle_of(cutting(MARKED + "4 m3/h"), pack), "bore_flow")
    assert high * HOUR == pytest.approx(10.62, rel=2e-3)
    assert low == pytest.approx(0.8 * high)


# By hand against 8.50 to 10.62 m3/h: 9 lies within, 10.62/9 = 1.18; twice the greatest and half the least.
@pytest.mark.parametrize(
    ("stated", "gap"),
    [("9 m3/h", (0.0, 0.180)), ("21.24 m3/h", (1.0, 1.5)), ("4.25 m3/h", (1.0, 1.5))],
)
def test_the_stated_flow_is_held_against_it_either_way(pack: Pack, stated: str, gap: tuple[float, float]) -> None:
    found = span(nozzle_of(cutting(MARKED + stated), pack), "flow_gap")
    assert found == pytest.approx(gap, abs=8e-3)


def test_what_the_bore_passes_is_the_jet_where_no_flow_is_stated(pack: Pack) -> None:
    found = nozzle_of(cutting(MARKED.removesuffix(", cutting_oxygen_flow: ")), pack)
    assert span(found, "jet_oxygen") == span(found, "bore_flow")
    assert is_unknown(found, "flow_gap")


def test_a_welding_tip_has_no_bore_for_cutting_oxygen(pack: Pack) -> None:
    text = cutting(MARKED + "4 m3/h").replace("process: cutting", "process: welding")
    found = nozzle_of(text, pack)
    assert is_unknown(found, "bore_flow")
    assert wanted(found, "flow_gap") == []
