"""The keywords that look at facts of a thing: `properties` and `required`."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rigcheck.condition.check import Build, Check, Compiler, every_check, facts_of
from rigcheck.condition.tree import Schema
from rigcheck.rig.thing import MISSING, Thing
from rigcheck.truth import FALSE, TRUE, UNKNOWN, Truth

__all__ = ["FACT_KEYWORDS"]


def _properties(judge: Compiler, operand: Mapping[str, Schema], schema: Schema) -> Check:
    checks = tuple((name, judge.check(inner)) for name, inner in operand.items())
    if len(checks) > 1:
        return _every_property(checks)
    name, inner = next(iter(operand.items()))
    further = _followed(inner)
    return _one_property(*checks[0]) if further is None else _two_properties(name, *further, judge)


def _followed(schema: Schema) -> tuple[str, Schema] | None:
    """Return the fact and its condition where a schema only follows a thing: `line.gas` is the commonest of all."""
    if len(schema.clauses) != 2:
        return None
    first, second = schema.clauses
    follows = first.keyword == "type" and first.operand == ("object",) and second.keyword == "properties"
    return next(iter(second.operand.items())) if follows and len(second.operand) == 1 else None


def _two_properties(name: str, further: str, schema: Schema, judge: Compiler) -> Check:
    check, slow = judge.check(schema), _one_property(further, judge.check(schema))

    def run(value: Any, root: Any) -> Truth:
        facts = value.facts if type(value) is Thing else facts_of(value)
        if facts is None:
            return TRUE
        found = facts.get(name, MISSING)
        if type(found) is Thing:
            inner = found.facts.get(further, MISSING)
            return UNKNOWN if inner is MISSING else check(inner, root)
        if found is MISSING:
            return UNKNOWN
        return FALSE if facts_of(found) is None else slow(found, root)

    return run


def _one_property(name: str, check: Check) -> Check:
    def run(value: Any, root: Any) -> Truth:
        facts = value.facts if type(value) is Thing else facts_of(value)
        if facts is None:
            return TRUE
        found = facts.get(name, MISSING)
        return UNKNOWN if found is MISSING else check(found, root)

    return run


def _every_property(checks: tuple[tuple[str, Check], ...]) -> Check:
    return every_check(tuple(_one_property(name, check) for name, check in checks))


def _required(judge: Compiler, operand: tuple[str, ...], schema: Schema) -> Check:
    def run(value: Any, root: Any) -> Truth:
        facts = facts_of(value)
        missing = facts is not None and any(name not in facts for name in operand)
        return UNKNOWN if missing else TRUE

    return run


FACT_KEYWORDS: Mapping[str, Build] = {"properties": _properties, "required": _required}
