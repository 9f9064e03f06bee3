"""The keywords that look at facts of a thing: `properties` and `required`."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rigcheck.condition.check import Build, Check, Compiler, every_check, facts_of
from rigcheck.condition.tree import Properties, Schema
from rigcheck.condition.word_choice import WORD_TYPES, WordChoice, word_choice
from rigcheck.quantity.alternatives import OneOf, truth_of_each
from rigcheck.quantity.truth import FALSE, TRUE, UNKNOWN, Truth
from rigcheck.rig.thing import MISSING, Thing

__all__ = ["FACT_KEYWORDS"]


def _properties(judge: Compiler, operand: Properties, schema: Schema) -> Check:
    checks = tuple(_property(name, inner, judge) for name, inner in operand.schemas.items())
    return checks[0] if len(checks) == 1 else every_check(checks)


def _property(name: str, schema: Schema, judge: Compiler) -> Check:
    words, further = word_choice(schema), _followed(schema)
    if words is not None:
        return _one_of_words(name, words)
    return _one_property(name, judge.check(schema)) if further is None else _followed_property(name, further, judge)


def _followed(schema: Schema) -> Properties | None:
    """Return the condition on the facts of a thing that a schema only follows: `line.gas` is the commonest of all."""
    if len(schema.clauses) != 2:
        return None
    first, second = schema.clauses
    follows = first.keyword == "type" and first.operand == ("object",) and second.keyword == "properties"
    return second.operand if follows else None


def _one_of_words(name: str, choice: WordChoice) -> Check:
    words, inside, outside = choice

    def run(value: Any, root: Any) -> Truth:
        facts = value.facts if type(value) is Thing else facts_of(value)
        if facts is None:
            return TRUE
        found = facts.get(name, MISSING)
        if found is MISSING:
            return UNKNOWN
        if type(found) in WORD_TYPES:
            return inside if found in words else outside
        if type(found) is OneOf:
            return truth_of_each(found, lambda one: inside if type(one) in WORD_TYPES and one in words else outside)
        return outside

    return run


def _one_property(name: str, check: Check) -> Check:
    def run(value: Any, root: Any) -> Truth:
        facts = value.facts if type(value) is Thing else facts_of(value)
        if facts is None:
            return TRUE
        found = facts.get(name, MISSING)
        if found is MISSING:
            return UNKNOWN
        if type(found) is OneOf:
            return truth_of_each(found, lambda one: check(one, root))
        return check(found, root)

    return run


def _followed_property(name: str, further: Properties, judge: Compiler) -> Check:
    check = _properties(judge, further, Schema())

    def run(value: Any, root: Any) -> Truth:
        facts = value.facts if type(value) is Thing else facts_of(value)
        if facts is None:
            return TRUE
        found = facts.get(name, MISSING)
        if type(found) is Thing:
            return check(found, root)
        if found is MISSING:
            return UNKNOWN
        return FALSE if facts_of(found) is None else check(found, root)

    return run


def _required(judge: Compiler, operand: tuple[str, ...], schema: Schema) -> Check:
    def run(value: Any, root: Any) -> Truth:
        facts = facts_of(value)
        missing = facts is not None and any(name not in facts for name in operand)
        return UNKNOWN if missing else TRUE

    return run


FACT_KEYWORDS: Mapping[str, Build] = {"properties": _properties, "required": _required}
