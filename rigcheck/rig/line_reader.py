"""One gas line read from supply to torch: its parts in order of flow and the joints between them."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct, field

from rigcheck.rig.thing import Thing
from rigcheck.rig.thing_reader import Reading
from rigcheck.rig.vocabulary import Kind
from rigcheck.text.faults import nearest_word, shown_text, with_article
from rigcheck.text.yamlfile import Mapping, Node, Scalar, Sequence, empty_at, file_of

__all__ = ["LINE_GRAMMAR", "Flow", "Outlet", "meant_part"]

_THE_WORK = "work"  # where a line of purge or shielding gas ends, instead of a torch

LINE_GRAMMAR = ("parts", "every_joint", "every", "to")
_BRANCH_KEYS = {"gather": ("parts",), "share": ("parts", "to")}
"""What a branch may say, where branches run together and where they part."""


_SLIP = 0.8  # likeness from which on a word is taken for the part that it is like
_TRADE_WORDS = {  # common practice: what people call a part
    "arrestor": "arrester",
    "bank": "manifold",
    "bottle": "cylinder",
    "check valve": "non_return_valve",
    "dewar": "bulk_tank",
    "flashback arrester": "arrester",
    "flashback arrestor": "arrester",
    "liquid cylinder": "bulk_tank",
    "liquid tank": "bulk_tank",
    "liquid vessel": "bulk_tank",
    "quick coupling": "coupler",
    "reg": "regulator",
    "wall outlet": "outlet_point",
    "wall point": "outlet_point",
}


class Outlet(Struct, frozen=True):
    """Where a line ends: its last part, the joint written after it, and the torch it names."""

    last: Thing
    joint: Node | None
    to: Scalar | None

    @property
    def at_the_work(self) -> bool:
        """Whether the gas is let out at the work, as purge and shielding gas is, and at no torch."""
        return self.to is not None and self.to.text == _THE_WORK


class Flow(Struct):
    """The reading of one line; `every_joint` is a joint with all that is written of every one."""

    reading: Reading
    line: Thing
    every_joint: Thing | None
    parts: list[Thing] = field(default_factory=list)
    joints: list[Thing] = field(default_factory=list)
    outlets: list[Outlet] = field(default_factory=list)

    def read(self, body: Mapping) -> None:
        """Read the parts of the line."""
        parts, to = body.items.get("parts"), self._torch_name(body)
        if not isinstance(parts, Sequence) or not parts.items:
            where = parts if parts is not None else body
            write = "Write 'parts:' and a list, from the cylinder to the torch."
            self.reading.refuse(where, "The line has no list of parts.", write)
            return
        self._run(parts, None, to)
        self._led(to, 0)
        self._number_parts()
        self.line.facts["parts"] = tuple(self.parts)
        self.line.facts["joints"] = tuple(self.joints)

    def _run(self, items: Sequence, start: Thing | None, to: Scalar | None) -> None:
        """Read one run of parts in order of flow, and leave its end among the outlets."""
        last, joint = start, None
        shared = False
        for item in items.items:
            if shared:
                self.reading.refuse(item, "This follows a header's branches.", "Write it inside its branch.")
                continue
            key, body = self._entry(item)
            if key == "joint":
                joint = self._joint_body(joint, body, last)
                continue
            kind = self._part_kind(item, key)
            if kind is None:
                continue
            part, shared = self._part(kind, body, to)
            self.join(last, part, joint)
            last, joint = part, None
            if shared:
                last = None
        if last is not None:
            self.outlets.append(Outlet(last, joint, to))

    def _entry(self, item: Node) -> tuple[str, Node]:
        if isinstance(item, Mapping) and len(item.items) == 1 and "" not in item.items:
            return next(iter(item.items.items()))
        if isinstance(item, Scalar) and item.text:
            return item.text, empty_at(item.line, item.column, file_of(item, ""))
        self.reading.refuse(
            item,
            "This is not one part.",
            "Write '- hose: {bore: 8 mm, …}': one kind of part, with its facts inside.",
        )
        return "", item

    def _joint_body(self, joint: Node | None, body: Node, last: Thing | None) -> Node:
        if joint is not None:
            self.reading.refuse(body, "Two joints follow each other.", "Put the part between them.")
        if last is None:
            self.reading.refuse(body, "A joint stands before any part.", "Begin with the supply.")
        return body

    def _part_kind(self, item: Node, key: str) -> Kind | None:
        if not key:
            return None
        named = self.reading.vocabulary.parts
        kind = named.get(key)
        word = key.partition("{")[0].strip()
        if word != key and word in named:  # '- hose {bore: 8 mm}' is a key to YAML
            self.reading.refuse(item, f"No colon stands behind {word!r}.", f"Write '- {word}: {{…}}'.")
        elif kind is None:
            write, near = f"Write a part: {', '.join(sorted(named))}.", meant_part(key, named, 0.65)
            if key == "torch":
                write, near = "Write the torch at the foot of the file, under 'torch:'.", ""
            kind = named.get(near) if near == meant_part(key, named) else None
            if kind is not None:
                read = f"{key!r} is no part of a line: read as {with_article(near)}."
                self.reading.pass_over(item, read, f"Write {near!r}?")
            else:
                self.reading.refuse(item, f"{key!r} is no part of a line.", write, near)
        return kind

    def _part(self, kind: Kind, body: Node, to: Scalar | None) -> tuple[Thing, bool]:
        part = self.reading.thing(kind, kind.name, self.line, body)
        part.facts["line"], part.facts["upstream"], part.facts["downstream"] = self.line, None, None
        self.parts.append(part)
        self.reading.fill(part, body, ("branches",) if kind.branches else ())
        branches = body.items.get("branches") if isinstance(body, Mapping) else None
        if kind.branches and branches is not None:
            self._branches(part, branches, to)
        return part, kind.branches == "share" and branches is not None

    def _branches(self, part: Thing, branches: Node, to: Scalar | None) -> None:
        """Read the branches of a header or manifold; `to` is where those lead that do not say it themselves."""
        items = branches.items if isinstance(branches, Sequence) else [branches]
        if not items:
            self.reading.refuse(branches, "There are no branches.", "Write '- parts: […]' for each.")
        for branch in items:
            parts = branch.items.get("parts") if isinstance(branch, Mapping) else branch
            if not isinstance(parts, Sequence) or not parts.items:
                self.reading.refuse(branch, "A branch has no list of parts.", "Write '- parts: […]'.")
            elif part.kind.branches == "share":
                before, own = len(self.outlets), self._branch_to(branch, part)
                self._run(parts, part, own or to)
                self._led(own, before)
            else:
                self._branch_to(branch, part)
                self._gather(parts, part)

    def _branch_to(self, branch: Node, part: Thing) -> Scalar | None:
        """Return what a branch leads to, and refuse what is no key of a branch."""
        if not isinstance(branch, Mapping):
            return None
        known = _BRANCH_KEYS[part.kind.branches]
        for key in branch.items:
            if key not in known:
                read = f"{shown_text(key)} is nothing known of a branch."
                self.reading.refuse(branch.keys[key], read, f"Known here: {', '.join(known)}.")
        return self._torch_name(branch)

    def _torch_name(self, body: Mapping) -> Scalar | None:
        to = body.items.get("to")
        if to is None or (isinstance(to, Scalar) and to.text):
            return to
        self.reading.refuse(to, "This names no torch.", "Write the name of one torch.")
        return None

    def _led(self, to: Scalar | None, since: int) -> None:
        """Refuse a `to` behind which every branch of a header says itself where it leads."""
        ends = self.outlets[since:]
        if to is not None and ends and all(end.to is not to for end in ends):
            read = f"Nothing leads to {shown_text(to.text)} from here: each branch says itself where it leads."
            self.reading.refuse(to, read, "Take this 'to:' out, or that of the branch which it is for.")

    def _gather(self, parts: Sequence, into: Thing) -> None:
        before = len(self.outlets)
        own = self.parts.index(into)
        self._run(parts, None, None)
        self.parts.append(self.parts.pop(own))  # the flow reaches the manifold after its branches
        for outlet in self.outlets[before:]:
            self.join(outlet.last, into, outlet.joint)
        del self.outlets[before:]

    def join(self, upstream: Thing | None, downstream: Thing, body: Node | None) -> None:
        """Make the joint between two neighbours from what was written of it, if anything was."""
        if upstream is None:
            return
        hoses = [part for part in (upstream, downstream) if "hose" in part.kind.lineage]
        kind = self.reading.vocabulary.kinds["hose end" if hoses else "joint"]
        joint = self.reading.thing(kind, "joint", self.line, body or _place_node(upstream))
        joint.facts |= {"line": self.line, "upstream": upstream, "downstream": downstream}
        if hoses:
            joint.facts["hose"] = hoses[0]
        upstream.facts["downstream"] = downstream
        if "torch" not in downstream.kind.lineage:  # several lines meet at a torch
            downstream.facts["upstream"] = upstream
        self.joints.append(joint)
        if body is not None:
            self.reading.fill(joint, body)
        if self.every_joint is not None:
            self._as_every(joint, self.every_joint)

    def _as_every(self, joint: Thing, every: Thing) -> None:
        """Say of a joint what is said of every one, as far as nothing else is said of it."""
        for name, where in every.places.items():
            own = name in joint.places or (joint, name) in self.reading.unknown
            if name in joint.kind.facts and not own:  # some are facts of joints beside a hose alone
                joint.facts[name], joint.places[name] = every.facts[name], where
        joint.seen = joint.seen or every.seen

    def _number_parts(self) -> None:
        for kind in {part.kind.name for part in self.parts}:
            alike = [part for part in self.parts if part.kind.name == kind]
            for number, part in enumerate(alike, start=1):
                part.number = number if len(alike) > 1 else 0


def _place_node(thing: Thing) -> Node:
    return empty_at(thing.line, thing.column, thing.file)


def meant_part(key: str, named: Iterable[str], likeness: float = _SLIP) -> str:
    """Return the kind of part that a word which is none of them stands for; nothing where it is not that like one."""
    spoken = key.strip().casefold().replace("_", " ").replace("-", " ")
    return _TRADE_WORDS.get(spoken) or nearest_word(key, named, likeness)
