"""Hose flow past valves, couplers, swivels, joiners and headers, and through a second regulator, in whole rigs."""

from __future__ import annotations

from math import sqrt

import pytest
from support.small_rigs import is_unknown, one, point, span, wanted, worked

from rigcheck.rig.thing import Rig, Thing
from rigcheck.rules.pack import Pack

ATMOSPHERE = 101_325.0


def called(rig: Rig, name: str) -> Thing:
    return next(thing for thing in rig.things if thing.facts.get("name") == name)


def line(parts: str, demand: str = "10 m3/h", nozzle: str = "4.5 bar") -> str:
    """Return a rig of one line of oxygen to one torch."""
    listed = "".join(f"      - {part}\n" for part in parts.split("; "))
    return (
        "rig: small\nsite: {ambient_temperature: 20 degC, altitude: 0 m}\nlines:\n  - gas: oxygen\n"
        f"    consumption: {demand}\n    parts:\n{listed}torch:\n  nozzle: {{oxygen_pressure: {nozzle}}}\n"
    )


# --- parts with a flow table ---


@pytest.mark.parametrize("kind", ["non_return_valve", "coupler", "swivel", "header", "joiner", "arrester"])
def test_a_part_at_half_its_rated_flow_loses_a_quarter_of_the_squares(pack: Pack, kind: str) -> None:
    # By hand: (6.01325^2 - 5.61325^2)/4 = 1.16265 bar2; sqrt(5.51325^2 + 1.16265) - 5.51325 = 0.1045 bar.
    rig = worked(
        line(f"regulator: {{set_pressure: 5 bar}}; {kind}: {{flow_rating: 20 m3/h, rated_drop: 0.4 bar}}"), pack
    )
    assert point(one(rig, kind.replace("non_return", "non-return").replace("_", " ")), "drop") == pytest.approx(
        0.1045e5, rel=0.002
    )
    assert span(one(rig, "line"), "needed_pressure")[1] == pytest.approx(4.6045e5, rel=1e-4)


@pytest.mark.parametrize("kind", ["non-return valve", "coupler", "swivel", "header"])
def test_a_part_without_a_table_is_asked_for_it(pack: Pack, kind: str) -> None:
    key = kind.replace("-", "_").replace(" ", "_")
    rig = worked(line(f"regulator: {{set_pressure: 5 bar}}; {key}"), pack)
    assert wanted(one(rig, "line"), "torch_share") == [f"{kind}.flow_rating", f"{kind}.rated_drop"]


def test_a_joiner_without_a_table_loses_no_more_than_the_tails_that_its_hoses_count(pack: Pack) -> None:
    hose = "hose: {joiners: 0, bore: 8 mm, length: 20 m}"
    with_joiner = worked(line(f"regulator: {{set_pressure: 6 bar}}; {hose}; joiner; {hose}"), pack)
    without = worked(line(f"regulator: {{set_pressure: 6 bar}}; {hose}; {hose}"), pack)
    assert point(one(with_joiner, "joiner"), "drop") == 0.0
    assert span(one(with_joiner, "line"), "torch_share") == span(one(without, "line"), "torch_share")


def test_a_long_line_is_worked_out_like_a_short_one(pack: Pack) -> None:
    """A hundred hoses of 0.2 m without tails that narrow would lose what one of 20 m does."""
    many = "; ".join(["hose: {joiners: 0, bore: 8 mm, length: 0.2 m, roughness: 0 mm}"] * 100)
    long = worked(line(f"regulator: {{set_pressure: 6 bar}}; {many}"), pack)
    short = worked(
        line("regulator: {set_pressure: 6 bar}; hose: {joiners: 0, bore: 8 mm, length: 20 m, roughness: 0 mm}"), pack
    )
    (low, high), whole = (span(one(rig, "line"), "needed_pressure") for rig in (long, short))
    assert low < whole[0] < high  # each tail may narrow, so that the bounds are wide


# --- a second regulator ---

