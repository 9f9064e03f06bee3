"""The vocabulary: every kind of thing, with its facts, its inner things and its neighbours."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from rigcheck.rig.fact import Fact
from rigcheck.rig.vocabulary_file import FactEntry, HeldEntry, KindFile, RelatedEntry
from rigcheck.text.faults import Fault, Refused, nearest_word
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import read_yaml

__all__ = ["Kind", "Vocabulary", "build_vocabulary", "read_kind_file"]

_EVERY_THING = {
    "kind": FactEntry(measure="text", means="What kind of thing it is.", computed=True),
    "name": FactEntry(measure="text", means="What the people on site call it.", ask="What is it called on site?"),
}
_RESERVED = frozenset(
    "const enum minimum maximum exclusiveMinimum exclusiveMaximum pattern minLength maxLength "
    "contains minContains maxContains minItems maxItems uniqueItems items prefixItems properties "
    "required type allOf anyOf oneOf not if then else case under verdict limit fact".split()
)


@dataclass(frozen=True, slots=True, eq=False)
class Kind:
    """A kind of thing with all that it inherits; `lineage` runs from itself to its base.

    `key` is the kind as it is written in a rig file.
    """

    name: str
    means: str
    lineage: tuple[str, ...]
    facts: Mapping[str, Fact]
    holds: Mapping[str, HeldEntry]
    related: Mapping[str, RelatedEntry]
    key: str


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """All kinds by name and by key; `parts` are those that stand in a line, by key."""

    kinds: Mapping[str, Kind]
    by_key: Mapping[str, Kind]
    parts: Mapping[str, Kind]

    def children_of(self, base: str) -> list[Kind]:
        """Return the kinds that are a `base`, without `base` itself."""
        return [k for k in self.kinds.values() if base in k.lineage[1:]]


def read_kind_file(data: bytes, file: str) -> KindFile:
    """Return one vocabulary file. Raises `Refused`."""
    from rigcheck.text.binding import bind  # an installed rigcheck starts without what checks YAML

    return bind(KindFile, read_yaml(data, file), file)


def build_vocabulary(files: Iterable[tuple[str, KindFile]]) -> Vocabulary:
    """Return the vocabulary of all files, pairs of path and content. Raises `Refused`."""
    named = {entry.kind: (path, entry) for path, entry in files}
    faults = [fault for path, entry in named.values() for fault in _faults(path, entry, named)]
    if faults:
        raise Refused(faults)
    kinds = {name: _kind(name, named) for name in named}
    by_key = {kind.key: kind for kind in kinds.values()}
    parts = {k.key: k for k in kinds.values() if "part" in k.lineage[1:] and k.name != "torch"}
    return Vocabulary(kinds, by_key, parts)


def _faults(path: str, entry: KindFile, named: Mapping[str, tuple[str, KindFile]]) -> Iterable[Fault]:
    wanted = [entry.is_a] if entry.is_a else []
    wanted += [held.kind for held in entry.holds_things.values()]
    wanted += [related.kind for related in entry.related.values()]
    for kind in wanted:
        if kind not in named:
            yield _fault(path, f"{kind!r} is no kind.", nearest_word(kind, named))
    for name in (*entry.facts, *entry.holds_things, *entry.related):
        if name in _RESERVED:
            yield _fault(path, f"{name!r} is a word of the conditions, not a fact.", "")
    for name, fact in entry.facts.items():
        if fact.from_day and fact.from_day not in _all_facts(entry, named):
            yield _fault(path, f"{name} is from_day {fact.from_day!r}, which is no fact.", "")


def _fault(path: str, read: str, near: str) -> Fault:
    return Fault(Place(path, 1, 1), read, "Write a word of the vocabulary.", near)


def _ancestors(entry: KindFile, named: Mapping[str, tuple[str, KindFile]]) -> list[KindFile]:
    chain = [entry]
    while chain[-1].is_a in named and named[chain[-1].is_a][1] not in chain:
        chain.append(named[chain[-1].is_a][1])
    return chain


def _all_facts(entry: KindFile, named: Mapping[str, tuple[str, KindFile]]) -> dict[str, FactEntry]:
    facts = dict(_EVERY_THING)
    for ancestor in reversed(_ancestors(entry, named)):
        facts |= ancestor.facts
    return facts


def _kind(name: str, named: Mapping[str, tuple[str, KindFile]]) -> Kind:
    chain = _ancestors(named[name][1], named)
    holds: dict[str, HeldEntry] = {}
    related = {"rig": RelatedEntry(kind="rig", means="The rig that it belongs to.")}
    for ancestor in reversed(chain):
        holds |= ancestor.holds_things
        related |= ancestor.related
    facts = {fact: Fact(fact, entry) for fact, entry in _all_facts(chain[0], named).items()}
    lineage = tuple(ancestor.kind for ancestor in chain)
    key = name.replace(" ", "_").replace("-", "_")
    return Kind(name, chain[0].means, lineage, facts, holds, related, key)
