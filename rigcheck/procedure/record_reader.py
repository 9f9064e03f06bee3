"""A record file: which rig, which procedure, on which day, and the steps in the order in which they were done."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from msgspec import Struct

from rigcheck.procedure.clock import clock_words, read_clock
from rigcheck.procedure.expansion import Expansion, Instance
from rigcheck.quantity.notation import NotRead, read_day
from rigcheck.quantity.wording import shown_day
from rigcheck.rig.fact import UNKNOWN_WORDS, Fact, Value
from rigcheck.rules.procedure_file import ENTRY_KEYS
from rigcheck.text.faults import Fault, Refused, nearest_word, shown_text
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import Mapping as MappingNode
from rigcheck.text.yamlfile import Node, Scalar, Sequence, read_yaml

__all__ = ["Done", "Record", "read_record", "read_steps"]

_TOP = ("record", "rig", "done", "by", "stopped", "steps", "note", "$schema")
_NEEDED = {
    "record": "the procedure, as start-up",
    "rig": "the path of the rig's file, seen from this file",
    "done": "the day on which it was done, as 2026-11-24",
    "by": "who did it, by role, as 'the user who works with it'",
    "steps": "what was done, a '- step: {…}' for each, in that order",
}


class Record(Struct, frozen=True, eq=False):
    """The head of a record, and its steps as they were written; `day` is a day number.

    `stopped`: the time of day at which it was left before its end; empty where nobody says so.
    """

    file: str
    procedure: str
    procedure_place: Place
    rig: str
    rig_place: Place
    day: int
    day_place: Place
    by: str
    steps: tuple[Node, ...]
    steps_place: Place
    stopped: str = ""
    stopped_place: Place | None = None


class Done(Struct, frozen=True, eq=False):
    """One step as it was recorded; `clock` is in seconds from the start of the record's day, if it was noted."""

    instance: Instance
    values: Mapping[str, Value]
    places: Mapping[str, Place]
    clock: int | None
    place: Place


def read_record(data: bytes, file: str) -> Record:
    """Return the record of a file, its steps not yet matched to those of the rig. Raises `Refused`."""
    faults: list[Fault] = []
    root = read_yaml(data, file, faults)
    if not isinstance(root, MappingNode):
        raise Refused([*faults, Fault(_place(root, file), "This is no record.", "Begin with 'record: start-up', say.")])
    faults += _head_faults(root, file)
    day = _day(root, file, faults)
    stopped = _stopped(root, file, day, faults)
    if faults:
        raise Refused(faults)
    texts = {key: node.text for key, node in root.items.items() if isinstance(node, Scalar)}
    steps = root.items["steps"]
    return Record(
        file=file,
        procedure=texts["record"],
        procedure_place=_place(root.items["record"], file),
        rig=texts["rig"],
        rig_place=_place(root.items["rig"], file),
        day=day,
        day_place=_place(root.items["done"], file),
        by=texts["by"],
        steps=tuple(steps.items) if isinstance(steps, Sequence) else (),
        steps_place=_place(root.keys["steps"], file),
        stopped=stopped,
        stopped_place=_place(root.keys["stopped"], file) if stopped else None,
    )


def _place(node: Node, file: str) -> Place:
    return Place(file, node.line, node.column)


def _head_faults(root: MappingNode, file: str) -> Iterator[Fault]:
    for key in root.items:
        if key not in _TOP:
            write, near = f"Known here: {', '.join(_TOP[:-1])}.", nearest_word(key, _TOP)
            yield Fault(_place(root.keys[key], file), f"{shown_text(key)} is nothing known of a record.", write, near)
    for key, what in _NEEDED.items():
        node = root.items.get(key)
        empty_list = key == "steps" and isinstance(node, Scalar) and not node.text  # nothing was done yet
        wanted = Sequence if key == "steps" else Scalar
        if node is None:
            yield Fault(_place(root, file), f"{key!r} is not written.", f"Add '{key}: …': {what}.")
        elif not empty_list and (not isinstance(node, wanted) or (isinstance(node, Scalar) and not node.text.strip())):
            yield Fault(_place(node, file), f"{key!r} cannot be read.", f"Write {what}.")


def _day(root: MappingNode, file: str, faults: list[Fault]) -> int:
    node = root.items.get("done")
    if not isinstance(node, Scalar) or not node.text.strip():
        return 0
    try:
        day = read_day(node.text)
    except NotRead as error:
        faults.append(Fault(_place(node, file), error.wrong, error.write))
        return 0
    if day.lo != day.hi:
        first = shown_day(int(day.lo))
        faults.append(
            Fault(_place(node, file), f"{shown_text(node.text)} is more than one day.", f"Write {first}, say.")
        )
    return int(day.lo)


def _stopped(root: MappingNode, file: str, day: int, faults: list[Fault]) -> str:
    node = root.items.get("stopped")
    if node is None:
        return ""
    try:
        return clock_words(read_clock(node.text if isinstance(node, Scalar) else "", day))
    except NotRead as error:
        faults.append(Fault(_place(node, file), error.wrong, error.write))
        return ""


# --- steps ---


