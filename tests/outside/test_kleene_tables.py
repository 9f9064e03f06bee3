"""Truth tables against the strong three-valued logic of Kleene.

Source: S. C. Kleene, Introduction to Metamathematics (1952), §64, whose strong tables logic
handbooks print as K3; typed in here from memory, t, f and u as there, rows by the first sentence.
"""

from __future__ import annotations

import pytest
from support.json_schema import from_json_schema

from rigcheck.condition.compiler import Judge
from rigcheck.quantity.truth import FALSE, TRUE, UNKNOWN, Truth, all_of, any_of, negation

VALUES = {"t": TRUE, "f": FALSE, "u": UNKNOWN}
NEGATION = {"t": "f", "f": "t", "u": "u"}
COLUMNS = "tfu"
CONJUNCTION = {"t": "tfu", "f": "fff", "u": "ufu"}
DISJUNCTION = {"t": "ttt", "f": "tfu", "u": "tuu"}
CONDITIONAL = {"t": "tfu", "f": "ttt", "u": "tuu"}  # not P or Q
EQUIVALENCE = {"t": "tfu", "f": "ftu", "u": "uuu"}

Cell = tuple[str, str, str]


def _cells(table: dict[str, str]) -> list[Cell]:
    return [(row, column, cell) for row, cells in table.items() for column, cell in zip(COLUMNS, cells, strict=True)]


@pytest.mark.parametrize(("value", "cell"), NEGATION.items())
def test_negation_is_kleenes(value: str, cell: str) -> None:
    assert negation(VALUES[value]) is VALUES[cell]


@pytest.mark.parametrize(("row", "column", "cell"), _cells(CONJUNCTION))
def test_conjunction_is_kleenes(row: str, column: str, cell: str) -> None:
    assert all_of([VALUES[row], VALUES[column]]) is VALUES[cell]


@pytest.mark.parametrize(("row", "column", "cell"), _cells(DISJUNCTION))
def test_disjunction_is_kleenes(row: str, column: str, cell: str) -> None:
    assert any_of([VALUES[row], VALUES[column]]) is VALUES[cell]


# --- the same tables through the keywords: fact p or q is 1 (true), 0 (false) or missing (unknown) ---

P, Q = ({"properties": {name: {"const": 1}}} for name in "pq")


def _judged(schema: object, row: str, column: str) -> Truth:
    facts = {name: int(value == "t") for name, value in (("p", row), ("q", column)) if value != "u"}
    return Judge({}).check(from_json_schema(schema))(facts, facts)


@pytest.mark.parametrize(("row", "column", "cell"), _cells(CONJUNCTION))
def test_all_of_and_two_facts_side_by_side_are_kleenes_conjunction(row: str, column: str, cell: str) -> None:
    assert _judged({"allOf": [P, Q]}, row, column) is VALUES[cell]
    beside = {"properties": {"p": {"const": 1}, "q": {"const": 1}}}
    assert _judged(beside, row, column) is VALUES[cell]


@pytest.mark.parametrize(("row", "column", "cell"), _cells(DISJUNCTION))
def test_any_of_is_kleenes_disjunction(row: str, column: str, cell: str) -> None:
    assert _judged({"anyOf": [P, Q]}, row, column) is VALUES[cell]


@pytest.mark.parametrize(("row", "column", "cell"), _cells(CONDITIONAL))
def test_if_then_is_kleenes_conditional(row: str, column: str, cell: str) -> None:
    assert _judged({"if": P, "then": Q}, row, column) is VALUES[cell]


@pytest.mark.parametrize(("row", "column", "cell"), _cells(EQUIVALENCE))
def test_if_then_else_of_a_sentence_and_its_negation_is_kleenes_equivalence(row: str, column: str, cell: str) -> None:
    assert _judged({"if": P, "then": Q, "else": {"not": Q}}, row, column) is VALUES[cell]


@pytest.mark.parametrize(("row", "column", "cell"), _cells(EQUIVALENCE))
def test_one_of_two_is_the_negation_of_kleenes_equivalence(row: str, column: str, cell: str) -> None:
    assert _judged({"not": {"oneOf": [P, Q]}}, row, column) is VALUES[cell]
