"""YAML text to a tree of placed text: nothing is guessed, and whatever is doubtful is refused.

Scalars stay the text that was written; keys are never typed.
Refused with a place: doubled keys, anchors and aliases, tags, a second document, control
characters, over-deep nesting, over-large files, text that is not UTF-8.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, final

import yaml
from yaml.cyaml import CParser  # type: ignore[attr-defined]

from rigcheck.text.faults import Fault, Refused, keep_fault, shown_text
from rigcheck.text.place import Place

if not yaml.__with_libyaml__:  # the pure parser is eight times slower and places differ
    raise ImportError("rigcheck needs PyYAML built with libyaml (the ordinary wheels are)")

__all__ = [
    "DEEPEST",
    "LARGEST",
    "Mapping",
    "Node",
    "Scalar",
    "Sequence",
    "empty_at",
    "file_of",
    "laid_in",
    "read_yaml",
    "refuse_letters",
]

LARGEST = 1_048_576
"""Bytes; a rig description is a few thousand."""
DEEPEST = 32
"""Levels of nesting; a rig description has about eight."""


@final
class Scalar:
    """A piece of text; `line` and `column` count from one."""

    __slots__ = ("column", "file", "line", "quoted", "text")
    file: str  # set where it was laid in from another file, see `file_of`

    def __init__(self, text: str, line: int, column: int, quoted: bool) -> None:
        self.text, self.line, self.column, self.quoted = text, line, column, quoted


@final
class Sequence:
    """A list of nodes."""

    __slots__ = ("column", "file", "items", "line")
    file: str

    def __init__(self, line: int, column: int) -> None:
        self.items: list[Node] = []
        self.line, self.column = line, column


@final
class Mapping:
    """Keys (text) to nodes, with the place of each key beside it.

    `own`: where it was laid over another mapping, the keys that are its own; not set anywhere else.
    """

    __slots__ = ("column", "file", "items", "keys", "line", "own")
    file: str
    own: frozenset[str]

    def __init__(self, line: int, column: int) -> None:
        self.items: dict[str, Node] = {}
        self.keys: dict[str, Scalar] = {}
        self.line, self.column = line, column


Node = Scalar | Sequence | Mapping


def file_of(node: Node, file: str) -> str:
    """Return the file that a node was written in: `file`, unless it was laid in from another one."""
    return getattr(node, "file", file)


def empty_at(line: int, column: int, file: str = "") -> Mapping:
    """Return a mapping without entries that stands at a place; `file`: where that is another one than what is read."""
    node = Mapping(line, column)
    if file:
        node.file = file
    return node


def laid_in(node: Node, file: str) -> Node:
    """Return a copy of a tree that knows the file it was written in, to be laid into another one."""
    copy: Node
    if isinstance(node, Scalar):
        copy = Scalar(node.text, node.line, node.column, node.quoted)
    elif isinstance(node, Sequence):
        copy = Sequence(node.line, node.column)
        copy.items = [laid_in(one, file) for one in node.items]
    else:
        copy = Mapping(node.line, node.column)
        copy.items = {key: laid_in(one, file) for key, one in node.items.items()}
        copy.keys = {key: _scalar_in(one, file) for key, one in node.keys.items()}
    copy.file = file_of(node, file)
    return copy


def _scalar_in(node: Scalar, file: str) -> Scalar:
    copy = laid_in(node, file)
    assert isinstance(copy, Scalar)
    return copy


def read_yaml(data: bytes, file: str, faults: list[Fault] | None = None) -> Node:
    """Return the placed tree of one YAML document.

    Raises `Refused` with every fault that could be found. A caller that gives a list of `faults`
    gets those that leave the tree readable in it, and can look for more.
    """
    text = _decoded(data, file)
    refuse_letters(text, file)
    lone = re.search(r"\r(?!\n)", text)
    if lone:
        raise Refused([_letter_fault(lone, text, file)])
    reader = _Reader(text, file)
    try:
        return reader.read(faults)
    except yaml.MarkedYAMLError as error:
        raise Refused([*reader.faults, _syntax_fault(error, file, text)]) from None
    except yaml.YAMLError as error:
        raise Refused([_fault(file, 1, 1, f"This is not YAML: {error}.", _PLAIN)]) from None


_PLAIN = "Write plain YAML: 'key: value' lines, indented by spaces."


def _fault(file: str, line: int, column: int, read: str, write: str) -> Fault:
    return Fault(Place(file, line, column), read, write)


def _decoded(data: bytes, file: str) -> str:
    if len(data) > LARGEST:
        read = f"The file has more than {LARGEST:,} bytes."  # how many more is not known: no more were read
        raise Refused([_fault(file, 1, 1, read, "Describe one rig a file.")])
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = data[: error.start].decode("utf-8", "replace")
        line, column = before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1
        read = f"The byte 0x{data[error.start]:02X} is not UTF-8 text."
        raise Refused([_fault(file, line, column, read, "Save the file as UTF-8.")]) from None


# NEL, LS and PS break lines for libyaml but not for editors; direction marks show text in
# another order than it has, and tags spell what nobody sees; the rest never belongs in text.
_FORBIDDEN = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\u061c\u200e\u200f\u202a-\u202e\u2066-\u206f"
    "\ufeff\ufff9-\ufffb\ufffe\uffff\ud800-\udfff\U000e0000-\U000e007f]"
)
_MOST_FAULTS = 20


def refuse_letters(text: str, file: str) -> None:
    """Refuse a file that has letters which steer, hide or turn others. Raises `Refused`."""
    found = [m for m, _ in zip(_FORBIDDEN.finditer(text), range(_MOST_FAULTS), strict=False)]
    if found:
        raise Refused(_letter_fault(match, text, file) for match in found)


def _letter_fault(match: re.Match[str], text: str, file: str) -> Fault:
    start = match.start()
    line, column = text.count("\n", 0, start) + 1, start - text.rfind("\n", 0, start)
    read = f"The character U+{ord(match[0]):04X} does not show, or breaks lines."
    return _fault(file, line, column, read, "Take it out.")


class _Reader:
    """One pass over the parser's events, keeping the first of each doubled key."""

    def __init__(self, text: str, file: str) -> None:
        self.file = file
        self.faults: list[Fault] = []
        self.parser = CParser(text)

    def read(self, kept: list[Fault] | None) -> Node:
        root = self._tree(iter(self.parser.get_event, None))
        if root is None:
            self._refuse(1, 1, "The file is empty.", "Write a description; see 'rigcheck new'.")
        if root is None or (self.faults and kept is None):
            raise Refused(self.faults)
        if kept is not None:
            kept += self.faults
        return root

    def _tree(self, events: Iterator[Any]) -> Node | None:
        # The one hot loop of reading: kept in a piece, on local names, for speed.
        scalar_event = yaml.ScalarEvent
        root: Node | None = None
        stack: list[Sequence | Mapping] = []
        top: Sequence | Mapping | None = None
        key: Scalar | None = None
        for event in events:
            kind = type(event)
            mark = event.start_mark
            if kind is scalar_event:
                node: Node = Scalar(event.value, mark.line + 1, mark.column + 1, bool(event.style))
                if event.tag or event.anchor:
                    self._refuse_marks(event)
                if event.style == '"' and _FORBIDDEN.search(event.value):
                    self._refuse_escape(event)
            elif kind is yaml.MappingStartEvent or kind is yaml.SequenceStartEvent:
                made = Mapping if kind is yaml.MappingStartEvent else Sequence
                node = made(mark.line + 1, mark.column + 1)
                if event.tag or event.anchor:
                    self._refuse_marks(event)
            elif kind is yaml.MappingEndEvent or kind is yaml.SequenceEndEvent:
                stack.pop()
                key = None
                top = stack[-1] if stack else None
                continue
            else:
                self._other_event(event, root is not None)
                continue
            if top is None:
                root = node
            elif type(top) is Sequence:
                top.items.append(node)
            elif key is None:
                key = self._key(top, node)
                if type(node) is Scalar:
                    continue
            else:
                if key.text not in top.items:
                    top.items[key.text] = node
                    top.keys[key.text] = key
                key = None
            if type(node) is not Scalar:
                stack.append(node)
                top, key = node, None
                if len(stack) > DEEPEST:
                    self._refuse(node.line, node.column, "This is nested too deep.", _PLAIN)
                    raise Refused(self.faults)
        return root

    def _key(self, top: Mapping, node: Node) -> Scalar:
        if type(node) is not Scalar:
            self._refuse(node.line, node.column, "A list or mapping stands as a key.", _PLAIN)
            raise Refused(self.faults)
        first = top.keys.get(node.text)
        if first is not None:
            read = f"{shown_text(node.text)} is written twice, first in line {first.line}."
            self._refuse(node.line, node.column, read, "Keep one of the two.")
        return node

    def _refuse_marks(self, event: Any) -> None:
        what = "tag" if event.tag else "anchor"
        mark = event.start_mark
        self._refuse(mark.line + 1, mark.column + 1, f"A YAML {what} stands here.", "Write the value itself.")

    def _refuse_escape(self, event: Any) -> None:
        letter = _FORBIDDEN.search(event.value)
        assert letter is not None
        read = f"The character U+{ord(letter[0]):04X} is written as an escape in quotes."
        self._refuse(event.start_mark.line + 1, event.start_mark.column + 1, read, "Take it out.")

    def _other_event(self, event: Any, has_root: bool) -> None:
        mark = event.start_mark
        line, column = mark.line + 1, mark.column + 1
        if type(event) is yaml.AliasEvent:
            self._refuse(line, column, "A YAML alias stands here.", "Write the value out again.")
            raise Refused(self.faults)
        if type(event) is yaml.DocumentStartEvent and has_root:
            self._refuse(line, column, "A second document begins here.", "Write one document a file.")
            raise Refused(self.faults)

    def _refuse(self, line: int, column: int, read: str, write: str) -> None:
        keep_fault(self.faults, _fault(self.file, line, column, read, write))


