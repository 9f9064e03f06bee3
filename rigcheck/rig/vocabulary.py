"""The vocabulary: every kind of thing, with its facts, its inner things, its neighbours and its traits."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from msgspec import Struct

from rigcheck.rig.fact import Choice, Fact
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
from rigcheck.text.faults import Fault, Refused, nearest_word
from rigcheck.text.place import Place

__all__ = ["PART_KINDS", "Kind", "Vocabulary", "build_vocabulary", "folded_key", "is_tag_key"]

PART_KINDS = "kinds of part"
"""The list of words that has every kind of part; no file writes it."""
_EVERY_THING = {
    "kind": FactEntry(measure="text", means="What kind of thing it is.", computed=True),
    "name": FactEntry(measure="text", means="What the people on site call it.", ask="What is it called on site?"),
    "tag": FactEntry(
        measure="text",
        means="Its serial, asset or certificate number, as found on it.",
        ask="Which serial, asset or certificate number stands on it?",
        also_called=[
            f"{what}{number}"
            for what in ("serial", "asset", "certificate", "tag", "id")
            for number in ("", "_no", "_number", "_tag")
            if what + number != "tag"
        ],
    ),
}
_TAG_KEYS = frozenset(("tag", *_EVERY_THING["tag"].also_called))
_RESERVED = frozenset(
    "const enum minimum maximum exclusiveMinimum exclusiveMaximum pattern minLength maxLength "
    "contains minContains maxContains minItems maxItems uniqueItems items prefixItems properties "
    "required type allOf anyOf oneOf not if then else case under verdict limit fact".split()
)


def folded_key(key: str) -> str:
    """Return a key in the letters of the vocabulary: 'Serial No' is serial_no."""
    return "_".join(key.casefold().replace("-", " ").replace("_", " ").split())


def is_tag_key(key: str) -> bool:
    """Whether a key, in whatever letters, is the tag of a thing or another name of it."""
    return key == "tag" or folded_key(key) in _TAG_KEYS


class Kind:
    """A kind of thing with all that it inherits; a trait is what rules look at in the same way.

    `lineage` runs from itself over its traits to its base and the traits of that; `base` is the kind that it is
    one of, if it is. `key` is the kind as it is written in a rig file.
    """

    def __init__(self, chain: Sequence[KindFile], lists: Mapping[str, Choice]) -> None:
        """Make a kind of its file and those of its lineage; `lists` has the words that several facts share."""
        own = chain[0]
        self.holds: dict[str, HeldEntry] = {}
        self.related = {"rig": RelatedEntry(kind="rig", means="The rig that it belongs to.")}
        for ancestor in reversed(chain):
            self.holds |= ancestor.holds_things
            self.related |= ancestor.related
        self.name, self.means, self.base = own.kind, own.means, own.is_a
        self.key = _key_of(own.kind)
        self.lineage = tuple(ancestor.kind for ancestor in chain)
        self.facts = {name: Fact(name, entry, lists) for name, entry in _all_facts(chain).items()}
        self.sets_pressure = next((one.sets_pressure for one in chain if one.sets_pressure), "")
        self.branches = next((one.branches for one in chain if one.branches), "")
        self.drawn_as = next((one.drawn_as for one in chain if one.drawn_as), "")
        self.listed = any(one.listed for one in chain)
        self.shown = next((tuple(one.shown) for one in chain if one.shown), ())


class Vocabulary(Struct, frozen=True):
    """All kinds by name and by key, and the traits by name.

    `parts` are the kinds that stand in a line, by key; `choices` the words that facts share, by the list's name.
    """

    kinds: Mapping[str, Kind]
    traits: Mapping[str, Kind]
    by_key: Mapping[str, Kind]
    parts: Mapping[str, Kind]
    choices: Mapping[str, Choice]

    @property
    def looked_at(self) -> Mapping[str, Kind]:
        """All that a rule can look at: kinds and traits."""
        return {**self.traits, **self.kinds}

    def children_of(self, base: str) -> list[Kind]:
        """Return the kinds that are a `base`, or have it as a trait, without `base` itself."""
        return [k for k in self.kinds.values() if base in k.lineage[1:]]


def build_vocabulary(files: Iterable[tuple[str, VocabularyFile]]) -> Vocabulary:
    """Return the vocabulary of all files, pairs of path and content. Raises `Refused`.

    Of lists of words, and of kinds and traits, with one name the later one counts.
    """
    return _Builder(files).vocabulary()


class _Builder:
    def __init__(self, files: Iterable[tuple[str, VocabularyFile]]) -> None:
        self.entries: dict[str, KindFile] = {}
        self.paths: dict[str, str] = {}
        self.traits: list[str] = []
        self.lists: dict[str, tuple[str, WordList]] = {}
        self.by_key: dict[str, str] = {}
        self.doubled: dict[str, str] = {}  # a file whose name for a thing is that of another one, with that
        for path, file in files:
            if isinstance(file, WordsFile):
                self.lists |= {name: (path, one) for name, one in file.words.items()}
                continue
            entry = file.as_kind if isinstance(file, TraitFile) else file
            before = self.by_key.setdefault(_key_of(entry.kind), entry.kind)
            if before != entry.kind or before in self.entries:
                self.doubled[path] = before
            self.entries[entry.kind], self.paths[entry.kind] = entry, path
            if isinstance(file, TraitFile):
                self.traits.append(entry.kind)
        self.choices: dict[str, Choice] = {}

    def vocabulary(self) -> Vocabulary:
        faults = [fault for entry in self.entries.values() for fault in self._faults(entry)]
        faults += self._faults_of_words()
        for path, name in self.doubled.items():
            faults.append(_fault(path, f"What is called so is written in a rig as {name!r} is.", "", _OTHER_NAME))
        if faults:
            raise Refused(faults)
        self.choices = {name: self._choice(name) for name in self.lists}
        self.choices[PART_KINDS] = Choice({name.replace(" ", "-"): e.means for name, e in self._part_entries()}, {})
        made = {name: Kind(self._ancestors(entry), self.choices) for name, entry in self.entries.items()}
        kinds = {name: kind for name, kind in made.items() if name not in self.traits}
        by_key = {kind.key: kind for kind in kinds.values()}
        parts = {k.key: k for k in kinds.values() if "part" in k.lineage[1:] and k.name != "torch"}
        return Vocabulary(kinds, {name: made[name] for name in self.traits}, by_key, parts, self.choices)

    def _part_entries(self) -> Iterator[tuple[str, KindFile]]:
        for name, entry in self.entries.items():
            if name not in self.traits and "part" in [base.kind for base in self._bases(entry)[1:]]:
                yield name, entry

    # --- what is wrong ---

    def _faults(self, entry: KindFile) -> Iterator[Fault]:
        if not entry.means:
            yield Fault(Place(self.paths[entry.kind], 1, 1), "'means' is not written.", "Add 'means: …'.")
        kinds = [name for name in self.entries if name not in self.traits]
        wanted = [entry.is_a] if entry.is_a else []
        wanted += [held.kind for held in entry.holds_things.values()]
        wanted += [related.kind for related in entry.related.values()]
        for kind in wanted:
            if kind not in kinds:
                yield self._fault(entry, f"{kind!r} is no kind.", nearest_word(kind, kinds))
        for trait in (*entry.traits, *entry.without):
            if _spaced(trait) not in self.traits:
                yield self._fault(entry, f"{trait!r} is no trait.", nearest_word(trait, self.traits))
        for name in (*entry.facts, *entry.holds_things, *entry.related):
            if name in _RESERVED:
                yield self._fault(entry, f"{name!r} is a word of the conditions, not a fact.", "")
        known = _all_facts(self._ancestors(entry))
        for name, fact in entry.facts.items():
            for key, day in (("from_day", fact.from_day), ("counted_from", fact.counted_from)):
                if day and day not in known:
                    yield self._fault(entry, f"{name} is {key} {day!r}, which is no fact.", "")
        for key, held in entry.holds_things.items():
            for name in held.not_with:
                if name not in known:
                    yield self._fault(entry, f"{key} is not there with {name!r}, which is no fact of it.", "")
        if entry.sets_pressure and entry.sets_pressure not in known:
            read = f"It sets the pressure by {entry.sets_pressure!r}, which is no fact of it."
            yield self._fault(entry, read, nearest_word(entry.sets_pressure, known))

    def _faults_of_words(self) -> Iterator[Fault]:
        known = [*self.lists, PART_KINDS]
        for entry in self.entries.values():
            for name, fact in entry.facts.items():
                for wanted in (fact.words, fact.several_words):
                    if isinstance(wanted, str) and wanted not in known:
                        read = f"{name} takes the words of {wanted!r}, which is no list of words."
                        yield self._fault(entry, read, nearest_word(wanted, known))
        for path, words in self.lists.values():
            base = words.and_those_of
            if base and (base not in self.lists or self.lists[base][1].and_those_of):
                near = nearest_word(base, self.lists)
                yield _fault(path, f"{base!r} is no list of words with words of its own alone.", near)

    def _fault(self, entry: KindFile, read: str, near: str) -> Fault:
        return _fault(self.paths[entry.kind], read, near)

    # --- what it comes to ---

    def _choice(self, name: str) -> Choice:
        own = self.lists[name][1]
        if not own.and_those_of:
            return Choice(own.words, own.also_written)
        base = self.lists[own.and_those_of][1]
        return Choice(base.words | own.words, base.also_written | own.also_written)

    def _bases(self, entry: KindFile) -> list[KindFile]:
        """Return a kind and the kinds that it is one of."""
        chain = [entry]
        while chain[-1].is_a in self.entries and self.entries[chain[-1].is_a] not in chain:
            chain.append(self.entries[chain[-1].is_a])
        return chain

    def _ancestors(self, entry: KindFile) -> list[KindFile]:
        """Return a kind, its traits, its base and the traits of that, each once, without those that it has not."""
        found: dict[str, KindFile] = {}
        without: set[str] = set()
        for base in self._bases(entry):
            without |= {_spaced(trait) for trait in base.without}
            traits = (_spaced(trait) for trait in base.traits)
            found.setdefault(base.kind, base)
            for trait in traits:
                if trait not in without and trait in self.entries:
                    found.setdefault(trait, self.entries[trait])
        return list(found.values())


def _all_facts(chain: Sequence[KindFile]) -> dict[str, FactEntry]:
    facts = dict(_EVERY_THING)
    for ancestor in reversed(chain):
        facts |= ancestor.facts
    return facts


def _spaced(trait: str) -> str:
    return trait.replace("_", " ")


def _key_of(kind: str) -> str:
    return kind.replace(" ", "_").replace("-", "_")


def _fault(path: str, read: str, near: str, write: str = "Write a word of the vocabulary.") -> Fault:
    return Fault(Place(path, 1, 1), read, write, near)


_OTHER_NAME = "Call it otherwise."
