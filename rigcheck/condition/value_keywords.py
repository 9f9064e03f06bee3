"""The keywords that look at one value: bounds of numbers, `const`, `enum`, `type`, and text."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from rigcheck.condition.check import Build, Check, Compiler, facts_of
from rigcheck.condition.equality import among, same_value
from rigcheck.condition.pattern import EcmaPattern
from rigcheck.condition.tree import Operand, Schema
from rigcheck.quantity.interval import Interval, at_least, at_most
from rigcheck.quantity.truth import FALSE, TRUE, UNKNOWN, Truth, as_truth, negation
from rigcheck.rig.thing import MISSING, Thing

__all__ = ["TYPES", "VALUE_KEYWORDS"]

# --- numbers ---


def _bounded(
    interval_test: Callable[[Interval, Interval], Truth], number_test: Callable[[Any, Any], bool]
) -> Callable[[Compiler, Operand, Schema], Check]:
    def build(judge: Compiler, operand: Operand, schema: Schema) -> Check:
        fixed = judge.constant(operand)
        if type(fixed) is Interval:
            return _against(fixed)
        resolve = judge.resolved(operand)

        def run(value: Any, root: Any) -> Truth:
            bound = resolve(root)
            if type(value) is Interval:
                return interval_test(value, bound) if type(bound) is Interval else UNKNOWN
            if type(value) is int or type(value) is float:
                return as_truth(number_test(value, bound))
            return TRUE

        return run

    def _against(bound: Interval) -> Check:
        return lambda value, root: interval_test(value, bound) if type(value) is Interval else TRUE

    return build


def _below(value: Interval, bound: Interval) -> Truth:
    return negation(at_least(value, bound))


def _above(value: Interval, bound: Interval) -> Truth:
    return negation(at_most(value, bound))


# --- any value ---


def _const(judge: Compiler, operand: Operand, schema: Schema) -> Check:
    resolve, fixed = judge.resolved(operand), judge.constant(operand)
    if type(fixed) is str:
        return lambda value, root: TRUE if value == fixed else FALSE
    if fixed is None or type(fixed) is bool:
        return lambda value, root: TRUE if value is fixed else FALSE

    def run(value: Any, root: Any) -> Truth:
        wanted = resolve(root)
        return UNKNOWN if wanted is MISSING else same_value(value, wanted)

    return run


def _enum(judge: Compiler, operand: tuple[Operand, ...], schema: Schema) -> Check:
    choices = tuple(judge.constant(choice) for choice in operand)
    if all(type(choice) is str for choice in choices):
        words = frozenset(choices)
        return lambda value, root: TRUE if type(value) is str and value in words else FALSE
    return lambda value, root: among(value, choices)


_NUMBERS = (Interval, int, float)


def _is_number(value: Any) -> Truth:
    return as_truth(type(value) in _NUMBERS)


def _is_integer(value: Any) -> Truth:
    if type(value) is Interval:
        return as_truth(value.lo.is_integer()) if value.lo == value.hi else UNKNOWN
    return as_truth(type(value) is int or (type(value) is float and value.is_integer()))


TYPES: Mapping[str, Callable[[Any], Truth]] = {
    "null": lambda value: as_truth(value is None),
    "boolean": lambda value: as_truth(type(value) is bool),
    "string": lambda value: as_truth(type(value) is str),
    "array": lambda value: as_truth(isinstance(value, (list, tuple))),
    "object": lambda value: as_truth(facts_of(value) is not None),
    "number": _is_number,
    "integer": _is_integer,
}


def _type(judge: Compiler, operand: tuple[str, ...], schema: Schema) -> Check:
    if operand == ("object",):
        return lambda value, root: TRUE if type(value) is Thing else TYPES["object"](value)
    if operand == ("number",):  # what a bound stands beside where none may be written
        return lambda value, root: TRUE if type(value) in _NUMBERS else FALSE
    tests = tuple(TYPES[name] for name in operand)

    def run(value: Any, root: Any) -> Truth:
        truths = [test(value) for test in tests]
        return TRUE if TRUE in truths else UNKNOWN if UNKNOWN in truths else FALSE

    return run


# --- text ---


def _text_check(test: Callable[[str], bool]) -> Check:
    return lambda value, root: as_truth(test(value)) if type(value) is str else TRUE


def _pattern(judge: Compiler, operand: EcmaPattern, schema: Schema) -> Check:
    return _text_check(lambda text: operand.search(text) is not None)


def _min_length(judge: Compiler, operand: int, schema: Schema) -> Check:
    return _text_check(lambda text: len(text) >= operand)


def _max_length(judge: Compiler, operand: int, schema: Schema) -> Check:
    return _text_check(lambda text: len(text) <= operand)


VALUE_KEYWORDS: Mapping[str, Build] = {
    "minimum": _bounded(at_least, lambda value, bound: value >= bound),
    "maximum": _bounded(at_most, lambda value, bound: value <= bound),
    "exclusiveMinimum": _bounded(_above, lambda value, bound: value > bound),
    "exclusiveMaximum": _bounded(_below, lambda value, bound: value < bound),
    "const": _const,
    "enum": _enum,
    "type": _type,
    "pattern": _pattern,
    "minLength": _min_length,
    "maxLength": _max_length,
}
