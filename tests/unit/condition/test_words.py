"""A condition in plain words, as it stands under 'required' in a report."""

from __future__ import annotations

from typing import Any

import pytest
from small_rules import RulesFolder

from rigcheck.condition.words import in_words, listed_words, value_words
from rigcheck.quantity_reading import read_quantity
from rigcheck.rig.thing import MISSING

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
