"""One scale of gravity: a step of a procedure has the word of the rules that judge the same deed.

The scale itself stands in DEVELOPERS.md, in the terms of ANSI Z535.4: how grave the harm, and how likely.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from rigcheck.rules.folders import rules_folder
from rigcheck.rules.pack import Pack
from rigcheck.rules.procedures import procedures_of
from rigcheck.rules.rule import GRAVITY
from rigcheck.text.yamlfile import read_yaml

_NO_RULE = {  # why no rule of a rig judges the same deed, and the steps that it is said of
    "It is done in an emergency, and no description of a rig speaks of one.": (
        "emergency-backfire/*",
        "emergency-flashback/*",
        "emergency-hot-acetylene/*",
        "emergency-leak/*",
        "emergency-oxygen-fire/*",
    ),
    "Only who takes a part off knows whether gas was still behind it.": (
        "cylinder-change/see_gauges_at_zero",
        "hose-end/empty_the_hose",
    ),
    "Hydrogen is wiped and never blown out, and a description does not say how the outlet was cleaned.": (
        "cylinder-change/wipe_or_blow_the_valve",
        "new-set/wipe_hydrogen_valve",
    ),
    "It lasts for the time of the work itself.": (
        "leak-test/keep_flames_away",
        "leak-test/wipe_dry",
        "leaving/take_hot_pieces_away",
        "leaving/tell_whoever_is_in_charge",
        "lighting/clear_the_soot",
        "lighting/set_with_the_lever_down",
        "lighting/read_the_gauges_again",
        "start-up/read_contents_gauge",
    ),
    "A description has no state of this valve.": (
        "restart/open_fuel_outlet",
        "restart/open_oxygen_outlet",
        "restart/open_fuel_tank",
        "restart/open_oxygen_tank",
        "shut-down/close_fuel_manifold_valve",
        "shut-down/close_oxygen_manifold_valve",
        "shut-down/close_fuel_torch_valve",
        "shut-down/close_oxygen_torch_valve",
        "shut-down/close_header_valves",
        "start-up/open_header_valves",
        "start-up/open_fuel_outlet_valve",
        "start-up/open_oxygen_outlet_valve",
        "start-up/open_fuel_tank_valve",
        "start-up/open_oxygen_tank_valve",
    ),
}

_FAMILIES = """
parts/part_is_marked_for_the_gas_of_its_line
parts/part_is_marked_among_others_for_the_gas_of_its_line
regulators/gauge_is_for_its_gas
hoses/fuel_and_oxygen_keep_their_own_hoses
cylinders/cylinder_holds_the_gas_of_its_line
cylinders/oxygen_comes_from_an_oxygen_cylinder
manifolds/outlet_point_gives_the_gas_of_its_line

materials/oxygen_part_is_free_of_oil
materials/oxygen_joint_is_free_of_oil
materials/torch_is_free_of_oil
hoses/oxygen_hose_is_free_of_oil
people/hands_are_free_of_oil
people/clothing_is_free_of_oil

joints/joint_does_not_leak
joints/part_is_tight_outward
cylinders/valve_is_tight
cylinders/relief_device_does_not_leak
torch/torch_tubes_do_not_leak
torch/nozzle_joint_is_tight
torch/torch_valve_gland_is_tight

materials/acetylene_part_is_low_in_copper
materials/acetylene_joiner_is_not_copper
materials/acetylene_pipeline_is_steel
manifolds/no_copper_in_acetylene_leads

cylinders/fuel_cylinder_stands_upright
manifolds/fuel_cylinders_upright_on_the_manifold
cylinders/liquefied_gas_leaves_as_gas

cylinders/cylinder_is_secured
manifolds/cylinders_on_the_manifold_are_secured

cylinders/top_is_clear
manifolds/nothing_lies_on_the_manifold

store/no_flame_heats_or_lights_the_store
manifolds/no_open_flame_at_the_manifold

arresters/not_reused_after_a_flashback
arresters/tripped_cut_off_is_looked_into
hoses/hose_after_flashback_is_replaced
hoses/american_hose_proved_after_flashback

cylinders/acetylene_was_not_heated
cylinders/other_cylinders_were_not_heated

cylinders/fuel_valve_opens_little
cylinders/acetylene_valve_opens_little

manifolds/coupler_points_with_the_flow
arresters/non_return_valve_points_with_the_flow

torch/fuel_pressure_feeds_nozzle
torch/oxygen_pressure_feeds_nozzle
hoses/pressure_set_reaches_the_torch

trolley/valves_are_shut_while_it_moves
cylinders/cylinder_is_not_moved_live

tools/extinguisher_is_with_rig
carriage/extinguisher_is_aboard
"""  # kinds of things that one deed is told of


def _written() -> Iterator[tuple[str, Any]]:
    for path in sorted((rules_folder() / "procedures").glob("*.yaml")):
        root: Any = read_yaml(path.read_bytes(), path.name)
        for step in root.items["steps"].items:
            yield f"{path.stem}/{step.items['step'].text}", step


def _rules(node: Any) -> list[str]:
    deeds = node.items.get("same_deed_as")
    return [one.text for one in deeds.items] if deeds is not None else []


_STEPS = dict(_written())
_LISTED = [one for steps in _NO_RULE.values() for one in steps]


def _listed(name: str) -> bool:
    return name in _LISTED or f"{name.partition('/')[0]}/*" in _LISTED


@pytest.mark.parametrize("name", _STEPS)
def test_each_step_names_the_rules_of_the_same_deed_or_is_listed_with_the_reason_why_none_judges_it(name: str) -> None:
    assert bool(_rules(_STEPS[name])) != _listed(name)


def test_every_listed_step_exists() -> None:
    procedures = {name.partition("/")[0] for name in _STEPS}
    assert [one for one in _LISTED if one not in _STEPS and one.removesuffix("/*") not in procedures] == []


def test_a_step_and_the_gravest_rule_of_its_deed_have_one_word(pack: Pack) -> None:
    differ = {}
    for name, step in _STEPS.items():
        words = [pack.rules[rule].signal for rule in _rules(step)]
        if words and max(words, key=GRAVITY.__getitem__) != step.items["signal"].text:
            differ[name] = (step.items["signal"].text, words)
    assert differ == {}


def test_a_value_that_has_a_word_of_its_own_shares_it_with_the_rule_of_its_deed(pack: Pack) -> None:
    checked = 0
    for name, step in _STEPS.items():
        values = step.items.get("values")
        for value in values.items.values() if values is not None else ():
            for one in (value, *(value.items["also"].items if "also" in value.items else ())):
                words = [pack.rules[rule].signal for rule in _rules(one)]
                own = one.items["signal"].text if "signal" in one.items else step.items["signal"].text
                assert not words or max(words, key=GRAVITY.__getitem__) == own, name
                checked += bool(words)
    assert checked >= 10


def test_the_procedures_are_read_with_that_check(pack: Pack) -> None:
    assert len(procedures_of(pack)) >= 18


@pytest.mark.parametrize("family", [one.split() for one in _FAMILIES.split("\n\n")], ids=lambda family: family[0])
def test_the_same_deed_has_the_same_word_in_each_family_of_kinds(family: list[str], pack: Pack) -> None:
    assert len({pack.rules[name].signal for name in family}) == 1, {name: pack.rules[name].signal for name in family}
