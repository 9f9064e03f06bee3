"""An oracle for three values, made from an ordinary two-valued validator.

A condition is rewritten into an optimistic schema, in which whatever is missing passes, and a
pessimistic one, in which whatever is missing fails; `not` swaps the two. Then a verdict is true
where the pessimistic schema is valid, false where the optimistic one is not, else unknown.
The validator is the `jsonschema` library; nothing here comes from rigcheck but the three names.
"""

from __future__ import annotations

from itertools import combinations
from typing import Any

from jsonschema import Draft202012Validator

from rigcheck.quantity.truth import FALSE, TRUE, UNKNOWN, Truth

__all__ = ["is_valid", "oracle"]


def is_valid(schema: Any, instance: Any) -> bool:
    """Return what the ordinary validator says."""
    return bool(Draft202012Validator(schema).is_valid(instance))


def oracle(schema: Any, instance: Any) -> Truth:
    """Return the verdict of a schema over an instance in which some facts may be missing."""
    if is_valid(_rewritten(schema, hopeful=False), instance):
        return TRUE
    return UNKNOWN if is_valid(_rewritten(schema, hopeful=True), instance) else FALSE


def _rewritten(schema: Any, *, hopeful: bool) -> Any:
    """Return the schema with the missing taken as passing (`hopeful`) or failing."""
    if isinstance(schema, bool):
        return schema
    parts = [_clause(key, schema, hopeful) for key in schema if key not in _WITH_OTHERS]
    return {"allOf": parts} if parts else True


_WITH_OTHERS = ("then", "else", "minContains", "maxContains")
_EACH = ("allOf", "anyOf", "prefixItems")


def _clause(key: str, schema: Any, hopeful: bool) -> Any:
    operand = schema[key]
    if key == "properties":
        return _properties(operand, hopeful)
    if key == "required":
        return True if hopeful else {"required": operand}
    if key in _EACH:
        return {key: [_rewritten(one, hopeful=hopeful) for one in operand]}
    if key == "not":
        return {"not": _rewritten(operand, hopeful=not hopeful)}
    if key == "items":
        skipped = [True] * len(schema.get("prefixItems", ()))
        rest = {"items": _rewritten(operand, hopeful=hopeful)}
        return {"prefixItems": skipped, **rest} if skipped else rest
    if key == "oneOf":
        return _one_of(operand, hopeful)
    if key == "contains":
        return _contains(schema, hopeful)
    return _chosen(schema, hopeful) if key == "if" else {key: operand}


def _properties(operand: Any, hopeful: bool) -> Any:
    inner = {name: _rewritten(one, hopeful=hopeful) for name, one in operand.items()}
    return {"properties": inner} if hopeful else {"properties": inner, "required": list(inner)}


def _both(operand: Any) -> tuple[list[Any], list[Any]]:
    """Return what is surely true of each schema, and what is surely false."""
    sure = [_rewritten(one, hopeful=False) for one in operand]
    never = [{"not": _rewritten(one, hopeful=True)} for one in operand]
    return sure, never


def _one_of(operand: Any, hopeful: bool) -> Any:
    sure, never = _both(operand)
    if hopeful:
        two = [{"allOf": list(pair)} for pair in combinations(sure, 2)]
        return {"not": {"anyOf": [*two, {"allOf": never}]}}
    ways = [{"allOf": [one, *never[:n], *never[n + 1 :]]} for n, one in enumerate(sure)]
    return {"anyOf": ways}


def _contains(schema: Any, hopeful: bool) -> Any:
    counted = {"contains": _rewritten(schema["contains"], hopeful=hopeful)}
    least = {**counted, "minContains": schema.get("minContains", 1)}
    if "maxContains" not in schema:
        return least
    other = {"contains": _rewritten(schema["contains"], hopeful=not hopeful), "minContains": 0}
    return {"allOf": [least, {**other, "maxContains": schema["maxContains"]}]}


def _chosen(schema: Any, hopeful: bool) -> Any:
    """Either branch counts where it is not known which of them applies, if both agree."""
    (asked,), (denied,) = _both([schema["if"]])
    branches = [schema.get("then", True), schema.get("else", True)]
    sure, never = _both(branches)
    then, other = never if hopeful else sure
    found = {"anyOf": [{"allOf": [asked, then]}, {"allOf": [denied, other]}, {"allOf": [then, other]}]}
    return {"not": found} if hopeful else found
