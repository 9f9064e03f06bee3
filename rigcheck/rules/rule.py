"""One rule as it is judged."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from msgspec import Struct, field

from rigcheck.condition.tree import FactName, LimitName, Schema, every_clause
from rigcheck.rig.vocabulary import Kind
from rigcheck.rules.documents import Differing, Source
from rigcheck.rules.gravity import GRAVITY, SIGNALS, Signal
from rigcheck.text.place import Place

__all__ = ["GRAVITY", "SIGNALS", "Rule", "Signal", "named_limits", "read_facts"]


class Rule(Struct, frozen=True, eq=False, omit_defaults=True):
    """A rule that was read and checked.

    `limits` and `facts` are the names that its conditions speak of, facts of whatever thing;
    `differs` are texts that say otherwise;
    `cases` are read only when they are proven;
    `sharper`: the rule as it is of some kinds that it looks at, with a signal word, harm or cure of their own.
    """

    name: str
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
    facts: tuple[str, ...]
    place: Place
    cases: Any = None  # a node; None where the pack was prepared: then the rule's file has them
    may_be_conceded: bool | None = None
    differs: tuple[Differing, ...] = ()
    sharper: Mapping[str, Rule] = field(default_factory=dict)

    @property
    def file(self) -> str:
        """The file that it stands in."""
        return self.place.file

    def at(self, kind: Kind) -> Rule:
        """Return the rule as it is of things of a kind."""
        return next((self.sharper[name] for name in kind.lineage if name in self.sharper), self)

    @property
    def concedable(self) -> bool:
        """Whether it may be conceded: as its file says, and a DANGER not where it says nothing."""
        return self.signal != "danger" if self.may_be_conceded is None else self.may_be_conceded


def named_limits(*conditions: Schema | None) -> tuple[str, ...]:
    """Return the limits that conditions name, in order, each once."""
    clauses = (clause for schema in conditions if schema is not None for clause in every_clause(schema))
    names = (clause.operand.name for clause in clauses if isinstance(clause.operand, LimitName))
    return tuple(dict.fromkeys(names))


def read_facts(*conditions: Schema | None) -> tuple[str, ...]:
    """Return the names of all facts that conditions read, of whatever thing, each once."""
    return tuple(dict.fromkeys(name for schema in conditions if schema is not None for name in _names(schema)))


def _names(schema: Schema) -> Iterator[str]:
    for clause in every_clause(schema):
        operands = clause.operand if isinstance(clause.operand, tuple) else (clause.operand,)
        yield from (step for one in operands if isinstance(one, FactName) for step in one.path)
        if clause.keyword == "properties":
            yield from clause.operand.schemas
        if clause.keyword == "required":
            yield from clause.operand
