"""Facts of one thing read from its mapping; every fault is kept, none stops the reading."""

from __future__ import annotations

from collections.abc import Iterable

from rigcheck.quantity.notation import NotRead, read_day
from rigcheck.rig.fact import UNKNOWN_WORDS, Fact, Value, asked_with
from rigcheck.rig.shared_tags import same_tag
from rigcheck.rig.thing import MISSING, Seen, Thing
from rigcheck.rig.unknown_key import UnknownKey, texts_of
from rigcheck.rig.vocabulary import Kind, Vocabulary, folded_key
from rigcheck.text.faults import Fault, Refused, keep_fault, shown_text, with_article
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import Mapping, Node, Scalar, Sequence, empty_at

__all__ = ["SEEN_KEYS", "SIGHTS_KEY", "Reading"]

SEEN_KEYS = ("seen", "by")
"""Who looked, and when: these may stand at any thing of a rig."""
SIGHTS_KEY = "sights"
"""What was seen of a thing, day by day, beside what is written of it: `rig/sights.py`."""

_UNUSUAL = "unusual number"
_DOUBLED = "doubled tag"
_MOST_THINGS = 400  # a bank of 32 cylinders with its leads has about 150


class Reading:
    """The reading of one file: its name, the vocabulary, the things and faults so far; `most` things may it be."""

    def __init__(self, file: str, vocabulary: Vocabulary, most: int = _MOST_THINGS) -> None:
        self.file, self.vocabulary, self.most = file, vocabulary, most
        self.things: list[Thing] = []
        self.faults: list[Fault] = []
        self.unknown: set[tuple[Thing, str]] = set()  # written as not known: nothing else may answer for them
        self.unusual: dict[tuple[int, int], tuple[Fact, Node]] = {}
        self.gone: list[str] = []  # of a rig: what a look saw and is on record, and is in the rig no more
        self.sights: list[tuple[Thing, Node]] | None = None  # of a rig: laid in once all its things are there

    def refuse(self, node: Node | Place, read: str, write: str, near: str = "", *, alone: bool = False) -> None:
        """Keep a fault at a node."""
        file = getattr(node, "file", self.file)  # what was laid in from another file is mended there
        keep_fault(self.faults, Fault(Place(file, node.line, node.column), read, write, near, alone))

    def pass_over(self, node: Node | Place, read: str, write: str, near: str = "") -> None:
        """Keep a fault that leaves one statement unread: whoever takes the rest is told what was passed over."""
        self.refuse(node, read, write, near, alone=True)

    def thing(self, kind: Kind, key: str, parent: Thing | None, node: Node) -> Thing:
        """Return a new thing, kept in the order of the file. Raises `Refused` where there are too many."""
        if len(self.things) >= self.most:
            place = Place(self.file, node.line, node.column)
            read = f"The file has more than {self.most:,} parts, joints and other things."
            raise Refused([*self.faults, Fault(place, read, "Describe one rig a file.")])
        made = Thing(kind, key, parent, node.line, node.column, getattr(node, "file", ""))
        self.things.append(made)
        return made

    def fill(self, thing: Thing, body: Node, grammar: Iterable[str] = ()) -> None:
        """Read the facts and inner things of `thing`; keys in `grammar` are left to the caller."""
        if not isinstance(body, Mapping):
            self._no_mapping(thing, body)
            return
        facts, holds = thing.kind.facts, thing.kind.holds
        values, places = thing.facts, thing.places
        for key, node in body.items.items():
            fact = facts.get(key)
            if fact is not None:
                # As `take`, without a call for each: most facts end here.
                value = fact.known.get(node.text, MISSING) if type(node) is Scalar else MISSING
                if value is MISSING:
                    self.state(thing, fact, node)
                else:
                    values[key], places[key] = value, node
            elif key in grammar:
                continue
            elif key in holds:
                self.inner(thing, key, node)
            elif key in SEEN_KEYS:
                self.take_seen(thing, body)
            elif key == SIGHTS_KEY and self.sights is not None:
                self.sights.append((thing, node))
            elif (meant := self._called(thing.kind, key, node)) is not None:
                if self._is_free(thing, meant, key, body):
                    self.state(thing, meant, node)
            elif (held := folded_key(key)) in holds and held not in body.items:
                self.inner(thing, held, node)
            else:
                self.unknown_key(thing, body.keys[key], node, grammar, body)

    def _is_free(self, thing: Thing, meant: Fact, key: str, body: Mapping) -> bool:
        """Whether a fact that is stated under another name of it is stated only once, or here nearer to the thing."""
        if meant.name not in body.items and meant.name not in thing.places:
            return True
        own = getattr(body, "own", None)
        if own is not None and (key in own) != (meant.name in own):
            return key in own
        read = f"{shown_text(key)} is {meant.name!r}, which is stated here too."
        self.pass_over(body.keys[key], read, "Look which of the two it is, and take the other out.")
        return False

    def take_seen(self, thing: Thing, body: Mapping) -> None:
        """Read who looked and when: it stands at any mapping, and covers what is written inside it."""
        node, by = body.items.get("seen"), body.items.get("by")
        if not isinstance(node, Scalar):
            write = "Write 'seen:' and the day on which somebody looked, as 2026-11-25."
            self.pass_over(node or body.keys["by"], "It is not said on which day it was seen.", write)
            return
        if by is not None and not (isinstance(by, Scalar) and by.text.strip()):
            self.pass_over(by, "It is not said who looked.", "Write 'by:' and a role, as 'fitter'; or take it out.")
            return
        if node.text in UNKNOWN_WORDS:
            return
        try:
            day = read_day(node.text)
        except NotRead as error:
            self.pass_over(node, f"seen: {error.wrong}", error.write)
            return
        if day.lo != day.hi:
            self.pass_over(node, f"{shown_text(node.text)} is more than one day.", "Write the day, as 2026-11-25.")
            return
        role = " ".join(by.text.split()) if isinstance(by, Scalar) else ""
        at = Place(getattr(node, "file", self.file), node.line, node.column)
        thing.seen = Seen(int(day.lo), role, at)

    def _no_mapping(self, thing: Thing, body: Node) -> None:
        if isinstance(body, Scalar) and (not body.text or body.text.casefold() in UNKNOWN_WORDS):
            return
        verb = "are" if with_article(thing.kind.name) == thing.kind.name else "is"
        read = f"The {thing.kind.name} {verb} not a mapping of facts."
        write = "Write its facts as 'fact: value' lines, or {} for none known."
        if isinstance(body, Scalar):  # a word in their place says that it is there, or not, and silences nothing else
            absent = body.text.casefold() in ("no", "n")
            self.pass_over(body, read, "Write none where there is none." if absent else write)
        else:
            self.refuse(body, read, write)

    def take(self, thing: Thing, fact: Fact, node: Node) -> None:
        """Take one stated fact; the same few texts come again and again, and are known."""
        value = fact.known.get(node.text, MISSING) if type(node) is Scalar else MISSING
        if value is MISSING:
            self.state(thing, fact, node)
        else:
            thing.facts[fact.name], thing.places[fact.name] = value, node

    def state(self, thing: Thing, fact: Fact, node: Node) -> None:
        """Read one stated fact."""
        if fact.computed:
            where = fact.entry.from_day or "the facts that it is worked out from"
            near = self._taking(thing.kind, fact.name, node)
            write = f"Write {near!r} for what is asked: {thing.kind.facts[near].entry.ask}" if near else ""
            read = f"{fact.name!r} is computed and cannot be stated."
            self.pass_over(node, read, write or f"Leave the line out and state {where}.")
            return
        try:
            value = self._value(fact, node)
        except NotRead as error:
            near = self._taking(thing.kind, fact.name, node)
            other = f" What is asked with that word is {near!r}: {thing.kind.facts[near].entry.ask}" if near else ""
            self.pass_over(node, f"{thing.kind.name}, {fact.label}: {error.wrong}", f"{error.write}{other}")
            self._leave_open(thing, fact)
            return
        except LookupError:
            self._leave_open(thing, fact)
            return
        thing.facts[fact.name] = value
        thing.places[fact.name] = node
        if not fact.is_usual(value):
            self.unusual[node.line, node.column] = fact, node

    def _leave_open(self, thing: Thing, fact: Fact) -> None:
        """Let nothing answer for a fact that is written here and not known, nor what was said of every such thing."""
        self.unknown.add((thing, fact.name))
        thing.facts.pop(fact.name, None)
        thing.places.pop(fact.name, None)

    def _taking(self, kind: Kind, key: str, node: Node) -> str:
        """Return the other fact of a kind that is asked for with the words of a key and takes what was written."""
        texts = texts_of(node)
        others = (one for one in kind.facts.values() if one.name != key and not one.computed)
        return asked_with(key, (one for one in others if one.measure != "text" and one.takes(texts)))

    def doubt(self) -> None:
        """Make a thing of every number that is unusual, so that a rule can look at it; once for where it is written."""
        kind = self.vocabulary.kinds.get(_UNUSUAL)
        for fact, node in self.unusual.values() if kind is not None else ():
            owner = next((one for one in self.things if one.places.get(fact.name) is node), None)
            if kind is not None and owner is not None:  # none where the words of every joint meet no joint
                self.thing(kind, fact.label, owner, node).places["usual"] = node

    def doubled_tags(self, root: Thing) -> None:
        """Make a thing of every tag that several things bear, so that a rule can look at it."""
        kind = self.vocabulary.kinds.get(_DOUBLED)
        bearers: dict[str, list[Thing]] = {}
        for thing in self.things if kind is not None else ():
            if thing.tag:
                bearers.setdefault(same_tag(thing.tag), []).append(thing)
        for several in bearers.values():
            if len(several) > 1 and kind is not None:
                called = " and ".join(one.label for one in several)
                made = self.thing(kind, f"tag {several[0].tag} of {called}", root, _tag_node(several[-1]))
                made.facts["bearers"] = tuple(several)

    def _value(self, fact: Fact, node: Node) -> Value:
        if type(node) is Scalar:
            text = node.text
            if text in UNKNOWN_WORDS and text not in fact.words:
                raise LookupError
            if not text.strip():
                write = "Leave the line out if it is not known."
                raise NotRead("Nothing is written.", write)
            return fact.read(text)
        if isinstance(node, Sequence) and fact.measure == "several_words":
            return fact.together(self._word(fact, item) for item in node.items)
        shape = "a list" if isinstance(node, Sequence) else "a mapping"
        raise NotRead(f"Here stands {shape}.", "Write one value.")

    def _word(self, fact: Fact, item: Node) -> str:
        if not isinstance(item, Scalar):
            raise NotRead("Here stands a list or a mapping.", "Write a list of words.")
        return fact.word(item.text)

    def inner(self, thing: Thing, key: str, node: Node) -> None:
        """Read the things held under `key`: one mapping, or a list of them where many may be."""
        held = thing.kind.holds[key]
        if isinstance(node, Scalar) and node.text == "none":
            thing.facts[key] = () if held.many else None  # stated to be absent: not implied either
            return
        bodies = node.items if isinstance(node, Sequence) else [node]
        if len(bodies) > 1 and not held.many:
            self.refuse(node, f"{key!r} is written as a list.", "Write one mapping.")
        found = [self.inside(thing, key, body) for body in bodies]
        for number, one in enumerate(found, start=1):
            one.number = number if len(found) > 1 else 0
        thing.facts[key] = tuple(found) if held.many else found[0] if found else None

    def inside(self, thing: Thing, key: str, body: Node) -> Thing:
        """Return a new thing built into another, with what is written of it."""
        held = thing.kind.holds[key]
        kind = self.vocabulary.kinds[held.kind]
        spoken = kind.name if held.many else key.replace("_", " ")
        made = self.thing(kind, spoken, thing, body)
        if thing.kind.name != "rig":
            made.facts[thing.kind.key] = thing
        if "part" in kind.lineage:  # a part built into another stands in its line, but not in the flow
            made.facts |= {"line": thing.facts.get("line"), "upstream": None, "downstream": None}
            made.facts.setdefault("regulator", None)  # one that it is built into is there already
        self.fill(made, body)
        return made

    def _called(self, kind: Kind, key: str, node: Node) -> Fact | None:
        """Return the fact that a key means which is no name of one: in other letters, or under another name of it."""
        folded = folded_key(key)
        if folded != key and folded in kind.facts:
            return kind.facts[folded]
        named = [fact for fact in kind.facts.values() if folded in fact.entry.also_called]
        return next((fact for fact in named if fact.takes(texts_of(node))), named[0] if len(named) == 1 else None)

    def unknown_key(self, thing: Thing, key: Scalar, node: Node, grammar: Iterable[str], body: Mapping) -> None:
        """Pass over a key that is not known, with the nearest one that is and that takes what was written.

        A built-in thing whose key is misspelt is read all the same: without it a rig would be judged that nobody has.
        Where the key may stand for lines or parts that are then missing, the file is refused.
        """
        unknown = UnknownKey(self.vocabulary, thing.kind, key.text, node, grammar, body.items)
        read = f"{shown_text(key.text)} is nothing known of {with_article(thing.kind.name)}"
        read_as = f": read as its {unknown.held!r}" if unknown.held else ""
        self.refuse(key, f"{read}{read_as}.", unknown.write, alone=unknown.alone)
        if unknown.held:
            self.inner(thing, unknown.held, node)


def _tag_node(thing: Thing) -> Node:
    where = thing.places.get("tag")
    return empty_at(thing.line, thing.column, thing.file) if where is None or isinstance(where, Place) else where
