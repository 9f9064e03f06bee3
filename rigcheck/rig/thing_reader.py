"""Facts of one thing read from its mapping; every fault is kept, none stops the reading."""

from __future__ import annotations

from collections.abc import Iterable

from rigcheck.quantity.notation import NotRead, read_day
from rigcheck.rig.fact import UNKNOWN_WORDS, Fact, Value, asked_with
from rigcheck.rig.shared_tags import same_tag
from rigcheck.rig.thing import MISSING, Seen, Thing
from rigcheck.rig.vocabulary import Kind, Vocabulary, folded_key
from rigcheck.text.faults import Fault, Refused, keep_fault, nearest_name, nearest_word, shown_text, with_article
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import Mapping, Node, Scalar, Sequence, empty_at

__all__ = ["SEEN_KEYS", "SIGHTS_KEY", "Reading"]

SEEN_KEYS = ("seen", "by")
"""Who looked, and when: these may stand at any thing of a rig."""
SIGHTS_KEY = "sights"
"""What was seen of a thing, day by day, beside what is written of it: `rig/sights.py`."""

_LIST_WORDS = 24
_SLIP = 0.75  # likeness
_UNUSUAL = "unusual number"
_DOUBLED = "doubled tag"
_OTHER_FILES = ("rig", "register", "premises", "fleet")  # what stands in these is in no rig
_OF_A_LINE = ("parts", "every_joint", "every")  # what only a line takes, and no other thing has as a fact
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
            else:
                self.unknown_key(thing.kind, body.keys[key], node, grammar)

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
            self.unknown.add((thing, fact.name))
            return
        except LookupError:
            self.unknown.add((thing, fact.name))
            return
        thing.facts[fact.name] = value
        thing.places[fact.name] = node
        if not fact.is_usual(value):
            self.unusual[node.line, node.column] = fact, node

    def _taking(self, kind: Kind, key: str, node: Node) -> str:
        """Return the other fact of a kind that is asked for with the words of a key and takes what was written."""
        texts = _texts(node)
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
        return next((fact for fact in named if fact.takes(_texts(node))), named[0] if len(named) == 1 else None)

    def unknown_key(self, kind: Kind, key: Scalar, node: Node, grammar: Iterable[str]) -> None:
        """Pass over a key that is not known, with the nearest one that is and that takes what was written.

        Where the key may stand for a part or another thing that is then missing, the file is refused.
        """
        texts = _texts(node)
        known = list(dict.fromkeys([*self._own_first(kind), *kind.holds, *grammar]))
        known = [name for name in known if name != "$schema" and (kind.name, name) != ("rig", "name")]
        near = self._meant(kind, key.text, known, texts)
        kinds = self.vocabulary.kinds.values()
        elsewhere = [k for k in kinds if self._declares(k, key.text) and k.facts[key.text].takes(texts)]
        holders = [k for k in kinds if key.text in k.holds and k.name not in _OTHER_FILES]
        first, _, rest = key.text.partition(" ")
        if rest and isinstance(node, Scalar) and not node.text and first in known:
            write = f"Write a colon behind the fact: '{first}: {rest}'."
        elif key.text[:1].isdecimal() and isinstance(node, Scalar) and not node.text:  # {set_pressure: 0,4 bar}
            write = "Inside braces a comma ends what stands before it: write the number with a point, or in quotes."
        elif key.text in _OF_A_LINE:
            write = "It belongs to one line: write it under 'lines', beside that line's 'gas'."
        elif kind.name in ("rig", "line") and self._is_part(key.text):
            write = "It is a part: write it in the list under the 'parts' of its line, where the gas passes it."
        elif holders:
            write = f"It stands inside {_either(holders)}: write it there."
        elif elsewhere and (not near or "joint" in elsewhere[0].lineage):
            write = self._write_there(kind, key.text, elsewhere)
        else:
            more = f" and {len(known) - _LIST_WORDS} more" if len(known) > _LIST_WORDS else ""
            write = f"Write {near!r}?" if near else f"Known here: {', '.join(known[:_LIST_WORDS])}{more}."
        alone = bool(texts) and near not in kind.holds and near not in grammar
        self.refuse(key, f"{shown_text(key.text)} is nothing known of {with_article(kind.name)}.", write, alone=alone)

    def _meant(self, kind: Kind, key: str, known: list[str], texts: tuple[str, ...]) -> str:
        """Return the known name that a key stands for: one that takes the value before one that is only like it."""
        taking = [name for name in known if name not in kind.facts or kind.facts[name].takes(texts)]
        near = nearest_name(key, taking) or asked_with(key, (kind.facts[one] for one in taking if one in kind.facts))
        return near or nearest_word(key, known, _SLIP)

    def _write_there(self, kind: Kind, key: str, elsewhere: list[Kind]) -> str:
        """Return where a fact belongs; one of a narrower kind belongs to some things of this kind only."""
        parts = [one for one in elsewhere if "part" in one.lineage or "joint" in one.lineage]
        if kind.name in ("rig", "line") and parts:
            return f"Write it at {_either(parts)}; for all of them 'every: {{{parts[0].key}: {{{key}: …}}}}'."
        if any("joint" in one.lineage for one in elsewhere):
            if "joint" in kind.lineage:
                return "It is a fact of a joint next to a hose: leave it out here, and write it at that joint."
            return (
                "It is a fact of a joint: write it as '- joint: {…}' in 'parts', between the two parts that it joins."
            )
        return f"It is a fact of {_either(elsewhere)}: write it there."

    def _is_part(self, name: str) -> bool:
        kind = self.vocabulary.by_key.get(name)
        return kind is not None and "part" in kind.lineage

    def _declares(self, kind: Kind, name: str) -> bool:
        """Whether a fact is a kind's own, and not one that it inherits."""
        return name in kind.facts and not (kind.base and name in self.vocabulary.kinds[kind.base].facts)

    def _own_first(self, kind: Kind) -> list[str]:
        """Return the facts that can be stated of a kind, those that it does not inherit first."""
        inherited = self.vocabulary.kinds[kind.base].facts if kind.base else {"name": None}
        stated = [name for name, fact in kind.facts.items() if not fact.computed]
        return sorted(stated, key=lambda name: name in inherited)


def _tag_node(thing: Thing) -> Node:
    where = thing.places.get("tag")
    return empty_at(thing.line, thing.column, thing.file) if where is None or isinstance(where, Place) else where


def _texts(node: Node) -> tuple[str, ...]:
    """Return the texts that a value consists of; none where it is a mapping, or a list of other things than texts."""
    items = node.items if isinstance(node, Sequence) else [node]
    texts = tuple(one.text for one in items if isinstance(one, Scalar))
    return texts if len(texts) == len(items) else ()


def _either(kinds: Iterable[Kind]) -> str:
    """Return kinds as a choice: a hose or a nozzle."""
    return " or ".join(with_article(kind.name) for kind in kinds)
