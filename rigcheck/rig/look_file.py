"""A look: what somebody saw of a rig on a day, kept in a file beside it.

Things are named by their tag, by where they stand in the rig (`lines[0].parts[3]`, or in braces `lines.0.parts.3`),
by name, or as a report calls them; `every:` speaks of all things of a kind. What stands further down in the file
replaces what stands above, and `unknown` takes it back.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator
from typing import NamedTuple, Protocol, TypeGuard

from msgspec import Struct

from rigcheck.quantity.notation import NotRead, read_day
from rigcheck.quantity.wording import shown_day
from rigcheck.rig.every import ALSO, without_inner
from rigcheck.rig.fact import NONE_WORD, UNKNOWN_WORDS
from rigcheck.rig.thing import Statement, Thing
from rigcheck.rig.thing_names import NamedThings, is_same_name, tag_of_another
from rigcheck.rig.thing_reader import SEEN_KEYS, Reading
from rigcheck.rig.vocabulary import Kind, Vocabulary, is_tag_key
from rigcheck.text.faults import Fault, Refused, nearest_word, shown_text
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import Mapping, Node, Scalar, Sequence, read_yaml

__all__ = ["LookFile", "NotOf", "NotTold", "read_look"]

_TOP = ("look", "day", "by", "seen", "cannot_tell", "note", "$schema")
_NEEDED = {
    "look": "Write 'look:' and the path of the rig's file, seen from here.",
    "day": "Write 'day:' and the day on which somebody looked, as 2026-11-25.",
    "by": "Write 'by:' and who looked, by role, as 'fitter'.",
}
_MOST_NAMED = 8
_ENTRY = "Write '- {thing: H-0231, cover: sound}', or '- every: {joint: {leak_test: tight}}'."


class NotOf(Protocol):
    """Says why what a look saw at the place of a thing, or of every thing of a kind, is of another one, or nothing."""

    def __call__(self, thing: Thing, look: LookFile, /, *, of_many: bool) -> str: ...


class NotTold(NamedTuple):
    """A fact of a thing that somebody could not tell, and why."""

    thing: str
    fact: str
    because: str
    place: Place


class LookFile(Struct, frozen=True):
    """A look as it was read; `rig` is the path that it names, `day` a day number.

    `cannot_tell`: facts that whoever looked put down as not to be known, and why; they say nothing of the rig.
    """

    file: str
    rig: str
    rig_place: Place
    day_place: Place
    day: int
    by: str
    entries: tuple[Mapping, ...]
    cannot_tell: tuple[NotTold, ...] = ()

    def lay(self, reading: Reading, things: Iterable[Thing], not_of: NotOf, on_record: Container[str] = ()) -> None:
        """Lay what was seen into the things of its rig; faults are kept by the reading.

        `not_of`: why what this look saw at the place of a thing is of another one, or nothing where it is not;
        `on_record`: tags that a register has; what was seen of one that has left the rig since is no fault.
        """
        named = NamedThings(things)
        for entry in self.entries:
            every = entry.items.get("every")
            if isinstance(every, Mapping):
                self._every(reading, named.things, every, not_of)
            else:
                self._of_one(reading, named, entry, not_of, on_record)

    def tags(self) -> Iterator[tuple[str, str]]:
        """Yield, for each row, what it calls its thing, and the tag that was read there or nothing."""
        for entry in self.entries:
            node, tag = entry.items.get("thing"), _tag_in(entry)
            if isinstance(node, Scalar):
                yield node.text, tag.text if isinstance(tag, Scalar) and tag.text not in UNKNOWN_WORDS else ""

    def follow(self, thing: Thing, vocabulary: Vocabulary) -> list[Fault]:
        """Lay what this look at another rig says of a thing that is here now, by its tag.

        What it is like goes with it, not how it was fitted there or set that day. Return what of it cannot be read.
        """
        faults: list[Fault] = []
        for entry in self.entries:
            called = (entry.items.get("thing"), _tag_in(entry))
            if not any(isinstance(node, Scalar) and is_same_name(node.text, thing.tag) for node in called):
                continue
            sample = Thing(thing.kind, thing.key, None, entry.line, entry.column)
            own = Reading(self.file, vocabulary)
            own.fill(sample, entry, ("thing", *thing.kind.holds, *SEEN_KEYS))
            faults += _alone(own.faults)
            for name, where in sample.places.items():
                if thing.kind.facts[name].goes_along:
                    place = Place(self.file, where.line, where.column)
                    said = Statement(sample.facts[name], "seen", self.day, self.by, place, elsewhere=True)
                    thing.said.setdefault(name, []).append(said)
        return faults

    def _every(self, reading: Reading, things: tuple[Thing, ...], every: Mapping, not_of: NotOf) -> None:
        kinds = reading.vocabulary.by_key
        for key, body in every.items.items():
            kind = kinds.get(key)
            if kind is None:
                read = f"{shown_text(key)} is no kind of thing."
                self._refuse(
                    reading, every.keys[key], read, "Write a kind: part, hose, joint …", nearest_word(key, kinds)
                )
                continue
            own = Reading(self.file, reading.vocabulary)
            told = without_inner(own, reading.vocabulary.kinds.get(ALSO.get(kind.name, ""), kind), body)
            reading.faults += _alone(own.faults)
            for thing in things:
                if kind.name in thing.kind.lineage and not self._is_of_another(
                    reading, body, thing, not_of, of_many=True
                ):
                    self._seen(reading, thing, _for_it(told, kind, thing, reading.vocabulary), (), of_many=True)

    def _is_of_another(
        self, reading: Reading, node: Node, thing: Thing, not_of: NotOf, *, of_many: bool = False
    ) -> bool:
        """Whether what was seen at a place is of what stood there before; then it is told, and does not count."""
        why = not_of(thing, self, of_many=of_many)
        if why:
            read = f"What was seen here on {shown_day(self.day)} is not of {thing.tag or thing.label}: {why}."
            self._refuse(reading, node, read, "Write '- {thing: TAG, …}' with the tag of the part that was seen.")
        return bool(why)

    def _of_one(
        self, reading: Reading, named: NamedThings, entry: Mapping, not_of: NotOf, on_record: Container[str]
    ) -> None:
        node = entry.items.get("thing")
        if not isinstance(node, Scalar) or not node.text.strip():
            self._refuse(reading, node or entry, "It is not said of which thing this was seen.", _ENTRY)
            return
        found = named.called(node.text)
        if not found and node.text.strip() in on_record:
            at = Place(self.file, node.line, node.column)
            reading.gone.append(f"{node.text.strip()}, seen {shown_day(self.day)}, is in this rig no more ({at})")
            return
        if len(found) != 1:
            words = [word for one in named.things for word in (one.tag, one.label) if word]
            read = f"{shown_text(node.text)} is {'nothing' if not found else 'more than one thing'} of this rig."
            write = "Write its tag, or where it stands in the rig, as lines[0].parts[3]."
            if not found:
                write += " If it has left the rig since, enter it in a register, or take this row out."
            alike = [one.tag or one.label for one in named.things if one.kind.name == node.text.strip().casefold()]
            if alike:
                read = f"{shown_text(node.text)} is a kind of thing, of which this rig has {len(alike)}."
                write = f"Write which: {', '.join(alike[:_MOST_NAMED])}; of all of them '- every: {{…}}'."
            self._refuse(reading, node, read, write, nearest_word(node.text, words))
            return
        by_tag = is_same_name(node.text, found[0].tag)
        if by_tag or _tag_in(entry) is not None or not self._is_of_another(reading, node, found[0], not_of):
            self._seen(reading, found[0], entry, ("thing",))

    def _seen(
        self, reading: Reading, thing: Thing, body: Node, grammar: tuple[str, ...], *, of_many: bool = False
    ) -> None:
        own = Reading(self.file, reading.vocabulary)
        sample = Thing(thing.kind, thing.key, None, body.line, body.column)
        own.fill(sample, body, (*grammar, *thing.kind.holds, *SEEN_KEYS))
        if isinstance(body, Mapping):
            self._beside_facts(reading, thing, body)
        reading.faults += [fault for fault in _alone(own.faults) if fault not in reading.faults]
        if other := tag_of_another(sample, thing):
            read = f"This was seen of {shown_text(other)}, and {thing.label} bears {shown_text(thing.tag)}."
            self._refuse(reading, sample.places["tag"], read, f"Write '- {{thing: {other}, …}}', or correct the tag.")
            return
        for name, node in body.items.items() if isinstance(body, Mapping) else ():
            if isinstance(node, Scalar) and node.text in UNKNOWN_WORDS and name in thing.said:  # taken back
                thing.said[name][:] = [one for one in thing.said[name] if not self._said(one, reading.file)]
        for name, where in sample.places.items():
            place = Place(self.file, where.line, where.column)
            statement = Statement(sample.facts[name], "seen", self.day, self.by, place, of_many)
            kept = thing.said.setdefault(name, [])
            if of_many and any(self._said(one, reading.file) and not one.of_many for one in kept):
                continue  # what is said of a thing itself goes before what is said of every one
            kept[:] = [one for one in kept if not self._said(one, reading.file)]  # a correction further down
            kept.append(statement)

    def _said(self, one: Statement, rig: str) -> bool:
        """Whether this look said so: here, or copied from here into the description of the rig."""
        copied = one.place.file == rig and (one.day, one.by) == (self.day, self.by)
        return one.basis == "seen" and (one.place.file == self.file or copied)

    def _beside_facts(self, reading: Reading, thing: Thing, body: Mapping) -> None:
        """Lay what was seen of what is built in, and refuse a day of its own."""
        for key, node in body.items.items():
            if key in thing.kind.holds:
                self._seen_inside(reading, thing, key, node)
            elif key in SEEN_KEYS:
                read = f"A look is of one day and of one role, and {key!r} stands at one thing of it."
                self._refuse(reading, body.keys[key], read, "Write a look of its own for another day or another role.")

    def _seen_inside(self, reading: Reading, thing: Thing, key: str, node: Node) -> None:
        """Lay what was seen of what is built into a thing: of one there, or of as many as there are, in their order."""
        if isinstance(node, Scalar) and node.text == NONE_WORD:
            read = f"That there is no {key.replace('_', ' ')} is said of the rig itself, which a look does not change."
            self._refuse(reading, node, read, f"Write '{key}: none' in the rig, at {thing.label}.")
            return
        held = thing.facts.get(key)
        there = held if isinstance(held, tuple) else (held,) if isinstance(held, Thing) else ()
        bodies = node.items if isinstance(node, Sequence) else [node]
        if len(bodies) != len(there):
            called = key.replace("_", " ")
            read = f"{len(bodies)} of {called} are seen here, and {thing.label} has {len(there)} in its description."
            where = f"{thing.path}.{key}" + ("[0]" if isinstance(held, tuple) else "")
            write = f"Write each with its place, as '- {{thing: \"{where}\", …}}', or write '{key}:' in the rig."
            self._refuse(reading, node, read, write)
            return
        for one, body in zip(there, bodies, strict=True):
            self._seen(reading, one, body, ())

    def _refuse(self, reading: Reading, node: Node | Place, read: str, write: str, near: str = "") -> None:
        reading.pass_over(Place(self.file, node.line, node.column), read, write, near)


def _tag_in(entry: Mapping) -> Node | None:
    """Return the tag that was read, under whichever of its names it is written."""
    return next((node for key, node in entry.items.items() if is_tag_key(key)), None)


def _alone(faults: Iterable[Fault]) -> Iterator[Fault]:
    """Yield faults of rows: what the others say of the rig means what it says without them."""
    return (fault._replace(alone=True) for fault in faults)


def _for_it(body: Node, kind: Kind, thing: Thing, vocabulary: Vocabulary) -> Node:
    """Return what is said of every joint without what this one cannot have: it lies at no hose."""
    wider = vocabulary.kinds.get(ALSO.get(kind.name, ""))
    if wider is None or not isinstance(body, Mapping):
        return body
    made = Mapping(body.line, body.column)
    not_its = wider.facts.keys() - thing.kind.facts.keys()
    made.items = {name: node for name, node in body.items.items() if name not in not_its}
    made.keys = body.keys
    return made


def read_look(data: bytes, file: str, vocabulary: Vocabulary) -> LookFile:
    """Return a look. Raises `Refused` with all of its faults; what it says of things is read with its rig."""
    reading = Reading(file, vocabulary)
    root = read_yaml(data, file, reading.faults)
    if not isinstance(root, Mapping):
        reading.refuse(root, "This is no look.", "Begin with 'look: my-rig.yaml'.")
        raise Refused(reading.faults)
    for key, where in root.keys.items():
        if key not in _TOP:
            write = f"Known here: {', '.join(_TOP[:-1])}."
            reading.refuse(where, f"{shown_text(key)} is nothing known of a look.", write, nearest_word(key, _TOP))
    for key, write in _NEEDED.items():
        node = root.items.get(key)
        if not isinstance(node, Scalar) or not node.text.strip() or node.text in UNKNOWN_WORDS:
            reading.refuse(node or root, f"The look has no {key!r}.", write)
    day = _day(reading, root.items.get("day"))
    entries = _entries(reading, root.items.get("seen"))
    not_told = tuple(_not_told(reading, root.items.get("cannot_tell")))
    if reading.faults:
        raise Refused(reading.faults)
    rig, by, when = root.items["look"], root.items["by"], root.items["day"]
    assert isinstance(rig, Scalar) and isinstance(by, Scalar)
    of, at = (Place(file, node.line, node.column) for node in (rig, when))
    return LookFile(file, rig.text, of, at, day, " ".join(by.text.split()), entries, not_told)


def _day(reading: Reading, node: Node | None) -> int:
    if not isinstance(node, Scalar):
        return 0
    try:
        day = read_day(node.text)
    except NotRead as error:
        reading.refuse(node, error.wrong, error.write)
        return 0
    if day.lo != day.hi:
        reading.refuse(node, f"{shown_text(node.text)} is more than one day.", "Write the day, as 2026-11-25.")
    return int(day.lo)


def _entries(reading: Reading, node: Node | None) -> tuple[Mapping, ...]:
    if node is None or (isinstance(node, Scalar) and not node.text):
        return ()
    items = node.items if isinstance(node, Sequence) else [node]
    for item in items:
        if not isinstance(item, Mapping):
            reading.refuse(item, "This says nothing that was seen.", _ENTRY)
    return tuple(item for item in items if isinstance(item, Mapping))


def _not_told(reading: Reading, node: Node | None) -> Iterator[NotTold]:
    for item in node.items if isinstance(node, Sequence) else ():
        texts = {key: one.text for key, one in item.items.items() if isinstance(one, Scalar)} if _is_map(item) else {}
        known = {"thing", "fact", "because"}
        if (
            not texts.get("thing")
            or not texts.get("fact")
            or not _is_map(item)
            or set(item.items) - (known & set(texts))
        ):
            write = "Write '- {thing: H-0231, fact: made, because: unreadable}'."
            reading.refuse(item, "It is not said what nobody could tell.", write)
        else:
            yield NotTold(
                texts["thing"], texts["fact"], texts.get("because", ""), Place(reading.file, item.line, item.column)
            )
    if node is not None and not isinstance(node, Sequence) and not (isinstance(node, Scalar) and not node.text):
        reading.refuse(node, "This is no list.", "Write '- {thing: H-0231, fact: made, because: unreadable}'.")


def _is_map(node: Node) -> TypeGuard[Mapping]:
    return isinstance(node, Mapping)
