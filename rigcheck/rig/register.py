"""The register: tagged things that several rigs share, with what is on record of each.

A register is one file or a folder of them. Kinds that a company buys are written once (`kinds:`), and a thing
says `as: hose-20` for all that is the same of them; what it says itself goes before that.
"""

from __future__ import annotations

from collections.abc import Iterable
from collections.abc import Mapping as MappingType

from msgspec import Struct

from rigcheck.rig.thing import Rig, Statement, Thing
from rigcheck.rig.thing_reader import Reading
from rigcheck.text.faults import nearest_word, shown_text, with_article
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import Mapping, empty_at, file_of

__all__ = ["REGISTER", "WITHDRAWAL", "Register"]

REGISTER = "register"
"""The kind of thing that a register is."""
WITHDRAWAL = "withdrawal"
"""The kind of thing that it is to be out of use, as a register says."""


class Register(Struct, frozen=True):
    """The things on record by their tag, each with its facts; `rig` is the register as a value that can be judged.

    Its root is of the kind `register`; its things lead to no line and no neighbour, for they stand in none.
    `withdrawn`: what is on record as taken out of use or missing, by tag, each a thing of the kind `withdrawal`;
    a rig that has such a thing is told, and the register itself is not judged by it any more.
    """

    file: str
    things: MappingType[str, Thing]
    rig: Rig
    withdrawn: MappingType[str, Thing]

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
                _lay(reading, thing, entry)
                if tag in self.withdrawn:
                    _tell_withdrawn(reading, thing, self.withdrawn[tag])


def _lay(reading: Reading, thing: Thing, entry: Thing) -> None:
    """Lay what is on record of a thing into it, and what is on record of what is built into it into that."""
    seen = entry.last_seen
    for name, node in entry.places.items():
        if name in thing.kind.facts and name != "tag":
            place = node if isinstance(node, Place) else Place(file_of(node, entry.file), node.line, node.column)
            day, by = (seen.day, seen.by) if seen is not None else (None, "")
            thing.said.setdefault(name, []).append(Statement(entry.facts[name], "on record", day, by, place))

    for key in entry.kind.holds:
        theirs, ours = _held(entry, key), _held(thing, key)
        if theirs and key not in thing.facts:  # nothing is said of it here: it is as on record
            ours = _built_in(reading, thing, key, theirs)
        if theirs and len(theirs) != len(ours):
            where = thing.places.get("tag", Place(reading.file, thing.line, thing.column))
            called = key.replace("_", " ")
            read = f"The register has {len(theirs)} of {called} in {shown_text(entry.tag)}, and {len(ours)} stand here."
            at = Place(theirs[0].file or entry.file, theirs[0].line, theirs[0].column)
            reading.pass_over(where, read, f"Write '{key}:' at it as it is, or correct the register: {at}.")
            continue
        for inner, one in zip(theirs, ours, strict=True) if theirs else ():
            _lay(reading, one, inner)


def _built_in(reading: Reading, thing: Thing, key: str, theirs: tuple[Thing, ...]) -> tuple[Thing, ...]:
    """Return the things inside one that only the register names, made in it."""
    made = tuple(reading.inside(thing, key, Mapping(one.line, one.column)) for one in theirs)
    for one, record in zip(made, theirs, strict=True):
        one.number, one.file = record.number, record.file
    thing.facts[key] = made if thing.kind.holds[key].many else made[0]
    return made


def _held(thing: Thing, key: str) -> tuple[Thing, ...]:
    found = thing.facts.get(key)
    return (found,) if isinstance(found, Thing) else found if isinstance(found, tuple) else ()


def _tell_withdrawn(reading: Reading, thing: Thing, withdrawn: Thing) -> None:
    at = empty_at(withdrawn.line, withdrawn.column, withdrawn.file)
    made = reading.thing(withdrawn.kind, withdrawn.key, thing, at)
    made.facts |= withdrawn.facts
    made.places |= withdrawn.places
