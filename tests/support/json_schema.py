"""A condition made from an ordinary JSON Schema, with no vocabulary behind it.

This is how the keywords are tried against the standard's own test suite.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from rigcheck.condition.parser import KEYWORDS
from rigcheck.condition.pattern import ecma_pattern
from rigcheck.condition.tree import Clause, Literal, Properties, Schema

__all__ = ["from_json_schema"]


def from_json_schema(schema: Any) -> Schema:
    """Return the condition of a JSON Schema. Raises ValueError for keywords that are not read."""
    if isinstance(schema, bool):
        return Schema(always=schema)
    strange = sorted(set(schema) - KEYWORDS - {"$schema", "$comment", "description", "title"})
    if strange:
        raise ValueError(f"not read here: {', '.join(strange)}")
    taken = {key: value for key, value in schema.items() if key in KEYWORDS}
    return Schema(tuple(Clause(key, _operand(key, value)) for key, value in taken.items()))


def _operand(key: str, value: Any) -> Any:
    return _OPERANDS.get(key, lambda plain: plain)(value)


def _schemas(value: Any) -> tuple[Schema, ...]:
    return tuple(map(from_json_schema, value))


def _names(value: Any) -> tuple[str, ...]:
    return (value,) if isinstance(value, str) else tuple(value)


_OPERANDS: Mapping[str, Callable[[Any], Any]] = {
    "properties": lambda value: Properties({name: from_json_schema(s) for name, s in value.items()}),
    "required": _names,
    "type": _names,
    "const": Literal,
    "enum": lambda value: tuple(map(Literal, value)),
    "pattern": ecma_pattern,
    **dict.fromkeys(("minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum"), Literal),
    **dict.fromkeys(("allOf", "anyOf", "oneOf", "prefixItems"), _schemas),
    **dict.fromkeys(("not", "if", "then", "else", "items", "contains"), from_json_schema),
    **dict.fromkeys(("minItems", "maxItems", "minContains", "maxContains"), int),
    **dict.fromkeys(("minLength", "maxLength"), int),
}
