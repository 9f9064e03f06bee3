"""One rule as it is judged."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from rigcheck.condition.tree import LimitName, Schema, every_clause
from rigcheck.place import Place
from rigcheck.rig.vocabulary import Kind
from rigcheck.rules.documents import Source
from rigcheck.yamlfile import Node

__all__ = ["GRAVITY", "SIGNALS", "Rule", "Signal", "named_limits"]

Signal = Literal["danger", "warning", "caution", "notice"]
SIGNALS: tuple[Signal, ...] = ("danger", "warning", "caution", "notice")
"""Signal words, gravest first, as ANSI Z535.4 and ISO 3864-2 define them."""
GRAVITY = {signal: len(SIGNALS) - number for number, signal in enumerate(SIGNALS)}


@dataclass(frozen=True, slots=True, eq=False)
class Rule:
    """A rule that was read and checked.

    `limits` are the names of those that its conditions speak of; `cases` are read only when they are proven.
    """

    name: str
    file: str
    claim: str
    signal: Signal
    kind: Kind
    under: tuple[str, ...]
    concerns: Schema | None
    holds: Schema
    harm: str
    put_right: str
    sources: tuple[Source, ...]
    limits: tuple[str, ...]
    cases: Node | None  # None where the pack was prepared: then the rule's file has them
    place: Place


def named_limits(*conditions: Schema | None) -> tuple[str, ...]:
    """Return the limits that conditions name, in order, each once."""
    clauses = (clause for schema in conditions if schema is not None for clause in every_clause(schema))
    names = (clause.operand.name for clause in clauses if isinstance(clause.operand, LimitName))
    return tuple(dict.fromkeys(names))
