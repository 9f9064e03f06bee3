"""One statement for many things: `every:` of a folder's settings, a rig or a line, by the kind that it is about.

What is stated of a thing itself goes before it; of two such statements the nearest: the line's, then the rig's, then
the folder's, and of one `every:` the narrowest kind. What only a standard rig says of a thing gives way to it.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from msgspec import Struct

from rigcheck.rig.thing import Seen, Statement, Thing
from rigcheck.rig.thing_reader import Reading
from rigcheck.rig.vocabulary import Kind
from rigcheck.text.faults import nearest_word, shown_text
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import Mapping, Node, Scalar, file_of

__all__ = ["ALSO", "Every", "without_inner"]

_EXAMPLE = "Write 'every: {hose: {cover: sound}, joint: {sealing: metal-to-metal}}'."
ALSO = {"joint": "hose end"}
"""Whoever says something of every joint says it of those beside a hose too, with what only these have."""


class _Stated(Struct, frozen=True):
    """What is said of all of one kind: values with their nodes, and who saw it, if somebody did."""

    facts: dict[str, tuple[Any, Node]]
    seen: Seen | None


_ByKind = dict[str, _Stated]


class Every:
    """The statements for many of one rig, by the line that they stand in; None: the rig as a whole."""

    def __init__(self, reading: Reading) -> None:
        self.reading = reading
        self._by_line: dict[Thing | None, _ByKind] = {}
        self._of_folder: _ByKind = {}
        self.standard = ""  # the file of the standard rig that the description is laid over

    def read(self, node: Node | None, line: Thing | None = None) -> None:
        """Read what stands under `every:`; faults are kept by the reading."""
        if node is not None:
            not_there = ("rig",) if line is None else ("rig", "line")
            self._by_line.setdefault(line, {}).update(self._read(node, not_there))

    def read_of_folder(self, node: Node) -> None:
        """Read what the settings of a folder say of all of its rigs: what lasts, and is not fitted from day to day."""
        self._of_folder = self._read(node, ())
        for kind, stated in list(self._of_folder.items()):
            facts = self.reading.vocabulary.kinds[ALSO.get(kind, kind)].facts
            if stated.seen is not None:
                read = "Settings of a folder are no look: nobody sees all of its rigs at once."
                self.reading.pass_over(stated.seen.place, read, "Take 'seen:' out, or write a look at each rig.")
                del self._of_folder[kind]
            for name, (_, where) in list(stated.facts.items()):
                if facts[name].is_told_anew:
                    read = f"{shown_text(f'{kind}: {name}')} is told of each rig anew, and not of a folder of them."
                    self.reading.pass_over(where, read, "Write it in the rig, under its own 'every:', or in a look.")
                    del stated.facts[name]

    def _read(self, node: Node, not_there: tuple[str, ...]) -> _ByKind:
        if not isinstance(node, Mapping) or not node.items:
            self.reading.pass_over(node, "This says nothing of every part.", _EXAMPLE)
            return {}
        kinds = self.reading.vocabulary.by_key
        found: _ByKind = {}
        for key, body in node.items.items():
            kind = kinds.get(key)
            if kind is None or kind.name in not_there:
                near = nearest_word(key, [one for one in kinds if one not in not_there])
                read = f"{shown_text(key)} is no kind of thing of which there are many."
                write = "Write a kind: part, hose, joint, cylinder …"
                self.reading.refuse(node.keys[key], read, write, near, alone=True)
            else:
                found[kind.name] = self._stated(kinds.get(ALSO.get(key, key).replace(" ", "_"), kind), body)
        return found

    def _stated(self, kind: Kind, body: Node) -> _Stated:
        sample = Thing(kind, kind.name, None, body.line, body.column)
        self.reading.fill(sample, without_inner(self.reading, kind, body))
        places = {name: node for name, node in sample.places.items() if not isinstance(node, Place)}
        return _Stated({name: (sample.facts[name], node) for name, node in places.items()}, sample.seen)

    def lay(self, things: Iterable[Thing]) -> None:
        """Lay the statements into the things that do not say these facts themselves."""
        whole = self._by_line.get(None, {})
        for thing in things if self._by_line or self._of_folder else ():
            line = thing.facts.get("line")
            own = self._by_line.get(line, {}) if isinstance(line, Thing) else {}
            taken: set[str] = set()
            for presumed in (False, True) if self.standard else (False,):  # what it says itself goes first
                for scope in (own, whole, self._of_folder):
                    for kind in thing.kind.lineage:
                        if kind in scope:
                            self._lay(thing, scope[kind], taken, presumed)

    def _lay(self, thing: Thing, stated: _Stated, taken: set[str], presumed: bool) -> None:
        for name, (value, node) in stated.facts.items():
            if name in taken or name not in thing.kind.facts or (thing, name) in self.reading.unknown:
                continue
            if self._is_standard(node) is not presumed:
                continue
            if name in thing.facts and (presumed or not self._is_standard(thing.places.get(name))):
                continue
            taken.add(name)
            if stated.seen is None:
                thing.facts[name], thing.places[name] = value, node
                continue
            at = Place(file_of(node, self.reading.file), node.line, node.column)
            said = Statement(value, "seen", stated.seen.day, stated.seen.by, at, of_many=True)
            thing.said.setdefault(name, []).append(said)

    def _is_standard(self, node: Node | Place | None) -> bool:
        """Whether a statement is only the standard rig's."""
        return bool(self.standard) and getattr(node, "file", "") == self.standard


def without_inner(reading: Reading, kind: Kind, body: Node) -> Node:
    """Return what is said of all of a kind themselves; what is built into them is a kind of its own, and is refused."""
    inner = kind.holds.keys() & body.items.keys() if isinstance(body, Mapping) else ()
    if not inner or not isinstance(body, Mapping):
        return body
    for key in inner:
        if not isinstance(body.items[key], Scalar) or not body.items[key].text:  # type: ignore[union-attr]
            write = f"Write it of its own kind: 'every: {{{kind.holds[key].kind.replace(' ', '_')}: {{…}}}}'."
        else:
            write = "Write it at each of them."
        read = f"{shown_text(key)} is a thing inside, of which nothing is said here."
        reading.refuse(body.keys[key], read, write, alone=True)
    rest = Mapping(body.line, body.column)
    rest.items = {key: node for key, node in body.items.items() if key not in inner}
    rest.keys = {key: node for key, node in body.keys.items() if key not in inner}
    return rest