_HARD_BLANK = re.compile(r"^[ -]*([\u00a0\u202f\u2007\u3000])", re.MULTILINE)
_NO_COLON = re.compile(r"[ ]*-[ ]+([A-Za-z_]+)[ ]*[{\[]")
_NO_BLANK = re.compile(r"[ ]*-([A-Za-z_]+)[ ]*:")
_ADVICE = (
    ("tab", "Indent with spaces, not with tabs."),
    (
        "mapping values are not allowed",
        "Put text that has ': ' in it in quotes; see that a blank stands after each ':', in the line above too.",
    ),
    ("could not find expected ':'", "Write 'key: value', with a blank after the colon."),
    ("did not find expected key", "Line the keys of one thing up in one column."),
    ("did not find expected '-'", "Line the '-' of one list up in one column."),
    ("cannot start any token", "Put text that begins with % @ or ` in quotes."),
    ("expected node content", "Write 'unknown' for what is not known; put other text in quotes."),
    ("mapping keys are not allowed", "Write 'unknown' for what is not known; put text that begins with ? in quotes."),
    ("unexpected end of stream", "Close the quotes or the bracket."),
    ("did not find expected ',' or", "Close the bracket, part the entries by commas, and write ': ' after each name."),
)


def _syntax_fault(error: yaml.MarkedYAMLError, file: str, text: str) -> Fault:
    mark = error.problem_mark or error.context_mark
    line, column = (mark.line + 1, mark.column + 1) if mark else (1, 1)
    bare = _bare_item(text.split("\n"), line)
    if bare is not None and ("expected key" in (error.problem or "") or "expected '-'" in (error.problem or "")):
        return _fault(file, *bare)
    hard = next(_HARD_BLANK.finditer("\n".join(text.split("\n")[:line])), None)
    if hard is not None:  # the parser takes it for a letter, and stumbles further on
        before = text[: hard.start(1)]
        read = "Here stands a non-breaking space, which is no indent of YAML."
        write = "Delete it, and indent with the space bar."
        return _fault(file, before.count("\n") + 1, len(before) - before.rfind("\n"), read, write)
    problem = error.problem or error.context or "it cannot be parsed"
    context = f" ({error.context})" if error.context and error.problem else ""
    said = f"{problem}{context}"
    tab = any(row[column - 1 : column] == "\t" for row in text.split("\n")[line - 1 : line])
    advised = "tab" if tab else said  # the parser does not always say what the character is
    write = next((advice for words, advice in _ADVICE if words in advised), _PLAIN)
    if "flow" in context and not "".join(text.split("\n")[line - 1 :]).strip():
        write = "Close the bracket: one is open where the file ends."
    return _fault(file, line, column, f"This is not well-formed YAML: {said}.", f"{write}{_begun(error, line)}")


def _bare_item(rows: list[str], line: int) -> tuple[int, int, str, str] | None:
    """Return where an item of a list lacks its colon or its blank, in the line of a fault or above it, if it does.

    The parser takes such a line for text, and stumbles over the next thing that it meets.
    """
    for number in (line, line - 1):
        row = rows[number - 1] if 0 < number <= len(rows) else ""
        if (found := _NO_COLON.match(row)) is not None:
            word = found[1]
            return number, found.end(1) + 1, f"No colon stands behind {word!r}.", f"Write '- {word}: {{…}}'."
        if (found := _NO_BLANK.match(row)) is not None:
            return number, found.start(1) + 1, "No blank stands behind the '-'.", f"Write '- {found[1]}'."
    return None


def _begun(error: yaml.MarkedYAMLError, line: int) -> str:
    """Return where that begins which was not closed, as it is further up that somebody has to look."""
    begun = error.context_mark.line + 1 if error.context_mark else line
    closed = "flow" not in (error.context or "") and "quoted" not in (error.context or "")
    return "" if closed or begun >= line else f" What is not closed begins in line {begun}."
