"""Conditions compiled to closures that return true, false or unknown.

One small function a keyword, and a table from keyword to function.
A check is called with a value and the thing that the rule looks at (for `{fact: …}`).
What is not there is unknown, never true: only parts, which are listed, are a closed world.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from rigcheck.condition.equality import among, distinct, same_value
from rigcheck.condition.pattern import EcmaPattern
from rigcheck.condition.tree import Clause, FactName, LimitName, Operand, Schema
from rigcheck.quantity import Interval, at_least, at_most
from rigcheck.rig.thing import MISSING, Thing
from rigcheck.truth import FALSE, TRUE, UNKNOWN, Truth, all_of, as_truth, negation

__all__ = ["TYPES", "Check", "Judge", "fact_at"]

Check = Callable[[Any, Any], Truth]
_NO_FACTS: Mapping[str, Any] = {}


class Judge:
    """Conditions compiled against one set of limits; each schema is compiled once."""

    def __init__(self, limits: Mapping[str, Interval]) -> None:
        self.limits = limits
        self._checks: dict[int, tuple[Schema, Check]] = {}
        self._clauses: dict[int, tuple[Clause, Check]] = {}

    def check(self, schema: Schema) -> Check:
        """Return the compiled check of a schema."""
        kept = self._checks.get(id(schema))
        if kept is None:
            kept = self._checks[id(schema)] = (schema, self._compiled(schema))
        return kept[1]

    def check_of(self, schema: Schema, clause: Clause) -> Check:
        """Return the compiled check of one clause of a schema alone."""
        kept = self._clauses.get(id(clause))
        if kept is None:
            made = _KEYWORDS[clause.keyword](self, clause.operand, schema)
            kept = self._clauses[id(clause)] = (clause, made)
        return kept[1]

    def resolved(self, operand: Operand) -> Callable[[Any], Any]:
        """Return a function from the looked-at thing to the operand's value."""
        if isinstance(operand, FactName):
            path = operand.path
            return lambda root: fact_at(root, path)
        value = self.limits[operand.name] if isinstance(operand, LimitName) else operand.value
        return lambda root: value

    def constant(self, operand: Operand) -> Any:
        """Return the operand's value, or MISSING where it depends on the thing."""
        return MISSING if isinstance(operand, FactName) else self.resolved(operand)(None)

    def _compiled(self, schema: Schema) -> Check:
        if schema.always is not None:
            return _always(as_truth(schema.always))
        checks = tuple(self.check_of(schema, c) for c in schema.clauses if c.keyword in _KEYWORDS)
        if len(checks) == 1:
            return checks[0]
        return _all(checks) if checks else _always(TRUE)


def fact_at(thing: Any, path: tuple[str, ...]) -> Any:
    """Return the fact at the end of a path, or MISSING."""
    for step in path:
        facts = _facts_of(thing)
        thing = MISSING if facts is None else facts.get(step, MISSING)
    return thing


def _facts_of(value: Any) -> Mapping[str, Any] | None:
    if type(value) is Thing:
        return value.facts
    return value if isinstance(value, dict) else None


def _always(truth: Truth) -> Check:
    return lambda value, root: truth


def _all(checks: tuple[Check, ...]) -> Check:
    def run(value: Any, root: Any) -> Truth:
        result = TRUE
        for check in checks:
            truth = check(value, root)
            if truth is FALSE:
                return FALSE
            if truth is UNKNOWN:
                result = UNKNOWN
        return result

    return run


# --- facts of a thing ---


def _properties(judge: Judge, operand: Mapping[str, Schema], schema: Schema) -> Check:
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


def _two_properties(name: str, further: str, schema: Schema, judge: Judge) -> Check:
    check, slow = judge.check(schema), _one_property(further, judge.check(schema))

    def run(value: Any, root: Any) -> Truth:
        facts = value.facts if type(value) is Thing else _facts_of(value)
        if facts is None:
            return TRUE
        found = facts.get(name, MISSING)
        if type(found) is Thing:
            inner = found.facts.get(further, MISSING)
            return UNKNOWN if inner is MISSING else check(inner, root)
        if found is MISSING:
            return UNKNOWN
        return FALSE if _facts_of(found) is None else slow(found, root)

    return run


