"""Laws of conditions: against an independent oracle, against the ordinary validator, and of knowledge.

The schemas and values are drawn by plain seeded chance, not by a property library: thousands of
nested pairs take seconds so, and case number n is the same pair for ever.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from random import Random
from typing import Any

import pytest
from support.json_schema import from_json_schema
from support.three_values import is_valid, oracle

from rigcheck.condition.compiler import Judge
from rigcheck.quantity.truth import FALSE, TRUE, UNKNOWN, Truth

NAMES = ("a", "b", "c")
PLAIN: tuple[Any, ...] = (None, True, False, -1, 0, 1, 2, 3, 0.0, 1.0, 1.5, "", "a", "ab", "b")
TYPES = ("null", "boolean", "string", "array", "object", "number", "integer")
WAYS = "properties properties properties allOf anyOf oneOf not if contains items required leaf leaf".split()
LEAVES = "minimum maximum exclusiveMinimum exclusiveMaximum minLength maxLength minItems maxItems".split()
LEAVES += "pattern const const enum enum type type".split()
OVER_WHOLE = ("uniqueItems", "whole")  # compare whole objects, of which less is another one
PAIRS = 1200


class Chance:
    """Schemas and values of one number; `whole` lets a schema compare whole objects."""

    def __init__(self, number: int, *, whole: bool) -> None:
        self.dice = Random(number)
        self.leaves = [*LEAVES, *OVER_WHOLE] if whole else LEAVES

    def value(self, depth: int, complete: bool) -> Any:
        way = self.dice.choice(("plain", "plain", "list", "object")) if depth else "plain"
        if way == "list":
            item = self.thing if depth > 1 and self.dice.random() < 0.5 else self.value
            return [item(depth - 1, complete) for _ in range(self.dice.randrange(4))]
        return self.thing(depth, complete) if way == "object" else self.dice.choice(PLAIN)

    def thing(self, depth: int, complete: bool) -> dict[str, Any]:
        names = [name for name in NAMES if complete or self.dice.random() < 0.6]
        return {name: self.value(depth - 1, complete) for name in names}

    def schema(self, depth: int) -> Any:
        made = self.clause(depth)
        return {**self.clause(depth), **made} if self.dice.random() < 0.3 else made

    def clause(self, depth: int) -> dict[str, Any]:
        way = self.dice.choice(WAYS) if depth else "leaf"
        if way == "properties":
            return {way: {name: self.inner(depth) for name in self.some(NAMES, 2)}}
        if way in ("allOf", "anyOf", "oneOf"):
            return {way: self.several(depth)}
        if way == "required":
            return {way: self.some(NAMES, 2)}
        if way == "leaf":
            return self.leaf()
        inner = {"properties": {name: self.inner(depth) for name in self.some(NAMES, 1)}}
        over_things = way in ("contains", "items") and self.dice.random() < 0.6
        return {way: inner if over_things else self.inner(depth)} | self.beside(way, depth)

    def beside(self, way: str, depth: int) -> dict[str, Any]:
        counts = {"minContains": self.dice.randrange(3), "maxContains": self.dice.randrange(3)}
        others: dict[str, dict[str, Any]] = {
            "if": {"then": self.inner(depth), "else": self.inner(depth)},
            "contains": counts,
            "items": {"prefixItems": self.several(depth)},
        }
        return {key: one for key, one in others.get(way, {}).items() if self.dice.random() < 0.6}

    def inner(self, depth: int) -> Any:
        return self.dice.random() < 0.5 if self.dice.random() < 0.05 else self.schema(depth - 1)

    def several(self, depth: int) -> list[Any]:
        return [self.inner(depth) for _ in range(self.dice.randrange(1, 4))]

    def some(self, names: tuple[Any, ...], most: int) -> list[Any]:
        return self.dice.sample(names, self.dice.randrange(1, most + 1))

    def leaf(self) -> dict[str, Any]:
        key = self.dice.choice(self.leaves)
        if key == "whole":
            return {"const": self.value(2, True)}
        operands = {
            "pattern": lambda: self.dice.choice(("a", "^a", "b$", "^$", "^[ab]+$")),
            "const": lambda: self.dice.choice(PLAIN),
            "enum": lambda: self.some(PLAIN, 3),
            "type": lambda: self.dice.choice((self.dice.choice(TYPES), self.some(TYPES, 3))),
            "uniqueItems": lambda: True,
        }
        return {key: operands.get(key, lambda: self.dice.randrange(4))()}


def _pairs(*, complete: bool, whole: bool = True) -> Iterator[tuple[int, Any, Any]]:
    for number in range(PAIRS):
        chance = Chance(number, whole=whole)
        about_facts = {"properties": {name: chance.schema(2) for name in chance.some(NAMES, 3)}}
        schema = {**chance.schema(3), **about_facts} if number % 2 else chance.schema(3)
        yield number, schema, chance.thing(3, complete) if number % 8 else chance.value(3, complete)


def _verdict(schema: Any, instance: Any) -> Truth:
    return Judge({}).check(from_json_schema(schema))(instance, instance)


def test_with_missing_facts_the_verdict_is_that_of_the_oracle() -> None:
    met: Counter[Truth] = Counter()
    for number, schema, instance in _pairs(complete=False):
        verdict = _verdict(schema, instance)
        met[verdict] += 1
        assert verdict is oracle(schema, instance), (number, schema, instance)
    assert min(met[truth] for truth in Truth) > PAIRS // 10, met  # each verdict was really tried


def test_with_complete_data_the_verdict_is_that_of_the_ordinary_validator() -> None:
    met: Counter[Truth] = Counter()
    for number, schema, instance in _pairs(complete=True):
        verdict = _verdict(schema, instance)
        met[verdict] += 1
        assert verdict is (TRUE if is_valid(schema, instance) else FALSE), (number, schema, instance)
    assert min(met[TRUE], met[FALSE]) > PAIRS // 10, met


def test_a_settled_verdict_is_never_another_than_that_of_the_ordinary_validator() -> None:
    for number, schema, instance in _pairs(complete=False):
        verdict = _verdict(schema, instance)
        valid = TRUE if is_valid(schema, instance) else FALSE
        assert verdict in (valid, UNKNOWN), (number, schema, instance)


def _less(value: Any, dice: Random) -> Any:
    """Return a value with some facts of its objects, at any depth, left out."""
    if isinstance(value, list):
        return [_less(item, dice) for item in value]
    if not isinstance(value, dict):
        return value
    return {name: _less(inner, dice) for name, inner in value.items() if dice.random() < 0.7}


@pytest.mark.parametrize("complete", [True, False])
def test_facts_taken_away_never_settle_a_verdict_otherwise(complete: bool) -> None:
    lost = 0
    for number, schema, instance in _pairs(complete=complete, whole=False):
        more = _verdict(schema, instance)
        less = _verdict(schema, _less(instance, Random(number)))
        assert less in (more, UNKNOWN), (number, schema, instance)
        lost += less is not more
    assert lost > PAIRS // 20
