"""Conditions of a rule file: names, types and dimensions are settled while they are read."""

from __future__ import annotations

import pytest
from support.small_rules import RulesFolder

from rigcheck.rules.rule import Rule
from rigcheck.text.faults import Fault

RULE = """\
claim: A claim that is long enough.
signal: warning
looks_at: hose
holds:
  %s
harm: A harm that is long enough.
put_right: A cure that is long enough.
drawn_from: [common practice]
proven_by: []
"""


def _read(folder: RulesFolder, condition: str) -> Rule:
    folder.write("hoses/one.yaml", RULE % condition)
    return folder.pack().rules["hoses/one"]


def _fault(folder: RulesFolder, condition: str) -> Fault:
    folder.write("hoses/one.yaml", RULE % condition)
    (fault,) = folder.faults()
    return fault


GOOD = [
    "length: {maximum: 20 m}",
    "length: {maximum: {fact: line.whole_length}}",
    "standard: {const: EN 559}",
    "standard: {not: {const: none}}",
    "kinked: {const: false}",
    "gases: {contains: {const: oxygen}, minContains: 1, maxContains: 2}",
    "gases: {items: {enum: [oxygen, air]}, uniqueItems: true}",
    "proof_tested: {type: number, minimum: 2020-01-01}",
    "proof_tested: {anyOf: [{const: none}, {type: number, minimum: 2020-01}]}",
    "line.regulator.set_pressure: {exclusiveMaximum: {fact: rated_pressure}}",
    "downstream.kind: {const: torch}",
    "line.parts: {prefixItems: [{kind: {const: cylinder}}], minItems: 2}",
    "{anyOf: [{kinked: {const: false}}, {not: {length: {minimum: 2 m}}}]}",
    "{required: [length, bore]}",
    "name: {pattern: '^[A-Z]\\s', minLength: 2, maxLength: 20}",
    "length: true",
]


@pytest.mark.parametrize("condition", GOOD)
def test_a_condition_over_known_facts_is_read(folder: RulesFolder, condition: str) -> None:
    assert _read(folder, condition).holds.clauses


def test_a_word_written_another_way_is_read_as_the_word_itself(folder: RulesFolder) -> None:
    (clause,) = _read(folder, "standard: {const: EN 559}").holds.clauses
    assert clause.operand.schemas["standard"].operand("const").value == "ISO 3821"


def test_a_rule_names_the_limits_that_it_needs_once_each(folder: RulesFolder) -> None:
    folder.write(
        "trolley/two.yaml",
        RULE.replace("hose", "trolley")
        % ("{tilt: {maximum: {limit: trolley_tilt}}, floor_slope: {maximum: {limit: trolley_tilt}}}"),
    )
    assert folder.pack().rules["trolley/two"].limits == ("trolley_tilt",)


BAD = [  # condition, what is said, the nearest known word
    ("lenght: {maximum: 20 m}", "'lenght' is nothing known of a hose", "length"),
    ("line.gass: {const: oxygen}", "'gass' is nothing known of a line", "gas"),
    ("length.bore: {const: oxygen}", "'length' is no thing, so nothing follows it", ""),
    ("length: {maximun: 20 m}", "'maximun' is no keyword", "maximum"),
    ("length: {maximum: 20 bar}", "length: '20 bar' is a pressure", ""),
    ("length: {maximum: 20}", "length: '20' has no unit", ""),
    ("length: {maximum: {limit: trolley_tilt}}", "The limit trolley_tilt is an angle, but length is a length", ""),
    ("length: {maximum: {limit: hose_lenght}}", "'hose_lenght' is no limit", ""),
    ("length: {maximum: {fact: rated_pressure}}", "rated_pressure is a pressure, but length is a length", ""),
    ("length: {maximum: {fact: line}}", "'line' is no single value", ""),
    ("length: {pattern: '^1'}", "'pattern' says nothing about 'length' (length)", ""),
    ("kinked: {maximum: 3}", "'maximum' says nothing about 'kinked' (yes no)", ""),
    ("length: {contains: {const: 1 m}}", "'contains' says nothing about 'length'", ""),
    ("gases: {const: oxygen}", "'const' says nothing about a list", ""),
    ("standard: {const: ISO 9999}", "'ISO 9999' is not one of its words", ""),
    ("standard: {enum: ISO 3821}", "Here must stand a list", ""),
    ("standard: {type: text}", "'text' is no type", ""),
    ("proof_tested: {minimum: 2020-01-01}", "'proof_tested' may be none", ""),
    ("name: {pattern: '\\p{L}'}", "'\\\\p' is not read here", ""),
    ("name: {pattern: 'a('}", "This is no pattern", ""),
    ("name: {minLength: two}", "Here must stand a whole number", ""),
    ("length: 20 m", "This is no condition", ""),
    ("length: {}", "This is no condition", ""),
    ("{}", "This is no condition", ""),
    ("{required: [lenght]}", "'lenght' is nothing known of a hose", "length"),
]


@pytest.mark.parametrize(("condition", "said", "near"), BAD)
def test_a_condition_that_cannot_be_meant_is_refused_while_it_is_read(
    folder: RulesFolder, condition: str, said: str, near: str
) -> None:
    fault = _fault(folder, condition)
    assert said in fault.read
    assert fault.place.line == 5
    if near:
        assert near in (fault.near, *fault.write.split("'"))
