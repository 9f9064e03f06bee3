"""A condition as a tree: schemas of clauses, a clause being one keyword and its operand."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from msgspec import Struct

from rigcheck.text.place import Place

__all__ = [
    "NUMBER_KEYWORDS",
    "Clause",
    "FactName",
    "LimitName",
    "Literal",
    "Operand",
    "Schema",
    "every_clause",
    "inner_schemas",
]

NUMBER_KEYWORDS = ("minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum")


class Literal(Struct, frozen=True):
    """A value that stands in the condition itself."""

    value: Any


class LimitName(Struct, frozen=True):
    """A limit by its name; its value depends on the local code and the day."""

    name: str


class FactName(Struct, frozen=True):
    """A fact of the thing that the rule looks at, by the way that leads to it."""

    path: tuple[str, ...]


class Clause(Struct, frozen=True, eq=False):
    """One keyword with its operand; `place` is where the keyword stands in the rule file."""

    keyword: str
    operand: Any
    place: Place | None = None


class Schema(Struct, frozen=True, eq=False):
    """Clauses that all apply to one value; `always` stands for the schemas `true` and `false`."""

    clauses: tuple[Clause, ...] = ()
    always: bool | None = None

    def operand(self, keyword: str) -> Any:
        """Return the operand of a keyword, or None."""
        return next((c.operand for c in self.clauses if c.keyword == keyword), None)


Operand = Literal | LimitName | FactName


def inner_schemas(clause: Clause) -> tuple[Schema, ...]:
    """Return the schemas inside a clause, in order."""
    operand = clause.operand
    if isinstance(operand, Schema):
        return (operand,)
    if isinstance(operand, Mapping):
        return tuple(operand.values())
    if isinstance(operand, tuple) and operand and isinstance(operand[0], Schema):
        return operand
    return ()


def every_clause(schema: Schema) -> Iterator[Clause]:
    """Yield every clause of a condition, outer ones first."""
    for clause in schema.clauses:
        yield clause
        for inner in inner_schemas(clause):
            yield from every_clause(inner)
