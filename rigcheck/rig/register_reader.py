"""The files of a register read: kinds that a company buys, things by their tag, and which of them are out of use."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from rigcheck.quantity.notation import NotRead
from rigcheck.rig.fact import NONE_WORD, Fact
from rigcheck.rig.register import REGISTER, WITHDRAWAL, Register
from rigcheck.rig.shared_tags import same_tag
from rigcheck.rig.thing import Rig, Thing
from rigcheck.rig.thing_reader import Reading
from rigcheck.rig.vocabulary import Kind, Vocabulary, folded_key
from rigcheck.text.faults import Fault, Refused, keep_fault, nearest_word, shown_text, with_article
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import Mapping as MappingNode
from rigcheck.text.yamlfile import Node, Scalar, file_of, laid_in, read_yaml

__all__ = ["RegisterReader", "load_register", "plain"]

_TOP = ("register", "local_code", "invented", "kinds", "things", "$schema")
_SAID = ("local_code", "invented")
_MOST_THINGS = 50_000
_MOST_KINDS = 8  # that one is of, one by the next
_OF_A_PLACE = ("line", "upstream", "downstream")
_WRITE_THING = "Write '{hose: {made: 2024-03, …}}', or '{as: hose-20, made: 2024-03}' and the kind under 'kinds:'."


def load_register(
    files: Iterable[tuple[bytes, str]], vocabulary: Vocabulary, name: str, *, what_can_be_read: bool = False
) -> Register:
    """Return the register of files (content and name). Raises `Refused` with all of their faults.

    `what_can_be_read`: entries and statements that cannot be read are passed over, and stand in the `unread` of its
    rig; a register of which nothing can be read is refused all the same.
    """
    reader = RegisterReader(vocabulary, name)
    for data, file in files:
        try:
            reader.take(data, file)
        except Refused as refused:
            reader.reading.faults[:] = list(dict.fromkeys((*reader.reading.faults, *refused.faults)))
    return reader.register(what_can_be_read=what_can_be_read)


class RegisterReader:
    """Reads the files of one register, in any order; every fault is kept until `register` is asked for."""

    def __init__(self, vocabulary: Vocabulary, name: str) -> None:
        self.reading = Reading(name, vocabulary, most=_MOST_THINGS)
        self.root = Thing(vocabulary.kinds[REGISTER], REGISTER, None, 1, 1)
        self.kinds: dict[str, MappingNode] = {}
        self.things: dict[str, tuple[Node, Scalar]] = {}
        self.withdrawn: dict[str, Thing] = {}
        self.doubled: set[str] = set()  # nobody can tell which of two entries such a tag means
        self._places: dict[str, Place] = {}
        kind = vocabulary.kinds.get(WITHDRAWAL)  # a vocabulary of one's own may have none
        facts = kind.facts.values() if kind is not None else ()
        self.withdrawal = {one.name: one for one in facts if not one.computed and one.name not in ("name", "tag")}
        names = ((name, fact) for fact in self.withdrawal.values() for name in (fact.name, *fact.entry.also_called))
        self.out_of_use: dict[str, Fact] = dict(names)
        self.grammar = ("as", *self.withdrawal)

    def take(self, data: bytes, file: str) -> None:
        """Take in one file."""
        self.take_tree(read_yaml(data, file, self.reading.faults), file)

    def take_tree(self, tree: Node, file: str) -> None:
        """Take in what one file says, as a placed tree."""
        root = laid_in(tree, file)
        if not isinstance(root, MappingNode) or "register" not in root.items:
            self.reading.refuse(root, "This is no register.", "Begin with 'register: what it is called'.")
            return
        self._root(root)
        for name, node in self._entries(root, "kinds"):
            if isinstance(node, MappingNode):
                self._take_kind(name, node)
            else:
                self.reading.refuse(node, "This is no kind of thing.", _WRITE_THING)
        for tag, node in self._entries(root, "things"):
            items = root.items["things"]
            assert isinstance(items, MappingNode)
            self._take_thing(tag, node, items.keys[tag])

    def _take_kind(self, name: str, node: MappingNode) -> None:
        first = self.kinds.setdefault(name, node)
        if first is not node and plain(first) != plain(node):
            at = Place(file_of(first, self.reading.file), first.line, first.column)
            read = f"The kind {shown_text(name)} stands in the register twice, and first otherwise, at {at}."
            self.reading.refuse(node, read, "Write it once, or call one of the two otherwise.")

    def _take_thing(self, tag: str, node: Node, key: Scalar) -> None:
        first = self.place_of(tag)
        if first is not None:
            read = f"The tag {shown_text(tag)} stands in the register twice, first at {first}."
            self.reading.refuse(key, read, "Look which of the two it is.")
            self.doubled.add(same_tag(tag))
            return
        try:
            self.root.kind.facts["tag"].read(tag)
        except NotRead as error:
            self.reading.refuse(key, f"The tag: {error.wrong}", error.write)
        self.things[tag] = node, key
        self._places[same_tag(tag)] = Place(file_of(key, self.reading.file), key.line, key.column)

    def place_of(self, tag: str) -> Place | None:
        """Return where a tag stands that was taken in, in whatever letters, or None."""
        return self._places.get(same_tag(tag))

    def thing_of(self, tag: str) -> Thing:
        """Return one of the things that were taken in. Raises `Refused` with all faults so far."""
        thing = None if self.reading.faults else self._thing(tag, *self.things[tag])
        if self.reading.faults or thing is None:
            raise Refused(self.reading.faults)
        return thing

    def _root(self, root: MappingNode) -> None:
        """Read what a file says of the register itself: what it is called, and its local code."""
        for key, where in root.keys.items():
            if key not in _TOP:
                read = f"{shown_text(key)} is nothing known of a register."
                write = f"Known here: {', '.join(_TOP[:-1])}."
                self.reading.refuse(where, read, write, nearest_word(key, _TOP))
        said = {"name": root.items["register"]} | {k: n for k, n in root.items.items() if k in _SAID}
        for name, node in said.items():
            before = self.root.facts.get(name)
            if name != "name" or before is None:
                self.reading.state(self.root, self.root.kind.facts[name], node)
            if name != "name" and before not in (None, self.root.facts.get(name)):
                spoken = {True: "yes", False: "no"}.get(before, before)
                read = f"Another file of the register says that its {name.replace('_', ' ')} is {spoken}."
                self.reading.refuse(node, read, "Write the same in each, or in one alone.")

    def _entries(self, root: MappingNode, key: str) -> list[tuple[str, Node]]:
        node = root.items.get(key)
        if node is None:
            return []
        if not isinstance(node, MappingNode):
            self.reading.refuse(node, f"{key!r} is no mapping.", f"Write '{key}:' and in it one entry a line.")
            return []
        return list(node.items.items())

    def register(self, *, what_can_be_read: bool = False) -> Register:
        """Return the register of all files that were taken in. Raises `Refused` with all of their faults.

        `what_can_be_read`: see `load_register`; neither entry of a doubled tag can be.
        """
        for name, node in self.kinds.items():
            self._check_kind(name, node)
        told = {tag: said for tag, said in self.things.items() if same_tag(tag) not in self.doubled}
        found = {tag: thing for tag, (node, at) in told.items() if (thing := self._thing(tag, node, at))}
        faults = self.reading.faults
        if faults and not (what_can_be_read and found):
            raise Refused(faults)
        in_use = [one for tag, one in found.items() if tag not in self.withdrawn]
        for key, held in self.root.kind.holds.items():
            self.root.facts[key] = tuple(one for one in in_use if held.kind in one.kind.lineage)
        self.reading.doubt()
        for thing in (self.root, *self.reading.things, *self.withdrawn.values()):
            thing.seal()
        gone = {found[tag] for tag in self.withdrawn}
        judged = [one for one in self.reading.things if gone.isdisjoint(_with_holders(one))]
        name, words = self.reading.file, tuple(one.key for one in self.withdrawn.values())
        rig = Rig(name, self.root, (self.root, *judged), frozenset(), withdrawn=words, unread=_passed_over(faults))
        return Register(name, found, rig, self.withdrawn)

    def _check_kind(self, name: str, node: MappingNode) -> None:
        """Read a kind by itself: what is wrong with one that no thing is of is told too."""
        layers = self.layers(node, (name,))
        if layers is not None:
            own = Reading(self.reading.file, self.reading.vocabulary)
            body = _merged(node, layers[1])
            own.fill(Thing(layers[0], name, None, node.line, node.column), body, self._grammar(body))
            for fault in own.faults:
                keep_fault(self.reading.faults, fault)

    def _thing(self, tag: str, node: Node, at: Scalar) -> Thing | None:
        layers = self.layers(node, ())
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
        self.reading.fill(thing, body, self._grammar(body))
        thing.facts["tag"] = tag
        self._withdrawal(thing, body)
        for one in self.reading.things[before:]:  # what is built in stands in no line either
            for name in _OF_A_PLACE:
                one.facts.pop(name, None)
            self._refuse_as_fitted(one)
        return thing

    def _refuse_as_fitted(self, thing: Thing) -> None:
        for name, node in thing.places.items():
            if thing.kind.facts[name].entry.as_fitted:
                read = f"{name!r} says how the {thing.kind.name} is fitted where it stands, and it may be moved."
                self.reading.refuse(node, read, "Write it in the rig, at the thing itself.")

    def _withdrawal(self, thing: Thing, body: MappingNode) -> None:
        """Read that a thing was taken out of use: why, and since when.

        One whose reason or day nobody can read is out of use all the same: a slip puts nothing back into service.
        """
        said = self._said_of_it(body)
        texts = [node.text.casefold() for node in said.values() if isinstance(node, Scalar)]
        if not said or texts in (["no"], [NONE_WORD]):
            return
        where = next(iter(said.values()))
        made = Thing(self.reading.vocabulary.kinds[WITHDRAWAL], WITHDRAWAL, None, where.line, where.column, body.file)
        for name, fact in self.withdrawal.items():
            before = len(self.reading.faults)
            if name in said:
                self.reading.state(made, fact, said[name])
            if name not in made.places and len(self.reading.faults) == before and texts != [""]:
                read = f"{thing.tag} is on record as withdrawn, and it is not said: {fact.entry.ask}"
                write = f"Write '{name}: …'; of a thing that is in use, neither of the two."
                self.reading.refuse(said.get(name, where), read, write)
        if texts == [""]:  # a column or a line that was left blank
            return
        why, since = (_words(made.facts.get(name)) for name in self.withdrawal)
        made.key = f"{thing.tag} withdrawn since {since or 'a day that is not said'}: {why or 'nobody can read why'}"
        self.withdrawn[thing.tag] = made

    def _grammar(self, body: MappingNode) -> tuple[str, ...]:
        """Return the keys of an entry that are no facts of its thing."""
        return (*self.grammar, *(key for key in body.items if folded_key(key) in self.out_of_use))

    def _said_of_it(self, body: MappingNode) -> dict[str, Node]:
        """Return what an entry says of its being out of use, by the fact, in whatever letters that is written."""
        met = ((self.out_of_use.get(folded_key(key)), node) for key, node in body.items.items())
        return {fact.name: node for fact, node in met if fact is not None}

    def layers(self, node: Node, met: tuple[str, ...]) -> tuple[Kind, list[MappingNode]] | None:
        """Return the kind of an entry and the mappings that state its facts, the nearest first."""
        by_key = self.reading.vocabulary.by_key
        if isinstance(node, MappingNode) and isinstance(other := node.items.get("as"), Scalar):
            if other.text in met:
                self.reading.refuse(
                    other, f"{shown_text(other.text)} leads back to itself.", "Write one kind for each."
                )
                return None
            if len(met) >= _MOST_KINDS:
                read = f"This leads through more than {_MOST_KINDS} kinds."
                self.reading.refuse(other, read, "Say of each kind what it is, and of which one it is bought.")
                return None
            if other.text not in self.kinds:
                near = nearest_word(other.text, self.kinds)
                write = "Write a name that stands under 'kinds:'."
                self.reading.refuse(other, f"{shown_text(other.text)} is no kind of this register.", write, near)
                return None
            below = self.layers(self.kinds[other.text], (*met, other.text))
            return None if below is None else (below[0], [node, *below[1]])
        if isinstance(node, MappingNode) and len(node.items) == 1:
            key, body = next(iter(node.items.items()))
            if key in by_key and isinstance(body, MappingNode):
                return self._of_kind(by_key[key], body, met)
            if key in by_key and isinstance(body, Scalar) and not body.text:
                return by_key[key], []
        near = nearest_word(next(iter(node.items), ""), by_key) if isinstance(node, MappingNode) else ""
        self.reading.refuse(node, "It is not said what this is.", _WRITE_THING, near)
        return None

    def _of_kind(self, kind: Kind, body: MappingNode, met: tuple[str, ...]) -> tuple[Kind, list[MappingNode]] | None:
        """Return the layers of an entry that says what it is, and perhaps of which kind that is bought too."""
        if "as" not in body.items:
            return kind, [body]
        found = self.layers(body, met)
        if found is not None and found[0] is not kind:
            own, other = with_article(kind.name), with_article(found[0].name)
            read = f"This is said to be {own}, and to be of a kind that is {other}."
            self.reading.refuse(body.items["as"], read, "Correct one of the two.")
            return None
        return found


def plain(node: Node) -> object:
    """Return what a node says, wherever it stands."""
    if isinstance(node, Scalar):
        return node.text
    if isinstance(node, MappingNode):
        return {key: plain(one) for key, one in node.items.items()}
    return [plain(one) for one in node.items]


def _passed_over(faults: list[Fault]) -> tuple[Fault, ...]:
    """Return faults as those of what was left out: whoever takes the rest is told of them."""
    return Refused(one._replace(alone=True) for one in faults).faults


def _words(value: Any) -> str:
    return "" if value is None else str(getattr(value, "text", value))


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
        made.own = frozenset(body.items)
    return made