BETWEEN = "arrester: {flow_rating: 20 m3/h, rated_drop: 0.4 bar}"
SECOND = (
    "regulator: {name: first, set_pressure: 5 bar}; "
    f"{BETWEEN}; regulator: {{name: second, set_pressure: 3 bar}}; "
    "coupler: {flow_rating: 20 m3/h, rated_drop: 0.4 bar}"
)


def test_the_torch_is_reckoned_from_the_last_regulator_on(pack: Pack) -> None:
    # By hand, bar: rated at 3 bar, (4.01325^2 - 3.61325^2)/4 = 0.76265; sqrt(4.01325^2 - 0.76265) - 1.01325 = 2.9038.
    rig = worked(line(SECOND, nozzle="3 bar"), pack)
    assert point(one(rig, "line"), "set_pressure") == 3e5
    assert point(one(rig, "line"), "torch_pressure") == pytest.approx(2.9038e5, rel=1e-3)
    assert point(one(rig, "line"), "needed_pressure") == pytest.approx(3.0936e5, rel=1e-3)


def test_a_second_regulator_gets_what_the_parts_before_it_leave(pack: Pack) -> None:
    # By hand, bar: rated at 5 bar, (6.01325^2 - 5.61325^2)/4 = 1.16265; sqrt(6.01325^2 - 1.16265) - 1.01325 = 4.9025.
    rig = worked(line(SECOND, nozzle="3 bar"), pack)
    second = called(rig, "second")
    assert point(second, "inlet_pressure") == pytest.approx(sqrt(6.01325**2 - 1.16265) * 1e5 - ATMOSPHERE, rel=1e-4)
    assert point(second, "inlet_needed") == pytest.approx(3.3e5)
    assert point(called(rig, "first"), "outlet_needed") == pytest.approx(
        sqrt(4.31325**2 + 1.16265) * 1e5 - ATMOSPHERE, rel=1e-4
    )


def test_the_difference_of_its_own_table_goes_before_the_limit(pack: Pack) -> None:
    rig = worked(line(SECOND.replace("set_pressure: 3 bar", "set_pressure: 3 bar, least_difference: 1 bar")), pack)
    assert point(called(rig, "second"), "inlet_needed") == pytest.approx(4e5)


def test_a_first_regulator_at_a_cylinder_has_no_inlet_to_be_reckoned(pack: Pack) -> None:
    first = called(worked(line(f"cylinder; {SECOND}"), pack), "first")
    assert is_unknown(first, "inlet_needed") and wanted(first, "inlet_needed") == []
    assert is_unknown(first, "inlet_pressure") and wanted(first, "inlet_pressure") == []


def test_a_regulator_at_an_outlet_point_gets_what_the_pipe_gives(pack: Pack) -> None:
    rig = worked(
        line("outlet_point: {pipe_pressure: 1 bar}; regulator: {set_pressure: 0.2 bar}", nozzle="0.2 bar"), pack
    )
    assert point(one(rig, "regulator"), "inlet_pressure") == pytest.approx(1e5)
    assert point(one(rig, "regulator"), "inlet_needed") == pytest.approx(0.5e5)


def test_without_a_regulator_the_torch_gets_the_pressure_of_the_pipe(pack: Pack) -> None:
    rig = worked(line(f"outlet_point: {{pipe_pressure: 5 bar}}; {BETWEEN}", nozzle="5 bar"), pack)
    assert point(one(rig, "line"), "set_pressure") == 5e5
    assert point(one(rig, "line"), "torch_pressure") == pytest.approx(4.9025e5, rel=1e-4)


def test_a_hose_before_a_second_regulator_may_be_as_long_as_that_still_holds(pack: Pack) -> None:
    """Solved back: with the longest hose, the second regulator gets just what it needs."""

    def built(length: str) -> Rig:
        hose = f"hose: {{joiners: 0, bore: 6.3 mm, length: {length}, roughness: 0 mm}}"
        return worked(
            line(f"regulator: {{set_pressure: 6 bar}}; {hose}; regulator: {{name: second, set_pressure: 5 bar}}"), pack
        )

    longest = span(one(built("20 m"), "hose"), "longest")[1]
    again = called(built(f"{longest:.3f} m"), "second")
    assert span(again, "inlet_pressure")[1] == pytest.approx(span(again, "inlet_needed")[1], rel=2e-3)


