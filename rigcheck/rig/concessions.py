"""Concessions as they are written: in a rig file, or in a file beside the rigs that says which rig each is for."""

from __future__ import annotations

from fnmatch import fnmatchcase

from msgspec import Struct, field
from msgspec.structs import replace

from rigcheck.quantity.interval import Interval
from rigcheck.rig.fact import UNKNOWN_WORDS
from rigcheck.rig.thing import Concessions, Rig, Thing
from rigcheck.rig.thing_reader import Reading
from rigcheck.rig.vocabulary import Kind, Vocabulary
from rigcheck.text.faults import Refused, shown_text
from rigcheck.text.yamlfile import Mapping, Node, Scalar, Sequence, read_yaml

__all__ = ["Beside", "concessions_of", "load_beside"]

_KIND = "concession"
_NEEDED = {
    "rule": "Write 'rule:' and the name of the rule, as the report gives it.",
    "reason": "Write 'reason:', why the work may go on and what is done instead.",
    "who": "Write 'who:' and the role of who gave the leave, as 'works manager'.",
    "until": "Write 'until:' and the last day, as 2026-12-31.",
}
_LIST = "Write a list: '- {rule: …, thing: …, reason: …, who: …, until: 2026-12-31}'."
_MOST = 1_000  # entries of one file; who has more has a rig to be put right


def concessions_of(reading: Reading, node: Node | None, root: Thing) -> tuple[Concessions, ...]:
    """Return the concessions that stand in a rig file; faults are kept by `reading`."""
    kind = reading.vocabulary.kinds.get(_KIND)
    if node is None or kind is None:
        return ()
    things = tuple(_entry(reading, kind, item, root) for item in _items(reading, node))
    return (Concessions(reading.file, things),) if things else ()


class Beside(Struct, frozen=True):
    """A file of concessions beside the rigs: for each the rig's name or file (`*` stands for anything).

    `reached`: the numbers of the entries that were for some rig so far.
    """

    file: str
    entries: tuple[tuple[str, Thing], ...]
    reached: set[int] = field(default_factory=set)

    def given_to(self, rig: Rig) -> Rig:
        """Return a rig with those of the concessions that are for it."""
        numbers = [number for number, (wanted, _) in enumerate(self.entries) if _is_for(wanted, rig)]
        self.reached.update(numbers)
        things = tuple(_copy(self.entries[number][1], rig.root) for number in numbers)
        return replace(rig, concessions=(*rig.concessions, Concessions(self.file, things))) if things else rig


def load_beside(data: bytes, file: str, vocabulary: Vocabulary) -> Beside:
    """Return a file of concessions. Raises `Refused` with all of its faults."""
    reading = Reading(file, vocabulary)
    root = read_yaml(data, file, reading.faults)
    if not isinstance(root, Mapping) or "concessions" not in root.items:
        reading.refuse(root, "This is no file of concessions.", "Begin with 'concessions:' and a list.")
        raise Refused(reading.faults)
    for key, where in root.keys.items():
        if key not in ("concessions", "$schema"):
            write = "Write 'concessions:' alone, and 'rig:' in each of its entries."
            reading.refuse(where, f"{shown_text(key)} is nothing known of a file of concessions.", write)
    kind = vocabulary.kinds[_KIND]
    entries = tuple(_for_a_rig(reading, kind, item) for item in _items(reading, root.items["concessions"]))
    if reading.faults:
        raise Refused(reading.faults)
    return Beside(file, entries)


def _items(reading: Reading, node: Node) -> list[Node]:
    if isinstance(node, Scalar) and node.text in ("", "none"):
        return []
    if not isinstance(node, Sequence):
        reading.pass_over(node, "The concessions are no list.", _LIST)
        return []
    if len(node.items) > _MOST:
        reading.pass_over(node, f"There are more than {_MOST:,} concessions.", "Put the defects right.")
        return []
    return node.items


def _for_a_rig(reading: Reading, kind: Kind, node: Node) -> tuple[str, Thing]:
    wanted = node.items.get("rig") if isinstance(node, Mapping) else None
    if isinstance(node, Mapping) and (not isinstance(wanted, Scalar) or not wanted.text.strip()):
        write = "Write 'rig:' and what the rig is called, or its file, as 'yard/*.yaml'."
        reading.refuse(wanted or node, "The concession does not say for which rig it is.", write)
    text = wanted.text.strip() if isinstance(wanted, Scalar) else ""
    return text, _entry(reading, kind, node, None, grammar=("rig",))


def _entry(reading: Reading, kind: Kind, node: Node, root: Thing | None, grammar: tuple[str, ...] = ()) -> Thing:
    thing = Thing(kind, _KIND, root, node.line, node.column, reading.file)
    if not isinstance(node, Mapping):
        reading.pass_over(node, "This is no concession.", _LIST)
        return thing
    lacking = [key for key in _NEEDED if _is_blank(node.items.get(key))]
    reading.fill(thing, _without(node, lacking), grammar)
    for key in lacking:
        reading.pass_over(node.items.get(key, node), f"The concession has no {key!r}.", _NEEDED[key])
    until = thing.facts.get("until")
    if isinstance(until, Interval) and until.lo != until.hi:
        reading.pass_over(node.items["until"], f"{until.text!r} is no single day.", _NEEDED["until"])
    thing.key = _called(thing)
    return thing


def _is_blank(node: Node | None) -> bool:
    return node is None or (isinstance(node, Scalar) and (not node.text.strip() or node.text in UNKNOWN_WORDS))


def _without(node: Mapping, keys: list[str]) -> Mapping:
    made = Mapping(node.line, node.column)
    made.items = {key: item for key, item in node.items.items() if key not in keys}
    made.keys = node.keys
    return made


def _called(thing: Thing) -> str:
    on = f" on {thing.facts['thing']}" if "thing" in thing.facts else ""
    return f"{_KIND} of {thing.facts.get('rule', 'no rule')}{on}"


def _is_for(wanted: str, rig: Rig) -> bool:
    """A rig is meant by its name, or by its file: whole, or the end of its path."""
    file = rig.file.replace("\\", "/").removeprefix("./")
    return wanted == rig.name or fnmatchcase(file, wanted.removeprefix("./")) or fnmatchcase(file, f"*/{wanted}")


def _copy(thing: Thing, root: Thing) -> Thing:
    """Return a concession for one rig: what it leads to differs from rig to rig."""
    made = Thing(thing.kind, thing.key, root, thing.line, thing.column, thing.file)
    made.facts, made.places = dict(thing.facts), dict(thing.places)
    return made
