"""The vocabulary: every kind of thing, with its facts, its inner things and its neighbours."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from rigcheck.quantity.notation import NotRead
from rigcheck.rig.fact import Choice, Fact
from rigcheck.rig.number_range import number_range
from rigcheck.rig.vocabulary_file import FactEntry, HeldEntry, KindFile, RelatedEntry, WordList, WordsFile
from rigcheck.text.faults import Fault, Refused, nearest_word
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import read_yaml

__all__ = ["WORDS_FILE", "Kind", "Vocabulary", "build_vocabulary", "read_kind_file", "read_words_file"]

WORDS_FILE = "words.yaml"
"""The file of a vocabulary that has the words that several facts share."""

_EVERY_THING = {
    "kind": FactEntry(measure="text", means="What kind of thing it is.", computed=True),
    "name": FactEntry(measure="text", means="What the people on site call it.", ask="What is it called on site?"),
    "tag": FactEntry(
        measure="text",
        means="Its serial, asset or certificate number, as found on it.",
        ask="Which serial, asset or certificate number stands on it?",
    ),
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
    """All kinds by name and by key; `parts` are those that stand in a line, by key; `choices`: shared words by name."""

    kinds: Mapping[str, Kind]
    by_key: Mapping[str, Kind]
    parts: Mapping[str, Kind]
    choices: Mapping[str, Choice]

    def children_of(self, base: str) -> list[Kind]:
        """Return the kinds that are a `base`, without `base` itself."""
        return [k for k in self.kinds.values() if base in k.lineage[1:]]


def read_kind_file(data: bytes, file: str) -> KindFile:
    """Return one vocabulary file. Raises `Refused`."""
    from rigcheck.text.binding import bind, node_at, place_of  # an installed rigcheck starts without these

    root = read_yaml(data, file)
    kind = bind(KindFile, root, file)
    faults = []
    for name, entry in kind.facts.items():
        try:
            number_range(entry)
        except NotRead as error:
            place = place_of(node_at(root, ("facts", name)), file)
            faults.append(Fault(place, f"{name}: {error.wrong}", error.write))
    if faults:
        raise Refused(faults)
    return kind


def read_words_file(data: bytes, file: str) -> WordsFile:
    """Return the file of the words that several facts share. Raises `Refused`."""
    from rigcheck.text.binding import bind  # an installed rigcheck starts without what checks YAML

    return bind(WordsFile, read_yaml(data, file), file)


def build_vocabulary(files: Iterable[tuple[str, KindFile]], words: Iterable[tuple[str, WordsFile]] = ()) -> Vocabulary:
    """Return the vocabulary of all files, pairs of path and content. Raises `Refused`.

    `words`: the words that several facts share; of lists with one name the later one counts.
    """
    named = {entry.kind: (path, entry) for path, entry in files}
    lists = {name: (path, one) for path, file in words for name, one in file.words.items()}
    faults = [fault for path, entry in named.values() for fault in _faults(path, entry, named)]
    faults += _faults_of_words(named, lists)
    if faults:
        raise Refused(faults)
    choices = {name: _choice(name, lists) for name in lists}
    kinds = {name: _kind(name, named, choices) for name in named}
    by_key = {kind.key: kind for kind in kinds.values()}
    parts = {k.key: k for k in kinds.values() if "part" in k.lineage[1:] and k.name != "torch"}
    return Vocabulary(kinds, by_key, parts, choices)


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


_Lists = Mapping[str, tuple[str, WordList]]
"""Lists of words by name, each with the file that it stands in."""


def _faults_of_words(named: Mapping[str, tuple[str, KindFile]], lists: _Lists) -> Iterable[Fault]:
    for path, entry in named.values():
        for name, fact in entry.facts.items():
            for wanted in (fact.words, fact.several_words):
                if isinstance(wanted, str) and wanted not in lists:
                    read = f"{name} takes the words of {wanted!r}, which is no list of words."
                    yield _fault(path, read, nearest_word(wanted, lists))
    for path, words in lists.values():
        base = words.and_those_of
        if base and (base not in lists or lists[base][1].and_those_of):
            yield _fault(path, f"{base!r} is no list of words with words of its own alone.", nearest_word(base, lists))


def _choice(name: str, lists: _Lists) -> Choice:
    own = lists[name][1]
    if not own.and_those_of:
        return Choice(own.words, own.also_written)
    base = lists[own.and_those_of][1]
    return Choice(base.words | own.words, base.also_written | own.also_written)


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


def _kind(name: str, named: Mapping[str, tuple[str, KindFile]], choices: Mapping[str, Choice]) -> Kind:
    chain = _ancestors(named[name][1], named)
    holds: dict[str, HeldEntry] = {}
    related = {"rig": RelatedEntry(kind="rig", means="The rig that it belongs to.")}
    for ancestor in reversed(chain):
        holds |= ancestor.holds_things
        related |= ancestor.related
    facts = {fact: Fact(fact, entry, choices) for fact, entry in _all_facts(chain[0], named).items()}
    lineage = tuple(ancestor.kind for ancestor in chain)
    key = name.replace(" ", "_").replace("-", "_")
    return Kind(name, chain[0].means, lineage, facts, holds, related, key)