# --- several torches ---

BRANCHES = """\
rig: small
site: {ambient_temperature: 20 degC, altitude: 0 m}
job: {torches_in_use: TORCHES}
lines:
  - gas: oxygen
    parts:
      - regulator: {set_pressure: 5 bar}
      - header:
          name: block
          flow_rating: 30 m3/h
          rated_drop: 0.1 bar
          branches:
            - {to: near, parts: [hose: {name: short, joiners: 0, bore: 10 mm, length: 5 m}]}
            - {to: far, parts: [hose: {name: long, joiners: 0, bore: 6.3 mm, length: 60 m}]}
torch:
  - {name: near, oxygen_flow: 4 m3/h, nozzle: {oxygen_pressure: 5 bar}}
  - {name: far, oxygen_flow: 5 m3/h, nozzle: {oxygen_pressure: 4 bar}}
"""


def share(rig: Rig) -> tuple[float, float]:
    return span(one(rig, "line"), "torch_share")


def test_the_torch_that_is_served_worst_decides_though_another_wants_more(pack: Pack) -> None:
    """Each torch alone on the same hoses: the line of both gives the smaller share."""
    both = worked(BRANCHES.replace("TORCHES", "2"), pack)
    greedy = worked(BRANCHES.replace("TORCHES", "2").replace("5 m3/h", "9 m3/h"), pack)
    assert share(both)[0] > share(greedy)[0]
    assert share(greedy)[1] < 0.9 < share(both)[0]
    assert span(one(greedy, "line"), "torch_pressure")[1] < 0.9 * 4e5


def test_a_shared_stretch_passes_what_burns_at_once(pack: Pack) -> None:
    for at_once, flow in (("1", 5.0), ("2", 9.0)):
        rig = worked(BRANCHES.replace("TORCHES", at_once), pack)
        assert point(called(rig, "block"), "flow") * 3600.0 == pytest.approx(flow)


NESTED = BRANCHES.replace(
    "- {to: near, parts: [hose: {name: short, joiners: 0, bore: 10 mm, length: 5 m}]}",
    """- parts:
                - header:
                    name: inner
                    branches:
                      - {to: near, parts: [hose: {name: short}]}
                      - {to: third, parts: [hose]}""",
).replace("  - {name: far", "  - {name: third, oxygen_flow: 4 m3/h, nozzle: {oxygen_pressure: 3 bar}}\n  - {name: far")


def test_a_branch_passes_no_more_than_the_line_gives_at_once(pack: Pack) -> None:
    one_at_once, all_at_once = (worked(NESTED.replace("TORCHES", count), pack) for count in ("1", "3"))
    assert point(called(one_at_once, "inner"), "flow") * 3600.0 == pytest.approx(5.0)
    assert point(called(all_at_once, "inner"), "flow") * 3600.0 == pytest.approx(8.0)


def test_of_two_branches_to_one_torch_each_passes_an_unknown_part(pack: Pack) -> None:
    text = BRANCHES.replace("TORCHES", "2").replace("to: near", "to: far")
    low, high = span(called(worked(text, pack), "short"), "flow")
    assert (low * 3600.0, high * 3600.0) == pytest.approx((0.0, 5.0))


def test_a_regulator_in_a_branch_passes_its_own_torch_and_counts_alone(pack: Pack) -> None:
    text = BRANCHES.replace("TORCHES", "2").replace(
        "[hose: {name: long, joiners: 0, bore: 6.3 mm, length: 60 m}]",
        "[regulator: {name: second, set_pressure: 3 bar}, hose: {joiners: 0, bore: 10 mm, length: 5 m}]",
    )
    rig = worked(text, pack)
    assert point(called(rig, "second"), "flow") * 3600.0 == pytest.approx(5.0)
    assert point(one(rig, "line"), "set_pressure") == 3e5
    assert 0.7 < share(rig)[0] < 0.75  # 3 bar set for a nozzle that wants 4
