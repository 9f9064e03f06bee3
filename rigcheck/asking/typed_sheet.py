"""A sheet of a walk that was filled in on paper and typed: `NUMBER THING FACT: ANSWER`, of a list all its facts.

A row whose answer is empty says nothing. What is wrong in any row is told with its line and column, all at once.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from msgspec import Struct

from rigcheck.asking.answers import Answer, checked, dated, ticked
from rigcheck.asking.open_facts import OpenFact
from rigcheck.asking.reasons import reasons_for
from rigcheck.asking.walk import Page
from rigcheck.quantity.notation import NotRead, read_day
from rigcheck.quantity.wording import shown_day
from rigcheck.rig.thing import Rig, Thing
from rigcheck.rig.thing_names import NamedThings
from rigcheck.rules.looks import Lesser, Look, Looks
from rigcheck.text.faults import Fault, Refused, nearest_word, shown_text
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import Mapping as MappingNode
from rigcheck.text.yamlfile import Node, Scalar, Sequence, read_yaml

__all__ = ["TypedSheet", "answers_of", "read_sheet"]

_TOP = {
    "sheet": "Write 'sheet:' and the path of the rig's file, seen from here.",
    "day": "Write 'day:' and the day on which somebody looked, as 2026-11-25.",
    "by": "Write 'by:' and who looked, by role, as 'fitter'.",
    "answers": "Write 'answers:' and a row for each answer, as the sheet has them.",
}
_ROW = "Write number, thing and fact, as '1 site place: workshop'."
_CANNOT_TELL = "cannot tell"
_Key = tuple[str, str]


class TypedSheet(Struct, frozen=True):
    """A sheet as it was read: `day` a day number, `rows` each with its answer or without one."""

    file: str
    rig: str
    day: int
    by: str
    rows: tuple[tuple[Scalar, Node], ...]


class _Wrong(Exception):
    def __init__(self, node: Node, read: str, write: str, near: str = "") -> None:
        super().__init__(read)
        self.node, self.read, self.write, self.near = node, read, write, near


def read_sheet(data: bytes, file: str) -> TypedSheet:
    """Return the sheet that a file is. Raises `Refused`."""
    root = read_yaml(data, file)
    try:
        if not isinstance(root, MappingNode) or "sheet" not in root.items:
            raise _Wrong(root, "This is no sheet of a walk.", "Make one: rigcheck ask RIG --paper --output sheet.yaml")
        for key, node in root.keys.items():
            if key not in _TOP:
                raise _Wrong(node, f"{shown_text(key)} is not known here.", _TOP["answers"], nearest_word(key, _TOP))
        rig, day, by = (_text(root, key) for key in ("sheet", "day", "by"))
        try:
            number = int(read_day(day.text).lo)
        except NotRead as error:
            raise _Wrong(day, error.wrong, error.write) from None
        answers = root.items.get("answers")
        if not isinstance(answers, MappingNode):
            raise _Wrong(answers or root, "There are no answers.", _TOP["answers"])
        rows = tuple((answers.keys[key], node) for key, node in answers.items.items())
    except _Wrong as wrong:
        raise Refused([_fault(wrong, file)]) from None
    return TypedSheet(file, rig.text, number, " ".join(by.text.split()), rows)


def _text(root: MappingNode, key: str) -> Scalar:
    node = root.items.get(key)
    if not isinstance(node, Scalar) or not node.text.strip():
        raise _Wrong(node or root, f"'{key}' is not said.", _TOP[key])
    return node


def _fault(wrong: _Wrong, file: str) -> Fault:
    return Fault(Place(file, wrong.node.line, wrong.node.column), wrong.read, wrong.write, wrong.near)


def answers_of(sheet: TypedSheet, rig: Rig, looks: Looks) -> tuple[Answer, int]:
    """Return what a sheet answers, and how many of its rows are empty. Raises `Refused` with all that is wrong."""
    reading = _Reading(sheet, NamedThings(rig.things), looks)
    faults = []
    for row in sheet.rows:
        try:
            reading.take(*row)
        except _Wrong as wrong:
            faults.append(_fault(wrong, sheet.file))
    if faults:
        raise Refused(faults)
    return Answer({**reading.days, **reading.values}, reading.not_told), reading.empty


class _Reading:
    def __init__(self, sheet: TypedSheet, things: NamedThings, looks: Looks) -> None:
        self.day, self.things, self.looks = shown_day(sheet.day), things, looks
        self.values: dict[_Key, str | tuple[str, ...]] = {}
        self.days: dict[_Key, str | tuple[str, ...]] = {}  # that an answer tells; a row of its own goes before
        self.not_told: dict[_Key, str] = {}
        self.empty = 0

    def take(self, row: Scalar, answer: Node) -> None:
        """Keep what a row answers. Raises `_Wrong`."""
        written = _written(answer)
        if not written:
            self.empty += 1
            return
        page = self._page(row)
        thing = page.things[0]
        for name in page.facts:
            if (thing.path, name) in self.values or (thing.path, name) in self.not_told:
                raise _Wrong(row, f"{name} of {thing.label} is answered above.", "Keep one of the two rows.")
        if written.casefold().startswith(_CANNOT_TELL):
            self.not_told |= dict.fromkeys(page.open, self._because(written, answer, thing))
            return
        try:
            told = _listed(page, written) if page.listed is not None else _checked(page, written)
        except NotRead as error:
            raise _Wrong(answer, f"{page.facts[0]}: {error.wrong}", error.write) from None
        self.values |= told
        self.days |= {key: day for key, day in dated(page, Answer(told), self.day).values.items() if key not in told}

    def _page(self, row: Scalar) -> Page:
        """Return what is asked in a row, of its one thing."""
        number, called, *names = (*row.text.split(), "", "")
        names = [name for name in names if name]
        if not number.isdecimal() or not names:
            raise _Wrong(row, f"{shown_text(row.text)} is no row of a sheet.", _ROW)
        thing = self._thing(row, called)
        for name in names:
            if name not in thing.kind.facts or not self.looks.answering(thing.kind.lineage, name):
                read = f"{shown_text(name)} is nothing that is asked of {thing.label}."
                raise _Wrong(
                    row, read, "Write the fact that the sheet has there.", nearest_word(name, thing.kind.facts)
                )
        look = self.looks.answering(thing.kind.lineage, names[0])[0]
        listed = _list_of(look, names)
        if listed is None and len(names) > 1:
            raise _Wrong(row, "These facts share no list.", "Write a row for each of them.")
        asked = {(thing.path, name): OpenFact(thing, name, thing.kind.facts[name].entry.ask, "", ()) for name in names}
        return Page(look, look.station, (thing,), tuple(names), asked, listed)

    def _thing(self, row: Scalar, called: str) -> Thing:
        found = self.things.called(called)
        if len(found) != 1:
            words = [word for one in self.things.things for word in (one.tag, one.path) if word]
            read = f"{shown_text(called)} is {'nothing' if not found else 'more than one thing'} of this rig."
            write = "Write its tag, or where it stands in the rig, as lines[0].parts[3]."
            raise _Wrong(row, read, write, nearest_word(called, words))
        return found[0]

    def _because(self, text: str, node: Node, thing: Thing) -> str:
        because = text[len(_CANNOT_TELL) :].strip(" ,.:;")
        because = because.removeprefix("because").strip(" ,.:;")
        reasons = reasons_for(self.looks, [thing])
        if because not in reasons:
            read = "It is not said why one cannot tell."
            near = nearest_word(because, reasons) if because else ""
            raise _Wrong(node, read, f"Write 'cannot tell, ' and one of: {', '.join(reasons)}.", near)
        return because


def _written(node: Node) -> str:
    """Return what stands in a cell; of several words all."""
    if isinstance(node, Sequence):
        return ", ".join(one.text for one in node.items if isinstance(one, Scalar) and one.text.strip())
    if isinstance(node, MappingNode):
        raise _Wrong(node, "An answer is a word or a value.", "Write it behind the colon, on one line.")
    return node.text.strip()


def _checked(page: Page, written: str) -> Mapping[_Key, str | tuple[str, ...]]:
    thing, name = page.things[0], page.facts[0]
    return {(thing.path, name): checked(thing.kind.facts[name], written)}


def _list_of(look: Look, names: Iterable[str]) -> Lesser | None:
    return next((one for facts, _, one in look.groups if one is not None and set(names) <= set(facts)), None)


def _listed(page: Page, written: str) -> Mapping[_Key, str | tuple[str, ...]]:
    """Return what the numbers of a list tell, as the sheet numbers its defects. Raises `NotRead`."""
    assert page.listed is not None
    shown = [at for at, tick in enumerate(page.listed.ticks) if set(tick.tells) & set(page.facts)]
    words = written.replace(";", " ").replace(",", " ").split()
    if words == ["none"]:
        return ticked(page, {}).values
    if not all(word.isdecimal() and 1 <= int(word) <= len(shown) for word in words):
        write = f"Write numbers from 1 to {len(shown)}, as 1, 3, or none: {page.listed.none}."
        raise NotRead(f"{shown_text(written)} is not on the list.", write)
    return ticked(page, {page.things[0].path: [shown[int(word) - 1] for word in words]}).values
