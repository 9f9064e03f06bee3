"""Which facts of which kinds something reads: a rule, a consequence, a step, or the arithmetic of a figure."""

from __future__ import annotations

import ast
import importlib
import pkgutil
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path

import rigcheck.facts
from rigcheck.condition.named_facts import named_facts
from rigcheck.condition.tree import Clause, FactName, LimitName, Schema, every_clause, inner_schemas
from rigcheck.facts.figure import Figure
from rigcheck.facts.registry import figures_of
from rigcheck.rig.fact import Fact
from rigcheck.rig.vocabulary import Kind, Vocabulary
from rigcheck.rules.pack import Pack
from rigcheck.rules.procedures import procedures_of

Named = tuple[str, str]


def conditions_of(pack: Pack) -> Iterator[tuple[Schema, Kind]]:
    """Yield every condition of a pack with the kind that it is over: of rules, consequences and steps."""
    for rule in (*pack.rules.values(), *(one.rule for one in pack.follows.values())):
        yield from ((schema, rule.kind) for schema in (rule.concerns, rule.holds) if schema is not None)
    root = pack.vocabulary.kinds["rig"]
    for procedure in procedures_of(pack).values():
        if procedure.applies is not None:
            yield procedure.applies, root
        for step in procedure.steps.values():
            if step.concerns is not None:
                yield step.concerns, step.about or root


def read_by_conditions(pack: Pack) -> set[Named]:
    """Return kind and name of each fact that a condition names, or a statement against which is a dispute."""
    found: set[Named] = set()
    for schema, kind in conditions_of(pack):
        found |= named_facts(schema, kind, pack.vocabulary)
    for one in pack.follows.values():
        for fact in one.then:
            found.add((one.rule.kind.name, fact.name))
            found |= set(_along(pack.vocabulary, one.rule.kind, fact.path))
    return found


def read_by_figures(pack: Pack) -> set[Named]:
    """Return kind and name of each fact that a path of a figure leads over."""
    found: set[Named] = set()
    for figure in figures_of(pack.figures.values()).values():
        kind = pack.vocabulary.looked_at[figure.kind]
        for path in _paths(figure):
            found |= set(_along(pack.vocabulary, kind, path.split(".")))
    return found


def _paths(figure: Figure) -> Iterator[str]:
    for way in figure.ways:
        yield from (path for path in (*way.inputs.values(), *way.only) if not path.startswith("limit:"))


def _along(vocabulary: Vocabulary, kind: Kind, path: Iterable[str]) -> Iterator[Named]:
    kinds = [kind]
    for name in path:
        known = [one for base in kinds for one in (base, *vocabulary.children_of(base.name)) if _knows(one, name)]
        yield from ((one.name, name) for one in known)
        led = {entry.kind for one in known if (entry := one.related.get(name) or one.holds.get(name)) is not None}
        kinds = [vocabulary.kinds[one] for one in led]


def _knows(kind: Kind, name: str) -> bool:
    return name in kind.facts or name in kind.related or name in kind.holds


@cache
def named_in_arithmetic() -> frozenset[str]:
    """Return every text in the modules of facts: what a figure gathers along the flow it names there."""
    package = rigcheck.facts
    names = (one.name for one in pkgutil.walk_packages(package.__path__, f"{package.__name__}."))
    found: set[str] = set()
    for name in names:
        source = Path(str(importlib.import_module(name).__file__)).read_text(encoding="utf-8")
        texts = (node.value for node in ast.walk(ast.parse(source)) if isinstance(node, ast.Constant))
        found |= {text for text in texts if isinstance(text, str)}
    return frozenset(found)


def stated_facts(kind: Kind) -> list[Fact]:
    """Return the facts of a kind that can be written, but for what names a thing."""
    return [one for one in kind.facts.values() if not one.computed and one.name not in ("name", "tag")]


def is_read(kind: Kind, fact: str, read: set[Named]) -> bool:
    """Whether a fact, or a time that is counted from it, is read of things of a kind."""
    counted = [one.name for one in kind.facts.values() if one.entry.from_day == fact]
    return any((base, name) in read for base in kind.lineage for name in (fact, *counted))


def conditions_on(pack: Pack, kind: Kind, fact: str) -> Iterator[Schema]:
    """Yield what conditions say of a fact of a kind or of one that it is one of."""
    for schema, root in conditions_of(pack):
        for owner, inner in _inside(schema, root, fact, pack.vocabulary):
            if owner in kind.lineage:
                yield inner


def _inside(schema: Schema, kind: Kind, fact: str, vocabulary: Vocabulary) -> Iterator[tuple[str, Schema]]:
    for clause in schema.clauses:
        if clause.keyword != "properties":
            for inner in inner_schemas(clause):
                yield from _inside(inner, kind, fact, vocabulary)
            continue
        for name, inner in clause.operand.schemas.items():
            if name == fact:
                yield kind.name, inner
                yield from ((one.name, inner) for one in vocabulary.children_of(kind.name) if name not in kind.facts)
            entry = kind.related.get(name) or kind.holds.get(name)
            at = vocabulary.kinds[entry.kind] if entry is not None else kind
            yield from _inside(inner, at, fact, vocabulary)


def compares(schema: Schema) -> bool:
    """Whether a condition holds a value against another fact or a limit."""
    return any(isinstance(one, FactName | LimitName) for clause in every_clause(schema) for one in _operands(clause))


def _operands(clause: Clause) -> tuple[object, ...]:
    return clause.operand if isinstance(clause.operand, tuple) else (clause.operand,)
