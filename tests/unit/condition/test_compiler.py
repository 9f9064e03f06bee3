"""Judging: intervals, limits and facts in a condition, and what is not there is unknown."""

from __future__ import annotations

from typing import Any

import pytest
from support.json_schema import from_json_schema

from rigcheck.condition.check import fact_at
from rigcheck.condition.compiler import Judge
from rigcheck.condition.equality import distinct, same_value
from rigcheck.condition.tree import Clause, FactName, LimitName, Literal, Operand, Properties, Schema
from rigcheck.condition.value_keywords import TYPES
from rigcheck.quantity.interval import Interval
from rigcheck.quantity.notation import read_quantity
from rigcheck.quantity.truth import FALSE, TRUE, UNKNOWN, Truth
from rigcheck.rig.thing import MISSING

LIMITS = {"most": read_quantity("2 bar", "pressure")}


def _bar(text: str) -> Interval:
    return read_quantity(f"{text} bar", "pressure")


def _about(fact: str, keyword: str, operand: Operand | tuple[Operand, ...]) -> Schema:
    return Schema((Clause("properties", Properties({fact: Schema((Clause(keyword, operand),))})),))


def _verdict(schema: Schema, facts: dict[str, Any]) -> Truth:
    return Judge(LIMITS).check(schema)(facts, facts)


@pytest.mark.parametrize(
    ("keyword", "verdicts"),  # for 1.9, 2, 2.1 bar and for 2 ± 0.1 bar against 2 bar
    [
        ("maximum", (TRUE, TRUE, FALSE, UNKNOWN)),
        ("exclusiveMaximum", (TRUE, FALSE, FALSE, UNKNOWN)),
        ("minimum", (FALSE, TRUE, TRUE, UNKNOWN)),
        ("exclusiveMinimum", (FALSE, FALSE, TRUE, UNKNOWN)),
        ("const", (FALSE, TRUE, FALSE, UNKNOWN)),
    ],
)
@pytest.mark.parametrize("operand", [Literal(_bar("2")), LimitName("most"), FactName(("rated",))])
def test_a_number_is_compared_with_a_literal_a_limit_or_another_fact(
    keyword: str, verdicts: tuple[Truth, ...], operand: Operand
) -> None:
    schema = _about("set", keyword, operand)
    found = [_verdict(schema, {"set": _bar(text), "rated": _bar("2")}) for text in ("1.9", "2", "2.1", "2 ± 0.1")]
    assert tuple(found) == verdicts


@pytest.mark.parametrize("keyword", ["maximum", "exclusiveMaximum", "minimum", "exclusiveMinimum", "const"])
def test_a_comparison_with_a_fact_that_is_not_known_is_unknown(keyword: str) -> None:
    assert _verdict(_about("set", keyword, FactName(("rated",))), {"set": _bar("2")}) is UNKNOWN


def test_a_fact_that_is_not_there_is_unknown_whatever_is_asked_of_it() -> None:
    for inner in (True, False, {"const": "x"}, {"not": {"const": "x"}}, {"type": "null"}):
        assert _verdict(from_json_schema({"properties": {"gas": inner}}), {}) is UNKNOWN
    assert _verdict(from_json_schema({"required": ["gas"]}), {}) is UNKNOWN


def test_a_fact_that_is_none_is_known() -> None:
    assert _verdict(from_json_schema({"properties": {"gas": {"type": "null"}}}), {"gas": None}) is TRUE
    assert _verdict(from_json_schema({"properties": {"gas": {"const": "x"}}}), {"gas": None}) is FALSE


def test_one_broken_fact_settles_a_condition_though_others_are_missing() -> None:
    schema = from_json_schema({"properties": {"a": {"const": 1}, "b": {"const": 1}}})
    assert _verdict(schema, {"a": 2}) is FALSE
    assert _verdict(schema, {"a": 1}) is UNKNOWN


def test_if_is_settled_where_both_branches_agree() -> None:
    agree = {"if": {"properties": {"x": {"const": 1}}}, "then": {"type": "string"}, "else": {"type": "null"}}
    assert _verdict(from_json_schema(agree), {}) is FALSE