def read_steps(record: Record, expansion: Expansion) -> tuple[Done, ...]:
    """Return the recorded steps, matched to those of the rig. Raises `Refused` with all faults."""
    matching = _Matching(record, expansion)
    done = [matching.done(node) for node in record.steps]
    if matching.faults:
        raise Refused(matching.faults)
    return tuple(one for one in done if one is not None)


class _Matching:
    def __init__(self, record: Record, expansion: Expansion) -> None:
        self.file, self.day, self.expansion = record.file, record.day, expansion
        self.faults: list[Fault] = []

    def done(self, node: Node) -> Done | None:
        """Return one recorded step, or None where it cannot be read."""
        key, body = self._entry(node)
        instance = self._instance(key, body) if key is not None else None
        if instance is None:
            return None
        values: dict[str, Value] = {}
        places: dict[str, Place] = {}
        for name, written in body.items.items():
            value = instance.step.values.get(name)
            if value is not None:
                places[name] = _place(written, self.file)
                found = self._value(value.fact, written)
                if not isinstance(found, _NotKnown):
                    values[name] = found
            elif name not in ENTRY_KEYS:
                known = [*ENTRY_KEYS, *instance.step.values]
                read = f"{shown_text(name)} is nothing known of the step {instance.step.name}."
                self._refuse(body.keys[name], read, f"Known here: {', '.join(known)}.", nearest_word(name, known))
        return Done(instance, values, places, self._clock(body), _place(node, self.file))

    def _entry(self, node: Node) -> tuple[Scalar | None, MappingNode]:
        nothing = MappingNode(node.line, node.column)
        if isinstance(node, Scalar) and node.text:
            return node, nothing
        if isinstance(node, MappingNode) and len(node.items) == 1:
            name, body = next(iter(node.items.items()))
            if isinstance(body, MappingNode):
                return node.keys[name], body
            if isinstance(body, Scalar) and not body.text:
                return node.keys[name], nothing
        self._refuse(node, "This is not one step.", "Write '- step: {thing: …, at: \"07:30\"}'.")
        return None, nothing

    def _instance(self, key: Scalar, body: MappingNode) -> Instance | None:
        steps, name = self.expansion.procedure.steps, key.text
        found = self.expansion.of_step(name)
        if name not in steps:
            read = f"{shown_text(name)} is no step of {self.expansion.procedure.name}."
            self._refuse(key, read, f"Write one of: {', '.join(steps)}.", nearest_word(name, steps))
        elif not found:
            why = next(one.why for one in self.expansion.left_out if one.step.name == name)
            self._refuse(key, f"The step {name} does not apply to this rig.", f"{why} Take it out.")
        elif found[0].thing is None:
            return self._whole(key, found[0], body)
        else:
            return self._of_thing(key, found, body)
        return None

    def _whole(self, key: Scalar, one: Instance, body: MappingNode) -> Instance:
        if "thing" in body.items:
            read = f"The step {key.text} is done once for the rig."
            self._refuse(body.keys["thing"], read, "Take 'thing' out.")
        return one

    def _of_thing(self, key: Scalar, found: tuple[Instance, ...], body: MappingNode) -> Instance | None:
        named = {_folded(one.thing.label): one for one in found if one.thing is not None}
        named |= {_folded(one.called): one for one in found}
        node = body.items.get("thing")
        if node is None and len(found) == 1:
            return found[0]
        labels = [one.called for one in found]
        listed = " | ".join(f'"{label}"' for label in labels)
        if not isinstance(node, Scalar):
            read = f"It is not said of which thing {key.text} was done."
            self._refuse(node if node is not None else key, read, f"Write 'thing:' and one of: {listed}.")
            return None
        one = named.get(_folded(node.text))
        if one is None:
            read = f"{shown_text(node.text)} is nothing that {key.text} is done to on this rig."
            self._refuse(node, read, f"Write one of: {listed}.", nearest_word(node.text, labels))
        return one

    def _value(self, fact: Fact, node: Node) -> Value | _NotKnown:
        try:
            if isinstance(node, Scalar) and node.text in UNKNOWN_WORDS and node.text not in fact.words:
                return _NOT_KNOWN
            if isinstance(node, Scalar) and node.text.strip():
                return fact.read(node.text)
            if isinstance(node, Sequence) and fact.measure == "several_words":
                texts = (item.text if isinstance(item, Scalar) else "" for item in node.items)
                return fact.together(map(fact.word, texts))
            raise NotRead("Nothing that can be read is written.", "Write one value, or leave it out.")
        except NotRead as error:
            self._refuse(node, f"{fact.label}: {error.wrong}", error.write)
            return _NOT_KNOWN

    def _clock(self, body: MappingNode) -> int | None:
        node = body.items.get("at")
        if node is None or (isinstance(node, Scalar) and node.text in UNKNOWN_WORDS):
            return None
        try:
            return read_clock(node.text if isinstance(node, Scalar) else "", self.day)
        except NotRead as error:
            self._refuse(node, error.wrong, error.write)
            return None

    def _refuse(self, node: Node, read: str, write: str, near: str = "") -> None:
        self.faults.append(Fault(_place(node, self.file), read, write, near))


class _NotKnown:
    """Says that a value was written as not known."""


_NOT_KNOWN = _NotKnown()


def _folded(text: str) -> str:
    return " ".join(text.casefold().replace("“", '"').replace("”", '"').split())
