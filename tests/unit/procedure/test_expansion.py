"""A procedure for one rig: steps for its things in the order of the flow, and those that do not apply."""

from __future__ import annotations

import pytest
from support.procedure_tools import DAY, FOLDER, expanded, pack_with, read_rig

from rigcheck.judge.compiled_rules import compiled_for
from rigcheck.procedure.expansion import Expansion
from rigcheck.procedure.step_words import Speaker
from rigcheck.rules.pack import Pack

_TEXT = (FOLDER / "start-up.yaml").read_text()
_RIG = (FOLDER / "rig.yaml").read_text()


def _expanded(pack: Pack, *changes: tuple[str, str], rig: str = _RIG, code: str = "general") -> Expansion:
    text = _TEXT
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    own = pack_with(pack, {"start-up": text})
    return expanded(own, read_rig(own, rig), "start-up", code)


def _labels(expansion: Expansion) -> list[str]:
    return [one.label for one in expansion.instances]


def _number(expansion: Expansion, label: str) -> int:
    return next(one.number for one in expansion.instances if one.label == label)


def _why(expansion: Expansion) -> dict[str, str]:
    return {one.step.name: one.why for one in expansion.left_out}


def test_steps_stand_in_the_order_of_the_file_and_their_things_in_the_order_of_the_flow(pack: Pack) -> None:
    assert _labels(_expanded(pack)) == [
        "back off knobs, acetylene regulator",
        "back off knobs, oxygen regulator",
        "open fuel cylinder valve, acetylene cylinder",
        "open oxygen cylinder valve, oxygen cylinder",
        "set pressure, acetylene regulator",
        "set pressure, oxygen regulator",
        "say it is ready",
    ]


def test_the_order_of_the_file_gives_way_to_what_must_come_before(pack: Pack) -> None:
    moved = (
        "    about: regulator\n    signal: danger",
        "    about: regulator\n    after: [look_at_snow]\n    signal: danger",
    )
    assert _labels(_expanded(pack, moved, rig=_RIG + "trolley: {}\n"))[0] == "look at snow, trolley"


def test_after_relates_all_things_and_after_on_line_only_those_of_one_line(pack: Pack) -> None:
    expansion = _expanded(pack)
    fuel, oxygen = (_number(expansion, f"set pressure, {gas} regulator") for gas in ("acetylene", "oxygen"))
    opened = _number(expansion, "open oxygen cylinder valve, oxygen cylinder")
    assert opened not in expansion.before[fuel]
    assert opened in expansion.before[oxygen]
    assert expansion.before[opened] == {1, 2, 3}  # both knobs, also that of the other line


def test_what_a_missing_step_waited_for_is_handed_on(pack: Pack) -> None:
    oxygen_only = _RIG.replace("gas: acetylene", "gas: nitrogen")
    expansion = _expanded(pack, rig=oxygen_only)
    assert "open_fuel_cylinder_valve" in _why(expansion)
    first = min(one.number for one in expansion.of_step("open_oxygen_cylinder_valve"))
    knobs = {one.number for one in expansion.of_step("back_off_knobs")}
    assert knobs <= expansion.before[first]


def test_a_missing_step_hands_on_only_what_is_on_the_line_where_it_is_waited_for_on_one(pack: Pack) -> None:
    no_oxygen_valve = ("{line.fuel: {const: false}}", "{line.gas: {const: nitrogen}}")
    straight = ("after: [open_fuel_cylinder_valve]", "after: [back_off_knobs]")
    expansion = _expanded(pack, no_oxygen_valve, straight)
    knob = _number(expansion, "back off knobs, oxygen regulator")
    assert expansion.before[_number(expansion, "set pressure, oxygen regulator")] == {knob}


def test_a_step_that_does_not_apply_says_why(pack: Pack) -> None:
    expansion = _expanded(pack, rig=_RIG.replace("gas: acetylene", "gas: oxygen"))
    assert _why(expansion) == {
        "open_fuel_cylinder_valve": "No cylinder here is such that: fuel of the line: yes.",
        "look_at_snow": "This rig has no trolley.",
    }


def test_a_step_of_other_local_codes_does_not_apply(pack: Pack) -> None:
    only = ("    after: [set_pressure]", "    under: [us, ca]\n    after: [set_pressure]")
    assert _why(_expanded(pack, only))["say_it_is_ready"] == "Only under local code us or ca."
    assert "say_it_is_ready" not in _why(_expanded(pack, only, code="us"))


def test_a_procedure_that_is_not_for_this_rig_leaves_all_steps_out(pack: Pack) -> None:
    only = ("cautions:", "applies: {lines: {contains: {gas: {const: hydrogen}}}}\ncautions:")
    expansion = _expanded(pack, only)
    assert expansion.instances == ()
    assert all(why.startswith("The procedure is only for a rig") for why in _why(expansion).values())


def test_a_step_whose_condition_is_not_known_stays_and_names_the_fact(pack: Pack) -> None:
    unknown = ("{line.fuel: {const: true}}", "{line.fuel: {const: true}, upright: {const: true}}")
    (one,) = _expanded(pack, unknown).of_step("open_fuel_cylinder_valve")
    assert [(owner.label, fact) for owner, fact in one.if_so] == [("acetylene cylinder", "upright")]
    assert not one.required


def test_a_valve_is_called_by_what_it_controls(pack: Pack) -> None:
    rig = _RIG.replace("{form: combined}", "{form: combined, control_valve: [{controls: fuel}, {controls: oxygen}]}")
    expansion = _expanded(pack, ("about: trolley", "about: control valve"), rig=rig)
    assert [one.called for one in expansion.of_step("look_at_snow")] == [
        "torch, control valve 1: fuel",
        "torch, control valve 2: oxygen",
    ]


def test_a_pressure_limit_in_another_unit_is_said_in_bar_too_rounded_to_the_cautious_side(pack: Pack) -> None:
    must = ("{maximum: {fact: set_pressure}}", "{maximum: {limit: acetylene_pressure}}")
    expansion = _expanded(pack, must)
    one = expansion.of_step("set_pressure")[0]
    speaker = Speaker(compiled_for(pack, "us", DAY).judge, expansion.rig.root)
    # 15 psi is 1.03421 bar (NIST SP 811, appendix B.8: 1 psi = 6.894757 kPa)
    assert speaker.required(speaker.wanted(one.step.values["pressure"]), one.thing) == "at most 15 psi (1.03 bar)"


@pytest.mark.parametrize(
    ("must", "said", "shown"),
    [
        ("{maximum: {limit: fuel_valve_turns}}", "no more than 1.5 turns.", "at most 1.5 turns"),
        ("{allOf: [{maximum: 2 turn}, {maximum: 90 deg}]}", "no more than 90 deg.", "at most 90 deg"),
        ("{minimum: 90 deg}", "no more than 90 deg.", "at least 90 deg"),
        ("{minimum: 90 deg, maximum: 1 turn}", "no more than at least 90 deg and at most 1 turn.", None),
    ],
)
def test_a_limit_is_put_into_the_sentence_and_beside_the_blank(pack: Pack, must: str, said: str, shown: str) -> None:
    expansion = _expanded(pack, ("{maximum: {limit: fuel_valve_turns}}", must))
    (one,) = expansion.of_step("open_fuel_cylinder_valve")
    speaker = Speaker(compiled_for(pack, "general", DAY).judge, expansion.rig.root)
    assert speaker.do(one).endswith(said)
    assert shown is None or speaker.required(speaker.wanted(one.step.values["turns"]), one.thing) == shown