def _one_property(name: str, check: Check) -> Check:
    def run(value: Any, root: Any) -> Truth:
        facts = value.facts if type(value) is Thing else _facts_of(value)
        if facts is None:
            return TRUE
        found = facts.get(name, MISSING)
        return UNKNOWN if found is MISSING else check(found, root)

    return run


def _every_property(checks: tuple[tuple[str, Check], ...]) -> Check:
    return _all(tuple(_one_property(name, check) for name, check in checks))


def _required(judge: Judge, operand: tuple[str, ...], schema: Schema) -> Check:
    def run(value: Any, root: Any) -> Truth:
        facts = _facts_of(value)
        missing = facts is not None and any(name not in facts for name in operand)
        return UNKNOWN if missing else TRUE

    return run


# --- numbers ---


def _bounded(
    interval_test: Callable[[Interval, Interval], Truth], number_test: Callable[[Any, Any], bool]
) -> Callable[[Judge, Operand, Schema], Check]:
    def build(judge: Judge, operand: Operand, schema: Schema) -> Check:
        resolve = judge.resolved(operand)

        def run(value: Any, root: Any) -> Truth:
            bound = resolve(root)
            if type(value) is Interval:
                return interval_test(value, bound) if type(bound) is Interval else UNKNOWN
            if type(value) is int or type(value) is float:
                return as_truth(number_test(value, bound))
            return TRUE

        return run

    return build


def _below(value: Interval, bound: Interval) -> Truth:
    return negation(at_least(value, bound))


def _above(value: Interval, bound: Interval) -> Truth:
    return negation(at_most(value, bound))


# --- any value ---


def _const(judge: Judge, operand: Operand, schema: Schema) -> Check:
    resolve, fixed = judge.resolved(operand), judge.constant(operand)
    if type(fixed) is str:
        return lambda value, root: TRUE if value == fixed else FALSE
    if fixed is None or type(fixed) is bool:
        return lambda value, root: TRUE if value is fixed else FALSE

    def run(value: Any, root: Any) -> Truth:
        wanted = resolve(root)
        return UNKNOWN if wanted is MISSING else same_value(value, wanted)

    return run


def _enum(judge: Judge, operand: tuple[Operand, ...], schema: Schema) -> Check:
    choices = tuple(judge.constant(choice) for choice in operand)
    if all(type(choice) is str for choice in choices):
        words = frozenset(choices)
        return lambda value, root: TRUE if type(value) is str and value in words else FALSE
    return lambda value, root: among(value, choices)


def _is_number(value: Any) -> Truth:
    return as_truth(type(value) in (Interval, int, float))


def _is_integer(value: Any) -> Truth:
    if type(value) is Interval:
        return as_truth(value.lo.is_integer()) if value.lo == value.hi else UNKNOWN
    return as_truth(type(value) is int or (type(value) is float and value.is_integer()))


TYPES: Mapping[str, Callable[[Any], Truth]] = {
    "null": lambda value: as_truth(value is None),
    "boolean": lambda value: as_truth(type(value) is bool),
    "string": lambda value: as_truth(type(value) is str),
    "array": lambda value: as_truth(isinstance(value, (list, tuple))),
    "object": lambda value: as_truth(_facts_of(value) is not None),
    "number": _is_number,
    "integer": _is_integer,
}


def _type(judge: Judge, operand: tuple[str, ...], schema: Schema) -> Check:
    if operand == ("object",):
        return lambda value, root: TRUE if type(value) is Thing else TYPES["object"](value)
    tests = tuple(TYPES[name] for name in operand)

    def run(value: Any, root: Any) -> Truth:
        truths = [test(value) for test in tests]
        return TRUE if TRUE in truths else UNKNOWN if UNKNOWN in truths else FALSE

    return run


