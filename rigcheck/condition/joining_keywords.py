"""The keywords that join conditions; `if` reads `then` and `else` beside it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rigcheck.condition.check import Build, Check, Compiler, every_check
from rigcheck.condition.tree import Schema
from rigcheck.quantity.truth import FALSE, TRUE, UNKNOWN, Truth, negation

__all__ = ["JOINING_KEYWORDS"]


def _all_of(judge: Compiler, operand: tuple[Schema, ...], schema: Schema) -> Check:
    return every_check(tuple(map(judge.check, operand)))


def _any_of(judge: Compiler, operand: tuple[Schema, ...], schema: Schema) -> Check:
    checks = tuple(map(judge.check, operand))

    def run(value: Any, root: Any) -> Truth:
        result = FALSE
        for check in checks:
            truth = check(value, root)
            if truth is TRUE:
                return TRUE
            if truth is UNKNOWN:
                result = UNKNOWN
        return result

    return run


def _one_of(judge: Compiler, operand: tuple[Schema, ...], schema: Schema) -> Check:
    checks = tuple(map(judge.check, operand))

    def run(value: Any, root: Any) -> Truth:
        truths = [check(value, root) for check in checks]
        sure, open_ = truths.count(TRUE), truths.count(UNKNOWN)
        if sure > 1 or sure + open_ == 0:
            return FALSE
        return UNKNOWN if open_ else TRUE

    return run


def _not(judge: Compiler, operand: Schema, schema: Schema) -> Check:
    check = judge.check(operand)
    return lambda value, root: negation(check(value, root))


def _if(judge: Compiler, operand: Schema, schema: Schema) -> Check:
    asked = judge.check(operand)
    then = judge.check(schema.operand("then") or Schema())
    other = judge.check(schema.operand("else") or Schema())

    def run(value: Any, root: Any) -> Truth:
        truth = asked(value, root)
        if truth is TRUE:
            return then(value, root)
        if truth is FALSE:
            return other(value, root)
        either = then(value, root)
        return either if either is other(value, root) else UNKNOWN

    return run


JOINING_KEYWORDS: Mapping[str, Build] = {
    "allOf": _all_of,
    "anyOf": _any_of,
    "oneOf": _one_of,
    "not": _not,
    "if": _if,
}
