"""A pack in one JSON text, so that an installed rigcheck starts without reading 500 YAML files.

The wheel carries it beside the files that it was made from. Its first line has the digest of those files and that
of the rest: where one of the two differs, something was changed since, and the files are read instead. It is plain
data (no pickle).
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterable, Mapping
from dataclasses import asdict
from typing import Any, Protocol

from msgspec import to_builtins
from msgspec.structs import astuple, replace

from rigcheck.condition.pattern import EcmaPattern, ecma_pattern
from rigcheck.condition.tree import Clause, FactName, LimitName, Literal, Schema
from rigcheck.quantity.interval import Interval
from rigcheck.rig.vocabulary import Kind, Vocabulary, build_vocabulary
from rigcheck.rig.vocabulary_file import (
    FactEntry,
    HeldEntry,
    KindFile,
    RelatedEntry,
    TraitFile,
    VocabularyFile,
    WordList,
    WordsFile,
)
from rigcheck.rules.consequence import Consequence, Derived
from rigcheck.rules.documents import ClauseEntry, Differing, DocumentEntry, Source, source_of_row
from rigcheck.rules.limits import DatedLimit, LimitDefinition
from rigcheck.rules.rule import Rule, Signal
from rigcheck.rules.tables import rows_of
from rigcheck.rules.written_figure import WrittenFigure, WrittenWay
from rigcheck.text.place import Place

__all__ = [
    "PREPARED_NAME",
    "Damaged",
    "Prepared",
    "content_digest",
    "from_json",
    "laid_by",
    "prepared_content",
    "to_json",
]

PREPARED_NAME = "pack.json"
_FORM = "rigcheck prepared pack 8"

Prepared = tuple[
    Vocabulary,
    Mapping[str, DocumentEntry],
    Mapping[str, LimitDefinition],
    tuple[DatedLimit, ...],
    Mapping[str, Rule],
    Mapping[str, tuple[Any, ...]],
    Mapping[str, Consequence],
    Mapping[str, WrittenFigure],
]


class Content(Protocol):
    """What of a pack is prepared."""

    @property
    def documents(self) -> Mapping[str, DocumentEntry]: ...
    @property
    def definitions(self) -> Mapping[str, LimitDefinition]: ...
    @property
    def limits(self) -> tuple[DatedLimit, ...]: ...
    @property
    def rules(self) -> Mapping[str, Rule]: ...
    @property
    def follows(self) -> Mapping[str, Consequence]: ...
    @property
    def figures(self) -> Mapping[str, WrittenFigure]: ...


class Damaged(Exception):
    """A prepared pack is not what was laid there."""


def laid_by(content: str, files: str) -> str:
    """Return the text of a prepared pack; `files` is the digest of the files that its content was made from."""
    head = {"form": _FORM, "files": files, "content": hashlib.sha256(content.encode()).hexdigest()}
    return f"{json.dumps(head)}\n{content}"


def prepared_content(text: bytes, files: str) -> bytes | None:
    """Return the content of a prepared pack, or None where it was made from other files than `files` names.

    Raises `Damaged` where it is not whole, or is not the content that was laid there.
    """
    first, _, content = text.partition(b"\n")
    try:
        head = json.loads(first)
        form, made_from, digest = head["form"], head["files"], head["content"]
    except (ValueError, KeyError, TypeError, RecursionError):
        raise Damaged from None
    if form != _FORM or made_from != files:
        return None
    if hashlib.sha256(content).hexdigest() != digest:
        raise Damaged
    return content


def content_digest(content: bytes, files: Iterable[tuple[str, bytes]]) -> str:
    """Return the digest of what judges: the content of a pack as JSON, and the bytes of its procedures and looks."""
    total = hashlib.sha256(content)
    for _, data in files:
        total.update(b"\0%d\0" % len(data))
        total.update(data)
    return total.hexdigest()


def to_json(
    pack: Content,
    vocabulary: Iterable[VocabularyFile],
    tables: Mapping[str, Iterable[Mapping[str, Any]]],
    folder: str,
) -> str:
    """Return a pack as JSON, with the files of its vocabulary; `folder` is cut off the paths of its rules."""
    sources = _Sources()
    content = {
        "vocabulary": [_vocabulary_out(file) for file in vocabulary],
        "documents": {name: _document_out(one) for name, one in pack.documents.items()},
        "definitions": [astuple(one) for one in pack.definitions.values()],
        "tables": {name: list(found) for name, found in tables.items()},
        "limits": [_limit_out(one, sources) for one in pack.limits],
        "rules": [_rule_out(one, sources, folder) for one in pack.rules.values()],
        "follows": [
            [_rule_out(one.rule, sources, folder), [_derived_out(fact) for fact in one.then], one.gives_way]
            for one in pack.follows.values()
        ],
        "figures": {name: _figure_out(one, folder) for name, one in pack.figures.items()},
    }
    content["sources"] = [astuple(one) for one in sources.kept]
    return json.dumps(content, ensure_ascii=False, separators=(",", ":"))


def from_json(text: bytes, folder: str) -> Prepared:
    """Return a pack from JSON. Raises `Damaged` where it has not the shape that `to_json` gives it."""
    try:
        return _from_content(json.loads(text), folder)
    except (ValueError, LookupError, TypeError, AttributeError, RecursionError):
        raise Damaged from None


def _from_content(content: dict[str, Any], folder: str) -> Prepared:
    vocabulary = build_vocabulary((folder, _vocabulary_in(file)) for file in content["vocabulary"])
    sources = [source_of_row(one) for one in content["sources"]]
    return (
        vocabulary,
        {name: _document_in(one) for name, one in content["documents"].items()},
        {one[0]: LimitDefinition(*one) for one in content["definitions"]},
        tuple(_limit_in(one, sources) for one in content["limits"]),
        {one[0]: _rule_in(one, sources, vocabulary.looked_at, folder) for one in content["rules"]},
        {name: rows_of(name, found) for name, found in content["tables"].items()},
        {
            rule[0]: Consequence(
                _rule_in(rule, sources, vocabulary.looked_at, folder), tuple(map(_derived_in, then)), gives_way
            )
            for rule, then, gives_way in content["follows"]
        },
        {name: _figure_in(one, folder) for name, one in content["figures"].items()},
    )


class _Sources:
    """Sources by number: most rules share a few."""

    def __init__(self) -> None:
        self.kept: list[Source] = []
        self._numbers: dict[Source, int] = {}

    def numbers(self, sources: tuple[Source, ...]) -> list[int]:
        for source in sources:
            if source not in self._numbers:
                self._numbers[source] = len(self.kept)
                self.kept.append(source)
        return [self._numbers[source] for source in sources]

    def differing(self, differs: tuple[Differing, ...]) -> list[Any]:
        """Return texts that say otherwise: what they say, and the number of the source."""
        return [[one.says, *self.numbers((one.source,))] for one in differs]


def _differing_in(content: list[Any], sources: list[Source]) -> tuple[Differing, ...]:
    return tuple(Differing(says, sources[number]) for says, number in content)


# --- documents ---


def _document_out(one: DocumentEntry) -> list[Any]:
    clauses = {name: [clause.standing, clause.says] for name, clause in one.clauses.items()}
    return [one.title, one.local_codes, one.country, clauses]


def _document_in(content: list[Any]) -> DocumentEntry:
    title, codes, country, clauses = content
    read = {name: ClauseEntry(*clause) for name, clause in clauses.items()}
    return DocumentEntry(title=title, local_codes=tuple(codes), country=country, clauses=read)


# --- vocabulary ---


_ENTRIES: Mapping[str, type[FactEntry] | type[HeldEntry] | type[RelatedEntry]] = {
    "facts": FactEntry,
    "holds_things": HeldEntry,
    "related": RelatedEntry,
}


def _vocabulary_out(file: VocabularyFile) -> dict[str, Any]:
    """Return a vocabulary file without what is as it is by default."""
    plain = {key: value for key, value in asdict(file).items() if value}
    for key in _ENTRIES:
        if key in plain:
            plain[key] = {name: _stated(entry) for name, entry in plain[key].items()}
    return plain


def _stated(entry: Mapping[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in entry.items() if value or (key in ("words", "several_words") and value == {})}


def _vocabulary_in(file: dict[str, Any]) -> VocabularyFile:
    """Return a vocabulary file that was checked when the pack was prepared."""
    if "words" in file:
        return WordsFile(words={name: WordList(**one) for name, one in file["words"].items()})
    for key, entry in _ENTRIES.items():
        if key in file:
            file[key] = {name: entry(**one) for name, one in file[key].items()}
    return TraitFile(**file) if "trait" in file else KindFile(**file)


# --- limits ---


def _limit_out(limit: DatedLimit, sources: _Sources) -> list[Any]:
    value = None if limit.value is None else _interval_out(limit.value)
    numbers = sources.numbers(limit.sources)
    more = [limit.because, limit.since_from_memory, sources.differing(limit.differs)]
    return [limit.name, limit.local_code, limit.since, value, numbers, *more]


def _limit_in(one: list[Any], sources: list[Source]) -> DatedLimit:
    name, code, since, value, numbers, because, remembered, differs = one
    interval = None if value is None else Interval(*value)
    others = _differing_in(differs, sources)
    return DatedLimit(name, code, since, interval, tuple(sources[n] for n in numbers), because, remembered, others)


def _interval_out(value: Interval) -> list[Any]:
    return [value.lo, value.hi, value.dimension, value.text, value.unit, value.grain]


# --- figures ---


def _figure_out(figure: WrittenFigure, folder: str) -> dict[str, Any]:
    plain: dict[str, Any] = to_builtins(figure)
    return plain | {"file": figure.file.removeprefix(f"{folder}/")}


def _figure_in(one: dict[str, Any], folder: str) -> WrittenFigure:
    ways = tuple(_way_in(way) for way in one["ways"])
    return WrittenFigure(**(one | {"file": f"{folder}/{one['file']}", "ways": ways}))


def _way_in(way: dict[str, Any]) -> WrittenWay:
    constants = {letter: (text, tuple(span)) for letter, (text, span) in way["constants"].items()}
    valid = {letter: tuple(span) for letter, span in way["valid"].items()}
    only = {path: tuple(words) for path, words in way["only"].items()}
    return WrittenWay(**(way | {"constants": constants, "valid": valid, "only": only}))


# --- rules ---


def _rule_out(rule: Rule, sources: _Sources, folder: str) -> list[Any]:
    return [
        rule.name,
        rule.file.removeprefix(f"{folder}/"),
        rule.claim,
        rule.signal,
        rule.kind.name,
        list(rule.under),
        None if rule.concerns is None else _schema_out(rule.concerns),
        _schema_out(rule.holds),
        rule.harm,
        rule.put_right,
        sources.numbers(rule.sources),
        [rule.place.line, rule.place.column],
        list(rule.limits),
        list(rule.facts),
        rule.may_be_conceded,
        sources.differing(rule.differs),
        {kind: [one.signal, one.claim, one.harm, one.put_right] for kind, one in rule.sharper.items()},
    ]


def _rule_in(one: list[Any], sources: list[Source], looked_at: Mapping[str, Kind], folder: str) -> Rule:
    name, path, claim, signal, kind, under, concerns, holds, harm, put_right, numbers, place, limits, *more = one
    facts, may_be_conceded, differs, sharper = more
    file = f"{folder}/{path}"
    rule = Rule(
        name=name,
        file=file,
        claim=claim,
        signal=signal,
        kind=looked_at[kind],
        under=tuple(under),
        concerns=None if concerns is None else _schema_in(concerns, file),
        holds=_schema_in(holds, file),
        harm=harm,
        put_right=put_right,
        sources=tuple(sources[number] for number in numbers),
        limits=tuple(limits),
        facts=tuple(facts),
        cases=None,
        place=Place(file, *place),
        may_be_conceded=may_be_conceded,
        differs=_differing_in(differs, sources),
    )
    return replace(rule, sharper={kind: _sharper_in(rule, *own) for kind, own in sharper.items()}) if sharper else rule


def _sharper_in(rule: Rule, signal: Signal, claim: str, harm: str, put_right: str) -> Rule:
    return replace(rule, signal=signal, claim=claim, harm=harm, put_right=put_right)


def _derived_out(fact: Derived) -> list[Any]:
    number = isinstance(fact.value, Interval)
    return [fact.name, fact.how, number, _interval_out(fact.value) if number else fact.value, list(fact.path)]


def _derived_in(one: list[Any]) -> Derived:
    name, how, number, value, path = one
    plain = tuple(value) if isinstance(value, list) else value
    return Derived(name, how, Interval(*value) if number else plain, tuple(path))


def _schema_out(schema: Schema) -> Any:
    if schema.always is not None:
        return schema.always
    return [[c.keyword, _operand_out(c.operand), *_place_out(c.place)] for c in schema.clauses]


def _place_out(place: Place | None) -> list[int]:
    return [] if place is None else [place.line, place.column]


def _schema_in(content: Any, file: str) -> Schema:
    if isinstance(content, bool):
        return Schema(always=content)
    return Schema(
        tuple(Clause(c[0], _operand_in(c[1], file), Place(file, c[2], c[3]) if len(c) > 2 else None) for c in content)
    )


def _operand_out(operand: Any) -> list[Any]:
    """Return an operand as its sort and its content."""
    if isinstance(operand, Schema):
        return ["schema", _schema_out(operand)]
    if isinstance(operand, Mapping):
        return ["facts", {name: _schema_out(inner) for name, inner in operand.items()}]
    if isinstance(operand, tuple) and operand and isinstance(operand[0], (Schema, Literal, LimitName, FactName)):
        return ["list", [_operand_out(one) for one in operand]]
    if isinstance(operand, Literal):
        is_interval = isinstance(operand.value, Interval)
        return ["number", _interval_out(operand.value)] if is_interval else ["value", operand.value]
    if isinstance(operand, LimitName):
        return ["limit", operand.name]
    if isinstance(operand, FactName):
        return ["fact", list(operand.path)]
    if isinstance(operand, EcmaPattern):
        return ["pattern", operand.pattern]
    return ["words", list(operand)] if isinstance(operand, tuple) else ["plain", operand]


def _operand_in(content: list[Any], file: str) -> Any:
    return _OPERANDS_IN[content[0]](content[1], file)


_OPERANDS_IN: Mapping[str, Callable[[Any, str], Any]] = {
    "schema": _schema_in,
    "facts": lambda content, file: {name: _schema_in(inner, file) for name, inner in content.items()},
    "list": lambda content, file: tuple(_operand_in(one, file) for one in content),
    "number": lambda content, file: Literal(Interval(*content)),
    "value": lambda content, file: Literal(content),
    "limit": lambda content, file: LimitName(content),
    "fact": lambda content, file: FactName(tuple(content)),
    "pattern": lambda content, file: ecma_pattern(content),
    "words": lambda content, file: tuple(content),
    "plain": lambda content, file: content,
}
