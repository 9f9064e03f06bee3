"""One statement for many things: `every:` of a rig or a line, by the kind of thing that it is about.

What is stated of a thing itself goes before it; of two such statements the nearest: the line's, then the rig's,
and of one `every:` the narrowest kind.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from rigcheck.rig.thing import Thing
from rigcheck.rig.thing_reader import Reading
from rigcheck.rig.vocabulary import Kind
from rigcheck.text.faults import nearest_word, shown_text
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import Mapping, Node

__all__ = ["Every"]

_Stated = dict[str, tuple[Any, Node]]


class Every:
    """The statements for many of one rig, by the line that they stand in; None: the rig as a whole."""

    def __init__(self, reading: Reading) -> None:
        self.reading = reading
        self._by_line: dict[Thing | None, dict[str, _Stated]] = {}

    def read(self, node: Node | None, line: Thing | None = None) -> None:
        """Read what stands under `every:`; faults are kept by the reading."""
        if node is None:
            return
        if not isinstance(node, Mapping) or not node.items:
            write = "Write 'every: {hose: {cover: sound}, joint: {sealing: metal-to-metal}}'."
            self.reading.refuse(node, "This says nothing of every part.", write)
            return
        kinds = self.reading.vocabulary.by_key
        found = self._by_line.setdefault(line, {})
        for key, body in node.items.items():
            kind = kinds.get(key)
            if kind is None or kind.name in ("rig", "line"):
                near = nearest_word(key, kinds)
                read = f"{shown_text(key)} is no kind of thing of which there are many."
                self.reading.refuse(node.keys[key], read, "Write a kind: part, hose, joint, cylinder …", near)
            else:
                found[kind.name] = self._stated(kind, body)

    def _stated(self, kind: Kind, body: Node) -> _Stated:
        sample = Thing(kind, kind.name, None, body.line, body.column)
        self.reading.fill(sample, body)
        return {name: (sample.facts[name], node) for name, node in sample.places.items() if not isinstance(node, Place)}

    def lay(self, things: Iterable[Thing]) -> None:
        """Lay the statements into the things that do not say these facts themselves."""
        whole = self._by_line.get(None, {})
        for thing in things if self._by_line else ():
            line = thing.facts.get("line")
            for scope in (self._by_line.get(line, {}) if isinstance(line, Thing) else {}, whole):
                for kind in thing.kind.lineage:
                    for name, (value, node) in scope.get(kind, {}).items():
                        if name not in thing.facts and (thing, name) not in self.reading.unknown:
                            thing.facts[name], thing.places[name] = value, node
