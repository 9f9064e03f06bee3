"""The register: tagged things that several rigs share, with what is on record of each.

A register is one file or a folder of them. Kinds that a company buys are written once (`kinds:`), and a thing
says `as: hose-20` for all that is the same of them; what it says itself goes before that.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from rigcheck.rig.fact import NONE_WORD
from rigcheck.rig.thing import Rig, Statement, Thing
from rigcheck.rig.thing_reader import Reading
from rigcheck.rig.vocabulary import Kind, Vocabulary
from rigcheck.text.faults import Refused, keep_fault, nearest_word, shown_text, with_article
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import Mapping as MappingNode
from rigcheck.text.yamlfile import Node, Scalar, file_of, laid_in, read_yaml

__all__ = ["REGISTER", "Register", "load_register"]

REGISTER = "register"
"""The kind of thing that a register is."""
_TOP = ("register", "local_code", "kinds", "things", "$schema")
_WITHDRAWAL = "withdrawal"
_MOST_THINGS = 50_000
_OF_A_PLACE = ("line", "upstream", "downstream")
_WRITE_THING = "Write '{hose: {made: 2024-03, …}}', or '{as: hose-20, made: 2024-03}' and the kind under 'kinds:'."


@dataclass(frozen=True, slots=True)
class Register:
    """The things on record by their tag, each with its facts; `rig` is the register as a value that can be judged.

    Its root is of the kind `register`; its things lead to no line and no neighbour, for they stand in none.
    `withdrawn`: what is on record as taken out of use or missing, by tag, each a thing of the kind `withdrawal`;
    a rig that has such a thing is told, and the register itself is not judged by it any more.
    """

    file: str
    things: Mapping[str, Thing]
    rig: Rig
    withdrawn: Mapping[str, Thing]

    def lay(self, reading: Reading, things: Iterable[Thing]) -> None:
        """Lay what is on record into the things of a rig that bear a tag; faults are kept by the reading."""
        for thing in list(things):  # what was withdrawn makes a thing more
            tag = thing.tag
            if not tag:
                continue
            entry = self.things.get(tag)
            if entry is None:
                where = thing.places.get("tag", Place(reading.file, thing.line, thing.column))
                read = f"The register {self.file} has nothing with the tag {shown_text(tag)}."
                reading.pass_over(
                    where, read, "Write the tag as it is there, or enter it.", nearest_word(tag, self.things)
                )
            elif entry.kind.name not in thing.kind.lineage and thing.kind.name not in entry.kind.lineage:
                where = thing.places.get("tag", Place(reading.file, thing.line, thing.column))
                own, other = with_article(thing.kind.name), with_article(entry.kind.name)
                read = f"{shown_text(tag)} is {other} in the register, and {own} here."
                reading.pass_over(
                    where, read, f"See {Place(entry.file, entry.line, entry.column)}, and correct one of them."
                )
            else:
                _lay(thing, entry)
                if tag in self.withdrawn:
                    _tell_withdrawn(reading, thing, self.withdrawn[tag])


def _lay(thing: Thing, entry: Thing) -> None:
    for name, node in entry.places.items():
        if name in thing.kind.facts and name != "tag":
            seen = entry.seen
            place = node if isinstance(node, Place) else Place(file_of(node, entry.file), node.line, node.column)
            day, by = (seen.day, seen.by) if seen is not None else (None, "")
            thing.said.setdefault(name, []).append(Statement(entry.facts[name], "on record", day, by, place))


def _tell_withdrawn(reading: Reading, thing: Thing, withdrawn: Thing) -> None:
    at = next(one for one in withdrawn.places.values() if not isinstance(one, Place))
    made = reading.thing(withdrawn.kind, withdrawn.key, thing, at)
    made.facts |= withdrawn.facts
    made.places |= withdrawn.places


def load_register(files: Iterable[tuple[bytes, str]], vocabulary: Vocabulary, name: str) -> Register:
    """Return the register of files (content and name). Raises `Refused` with all of their faults."""
    reader = _Reader(vocabulary, name)
    for data, file in files:
        reader.take(data, file)
    return reader.register()


class _Reader:
    def __init__(self, vocabulary: Vocabulary, name: str) -> None:
        self.reading = Reading(name, vocabulary, most=_MOST_THINGS)
        self.root = Thing(vocabulary.kinds[REGISTER], REGISTER, None, 1, 1)
        self.kinds: dict[str, MappingNode] = {}
        self.things: dict[str, tuple[Node, Scalar]] = {}
        self.withdrawn: dict[str, Thing] = {}
        kind = vocabulary.kinds.get(_WITHDRAWAL)  # a vocabulary of one's own may have none
        facts = kind.facts.values() if kind is not None else ()
        self.withdrawal = {one.name: one for one in facts if not one.computed and one.name not in ("name", "tag")}
        self.grammar = ("as", *self.withdrawal)

    def take(self, data: bytes, file: str) -> None:
        root = laid_in(read_yaml(data, file, self.reading.faults), file)
        if not isinstance(root, MappingNode) or "register" not in root.items:
            self.reading.refuse(root, "This is no register.", "Begin with 'register: what it is called'.")
            return
        self._root(root)
        for name, node in self._entries(root, "kinds"):
            if isinstance(node, MappingNode):
                self.kinds[name] = node
            else:
                self.reading.refuse(node, "This is no kind of thing.", _WRITE_THING)
        for tag, node in self._entries(root, "things"):
            first = self.things.get(tag)
            if first is not None:
                at = Place(file_of(first[1], file), first[1].line, first[1].column)
                read = f"The tag {shown_text(tag)} stands in the register twice, first at {at}."
                self.reading.refuse(node, read, "Look which of the two it is.")
            else:
                items = root.items["things"]
                assert isinstance(items, MappingNode)
                self.things[tag] = node, items.keys[tag]

    def _root(self, root: MappingNode) -> None:
        """Read what a file says of the register itself: what it is called, and its local code."""
        for key, where in root.keys.items():
            if key not in _TOP:
                read = f"{shown_text(key)} is nothing known of a register."
                write = f"Known here: {', '.join(_TOP[:-1])}."
                self.reading.refuse(where, read, write, nearest_word(key, _TOP))
        said = {"name": root.items["register"]} | {k: n for k, n in root.items.items() if k == "local_code"}
        for name, node in said.items():
            before = self.root.facts.get(name)
            if name != "name" or before is None:
                self.reading.state(self.root, self.root.kind.facts[name], node)
            if name != "name" and before not in (None, self.root.facts.get(name)):
                read = f"Another file of the register says that its local code is {before}."
                self.reading.refuse(node, read, "Write the same in each, or in one alone.")

    def _entries(self, root: MappingNode, key: str) -> list[tuple[str, Node]]:
        node = root.items.get(key)
        if node is None:
            return []
        if not isinstance(node, MappingNode):
            self.reading.refuse(node, f"{key!r} is no mapping.", f"Write '{key}:' and in it one entry a line.")
            return []
        return list(node.items.items())

    def register(self) -> Register:
        for name, node in self.kinds.items():
            self._check_kind(name, node)
        found = {tag: thing for tag, (node, at) in self.things.items() if (thing := self._thing(tag, node, at))}
        if self.reading.faults:
            raise Refused(self.reading.faults)
        in_use = [one for tag, one in found.items() if tag not in self.withdrawn]
        for key, held in self.root.kind.holds.items():
            self.root.facts[key] = tuple(one for one in in_use if held.kind in one.kind.lineage)
        self.reading.doubt()
        for thing in (self.root, *self.reading.things, *self.withdrawn.values()):
            thing.seal()
        gone = {found[tag] for tag in self.withdrawn}
        judged = [one for one in self.reading.things if gone.isdisjoint(_with_holders(one))]
        name, words = self.reading.file, tuple(one.key for one in self.withdrawn.values())
        rig = Rig(name, self.root, (self.root, *judged), frozenset(), withdrawn=words)
        return Register(name, found, rig, self.withdrawn)

    def _check_kind(self, name: str, node: MappingNode) -> None:
        """Read a kind by itself: what is wrong with one that no thing is of is told too."""
        layers = self._layers(node, (name,))
        if layers is not None:
            own = Reading(self.reading.file, self.reading.vocabulary)
            own.fill(Thing(layers[0], name, None, node.line, node.column), _merged(node, layers[1]), self.grammar)
            for fault in own.faults:
                keep_fault(self.reading.faults, fault)

    def _thing(self, tag: str, node: Node, at: Scalar) -> Thing | None:
        layers = self._layers(node, ())
        if layers is None:
            return None
        kind, bodies = layers
        if not any(held.kind in kind.lineage for held in self.root.kind.holds.values()):
            kept = ", ".join(held.kind for held in self.root.kind.holds.values())
            self.reading.refuse(node, f"A register keeps no {kind.name}.", f"It keeps these: {kept}.")
            return None
        before = len(self.reading.things)
        thing = self.reading.thing(kind, f"{kind.name} {tag}", self.root, at)
        body = _merged(node, bodies)
        self.reading.fill(thing, body, self.grammar)
        thing.facts["tag"] = tag
        self._withdrawal(thing, body)
        for one in self.reading.things[before:]:  # what is built in stands in no line either
            for name in _OF_A_PLACE:
                one.facts.pop(name, None)
        return thing

    def _withdrawal(self, thing: Thing, body: MappingNode) -> None:
        """Read that a thing was taken out of use: why, and since when."""
        said = {name: node for name in self.withdrawal if (node := body.items.get(name)) is not None}
        texts = [node.text.casefold() for node in said.values() if isinstance(node, Scalar)]
        if not said or texts in (["no"], [NONE_WORD]):
            return
        made = Thing(self.reading.vocabulary.kinds[_WITHDRAWAL], _WITHDRAWAL, None, body.line, body.column, body.file)
        for name, node in said.items():
            self.reading.state(made, self.withdrawal[name], node)
        for name in (name for name in self.withdrawal if name not in made.places):
            where = said.get(name, next(iter(said.values())))
            read = f"{thing.tag} is on record as withdrawn, and it is not said: {self.withdrawal[name].entry.ask}"
            self.reading.refuse(where, read, f"Write '{name}: …'; of a thing that is in use, neither of the two.")
            return
        why, since = (_words(made.facts[name]) for name in self.withdrawal)
        made.key = f"{thing.tag} withdrawn since {since}: {why}"
        self.withdrawn[thing.tag] = made

    def _layers(self, node: Node, met: tuple[str, ...]) -> tuple[Kind, list[MappingNode]] | None:
        """Return the kind of an entry and the mappings that state its facts, the nearest first."""
        by_key = self.reading.vocabulary.by_key
        if isinstance(node, MappingNode) and isinstance(other := node.items.get("as"), Scalar):
            if other.text in met:
                self.reading.refuse(
                    other, f"{shown_text(other.text)} leads back to itself.", "Write one kind for each."
                )
                return None
            if other.text not in self.kinds:
                near = nearest_word(other.text, self.kinds)
                write = "Write a name that stands under 'kinds:'."
                self.reading.refuse(other, f"{shown_text(other.text)} is no kind of this register.", write, near)
                return None
            below = self._layers(self.kinds[other.text], (*met, other.text))
            return None if below is None else (below[0], [node, *below[1]])
        if isinstance(node, MappingNode) and len(node.items) == 1:
            key, body = next(iter(node.items.items()))
            if key in by_key and isinstance(body, MappingNode):
                return by_key[key], [body]
            if key in by_key and isinstance(body, Scalar) and not body.text:
                return by_key[key], []
        near = nearest_word(next(iter(node.items), ""), by_key) if isinstance(node, MappingNode) else ""
        self.reading.refuse(node, "It is not said what this is.", _WRITE_THING, near)
        return None


def _words(value: Any) -> str:
    return str(getattr(value, "text", value))


def _with_holders(thing: Thing) -> Iterator[Thing]:
    """Yield a thing and the things that it is built into."""
    at: Thing | None = thing
    while at is not None:
        yield at
        at = at.parent


def _merged(node: Node, bodies: list[MappingNode]) -> MappingNode:
    """Return what a thing and its kinds say of it, the nearest first: that goes before what stands further off."""
    made = MappingNode(node.line, node.column)
    made.file = file_of(node, "")
    for body in reversed(bodies):
        if "seen" in body.items:  # who looked belongs to the day on which somebody did
            made.items.pop("by", None), made.keys.pop("by", None)
        made.items |= body.items
        made.keys |= body.keys
    return made
