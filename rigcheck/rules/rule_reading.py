"""A rule file to a rule: its shape, its condition, its sources, all faults at once."""

from __future__ import annotations

from collections.abc import Mapping as Map

from msgspec import Struct
from msgspec.structs import replace

from rigcheck.condition.parser import ConditionReader
from rigcheck.rig.vocabulary import Vocabulary
from rigcheck.rules.consequence import Consequence, derived_facts
from rigcheck.rules.documents import Differing, DocumentEntry, Source, UnknownSource, find_source
from rigcheck.rules.file_models import ConsequenceFile, RuleFile
from rigcheck.rules.rule import Rule, named_limits, read_facts
from rigcheck.text.binding import bind, node_at, place_of
from rigcheck.text.faults import Fault, Refused, nearest_word, shown_text, with_article
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import Mapping, read_yaml

__all__ = ["RuleReader"]


class RuleReader(Struct, frozen=True):
    """Reads rule files against a vocabulary, documents, and limits (name to dimension)."""

    vocabulary: Vocabulary
    documents: Map[str, DocumentEntry]
    limits: Map[str, str]

    def read(self, data: bytes, file: str, name: str) -> Rule:
        """Return the rule of a file. Raises `Refused` with all of its faults."""
        root = read_yaml(data, file)
        model = bind(RuleFile, root, file, kept=("concerns", "holds", "proven_by"))
        assert isinstance(root, Mapping)
        kind = self.vocabulary.looked_at.get(model.looks_at)
        if kind is None:
            raise Refused([self._no_kind(model, root, file)])
        reader = ConditionReader(file, self.vocabulary, self.limits, kind)
        concerns = reader.read(model.concerns) if model.concerns is not None else None
        holds = reader.read(model.holds)
        sources = [self._source(("drawn_from", i), root, reader) for i in range(len(model.drawn_from))]
        others = [self._source(("differs", i, "drawn_from"), root, reader) for i in range(len(model.differs))]
        if reader.faults:
            raise Refused(reader.faults)
        rule = Rule(
            name=name,
            claim=model.claim,
            signal=model.signal,
            kind=kind,
            under=tuple(model.under),
            concerns=concerns,
            holds=holds,
            harm=model.harm,
            put_right=model.put_right,
            sources=tuple(source for source in sources if source is not None),
            limits=named_limits(concerns, holds),
            facts=read_facts(concerns, holds),
            cases=model.proven_by,
            place=Place(file, root.line, root.column),
            may_be_conceded=model.may_be_conceded,
            differs=tuple(
                Differing(one.says, source) for one, source in zip(model.differs, others, strict=True) if source
            ),
        )
        return replace(rule, sharper=self._sharper(rule, model, root)) if model.for_ else rule

    def _sharper(self, rule: Rule, model: RuleFile, root: Mapping) -> dict[str, Rule]:
        known = [kind.name for kind in self.vocabulary.children_of(rule.kind.name)]
        strays = [name for name in model.for_ if name not in known]
        if strays:
            write = f"Write a kind that is looked at as {with_article(rule.kind.name)}."
            raise Refused(self._stray(name, root, rule.file, write, known) for name in strays)
        return {
            name: replace(rule, **{key: value for key, value in entry.model_dump().items() if value})
            for name, entry in model.for_.items()
        }

    def _stray(self, name: str, root: Mapping, file: str, write: str, known: list[str]) -> Fault:
        written = root.items["for"]
        place = place_of(written.keys[name] if isinstance(written, Mapping) else written, file)
        return Fault(place, f"{shown_text(name)} is no kind that the rule looks at.", write, nearest_word(name, known))

    def read_consequence(self, data: bytes, file: str, name: str) -> Consequence:
        """Return the consequence of a file. Raises `Refused` with all of its faults."""
        root = read_yaml(data, file)
        model = bind(ConsequenceFile, root, file, kept=("when", "then", "proven_by"))
        assert isinstance(root, Mapping)
        kind = self.vocabulary.looked_at.get(model.looks_at)
        if kind is None:
            raise Refused([self._no_kind(model, root, file)])
        reader = ConditionReader(file, self.vocabulary, self.limits, kind)
        when = reader.read(model.when)
        then, faults = derived_facts(model.then, kind, file)
        sources = [self._source(("drawn_from", i), root, reader) for i in range(len(model.drawn_from))]
        if reader.faults or faults:
            raise Refused([*reader.faults, *faults])
        rule = Rule(
            name=name,
            claim=model.says,
            signal="notice",
            kind=kind,
            under=(),
            concerns=None,
            holds=when,
            harm="",
            put_right="",
            sources=tuple(source for source in sources if source is not None),
            limits=named_limits(when),
            facts=read_facts(when),
            cases=model.proven_by,
            place=Place(file, root.line, root.column),
        )
        return Consequence(rule, tuple(then), model.gives_way)

    def _no_kind(self, model: RuleFile | ConsequenceFile, root: Mapping, file: str) -> Fault:
        node = root.items["looks_at"]
        near = nearest_word(model.looks_at, self.vocabulary.looked_at)
        write = "Write a kind of thing, as 'hose' or 'regulator', or a trait."
        return Fault(Place(file, node.line, node.column), f"{shown_text(model.looks_at)} is no kind.", write, near)

    def _source(self, path: tuple[str | int, ...], root: Mapping, reader: ConditionReader) -> Source | None:
        node = node_at(root, path)
        citation = getattr(node, "text", "")
        try:
            return find_source(citation, self.documents)
        except UnknownSource as error:
            write = "Write 'common practice', or a document of rules/documents.yaml and its clause."
            reader.refuse(node, error.wrong, write, error.near)
            return None
