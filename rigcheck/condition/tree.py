"""A condition as a tree: schemas of clauses, a clause being one keyword and its operand.

In a prepared pack the tags tell the sorts of operand apart.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

from msgspec import Struct

from rigcheck.condition.pattern import EcmaPattern
from rigcheck.quantity.interval import Interval

__all__ = [
    "NUMBER_KEYWORDS",
    "Clause",
    "FactName",
    "LimitName",
    "Literal",
    "Operand",
    "Properties",
    "Schema",
    "every_clause",
    "inner_schemas",
]

NUMBER_KEYWORDS = ("minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum")


class Literal(Struct, frozen=True, tag="value", omit_defaults=True):
    """A value that stands in the condition itself."""

    value: Interval | str | bool | None


class LimitName(Struct, frozen=True, tag="limit"):
    """A limit by its name; its value depends on the local code and the day."""

    name: str


class FactName(Struct, frozen=True, tag="fact"):
    """A fact of the thing that the rule looks at, by the way that leads to it."""

    path: tuple[str, ...]


Operand = Literal | LimitName | FactName


class Clause(Struct, frozen=True, eq=False, array_like=True, omit_defaults=True):
    """One keyword with its operand; `at` are line and column of the keyword in the rule file."""

    keyword: str
    operand: AnyOperand
    at: tuple[int, int] | None = None


class Schema(Struct, frozen=True, eq=False, tag="schema", omit_defaults=True):
    """Clauses that all apply to one value; `always` stands for the schemas `true` and `false`."""

    clauses: tuple[Clause, ...] = ()
    always: bool | None = None

    def operand(self, keyword: str) -> Any:
        """Return the operand of a keyword, or None."""
        return next((c.operand for c in self.clauses if c.keyword == keyword), None)


class Properties(Struct, frozen=True, eq=False, tag="properties"):
    """A schema for each of some facts."""

    schemas: Mapping[str, Schema]


if TYPE_CHECKING:
    AnyOperand = Any  # the keyword says which one it is
else:
    AnyOperand = Operand | Schema | Properties | EcmaPattern | tuple[Operand | Schema | str, ...] | bool | int


def inner_schemas(clause: Clause) -> tuple[Schema, ...]:
    """Return the schemas inside a clause, in order."""
    operand = clause.operand
    if isinstance(operand, Schema):
        return (operand,)
    if isinstance(operand, Properties):
        return tuple(operand.schemas.values())
    if isinstance(operand, tuple) and operand and isinstance(operand[0], Schema):
        return operand
    return ()


def every_clause(schema: Schema) -> Iterator[Clause]:
    """Yield every clause of a condition, outer ones first."""
    for clause in schema.clauses:
        yield clause
        for inner in inner_schemas(clause):
            yield from every_clause(inner)
