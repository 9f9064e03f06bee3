"""Conditions compiled to closures that return true, false or unknown.

One small function a keyword, and a table from keyword to function.
What is not there is unknown, never true: only parts, which are listed, are a closed world.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from rigcheck.condition.check import Build, Check, always, every_check, fact_at
from rigcheck.condition.fact_keywords import FACT_KEYWORDS
from rigcheck.condition.joining_keywords import JOINING_KEYWORDS
from rigcheck.condition.list_keywords import LIST_KEYWORDS
from rigcheck.condition.tree import Clause, FactName, LimitName, Operand, Schema
from rigcheck.condition.value_keywords import VALUE_KEYWORDS
from rigcheck.quantity.alternatives import OneOf
from rigcheck.quantity.interval import Interval
from rigcheck.quantity.truth import TRUE, as_truth
from rigcheck.rig.thing import MISSING

__all__ = ["Judge"]

_KEYWORDS: Mapping[str, Build] = {**FACT_KEYWORDS, **VALUE_KEYWORDS, **LIST_KEYWORDS, **JOINING_KEYWORDS}


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
            return lambda root: _single(fact_at(root, path))
        value = self.limits[operand.name] if isinstance(operand, LimitName) else operand.value
        return lambda root: value

    def constant(self, operand: Operand) -> Any:
        """Return the operand's value, or MISSING where it depends on the thing."""
        return MISSING if isinstance(operand, FactName) else self.resolved(operand)(None)

    def _compiled(self, schema: Schema) -> Check:
        if schema.always is not None:
            return always(as_truth(schema.always))
        checks = tuple(self.check_of(schema, c) for c in schema.clauses if c.keyword in _KEYWORDS)
        if len(checks) == 1:
            return checks[0]
        return every_check(checks) if checks else always(TRUE)


def _single(value: Any) -> Any:
    """Return a value that others are held against; one that statements disagree on is not known."""
    return MISSING if type(value) is OneOf else value
