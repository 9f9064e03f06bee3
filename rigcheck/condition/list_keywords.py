"""The keywords that look at a list; `contains` reads `minContains` and `maxContains` beside it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from rigcheck.condition.check import Build, Check, Compiler
from rigcheck.condition.equality import distinct
from rigcheck.condition.tree import Schema
from rigcheck.quantity.truth import FALSE, TRUE, UNKNOWN, Truth, all_of, as_truth

__all__ = ["LIST_KEYWORDS"]


def _list_check(test: Callable[[Any, Any], Truth]) -> Check:
    return lambda value, root: test(value, root) if isinstance(value, (list, tuple)) else TRUE


def _items(judge: Compiler, operand: Schema, schema: Schema) -> Check:
    check, start = judge.check(operand), len(schema.operand("prefixItems") or ())
    return _list_check(lambda value, root: all_of(check(item, root) for item in value[start:]))


def _prefix_items(judge: Compiler, operand: tuple[Schema, ...], schema: Schema) -> Check:
    checks = tuple(map(judge.check, operand))
    return _list_check(
        lambda value, root: all_of(check(item, root) for check, item in zip(checks, value, strict=False))
    )


def _contains(judge: Compiler, operand: Schema, schema: Schema) -> Check:
    check, least, most = judge.check(operand), schema.operand("minContains"), schema.operand("maxContains")
    least = 1 if least is None else least

    def run(value: Any, root: Any) -> Truth:
        if not isinstance(value, (list, tuple)):
            return TRUE
        truths = [check(item, root) for item in value]
        sure, open_ = truths.count(TRUE), truths.count(UNKNOWN)
        if sure + open_ < least or (most is not None and sure > most):
            return FALSE
        return TRUE if sure >= least and (most is None or sure + open_ <= most) else UNKNOWN

    return run


def _min_items(judge: Compiler, operand: int, schema: Schema) -> Check:
    return _list_check(lambda value, root: as_truth(len(value) >= operand))


def _max_items(judge: Compiler, operand: int, schema: Schema) -> Check:
    return _list_check(lambda value, root: as_truth(len(value) <= operand))


def _unique_items(judge: Compiler, operand: bool, schema: Schema) -> Check:
    return _list_check(lambda value, root: distinct(value) if operand else TRUE)


LIST_KEYWORDS: Mapping[str, Build] = {
    "items": _items,
    "prefixItems": _prefix_items,
    "contains": _contains,
    "minItems": _min_items,
    "maxItems": _max_items,
    "uniqueItems": _unique_items,
}
