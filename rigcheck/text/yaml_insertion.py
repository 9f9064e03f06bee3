"""YAML text with more put in between: what stands there stays to the letter.

Text goes in at places that the parser gives, so that comments, order, quotes and line ends are as somebody wrote them.
A library that writes YAML anew (ruamel.yaml was tried) moves a comment that follows a thing into the middle of it once
the thing grows, and sets lists on one line otherwise.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

import yaml
from msgspec import Struct, field
from yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from rigcheck.text.scalar_text import scalar_text

__all__ = ["Entry", "Insertion", "Row", "value_of"]

_STEP = 2  # blanks
_WIDTH = 100  # a row that fits stands on one line


class Entry(Struct):
    """An entry of a list that is named by one word: the word alone, or a mapping of it where there is more to say."""

    word: str
    more: dict[str, Any] = field(default_factory=dict)


class Row(Struct, frozen=True):
    """A mapping on one line if it fits there; `notes` stand above it as comments."""

    items: Mapping[str, str | tuple[str, ...]]
    notes: tuple[str, ...] = ()


class Insertion:
    """One YAML text and what is put into it. The text must be one that can be read."""

    def __init__(self, text: str) -> None:
        self._mark = text[:1] if text.startswith("\N{ZERO WIDTH NO-BREAK SPACE}") else ""
        self._text = text.removeprefix(self._mark)
        root = yaml.compose(self._text, Loader=yaml.CBaseLoader)
        assert isinstance(root, MappingNode)
        self.root = root
        self._above: dict[int, tuple[Node, Node | None]] = {}
        self._trees: dict[int, tuple[Node, dict[str, Any]]] = {}
        self._entries: dict[tuple[int, int], tuple[SequenceNode, list[Any]]] = {}
        self._learn(self.root)

    def _learn(self, node: Node) -> None:
        pairs = node.value if isinstance(node, MappingNode) else ()
        for key, value in pairs:
            self._above[id(value)] = node, key
            self._learn(value)
        for item in node.value if isinstance(node, SequenceNode) else ():
            self._above[id(item)] = node, None
            self._learn(item)

    def more_in(self, node: Node) -> dict[str, Any] | None:
        """Return what more is to stand in a mapping, to be filled; None where none can be put in.

        The node is the mapping, a bare word in a list that is to become one, or nothing written after a key.
        """
        if isinstance(node, SequenceNode) or (isinstance(node, ScalarNode) and not self._may_grow(node)):
            return None
        return self._trees.setdefault(id(node), (node, {}))[1]

    def _may_grow(self, node: ScalarNode) -> bool:
        above, key = self._above[id(node)]
        return key is None and bool(node.value) if isinstance(above, SequenceNode) else self._may_be_filled(node)

    def _may_be_filled(self, node: ScalarNode) -> bool:
        return not node.value and not node.style and not self._is_flow(node)

    def more_after(self, listed: SequenceNode, index: int) -> list[Any]:
        """Return what is to follow an entry of a list, to be filled; -1: what is to stand before the first."""
        return self._entries.setdefault((id(listed), index), (listed, []))[1]

    def text(self) -> str:
        """Return the text with all of it."""
        pieces: list[tuple[int, int, str]] = []
        for node, tree in self._trees.values():
            pieces += [(at, -self._depth(node), piece) for at, piece in self._pieces(node, tree) if tree]
        for (_, index), (listed, entries) in self._entries.items():
            pieces += [
                (at, -self._depth(listed), piece) for at, piece in self._listed(listed, index, entries) if entries
            ]
        made, at = self._mark, 0
        line_end = "\r\n" if "\r\n" in self._text else "\n"
        for place, _, piece in sorted(pieces, key=lambda one: one[:2]):  # where several end, the innermost goes first
            made += self._text[at:place] + piece.replace("\n", line_end)
            at = place
        return made + self._text[at:]

    # --- where ---

    def _is_flow(self, node: Node) -> bool:
        at: Node | None = node
        while at is not None:
            if isinstance(at, (MappingNode, SequenceNode)) and at.flow_style:
                return True
            at = self._above[id(at)][0] if id(at) in self._above else None
        return False

    def _depth(self, node: Node) -> int:
        return 1 + self._depth(self._above[id(node)][0]) if id(node) in self._above else 0

    def _pieces(self, node: Node, tree: dict[str, Any]) -> Iterator[tuple[int, str]]:
        above, key = self._above.get(id(node), (None, None))
        if self._is_flow(node) or (above is not None and self._is_flow(above)):
            indent = self._indent_of(node) + 2 * _STEP
            inner = ", ".join(f"{name}: {_flow(value, indent)}" for name, value in tree.items())
            if isinstance(node, ScalarNode):
                yield node.end_mark.index, f": {{{inner}}}"
            elif node.value:
                yield _end(node.value[-1][1]), f", {inner}"
            else:
                yield node.start_mark.index + 1, inner
            return
        if isinstance(node, MappingNode):
            column = node.value[0][0].start_mark.column
        else:
            column = (key or node).start_mark.column + _STEP
            if key is None:
                yield node.end_mark.index, ":"
        yield self._below(node, _block(tree, column))

    def _listed(self, listed: SequenceNode, index: int, entries: list[Any]) -> Iterator[tuple[int, str]]:
        if self._is_flow(listed):
            told = ", ".join(_flow(one, self._indent_of(listed) + 2 * _STEP) for one in entries)
            if index < 0:
                yield listed.value[0].start_mark.index, f"{told}, "
            else:
                yield _end(listed.value[index]), f", {told}"
            return
        lines = [line for one in entries for line in _item(one, listed.start_mark.column)]
        key = self._above[id(listed)][1]
        before = key if index < 0 and key is not None else listed.value[max(index, 0)]
        yield self._below(before, lines)  # before the first: above the comments that belong to it

    def _below(self, node: Node, lines: Iterable[str]) -> tuple[int, str]:
        """Return the place below the last line of a node, and what goes there."""
        place, told = _end(node), "".join(f"{line}\n" for line in lines)
        if place and self._text[place - 1] == "\n":  # a text of several lines ends below itself
            return place, told
        ends = self._text.find("\n", place)
        return (ends + 1, told) if ends >= 0 else (len(self._text), f"\n{told}")

    def _indent_of(self, node: Node) -> int:
        line = self._text[self._text.rfind("\n", 0, node.start_mark.index) + 1 :]
        return len(line) - len(line.lstrip(" "))


def value_of(node: Node, key: str) -> Node | None:
    """Return what stands under a key of a mapping."""
    pairs = node.value if isinstance(node, MappingNode) else ()
    return next((value for name, value in pairs if name.value == key), None)


def _end(node: Node) -> int:
    """Return where a node ends, without what the parser counts to it: comments and blank lines."""
    if not isinstance(node, (MappingNode, SequenceNode)) or node.flow_style or not node.value:
        return int(node.end_mark.index)
    last = node.value[-1]
    return _end(last[1] if isinstance(node, MappingNode) else last)


# --- how ---


def _block(tree: Mapping[str, Any], column: int) -> Iterator[str]:
    blank = " " * column
    for key, value in tree.items():
        if isinstance(value, (str, tuple)):
            yield f"{blank}{key}: {_flow(value, column)}"
        elif not value:
            yield f"{blank}{key}: {{}}"
        else:
            yield f"{blank}{key}:"
            if isinstance(value, Mapping):
                yield from _block(value, column + _STEP)
            else:
                for one in value:
                    yield from _item(one, column + _STEP)


def _item(one: Any, column: int) -> Iterator[str]:
    blank = " " * column
    if isinstance(one, Row):
        yield from (f"{blank}# {note}" for note in one.notes)
        line = f"{blank}- {_flow(one, column)}"
        yield from [line] if len(line) <= _WIDTH else _dashed(_block(one.items, column + _STEP), column)
    elif isinstance(one, Entry):
        yield f"{blank}- {one.word}{':' if one.more else ''}"
        yield from _block(one.more, column + 2 * _STEP)
    else:
        yield from _dashed(_block(one, column + _STEP), column)


def _dashed(lines: Iterable[str], column: int) -> Iterator[str]:
    for number, line in enumerate(lines):
        yield line if number else f"{' ' * column}- {line.lstrip(' ')}"


def _flow(value: Any, column: int) -> str:
    """Return a value on one line, but for rows: each begins a line of its own in this column."""
    if isinstance(value, str):
        return value if value in ("yes", "no") else scalar_text(value)
    if isinstance(value, Row):
        return f"{{{', '.join(f'{key}: {_flow(one, column)}' for key, one in value.items.items())}}}"
    if isinstance(value, Entry):
        return f"{value.word}: {{{_pairs(value.more, column)}}}" if value.more else value.word
    if isinstance(value, Mapping):
        return f"{{{_pairs(value, column)}}}"
    if any(isinstance(one, Row) for one in value):
        return f"[{','.join(_on_its_line(one, column) for one in value)}]"
    return f"[{', '.join(_flow(one, column) for one in value)}]"


def _pairs(tree: Mapping[str, Any], column: int) -> str:
    return ", ".join(f"{key}: {_flow(value, column)}" for key, value in tree.items())


def _on_its_line(row: Row, column: int) -> str:
    start = f"\n{' ' * column}"
    return "".join(f"{start}# {note}" for note in row.notes) + start + _flow(row, column)
