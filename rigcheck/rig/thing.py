"""A thing of one rig: what was stated of it, and where."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from types import MappingProxyType
from typing import Any, Literal, NamedTuple

from msgspec import Struct

from rigcheck.rig.vocabulary import Kind
from rigcheck.text.faults import Fault
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import Node

__all__ = [
    "MISSING",
    "BegunFrom",
    "Concessions",
    "Missing",
    "Rig",
    "Seen",
    "Statement",
    "Thing",
    "Wanted",
    "open_copies",
    "take_apart",
    "titled",
]

_MEMBERS = ("lines", "parts", "joints")

Wanted = tuple["Thing", str]
"""A fact that is wanted: of which thing, and which."""


class Missing:
    """The value of a fact that is not known."""

    __slots__ = ()

    def __repr__(self) -> str:
        return "MISSING"


MISSING = Missing()


def titled(name: str, invented: bool) -> str:
    """Return what a report calls a rig: one that is made up is never named without saying so."""
    return f"{name} (invented for demonstration)" if invented else name


class Seen(NamedTuple):
    """That somebody looked: on which day (a day number), who (a role, or nothing), and where that is written."""

    day: int
    by: str
    place: Place


class Statement(NamedTuple):
    """What another file says of a fact: on record, or seen on a day (a day number, None where none is known).

    `of_many`: it was said of every thing of a kind, not of this one by its name.
    `elsewhere`: it was said of this one, at another rig.
    """

    value: Any
    basis: Literal["on record", "seen"]
    day: int | None
    by: str
    place: Place
    of_many: bool = False
    elsewhere: bool = False


_NOTHING: Mapping[str, Any] = MappingProxyType({})


class Thing:
    """A part, joint, line, site or whatever else a rule can look at.

    A thing of a rig is a value: `facts` holds what was stated of it and the things that it leads to,
    `places` the nodes (or, from another file, the places) in which the facts were written; a loaded rig's are sealed.
    Judging works on copies of its own (`open_copies`), whose `facts` hold what is worked out as well:
    `wanting` says of a fact that could not be worked out which stated facts it waits for, `workings` how it
    came out, `witnesses` who says a fact that has more than one witness, `disputes` those who do not agree.
    `presumed` names the facts of a copy that only a standard rig states.
    `said` holds what other files say of its facts: the register, looks.
    `origin` is the thing of the rig that a copy was made of; `file` is empty for a thing of the rig's own file.
    """

    __slots__ = (
        "_ranks",
        "column",
        "disputes",
        "facts",
        "file",
        "key",
        "kind",
        "line",
        "number",
        "origin",
        "parent",
        "places",
        "presumed",
        "said",
        "seen",
        "wanting",
        "witnesses",
        "workings",
    )

    def __init__(self, kind: Kind, key: str, parent: Thing | None, line: int, column: int, file: str = "") -> None:
        self.kind, self.key, self.parent = kind, key, parent
        self.line, self.column, self.file = line, column, file
        self.number = 0
        self.seen: Seen | None = None
        self.facts: dict[str, Any] = {"kind": kind.name}
        self.places: dict[str, Node | Place] = {}
        self.said: dict[str, list[Statement]] = {}
        self.presumed: frozenset[str] = frozenset()
        self.origin: Thing | None = None
        self._ranks: Mapping[str, tuple[tuple[Any, ...], Mapping[Any, int]]] = _NOTHING
        # Shared until a copy is made: most things of a rig never need them.
        self.wanting: dict[str, tuple[Wanted, ...]] = _NOTHING  # type: ignore[assignment]
        self.workings: dict[str, Any] = _NOTHING  # type: ignore[assignment]
        self.witnesses: dict[str, Any] = _NOTHING  # type: ignore[assignment]
        self.disputes: dict[str, Any] = _NOTHING  # type: ignore[assignment]

    def seal(self) -> None:
        """Make what was stated a value: from here on nothing can be written into it."""
        self.facts = MappingProxyType(self.facts)  # type: ignore[assignment]
        self.places = MappingProxyType(self.places)  # type: ignore[assignment]

    def open_copy(self) -> Thing:
        """Return a copy that facts can be worked out in; it still leads to the things of the rig."""
        made = Thing(self.kind, self.key, self.parent, self.line, self.column, self.file)
        made.number, made.seen, made.said, made.origin = self.number, self.seen, self.said, self
        made.facts, made.places = self.facts.copy(), self.places
        made.wanting, made.workings, made.witnesses, made.disputes = {}, {}, {}, {}
        return made

    @property
    def last_seen(self) -> Seen | None:
        """Who saw it and when: what stands at the thing itself, or else at the nearest thing that it stands in."""
        at: Thing | None = self
        while at is not None:
            if at.seen is not None:
                return at.seen
            at = at.parent
        return None

    @property
    def tag(self) -> str:
        """Its serial, asset or certificate number, as found on it; empty where none is stated."""
        tag = self.facts.get("tag")
        return tag if isinstance(tag, str) else ""

    @property
    def path(self) -> str:
        """Where it stands in its rig, as `lines[0].parts[3]`; it stays when names and lines of the file change."""
        if self.parent is None:
            return self.kind.key
        before = "" if self.parent.parent is None else f"{self.parent.path}."
        return before + self._place_in(self.parent)

    def _place_in(self, parent: Thing) -> str:
        for name in (*_MEMBERS, *parent.kind.holds):
            held = parent.facts.get(name)
            if held is self:
                return name
            if type(held) is tuple and (at := parent.rank_in(name, held).get(self)) is not None:
                return f"{name}[{at}]"
        return self.key.replace(" ", "_")

    def rank_in(self, name: str, held: tuple[Any, ...]) -> Mapping[Any, int]:
        """Return which one each thing of a list is; kept with the list, for a register has 20,000."""
        kept = self._ranks.get(name)
        if kept is None or kept[0] is not held:
            ranks = {one: at for at, one in enumerate(held) if type(one) is Thing}
            self._ranks = {**self._ranks, name: (kept := (held, ranks))}
        return kept[1]

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


class Concessions(Struct, frozen=True):
    """The concessions that one file grants: things of their own, which no ordinary rule looks at."""

    file: str
    things: tuple[Thing, ...]


class BegunFrom(Struct, frozen=True):
    """The standard rig that a description was begun from, with the digest of its file then (or nothing).

    `file`: where the description names its standard rig instead of a copy, the file that it was laid in from.
    """

    name: str
    digest: str
    place: Place
    file: str = ""


class Rig(Struct, frozen=True):
    """One rig as read: its root thing, all its things, the facts left open on purpose, and its concessions.

    `stands_at`: the site file that it names, as it writes it. A site is judged as a rig whose root is its premises.
    `unread`: what of it could not be read, and is judged as if it were not there.
    `withdrawn`: what a register says is out of use, in words; it is not judged there.
    `gone`: what a look saw and is on record, and that is in the rig no more, in words.
    `seen_by_place`: tagged parts for which a look counts that has their places alone, in words.
    `put_down`: why looks could not tell a fact (`rig/put_down.py`).
    `register`, `settings`: where what is on record was found, and what its folder says of every rig; empty for none.
    `may_differ`: of a standard rig, the kinds (`swivel`) and facts (`hose.length`) in which a rig of it may depart.
    """

    file: str
    root: Thing
    things: tuple[Thing, ...]
    on_site: frozenset[str]
    concessions: tuple[Concessions, ...] = ()
    begun_from: BegunFrom | None = None
    stands_at: str = ""
    unread: tuple[Fault, ...] = ()
    withdrawn: tuple[str, ...] = ()
    may_differ: frozenset[str] = frozenset()
    register: str = ""
    settings: str = ""
    gone: tuple[str, ...] = ()
    seen_by_place: tuple[str, ...] = ()
    put_down: tuple[Any, ...] = ()

    @property
    def name(self) -> str:
        """What the rig is called."""
        return str(self.root.facts.get("name", "unnamed rig"))

    @property
    def invented(self) -> bool:
        """Whether the description says that the rig is made up."""
        return self.root.facts.get("invented") is True

    @property
    def title(self) -> str:
        """What a report calls the rig."""
        return titled(self.name, self.invented)

    def place(self, thing: Thing, fact: str = "") -> Place:
        """Return where a fact was written, or else where its thing was."""
        where = thing.places.get(fact)
        if where is None:
            return Place(thing.file or self.file, thing.line, thing.column)
        if type(where) is Place:
            return where
        return Place(getattr(where, "file", "") or thing.file or self.file, where.line, where.column)

    def of_kind(self, kind: str) -> Iterator[Thing]:
        """Yield the things that are a `kind`."""
        return (thing for thing in self.things if kind in thing.kind.lineage)

    def take_apart(self) -> None:
        """Give the memory of a rig back at once, where many are judged: its things point at each other.

        What was made of the rig stays; the rig itself is of no use any more.
        """
        take_apart((*self.things, *(one for granted in self.concessions for one in granted.things)))


def open_copies(things: Iterable[Thing]) -> dict[Thing, Thing]:
    """Return copies of things that lead to each other, by what they are copies of."""
    copies = {thing: thing.open_copy() for thing in things}
    for copy in copies.values():
        facts = copy.facts
        if copy.parent is not None:
            copy.parent = copies.get(copy.parent, copy.parent)
        for name, value in facts.items():  # only values change, no key comes or goes
            sort = type(value)
            if sort is Thing:
                facts[name] = copies[value]
            elif sort is tuple and value and type(value[0]) is Thing:
                facts[name] = tuple([copies[one] for one in value])
    return copies


def take_apart(things: Iterable[Thing]) -> None:
    """Let things go that point at each other, without waiting for the collector of garbage."""
    for thing in things:
        thing.facts, thing.places, thing.parent, thing.origin = {}, {}, None, None
        thing.wanting, thing.workings, thing.witnesses, thing.disputes = {}, {}, {}, {}
        thing._ranks = _NOTHING
