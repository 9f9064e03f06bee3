"""A description with what was seen written at its things, as `sights:`; what stands there is not touched.

What exists by the standard rig alone gets its place in the order of the flow; what has none in the text is left out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from msgspec import Struct
from yaml.nodes import MappingNode, Node, SequenceNode

from rigcheck.asking.standing_facts import Sight
from rigcheck.rig.standard_overlay import MATCHED_BY
from rigcheck.rig.thing import Rig, Thing
from rigcheck.text.yaml_insertion import Entry, Insertion, Row, value_of

__all__ = ["Written", "written_description"]

_Tree = dict[str, Any]
_Run = list[Any]
"""The parts of a run in order of the flow: nodes of the text, and entries that are put in."""


class Written(Struct, frozen=True):
    """A description as it would be: its text, what was put in, and what has no place in it (it stays in the look)."""

    text: str
    sights: tuple[Sight, ...]
    left_out: tuple[Sight, ...]


class _Spot(Struct, frozen=True):
    """Where something of a thing is written: the node of the text, if there is one, and what more is to stand there."""

    tree: _Tree
    node: Node | None = None


def written_description(text: str, rig: Rig, sights: Iterable[Sight]) -> Written:
    """Return a description with what was seen of its things.

    `rig` is what the text describes. What stands there already, of the same day and role, is not put in again.
    """
    making = _Making(text, rig)
    new, left = [], []
    for sight in sights:
        spot = making.spot(sight.thing)
        listed = value_of(spot.node, "sights") if spot is not None and spot.node is not None else None
        if spot is None or not (listed is None or isinstance(listed, SequenceNode)):
            left.append(sight)
            continue
        row = _row(sight, listed)
        if row is not None:
            rows = spot.tree.setdefault("sights", []) if listed is None else making.after_all(listed)
            rows.append(row)
            new.append(sight)
    return Written(making.text(), tuple(new), tuple(left))


def _row(sight: Sight, listed: SequenceNode | None) -> Row | None:
    """Return the row of a sight; None where the rows that stand there say all of it."""
    said: dict[str, str | tuple[str, ...]] = {}
    for one in listed.value if listed is not None else ():
        told = {key.value: _value(value) for key, value in one.value} if isinstance(one, MappingNode) else {}
        if (told.get("seen"), told.get("by", "")) == (sight.day, sight.by):
            said |= told
    facts = {name: value for name, value in sight.facts.items() if said.get(name) != value}
    notes = tuple(f"{name}: {text} is written here too" for name, text in sight.otherwise.items() if name in facts)
    # Where the part is swapped and its row is left as it was, the two tags tell of it.
    tag = {"tag": sight.thing.tag} if sight.thing.tag else {}
    return Row({"seen": sight.day, "by": sight.by, **tag, **facts}, notes) if facts else None


def _value(node: Node) -> str | tuple[str, ...]:
    return tuple(one.value for one in node.value) if isinstance(node, SequenceNode) else str(node.value)


class _Making:
    """One description that more is put into."""

    def __init__(self, text: str, rig: Rig) -> None:
        self.rig, self.into = rig, Insertion(text)
        self._runs: dict[
            Thing, dict[Thing, tuple[_Run, Any]]
        ] = {}  # by line: in which run each part stands, and as what
        self._own: list[tuple[SequenceNode, _Run]] = []
        self._made_lines: dict[Thing, _Tree] = {}

    def text(self) -> str:
        """Return the text with all that was put in."""
        for listed, run in self._own:
            after = -1
            for item in run:
                if isinstance(item, Node):
                    after = listed.value.index(item)
                else:
                    self.into.more_after(listed, after).append(item)
        self._own.clear()
        return self.into.text()

    def after_all(self, listed: SequenceNode) -> list[Any]:
        """Return what follows a list."""
        return self.into.more_after(listed, len(listed.value) - 1)

    def spot(self, thing: Thing) -> _Spot | None:
        """Return where a thing is written, or is to be; None where it has no place."""
        if thing.parent is None:
            return self._at(self.into.root)
        if "joint" in thing.kind.lineage:
            return self._joint(thing)
        line = thing.facts.get("line")
        if thing is line:
            return self._line(thing)
        if thing.parent is line:
            run, item = self._run_of(line).get(thing, (None, None))
            return self._entry(item) if run is not None else None
        return self._held(thing, thing.parent)

    def _at(self, node: Node) -> _Spot | None:
        tree = self.into.more_in(node)
        return None if tree is None else _Spot(tree, node)

    def _entry(self, item: Any) -> _Spot | None:
        """Return the spot of an entry in a list of parts."""
        if isinstance(item, Entry):
            return _Spot(item.more)
        return self._at(item.value[0][1] if isinstance(item, MappingNode) else item)

    def _held(self, thing: Thing, holder: Thing) -> _Spot | None:
        """Return the spot of a thing that stands inside another one, or in the rig."""
        above = self.spot(holder)
        key = next((name for name in holder.kind.holds if _holds(holder, name, thing)), "")
        if above is None or not key:
            return None
        there = value_of(above.node, key) if above.node is not None else None
        held = holder.facts[key]
        if there is not None:
            if isinstance(there, SequenceNode):
                number = held.index(thing) if isinstance(held, tuple) else 0
                return self._at(there.value[number]) if number < len(there.value) else None
            return self._at(there)
        if not isinstance(held, tuple) or len(held) == 1:
            made = above.tree.setdefault(key, {})
            return _Spot(made if isinstance(made, dict) else made[0])
        fact = MATCHED_BY.get(key, "")
        if not all(isinstance(one.facts.get(fact), str) for one in held):  # it would take the place of the whole list
            return None
        entries = above.tree.setdefault(key, [{fact: one.facts[fact]} for one in held])
        return _Spot(entries[held.index(thing)])

    # --- lines, parts and joints ---

    def _line(self, line: Thing) -> _Spot | None:
        listed = value_of(self.into.root, "lines")
        if isinstance(listed, SequenceNode) and not line.file:
            found = [one for one in listed.value if _is_at(one, line)]
            return self._at(found[0]) if found else None
        if not self._made_lines:
            new = [one for one in self.rig.root.facts["lines"] if one.file]
            self._made_lines = {one: {"gas": one.gas_word} for one in new}
            root = self._at(self.into.root)
            assert root is not None
            more = self.after_all(listed) if isinstance(listed, SequenceNode) else root.tree.setdefault("lines", [])
            more.extend(self._made_lines.values())
        tree = self._made_lines.get(line)
        return None if tree is None else _Spot(tree)

    def _run_of(self, line: Thing) -> dict[Thing, tuple[_Run, Any]]:
        if line not in self._runs:
            self._runs[line] = self._found_runs(line)
        return self._runs[line]

    def _found_runs(self, line: Thing) -> dict[Thing, tuple[_Run, Any]]:
        spot = self._line(line)
        if spot is None:
            return {}
        parts: tuple[Thing, ...] = line.facts.get("parts") or ()
        listed = value_of(spot.node, "parts") if spot.node is not None else None
        found: dict[Thing, tuple[_Run, Any]] = {}
        if listed is None:
            start = next((one for one in parts if one.kind.branches == "gather"), parts[0])
            spot.tree["parts"] = _run_from(start, found)
            return found
        for run, item in self._entries_of(listed):
            part = next((one for one in parts if one not in found and _is_of(item, one)), None)
            if part is not None:
                found[part] = run, item
        if not any(one.kind.branches for one in parts):
            self._fill(parts, found)
        return found

    def _entries_of(self, listed: Node) -> Iterator[tuple[_Run, Node]]:
        """Yield the entries of a list of parts and of the branches in it, each with the run that it stands in."""
        if not isinstance(listed, SequenceNode):
            return
        run: _Run = list(listed.value)
        self._own.append((listed, run))
        for item in listed.value:
            yield run, item
            branches = value_of(_body(item), "branches")
            for one in branches.value if isinstance(branches, SequenceNode) else ():
                yield from self._entries_of(value_of(one, "parts") or one)

    def _fill(self, parts: Iterable[Thing], found: dict[Thing, tuple[_Run, Any]]) -> None:
        """Put in the parts that the standard rig alone has, each behind the part that it follows."""
        if not found:
            return
        run, at = next(iter(found.values()))[0], 0
        for part in parts:
            if part not in found:
                found[part] = run, Entry(part.kind.key)
                run.insert(at, found[part][1])
            at = run.index(found[part][1]) + 1

    def _joint(self, joint: Thing) -> _Spot | None:
        line = joint.facts["line"]
        runs = self._run_of(line)
        before, behind = (runs.get(joint.facts[end]) for end in ("upstream", "downstream"))
        if before is None:
            return None
        if behind is not None and (behind[0] is before[0] or joint.facts["upstream"].kind.branches == "share"):
            run, place = behind[0], behind[0].index(behind[1])
            there = run[place - 1] if place else None
        else:
            run, place = before[0], before[0].index(before[1]) + 1
            there = run[place] if place < len(run) else None
        if there is None or _word(there) != "joint":
            there = Entry("joint")
            run.insert(place, there)
        return self._entry(there)


def _run_from(start: Thing, found: dict[Thing, tuple[_Run, Any]]) -> _Run:
    """Return a run of parts that is put in, with the branches that run together in it or part behind it."""
    run: _Run = []
    part: Thing | None = start
    while part is not None and "line" in part.facts and part.facts["line"] is start.facts["line"] and part not in found:
        entry = Entry(part.kind.key)
        found[part] = run, entry
        run.append(entry)
        line = part.facts["line"]
        if part.kind.branches == "gather":
            ends = [one for one in line.facts["parts"] if one.facts["downstream"] is part]
            entry.more["branches"] = [{"parts": _run_from(_first(one), found)} for one in ends]
        if part.kind.branches == "share":
            starts = [one for one in line.facts["parts"] if one.facts["upstream"] is part]
            entry.more["branches"] = [{"parts": _run_from(one, found)} for one in starts]
            break
        part = part.facts["downstream"]
    return run


def _first(part: Thing) -> Thing:
    while part.facts["upstream"] is not None:
        part = part.facts["upstream"]
    return part


def _holds(holder: Thing, name: str, thing: Thing) -> bool:
    held = holder.facts.get(name)
    return held is thing or (isinstance(held, tuple) and thing in held)


def _body(item: Node) -> Node:
    return item.value[0][1] if isinstance(item, MappingNode) and item.value else item


def _word(item: Any) -> str:
    if isinstance(item, Entry):
        return item.word
    return str(item.value[0][0].value if isinstance(item, MappingNode) and item.value else item.value)


def _is_of(item: Node, part: Thing) -> bool:
    """Whether an entry is a part; one that says nothing itself leaves its part where the standard rig has it."""
    body = _body(item)
    bare = body is item or not body.value
    return _is_at(body, part) if not part.file else bare and _word(item) == part.kind.key


def _is_at(node: Node, thing: Thing) -> bool:
    return (node.start_mark.line + 1, node.start_mark.column + 1) == (thing.line, thing.column)
