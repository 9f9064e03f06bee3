"""A thing of one rig: what was stated of it, and where."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from rigcheck.rig.vocabulary import Kind
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import Node

__all__ = ["MISSING", "Concessions", "Missing", "Rig", "Thing", "Wanted"]

Wanted = tuple["Thing", str]
"""A fact that is wanted: of which thing, and which."""


class Missing:
    """The value of a fact that is not known."""

    __slots__ = ()

    def __repr__(self) -> str:
        return "MISSING"


MISSING = Missing()


class Thing:
    """A part, joint, line, site or whatever else a rule can look at.

    `facts` holds values by name: stated, related (other things) and computed.
    `places` holds the nodes in which they were written; `wanting` says of a computed fact that
    is not known which stated facts it waits for; `established`: computed facts were worked out.
    """

    __slots__ = (
        "column",
        "established",
        "facts",
        "key",
        "kind",
        "line",
        "number",
        "parent",
        "places",
        "wanting",
        "workings",
    )

    def __init__(self, kind: Kind, key: str, parent: Thing | None, line: int, column: int) -> None:
        self.kind, self.key, self.parent = kind, key, parent
        self.line, self.column = line, column
        self.number = 0
        self.established = False
        self.facts: dict[str, Any] = {"kind": kind.name}
        self.places: dict[str, Node] = {}
        self.wanting: dict[str, tuple[Wanted, ...]] = {}
        self.workings: dict[str, Any] = {}

    def __repr__(self) -> str:
        return f"<{self.label}>"

    @property
    def label(self) -> str:
        """What to call it in a report: 'acetylene hose 2', 'torch, nozzle'."""
        called = self.facts.get("name")
        return f"{self._described()} “{called}”" if called and self.parent else self._described()

    def _described(self) -> str:
        number = f" {self.number}" if self.number else ""
        line = self.facts.get("line")
        if line is self:
            return f"{self.gas_word} line{number}"
        if "joint" in self.kind.lineage:
            return self._joint_label(line)
        own = f"{self.key}{number}"
        if isinstance(line, Thing) and self.parent is line:
            return f"{line.gas_word} {own}"
        inner = self.parent is not None and self.parent.parent is not None
        return f"{self.parent.label}, {own}" if inner and self.parent else own

    def _joint_label(self, line: Thing | None) -> str:
        ends = [self.facts.get("upstream"), self.facts.get("downstream")]
        names = [f"{e.key}{f' {e.number}' if e.number else ''}" for e in ends if e is not None]
        gas = f"{line.gas_word} " if line is not None else ""
        return f"{gas}joint, {' to '.join(names)}"

    @property
    def gas_word(self) -> str:
        """The gas of a line as it is said, or 'unnamed-gas'."""
        gas = self.facts.get("gas")
        return gas if isinstance(gas, str) else "unnamed-gas"


@dataclass(frozen=True, slots=True)
class Concessions:
    """The concessions that one file grants: things of their own, which no ordinary rule looks at."""

    file: str
    things: tuple[Thing, ...]


@dataclass(frozen=True, slots=True)
class Rig:
    """One rig as read: its root thing, all its things, the facts left open on purpose, and its concessions."""

    file: str
    root: Thing
    things: tuple[Thing, ...]
    on_site: frozenset[str]
    concessions: tuple[Concessions, ...] = ()

    @property
    def name(self) -> str:
        """What the rig is called."""
        return str(self.root.facts.get("name", "unnamed rig"))

    def place(self, thing: Thing, fact: str = "") -> Place:
        """Return where a fact was written, or else where its thing was."""
        where = thing.places.get(fact, thing)
        return Place(self.file, where.line, where.column)

    def of_kind(self, kind: str) -> Iterator[Thing]:
        """Yield the things that are a `kind`."""
        return (thing for thing in self.things if kind in thing.kind.lineage)

    def take_apart(self) -> None:
        """Give the memory of a rig back at once, where many are judged: its things point at each other.

        What was made of the rig stays; the rig itself is of no use any more.
        """
        for thing in (*self.things, *(one for granted in self.concessions for one in granted.things)):
            for held in (thing.facts, thing.places, thing.wanting, thing.workings):
                held.clear()
            thing.parent = None
