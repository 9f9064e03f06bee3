"""A register as a table of comma-separated values (RFC 4180), one thing a row: people keep it in a spreadsheet.

The first row names the columns: `tag`, `kind` or `as` (a kind of the register), and facts as they are written in a
register, `gauge.range` for what is built in and `nozzle[0].size` for one of several. A column may say the unit of its
numbers, `length (m)`, and bear another name of a fact, `Serial No.` for `tag`. A cell that reads as a formula is
refused. Faults bear the line on which their row begins, and the number of the cell in it as their column.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from rigcheck.quantity.units import find_unit
from rigcheck.rig.register_reader import RegisterReader
from rigcheck.rig.shared_tags import same_tag
from rigcheck.rig.thing_reader import SEEN_KEYS
from rigcheck.rig.vocabulary import Kind, Vocabulary
from rigcheck.text.faults import Fault, Refused, nearest_name, nearest_word, shown_text
from rigcheck.text.place import Place
from rigcheck.text.table_cell import is_formula, unguarded
from rigcheck.text.yamlfile import Mapping as MappingNode
from rigcheck.text.yamlfile import Node, Scalar, Sequence, refuse_letters

__all__ = ["LARGEST_TABLE", "TableRead", "read_table"]

LARGEST_TABLE = 16_777_216
"""Bytes that a table may have; 20,000 things with ten facts each have about three million."""
_MOST_ROWS, _MOST_COLUMNS = 50_000, 1_000  # a register that is read has no more things, nor they more facts
_MOST_TOLD = 1_000  # faults; whoever has more of them mends a column, and not a row
_FEW = 3
_OWN = ("tag", "kind", "as")
_OTHER_HEADS = {"item": "kind", "type": "kind", "what": "kind", "description": "kind", "equipment": "kind"}
"""What people call a column in a list that they keep, where no fact is called so."""
_HEAD_WITH_UNIT = re.compile(r"(.*?\S)\s*[(\[]\s*(.+?)\s*[)\]]")
_BARE_NUMBER = re.compile(r"[+-]?\d[\d.,]*")
_STEP = re.compile(r"([a-z_0-9]+)(?:\[(\d{1,2})\])?")
_SAVE = "Save it as comma-separated values in UTF-8."


class TableRead(NamedTuple):
    """The rows of a table that can be read, by tag, each as it stands in a register; and what is wrong with the rest.

    `rows` counts all rows that say anything, `refused` those that were not taken; `left_out` names the columns that
    no fact is called like, whose cells were not read.
    """

    things: Mapping[str, Node]
    faults: tuple[Fault, ...]
    rows: int
    refused: int
    left_out: tuple[str, ...] = ()


def read_table(data: bytes, file: str, vocabulary: Vocabulary, beside: RegisterReader) -> TableRead:
    """Return what a table says; `beside`: the register that it joins, whose kinds it may name.

    Raises `Refused` where no row can be read: the file is no table, or says no tag.
    """
    return _Table(data, file, vocabulary, beside).read()


class _Table:
    def __init__(self, data: bytes, file: str, vocabulary: Vocabulary, beside: RegisterReader) -> None:
        self.file, self.vocabulary, self.beside = file, vocabulary, beside
        self.rows = _rows(data, file)
        held = beside.root.kind.holds.values()
        self.kinds = [k for k in vocabulary.kinds.values() if any(one.kind in k.lineage for one in held)]
        facts = {fact for kind in self.kinds for fact, one in kind.facts.items() if not one.computed}
        self.names = [*_OWN, *beside.grammar, *facts]
        self.faults: list[Fault] = []
        self.columns: list[str] = []
        self.units: dict[str, str] = {}
        self.left_out: dict[int, str] = {}

    def read(self) -> TableRead:
        line, head = next(self.rows, (1, []))
        self._take_head(line, head)
        if len(self.faults) > len(self.left_out):
            raise Refused(self.faults)
        listed = list(self.rows)
        if len(listed) > _MOST_ROWS:
            raise Refused([self._too_large(f"more than {_MOST_ROWS:,} rows")])
        tagged = self._tagged(listed)
        things: dict[str, Node] = {}
        refused = 0
        for line, cells in listed:
            before = len(self.faults)
            found = self._row(line, cells, tagged)
            if len(self.faults) > before or found is None:
                refused += 1
            else:
                things[found[0]] = found[1]
        return TableRead(things, tuple(self.faults), len(listed), refused, tuple(self.left_out.values()))

    def _refuse(self, line: int, column: int, read: str, write: str, near: str = "") -> None:
        self._keep(Fault(Place(self.file, line, column), read, write, near))

    def _keep(self, fault: Fault) -> None:
        self.faults.append(fault)
        if len(self.faults) >= _MOST_TOLD:
            more = Fault(fault.place, "Reading stopped here; more may be wrong further on.", "Mend these first.")
            raise Refused([*self.faults, more])

    def _too_large(self, what: str) -> Fault:
        return Fault(Place(self.file, 1, 1), f"The table has {what}.", "Cut it into several.")

    # --- the first row ---

    def _take_head(self, line: int, head: list[str]) -> None:
        if len(head) > _MOST_COLUMNS:
            raise Refused([self._too_large(f"more than {_MOST_COLUMNS:,} columns")])
        self.columns = [self._column(cell) for cell in head]
        if "tag" not in self.columns:
            self._refuse(line, 1, "The table has no column 'tag'.", "Begin with a row of names: tag, kind, made, …")
            return
        for number, name in enumerate(self.columns, start=1):
            if name in self.columns[: number - 1]:
                self._refuse(line, number, f"A second column is called {shown_text(name)}.", "Name each column once.")
            elif name and name not in _OWN and name not in self.beside.grammar and not self._is_known(name):
                near = nearest_name(name, self.names)
                read = f"{shown_text(head[number - 1])} is no fact of anything that a register keeps."
                self._refuse(line, number, read, "Name the column as the fact; 'rigcheck words KIND' lists them.", near)
                self.left_out[number] = head[number - 1].strip()

    def _column(self, head: str) -> str:
        """Return the fact that a column is named for; a unit behind the name is kept for its bare numbers."""
        match = _HEAD_WITH_UNIT.fullmatch(head.strip())
        unit = match.group(2) if match and find_unit(match.group(2)) else ""
        name = _folded(match.group(1) if match and unit else head).rstrip(".")
        if any(name in kind.facts["tag"].entry.also_called for kind in self.kinds):
            name = "tag"
        elif name in self.beside.out_of_use:
            name = self.beside.out_of_use[name].name
        elif not self._is_known(name):
            name = _OTHER_HEADS.get(name, name)
        if unit:
            self.units[name] = unit
        return name

    def _is_known(self, column: str) -> bool:
        kinds: list[Kind] = self.kinds
        *inner, last = column.split(".")
        for step in inner:
            name, _ = _parted(step)
            kinds = [self.vocabulary.kinds[kind.holds[name].kind] for kind in kinds if name in kind.holds]
        facts = [fact for kind in kinds for fact in kind.facts.values() if not fact.computed]
        held = {name for kind in kinds for name in kind.holds}
        named = any(last == fact.name or last in fact.entry.also_called for fact in facts)
        return bool(kinds) and (last in SEEN_KEYS or named or _parted(last)[0] in held)

    # --- a row ---

    def _tagged(self, rows: list[tuple[int, list[str]]]) -> Mapping[str, list[int]]:
        """Return the lines on which each tag stands."""
        at = self.columns.index("tag")
        found: dict[str, list[int]] = {}
        for line, cells in rows:
            if at < len(cells) and cells[at].strip():
                found.setdefault(_same(cells[at]), []).append(line)
        return found

    def _row(self, line: int, cells: list[str], tagged: Mapping[str, list[int]]) -> tuple[str, Node] | None:
        said = self._said(line, cells)
        tag = said.pop("tag", None)
        if tag is None:
            self._refuse(line, 1 + self.columns.index("tag"), "The row has no tag.", "Write the number found on it.")
            return None
        if len(lines := tagged[_same(tag.text)]) > 1:
            told = [str(one) for one in lines[: _FEW + 1] if one != line][:_FEW]
            others = " and ".join([*told, *([f"{len(lines) - 1 - _FEW} more"] if len(lines) > _FEW + 1 else ())])
            read = f"The tag {shown_text(tag.text)} stands in the table twice, also in line {others}."
            self._refuse(line, tag.column, read, "Look which of the two it is.")
        if (place := self.beside.place_of(tag.text)) is not None:
            read = f"The tag {shown_text(tag.text)} stands in the register already, at {place}."
            self._refuse(line, tag.column, read, "Take the row out, or correct the entry there.")
        node = self._node(line, said)
        if node is not None:
            self._try(tag, node, said)
        return (tag.text, node) if node is not None else None

    def _said(self, line: int, cells: list[str]) -> dict[str, Scalar]:
        said: dict[str, Scalar] = {}
        for number, cell in enumerate(cells, start=1):
            text = " ".join(cell.split())
            if not text or number in self.left_out:
                continue
            if number > len(self.columns) or not self.columns[number - 1]:
                write = "Put what has a comma in it into quotes, or name the column in the first row."
                self._refuse(line, number, f"{shown_text(text)} stands in no column that has a name.", write)
                return said
            if is_formula(text):
                write = "Write the value itself; where it does begin so, an apostrophe before it, as '-5 degC."
                self._refuse(line, number, f"{shown_text(text)} is a formula, or is taken for one.", write)
            else:
                name, value = self.columns[number - 1], unguarded(text)
                if name in self.units and _BARE_NUMBER.fullmatch(value):
                    value = f"{value} {self.units[name]}"
                said[name] = Scalar(value, line, number, True)
        return said

    def _node(self, line: int, said: Mapping[str, Scalar]) -> MappingNode | None:
        """Return an entry of a register that says what a row says."""
        key, kind = "", said.get("kind")
        if kind is not None:
            key = _folded(kind.text)
            if key not in self.vocabulary.by_key:
                near = nearest_word(kind.text, [one.key for one in self.kinds])
                read = f"{shown_text(kind.text)} is no kind of thing."
                self._refuse(line, kind.column, read, "Write a kind, as hose; 'rigcheck words' lists them.", near)
                return None
        elif "as" not in said:
            self._refuse(line, 1, "It is not said what this is.", "Write it in the column 'kind', as hose.")
            return None
        body = MappingNode(line, 1)
        for column, cell in said.items():
            if column != "kind":
                _put(body, column.split("."), cell, self._is_list(column))
        if "as" in said:
            return body
        entry = MappingNode(line, 1)
        entry.items[key], entry.keys[key] = body, Scalar(key, line, kind.column if kind else 1, True)
        return entry

    def _is_list(self, column: str) -> bool:
        name = column.rsplit(".", 1)[-1]
        facts = [fact for kind in self.vocabulary.kinds.values() if (fact := kind.facts.get(name)) is not None]
        return any(fact.measure == "several_words" for fact in facts)

    def _try(self, tag: Scalar, node: MappingNode, said: Mapping[str, Scalar]) -> None:
        """Read a row as an entry of the register that it joins."""
        reader = RegisterReader(self.vocabulary, self.file)
        reader.kinds = self.beside.kinds
        root, things = MappingNode(1, 1), MappingNode(1, 1)
        things.items[tag.text], things.keys[tag.text] = node, tag
        root.items = {"register": Scalar("table", 1, 1, True), "things": things}
        root.keys = {name: Scalar(name, 1, 1, True) for name in root.items}
        try:
            reader.take_tree(root, self.file)
            thing = reader.thing_of(tag.text)
        except Refused as refused:
            for fault in refused.faults:
                self._keep(fault)
            return
        kind = said.get("kind")
        if kind is not None and _folded(kind.text) not in (thing.kind.key, *map(_folded, thing.kind.lineage)):
            read = f"{shown_text(said['as'].text)} is {thing.kind.name} in the register, and {kind.text} here."
            self._refuse(kind.line, kind.column, read, "Correct one of the two.")


def _put(body: MappingNode, steps: list[str], cell: Scalar, is_list: bool) -> None:
    """Put a cell where its column leads to."""
    name, number = _parted(steps[0])
    body.keys.setdefault(name, Scalar(name, cell.line, cell.column, True))
    if number is None:
        if len(steps) == 1:
            body.items[name] = _value(cell, is_list)
        else:
            _into(body.items.setdefault(name, MappingNode(cell.line, cell.column)), steps[1:], cell, is_list)
        return
    several = body.items.setdefault(name, Sequence(cell.line, cell.column))
    items = several.items if isinstance(several, Sequence) else []  # `nozzle` beside `nozzle[0]`: reading it says so
    while len(items) <= number:
        items.append(MappingNode(cell.line, cell.column))
    if len(steps) == 1:
        items[number] = cell
    else:
        _into(items[number], steps[1:], cell, is_list)


def _into(node: Node, steps: list[str], cell: Scalar, is_list: bool) -> None:
    if isinstance(node, MappingNode):
        _put(node, steps, cell, is_list)


def _parted(step: str) -> tuple[str, int | None]:
    match = _STEP.fullmatch(step)
    name, number = match.groups() if match else (step, None)
    return name, None if number is None else int(number)


def _value(cell: Scalar, is_list: bool) -> Node:
    words = [one.strip() for one in re.split("[,;]", cell.text) if one.strip()] if is_list else []
    if len(words) < 2:
        return cell
    listed = Sequence(cell.line, cell.column)
    listed.items = [Scalar(word, cell.line, cell.column, True) for word in words]
    return listed


def _rows(data: bytes, file: str) -> Iterator[tuple[int, list[str]]]:
    """Yield every row that says anything, with the line on which it begins. Raises `Refused`."""
    if len(data) > LARGEST_TABLE:
        raise Refused([Fault(Place(file, 1, 1), "The table is too large.", "Cut it into several.")])
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise Refused([Fault(Place(file, line, 1), "This is no text in UTF-8.", _SAVE)]) from None
    refuse_letters(text, file)
    first = text.lstrip().partition("\n")[0]
    rows = csv.reader(io.StringIO(text, newline=""), delimiter=max(",;\t", key=first.count), strict=True)
    line = 1
    while True:
        try:
            cells = next(rows, None)
        except csv.Error as error:
            raise Refused([Fault(Place(file, line, 1), f"The row cannot be read: {error}.", _SAVE)]) from None
        if cells is None:
            return
        if any(cell.strip() for cell in cells):
            yield line, cells
        line = rows.line_num + 1


def _folded(name: str) -> str:
    return "_".join(name.casefold().replace("-", " ").replace("_", " ").split())


def _same(tag: str) -> str:
    return same_tag(unguarded(tag))
