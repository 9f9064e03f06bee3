"""What a condition speaks of: facts by the kind that they belong to, and kinds of parts by name."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rigcheck.condition.tree import Clause, FactName, Literal, Schema, inner_schemas
from rigcheck.rig.vocabulary import Kind, Vocabulary

__all__ = ["Named", "named_facts", "named_words"]

Named = tuple[str, str]
"""The name of a kind, and of a fact of it."""


def named_facts(condition: Schema, kind: Kind, vocabulary: Vocabulary) -> frozenset[Named]:
    """Return every fact that a condition over a thing of a kind names, also by a way over other things."""
    return frozenset(_Walk(kind, vocabulary).schema(condition, kind))


class _Walk:
    def __init__(self, root: Kind, vocabulary: Vocabulary) -> None:
        self.root, self.vocabulary = root, vocabulary

    def schema(self, schema: Schema, kind: Kind) -> Iterator[Named]:
        """Yield the facts that a condition over a thing of a kind names."""
        for clause in schema.clauses:
            if clause.keyword == "properties":
                for name, inner in clause.operand.schemas.items():
                    yield from self._step(name, kind)
                    for at in self._kinds_at(name, kind):
                        yield from self.schema(inner, at)
            else:
                for inner in inner_schemas(clause):
                    yield from self.schema(inner, kind)
            for operand in _operands(clause):
                if isinstance(operand, FactName):
                    yield from self._path(operand.path)

    def _path(self, path: Iterable[str]) -> Iterator[Named]:
        kinds = [self.root]
        for name in path:
            for kind in kinds:
                yield from self._step(name, kind)
            kinds = [at for kind in kinds for at in self._kinds_at(name, kind)]

    def _step(self, name: str, kind: Kind) -> Iterator[Named]:
        yield kind.name, name
        yield from ((child.name, name) for child in self._children(name, kind))

    def _kinds_at(self, name: str, kind: Kind) -> list[Kind]:
        """Return the kind of thing that a name leads to; the kind itself for a fact."""
        for known in (kind, *self._children(name, kind)):
            entry = known.related.get(name) or known.holds.get(name)
            if entry is not None:
                return [self.vocabulary.kinds[entry.kind]]
        return [kind]

    def _children(self, name: str, kind: Kind) -> list[Kind]:
        """Return the sorts of a kind that know a name that the kind itself does not."""
        if name in kind.facts or name in kind.related or name in kind.holds:
            return []
        return [child for child in self.vocabulary.children_of(kind.name) if name in child.facts]


def named_words(schema: Schema, fact: str = "") -> Iterator[tuple[str, str]]:
    """Yield the facts and the words that a condition wants of them, as ('kind', 'arrester')."""
    for clause in schema.clauses:
        if clause.keyword == "properties":
            for name, inner in clause.operand.schemas.items():
                yield from named_words(inner, name)
            continue
        for operand in _operands(clause):
            if isinstance(operand, Literal) and isinstance(operand.value, str):
                yield fact, operand.value
        for inner in inner_schemas(clause):
            yield from named_words(inner, fact)


def _operands(clause: Clause) -> tuple[object, ...]:
    return clause.operand if isinstance(clause.operand, tuple) else (clause.operand,)