@pytest.mark.parametrize(
    ("items", "verdict"),
    [
        ([1, 1], TRUE),
        ([1, {}], TRUE),
        ([{}, {}], UNKNOWN),
        ([2, 2], FALSE),
        ([2, {}], UNKNOWN),
        ([1, 1, 1, {}], UNKNOWN),
        ([1, 1, 1, 1], FALSE),
        ([], FALSE),
    ],
)
def test_contains_counts_what_is_sure_and_what_is_open(items: list[Any], verdict: Truth) -> None:
    one = {"anyOf": [{"const": 1}, {"type": "object", "properties": {"gone": {"const": 1}}}]}
    schema = from_json_schema({"properties": {"list": {"contains": one, "minContains": 1, "maxContains": 3}}})
    assert _verdict(schema, {"list": items}) is verdict


def test_a_fact_is_found_at_the_end_of_a_path_or_is_missing() -> None:
    facts = {"line": {"gas": "oxygen"}}
    assert fact_at(facts, ("line", "gas")) == "oxygen"
    for path in (("line", "nothing"), ("nothing", "gas"), ("line", "gas", "more")):
        assert fact_at(facts, path) is MISSING


@pytest.mark.parametrize(
    ("one", "other", "truth"),
    [
        (1, 1.0, TRUE),
        (1, True, FALSE),
        (0, False, FALSE),
        ([False], [0], FALSE),
        ([1], [1.0], TRUE),
        ({"a": 1}, {"a": 1.0}, TRUE),
        ({"a": 1}, {"a": 1, "b": 2}, FALSE),
        ("1", 1, FALSE),
        (None, None, TRUE),
        (None, 0, FALSE),
        (_bar("2"), _bar("2"), TRUE),
        (_bar("2 ± 1"), _bar("2"), UNKNOWN),
        ([_bar("2 ± 1"), 1], [_bar("2"), 2], FALSE),
    ],
)
def test_equality_is_that_of_json_schema_carried_over_to_intervals(one: Any, other: Any, truth: Truth) -> None:
    assert same_value(one, other) is truth
    assert same_value(other, one) is truth


def test_items_that_may_be_equal_are_not_known_to_be_distinct() -> None:
    assert distinct([_bar("1"), _bar("2"), _bar("3")]) is TRUE
    assert distinct([_bar("1"), _bar("2"), _bar("2 ± 1")]) is UNKNOWN
    assert distinct([_bar("1"), _bar("2 ± 1"), _bar("1")]) is FALSE


@pytest.mark.parametrize(
    ("value", "types"),
    [
        (None, {"null"}),
        (True, {"boolean"}),
        ("a", {"string"}),
        (("a",), {"array"}),
        ({}, {"object"}),
        (1, {"number", "integer"}),
        (1.0, {"number", "integer"}),
        (1.5, {"number"}),
        (read_quantity("3", "count"), {"number", "integer"}),
        (read_quantity("3.5", "count"), {"number"}),
    ],
)
def test_a_value_has_the_types_of_json_schema(value: Any, types: set[str]) -> None:
    assert {name for name, test in TYPES.items() if test(value) is TRUE} == types


def test_whether_an_interval_is_whole_is_not_known() -> None:
    assert TYPES["integer"](read_quantity("3 ± 1", "count")) is UNKNOWN


@pytest.mark.parametrize(
    ("inner", "inside", "outside"),  # JSON Schema 2020-12 Validation, 6.1.2 and 6.1.3: true is not 1, null is not ""
    [
        ({"const": True}, (True,), (1, 1.0, False, "true", None, ["true"], {})),
        ({"const": None}, (None,), (0, "", False, [])),
        ({"const": "x"}, ("x",), ("X", 1, None, ["x"], {"x": "x"})),
        ({"enum": ["x", None, False]}, ("x", None, False), (0, 0.0, True, "y", [])),
        ({"not": {"enum": ["x", True]}}, (1, "y", None, ["x"]), ("x", True)),
        ({"not": {"not": {"const": "x"}}}, ("x",), ("y", 1)),
    ],
)
def test_words_are_told_from_numbers_that_python_finds_equal(
    inner: dict[str, Any], inside: tuple[Any, ...], outside: tuple[Any, ...]
) -> None:
    schema = from_json_schema({"properties": {"a": inner}})
    assert [_verdict(schema, {"a": value}) for value in inside] == [TRUE] * len(inside)
    assert [_verdict(schema, {"a": value}) for value in outside] == [FALSE] * len(outside)
