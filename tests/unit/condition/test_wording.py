"""A condition in plain words, as it stands under 'required' in a report."""

from __future__ import annotations

from typing import Any

import pytest
from support.small_rules import RulesFolder

from rigcheck.condition.wording import in_words, listed_words, value_words
from rigcheck.quantity.notation import read_quantity
from rigcheck.rig.thing import MISSING
from rigcheck.rules.pack import Pack

RULE = """\
claim: A claim that is long enough.
signal: warning
looks_at: %s
holds:
  %s
harm: A harm that is long enough.
put_right: A cure that is long enough.
drawn_from: [common practice]
proven_by: []
"""


@pytest.mark.parametrize(
    ("kind", "condition", "parts"),
    [
        ("trolley", "tilt: {maximum: {limit: trolley_tilt}}", ["tilt", "at most", "<trolley_tilt>"]),
        ("trolley", "tilt: {exclusiveMinimum: 5 deg}", ["tilt", "more than", "5 deg"]),
        ("hose", "standard: {enum: [ISO 3821, AS 1335]}", ["standard", "ISO 3821 or AS/NZS 1335"]),
        ("hose", "standard: {not: {const: none}}", ["standard", "not", "none"]),
        ("hose", "line.regulator.set_pressure: {maximum: {fact: rated_pressure}}", ["set pressure", "rated pressure"]),
        ("hose", "{anyOf: [{length: {maximum: 2 m}}, {bore: {minimum: 8 mm}}]}", ["2 m", "or", "8 mm"]),
    ],
)
def test_a_condition_is_said_with_its_facts_and_its_numbers(
    folder: RulesFolder, kind: str, condition: str, parts: list[str]
) -> None:
    folder.write("some/one.yaml", RULE % (kind, condition))
    said = in_words(folder.pack().rules["some/one"].holds, lambda name: f"<{name}>")
    for part in parts:
        assert part in said
    assert "_" not in said.replace("<trolley_tilt>", "")


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (MISSING, "not stated"),
        (None, "none"),
        (True, "yes"),
        (False, "no"),
        (("red", "blue"), "red, blue"),
        ((), "none"),
        ("ISO 3821", "ISO 3821"),
        (read_quantity("19.5 ± 1 deg", "angle"), "19.5 ± 1 deg"),
    ],
)
def test_a_value_is_said_as_a_person_would_write_it(value: Any, words: str) -> None:
    assert value_words(value) == words


def test_words_are_listed_with_a_joint_before_the_last() -> None:
    assert [listed_words(list(words), "or") for words in ("", "a", "ab", "abc")] == ["", "a", "a or b", "a, b or c"]


@pytest.mark.parametrize(
    ("rule", "said"),
    [
        # what is compared with a fact of the rule's own thing, inside a list of other things, says whose it is
        (
            "torch/nozzle_is_for_the_fuel",
            "for at least 1 of the lines of the torch, fuel: yes and gas is the gas of this nozzle",
        ),
        (
            "arresters/arrester_at_every_regulator",
            "either the part after it is an arrester or a header, or the part after it is a coupler and the part after "
            "that is an arrester, or there is a built in arrester, "
            "or for at least 1 of the feeds, it is a regulator",
        ),
        # words by a colon and lists by their words: no verb has to agree
        ("torch/torch_tubes_are_straight", "tubes: neither bent nor dented"),
        ("cylinders/cylinder_is_secured", "secured: neither none nor leaning"),
        ("arresters/arrester_stops_flame_and_backflow", "functions include FA and NV"),
        ("store/store_forbids_smoking_and_flame", "signs include no-smoking or no-naked-flame"),
        ("hoses/hose_marking_is_complete", "marked with: standard, working-pressure, bore, maker and year"),
        ("rig/lines_end_in_a_torch", "torch: at least 1"),
        # none is no number: a reader need not be told that only one of the two can be
        (
            "cylinders/heaters_are_far_from_the_cylinder",
            "either heat distance: none, or heat distance is at least <cylinder_heat_distance>",
        ),
        ("joints/leak_test_is_recent", "for every one of the joints, leak age is not more than <leak_test_age>"),
        # a choice inside a choice stands in brackets
        (
            "carriage/cylinders_leave_the_vehicle_on_arrival",
            "either vehicle: open-vehicle or open-trailer, or unloaded on arrival: yes; "
            "either vehicle: neither closed-unventilated nor passenger-car, "
            "or (either parked closed: none, or parked closed is at most 0 min)",
        ),
    ],
)
def test_a_shipped_rule_says_what_it_requires(pack: Pack, rule: str, said: str) -> None:
    looked_at = pack.rules[rule]
    assert in_words(looked_at.holds, lambda name: f"<{name}>", looked_at.kind.name) == said


@pytest.mark.parametrize(
    ("written", "measure", "said"),
    [
        ("1 turn", "angle", "1 turn"),
        ("1.5 turn", "angle", "1.5 turns"),
        ("3/4 turn", "angle", "3/4 turn"),
        ("5 year", "age", "5 years"),
        ("0 day", "time", "0 days"),
        ("2 years", "age", "2 years"),
        ("15 psi", "pressure", "15 psi"),
    ],
)
def test_a_unit_that_is_a_word_takes_the_plural_and_a_symbol_never(written: str, measure: str, said: str) -> None:
    # SI Brochure, 9th edition, 5.2: symbols of units are not changed in the plural (from memory).
    assert value_words(read_quantity(written, measure)) == said
    assert read_quantity(said, measure) == read_quantity(written, measure)
