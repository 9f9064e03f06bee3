"""One rule: the shape of its file, and the rule as it is judged."""

from __future__ import annotations

from collections.abc import Mapping as Map
from dataclasses import dataclass
from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from rigcheck.binding import bind, node_at
from rigcheck.condition.reading import ConditionReader
from rigcheck.condition.tree import LimitName, Schema, every_clause
from rigcheck.faults import Fault, Refused, nearest_word
from rigcheck.place import Place
from rigcheck.rig.vocabulary import Kind, Vocabulary
from rigcheck.rules.documents import DocumentEntry, Source, UnknownSource, find_source
from rigcheck.rules.limits import LocalCode
from rigcheck.yamlfile import Mapping, Node, read_yaml

__all__ = ["GRAVITY", "SIGNALS", "Rule", "RuleFile", "RuleReader", "Signal"]

Signal = Literal["danger", "warning", "caution", "notice"]
SIGNALS: tuple[Signal, ...] = ("danger", "warning", "caution", "notice")
"""Signal words, gravest first, as ANSI Z535.4 and ISO 3864-2 define them."""
GRAVITY = {signal: len(SIGNALS) - number for number, signal in enumerate(SIGNALS)}


class RuleFile(BaseModel):
    """The shape of a rule file; keys in reading order."""

    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=True)

    claim: str = Field(min_length=10, description="What is right, in one sentence.")
    signal: Signal = Field(description="How grave a breach is, as ANSI Z535.4 has it.")
    looks_at: str = Field(description="The kind of thing that the rule is about.")
    under: list[LocalCode] = Field([], description="Only under these local codes.")
    concerns: Any = Field(None, description="Which of these things the rule is about.")
    holds: Any = Field(description="The condition: facts and JSON Schema keywords.")
    harm: str = Field(min_length=10, description="What happens if it is not so.")
    put_right: str = Field(min_length=10, description="What to do.")
    drawn_from: list[str] = Field(min_length=1, description="Documents with clause.")
    proven_by: Any = Field(description="Cases: facts and the verdict that they must give.")


@dataclass(frozen=True, slots=True, eq=False)
class Rule:
    """A rule that was read and checked; `cases` are read only when they are proven."""

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
    cases: Node | None  # None where the pack was prepared: then the rule's file has them
    place: Place

    @property
    def limits(self) -> tuple[str, ...]:
        """The limits that the rule names, in order."""
        schemas = (self.concerns, self.holds) if self.concerns else (self.holds,)
        clauses = (clause for schema in schemas for clause in every_clause(schema))
        names = (c.operand.name for c in clauses if isinstance(c.operand, LimitName))
        return tuple(dict.fromkeys(names))


@dataclass(frozen=True, slots=True)
class RuleReader:
    """Reads rule files against a vocabulary, documents, and limits (name to dimension)."""

    vocabulary: Vocabulary
    documents: Map[str, DocumentEntry]
    limits: Map[str, str]

    def read(self, data: bytes, file: str, name: str) -> Rule:
        """Return the rule of a file. Raises `Refused` with all of its faults."""
        root = read_yaml(data, file)
        model = bind(RuleFile, root, file, kept=("concerns", "holds", "proven_by"))
        assert isinstance(root, Mapping)
        kind = self.vocabulary.kinds.get(model.looks_at)
        if kind is None:
            raise Refused([self._no_kind(model, root, file)])
        reader = ConditionReader(file, self.vocabulary, self.limits, kind)
        concerns = reader.read(model.concerns) if model.concerns is not None else None
        holds = reader.read(model.holds)
        sources = [self._source(i, root, file, reader) for i in range(len(model.drawn_from))]
        if reader.faults:
            raise Refused(reader.faults)
        return Rule(
            name=name,
            file=file,
            claim=model.claim,
            signal=model.signal,
            kind=kind,
            under=tuple(model.under),
            concerns=concerns,
            holds=holds,
            harm=model.harm,
            put_right=model.put_right,
            sources=tuple(source for source in sources if source is not None),
            cases=model.proven_by,
            place=Place(file, root.line, root.column),
        )

    def _no_kind(self, model: RuleFile, root: Mapping, file: str) -> Fault:
        node = root.items["looks_at"]
        near = nearest_word(model.looks_at, self.vocabulary.kinds)
        write = "Write a kind of thing, as 'hose' or 'regulator'."
        return Fault(Place(file, node.line, node.column), f"{model.looks_at!r} is no kind.", write, near)

    def _source(self, number: int, root: Mapping, file: str, reader: ConditionReader) -> Source | None:
        node = node_at(root, ("drawn_from", number))
        citation = getattr(node, "text", "")
        try:
            return find_source(citation, self.documents)
        except UnknownSource as error:
            write = "Write 'common practice', or a document of rules/documents.yaml and its clause."
            reader.refuse(node, error.wrong, write, error.near)
            return None
