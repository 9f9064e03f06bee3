"""Which rules of a pack speak of a fact of a kind of thing, or of a part of a kind."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct, field

from rigcheck.condition.named_facts import Named, named_facts, named_words
from rigcheck.condition.tree import Schema
from rigcheck.rig.vocabulary import Kind
from rigcheck.rules.pack import Pack
from rigcheck.rules.rule import Rule

__all__ = ["Touching", "touching"]


class Touching(Struct, frozen=True):
    """The rules of a pack by the facts and by the kinds of parts that their conditions name."""

    by_fact: dict[str, list[tuple[str, Rule]]] = field(default_factory=dict)
    by_kind: dict[str, list[Rule]] = field(default_factory=dict)

    def of_fact(self, kind: Kind, fact: str) -> Iterable[Rule]:
        """Return the rules that name a fact of a kind, or of a kind that it is one of."""
        return (rule for name, rule in self.by_fact.get(fact, ()) if name in kind.lineage)

    def of_part(self, kind: Kind) -> Iterable[Rule]:
        """Return the rules that ask whether a part of a kind is there."""
        return self.by_kind.get(kind.name, ())


def touching(pack: Pack, local_codes: Iterable[str]) -> Touching:
    """Return the rules that apply under one of the local codes, by what they name."""
    found, codes = Touching(), frozenset(local_codes)
    for rule in pack.rules.values():
        if not rule.under or codes & frozenset(rule.under):
            _enter(found, rule, pack)
    return found


def _enter(found: Touching, rule: Rule, pack: Pack) -> None:
    conditions = [schema for schema in (rule.concerns, rule.holds) if schema is not None]
    named: dict[Named, None] = {}
    for schema in conditions:
        named |= dict.fromkeys(named_facts(schema, rule.kind, pack.vocabulary))
    for kind, fact in named:
        found.by_fact.setdefault(fact, []).append((kind, rule))
    for kind in dict.fromkeys(_kinds_in(conditions, rule.kind, pack)):
        found.by_kind.setdefault(kind, []).append(rule)


def _kinds_in(conditions: list[Schema], looked_at: Kind, pack: Pack) -> Iterable[str]:
    """Yield the kinds of parts that conditions name as words: of the fact `kind`, or of a list of kinds."""
    spelled = {spelling: kind.name for kind in pack.vocabulary.kinds.values() for spelling in _spellings(kind)}
    for schema in conditions:
        for fact, word in named_words(schema):
            known = looked_at.facts.get(fact)
            counted = fact == "kind" or (known is not None and known.computed and known.measure == "several_words")
            if counted and word in spelled:
                yield spelled[word]


def _spellings(kind: Kind) -> tuple[str, str]:
    return kind.name, kind.name.replace(" ", "-")
