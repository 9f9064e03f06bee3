"""What was seen of one thing, written at the thing: `sights:` and a row for each day and role.

A row says of its facts what a look says of them, and counts as one; what else stands at the thing stays as it was
written. A look of the same day and role is what a row was copied from, so a correction there goes before the row.
"""

from __future__ import annotations

from collections.abc import Iterable

from rigcheck.rig.thing import Statement, Thing
from rigcheck.rig.thing_names import tag_of_another
from rigcheck.rig.thing_reader import Reading
from rigcheck.text.faults import shown_text
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import Mapping, Node, Sequence, file_of

__all__ = ["lay_sights"]

_SWAPPED = "Take the row out, or correct the tag: what was seen of one part says nothing of the next."
_ROW = "Write 'sights:' and rows as '- {seen: 2026-11-25, by: fitter, cover: sound}'."


def lay_sights(reading: Reading, things: Iterable[Thing]) -> None:
    """Lay what was seen into the things at which it is written; faults are kept by the reading."""
    known, told = set(things), reading.sights or []
    reading.sights = []
    for thing, node in told:
        if thing not in known:
            reading.pass_over(node, "These sights are of no one thing.", "Write them at the thing that was seen.")
            continue
        for row in node.items if isinstance(node, Sequence) else [node]:
            _lay(reading, thing, row)


def _lay(reading: Reading, thing: Thing, row: Node) -> None:
    if not isinstance(row, Mapping):
        reading.pass_over(row, "This says nothing that was seen.", _ROW)
        return
    if "seen" not in row.items:
        reading.pass_over(row, "It is not said on which day this was seen.", _ROW)
        return
    own = Reading(reading.file, reading.vocabulary)
    sample = Thing(thing.kind, thing.key, None, row.line, row.column)
    own.fill(sample, row)
    reading.faults += [fault for fault in own.faults if fault not in reading.faults]
    for key in [key for key in row.items if key in thing.kind.holds]:
        read, write = f"{shown_text(key)} is no fact of this thing itself.", "Write what was seen of it at that thing."
        reading.pass_over(row.keys[key], read, write)
    if sample.seen is None:  # a fault, told above; or the day is not known
        return
    if other := tag_of_another(sample, thing):
        reading.pass_over(row.items["tag"], f"This was seen of {shown_text(other)}, and here is {thing.tag}.", _SWAPPED)
        return
    for name, where in sample.places.items():
        place = Place(file_of(row, reading.file), where.line, where.column)
        statement = Statement(sample.facts[name], "seen", sample.seen.day, sample.seen.by, place)
        kept = thing.said.setdefault(name, [])
        same = [one for one in kept if (one.place.file, one.day) == (place.file, statement.day)]
        for one in same:  # further down replaces
            kept.remove(one)
        kept.append(statement)