# --- text ---


def _text_check(test: Callable[[str], bool]) -> Check:
    return lambda value, root: as_truth(test(value)) if type(value) is str else TRUE


def _pattern(judge: Judge, operand: EcmaPattern, schema: Schema) -> Check:
    return _text_check(lambda text: operand.search(text) is not None)


def _min_length(judge: Judge, operand: int, schema: Schema) -> Check:
    return _text_check(lambda text: len(text) >= operand)


def _max_length(judge: Judge, operand: int, schema: Schema) -> Check:
    return _text_check(lambda text: len(text) <= operand)


# --- lists ---


def _list_check(test: Callable[[Any, Any], Truth]) -> Check:
    return lambda value, root: test(value, root) if isinstance(value, (list, tuple)) else TRUE


def _items(judge: Judge, operand: Schema, schema: Schema) -> Check:
    check, start = judge.check(operand), len(schema.operand("prefixItems") or ())
    return _list_check(lambda value, root: all_of(check(item, root) for item in value[start:]))


def _prefix_items(judge: Judge, operand: tuple[Schema, ...], schema: Schema) -> Check:
    checks = tuple(map(judge.check, operand))
    return _list_check(
        lambda value, root: all_of(check(item, root) for check, item in zip(checks, value, strict=False))
    )


def _contains(judge: Judge, operand: Schema, schema: Schema) -> Check:
    check, least, most = judge.check(operand), schema.operand("minContains"), None
    most = schema.operand("maxContains")
    least = 1 if least is None else least

    def run(value: Any, root: Any) -> Truth:
        truths = [check(item, root) for item in value]
        sure, open_ = truths.count(TRUE), truths.count(UNKNOWN)
        if sure + open_ < least or (most is not None and sure > most):
            return FALSE
        return as_truth(True) if sure >= least and _within(sure + open_, most) else UNKNOWN

    return _list_check(run)


def _within(count: int, most: int | None) -> bool:
    return most is None or count <= most


def _min_items(judge: Judge, operand: int, schema: Schema) -> Check:
    return _list_check(lambda value, root: as_truth(len(value) >= operand))


def _max_items(judge: Judge, operand: int, schema: Schema) -> Check:
    return _list_check(lambda value, root: as_truth(len(value) <= operand))


def _unique_items(judge: Judge, operand: bool, schema: Schema) -> Check:
    return _list_check(lambda value, root: distinct(value) if operand else TRUE)


# --- conditions over conditions ---


def _all_of(judge: Judge, operand: tuple[Schema, ...], schema: Schema) -> Check:
    return _all(tuple(map(judge.check, operand)))


def _any_of(judge: Judge, operand: tuple[Schema, ...], schema: Schema) -> Check:
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


def _one_of(judge: Judge, operand: tuple[Schema, ...], schema: Schema) -> Check:
    checks = tuple(map(judge.check, operand))

    def run(value: Any, root: Any) -> Truth:
        truths = [check(value, root) for check in checks]
        sure, open_ = truths.count(TRUE), truths.count(UNKNOWN)
        if sure > 1 or sure + open_ == 0:
            return FALSE
        return UNKNOWN if open_ else TRUE

    return run


def _not(judge: Judge, operand: Schema, schema: Schema) -> Check:
    check = judge.check(operand)
    return lambda value, root: negation(check(value, root))


def _if(judge: Judge, operand: Schema, schema: Schema) -> Check:
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


# minContains, maxContains, then and else are read by the keywords that they belong to.
_KEYWORDS: Mapping[str, Callable[[Judge, Any, Schema], Check]] = {
    "properties": _properties,
    "required": _required,
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
    "items": _items,
    "prefixItems": _prefix_items,
    "contains": _contains,
    "minItems": _min_items,
    "maxItems": _max_items,
    "uniqueItems": _unique_items,
    "allOf": _all_of,
    "anyOf": _any_of,
    "oneOf": _one_of,
    "not": _not,
    "if": _if,
}
