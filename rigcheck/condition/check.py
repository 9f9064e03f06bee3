"""What a compiled condition is, and what the keywords are built from.

A check is called with a value and the thing that the rule looks at (for `{fact: …}`).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Protocol

from rigcheck.condition.tree import Operand, Schema
from rigcheck.quantity.truth import FALSE, TRUE, UNKNOWN, Truth
from rigcheck.rig.thing import MISSING, Thing

__all__ = ["Build", "Check", "Compiler", "always", "every_check", "fact_at", "facts_of"]

Check = Callable[[Any, Any], Truth]


class Compiler(Protocol):
    """What a keyword asks of the judge that compiles it."""

    def check(self, schema: Schema) -> Check:
        """Return the compiled check of a schema."""
        ...

    def resolved(self, operand: Operand) -> Callable[[Any], Any]:
        """Return a function from the looked-at thing to the operand's value."""
        ...

    def constant(self, operand: Operand) -> Any:
        """Return the operand's value, or MISSING where it depends on the thing."""
        ...


Build = Callable[[Compiler, Any, Schema], Check]
"""What makes the check of one keyword out of its operand and the schema that it stands in."""


def fact_at(thing: Any, path: tuple[str, ...]) -> Any:
    """Return the fact at the end of a path, or MISSING."""
    for step in path:
        facts = facts_of(thing)
        thing = MISSING if facts is None else facts.get(step, MISSING)
    return thing


def facts_of(value: Any) -> Mapping[str, Any] | None:
    """Return the facts of a thing, or the entries of a mapping; None for any other value."""
    if type(value) is Thing:
        return value.facts
    return value if isinstance(value, dict) else None


def always(truth: Truth) -> Check:
    """Return a check that comes out the same whatever it is called with."""
    return lambda value, root: truth


def every_check(checks: tuple[Check, ...]) -> Check:
    """Return a check that holds where all of these do."""

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
