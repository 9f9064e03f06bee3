"""A rig file to a rig: structure, facts, and the things that exist though nobody wrote them."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import NamedTuple

from msgspec.structs import replace

from rigcheck.rig.every import Every
from rigcheck.rig.line_reader import LINE_GRAMMAR, Flow, Outlet
from rigcheck.rig.look_file import LookFile
from rigcheck.rig.register import Register
from rigcheck.rig.shared_facts import SharedFacts, lay_shared
from rigcheck.rig.sights import lay_sights
from rigcheck.rig.standard_overlay import laid_over
from rigcheck.rig.thing import BegunFrom, Concessions, Rig, Thing
from rigcheck.rig.thing_reader import Reading
from rigcheck.rig.vocabulary import Vocabulary
from rigcheck.text.faults import Fault, Refused, nearest_word, shown_text
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import Mapping, Node, Scalar, Sequence, laid_in, read_yaml

__all__ = ["Around", "Settings", "UnknownStandard", "load_rig"]

_PLAIN_TOP = (
    *("rig", "begun_from", "standard_rig", "may_differ", "register", "stands_at"),
    *("lines", "on_site", "every", "$schema"),
)
_TOP = (*_PLAIN_TOP, "concessions")  # a vocabulary of one's own may have none
_DEPARTURE = "departure"
_ALIKE = 0.55  # a fact without its kind still is found among all of them


class UnknownStandard(LookupError):
    """There is no standard rig of that name; `near` is the nearest that there is, or nothing."""

    def __init__(self, near: str) -> None:
        super().__init__(near)
        self.near = near


class Settings(NamedTuple):
    """What a folder says of all rigs in it: its file, the path of the register as written there, and `every:`."""

    file: str
    register: str = ""
    every: Node | None = None


class Around(NamedTuple):
    """What a description may lead to; without one of these a rig that names such a file is refused.

    `site_of` reads what a site file shares, by its path as the rig writes it; `standard_of` returns content and
    name of the file of a standard rig, by its name or path; `register_of` the register that a rig names by its path
    (an empty one: the one that is in force for it, or none). They raise OSError, ValueError or `Refused`.
    `looks`: what was seen of this rig; `unread`: what is wrong with those that cannot be read.
    `settings`: those of the folder that it lies in.
    """

    site_of: Callable[[str], SharedFacts] | None = None
    standard_of: Callable[[str], tuple[bytes, str]] | None = None
    register_of: Callable[[str], Register | None] | None = None
    looks: tuple[LookFile, ...] = ()
    settings: Settings | None = None
    unread: tuple[Fault, ...] = ()


_ALONE = Around()


def load_rig(
    data: bytes, file: str, vocabulary: Vocabulary, around: Around = _ALONE, *, what_can_be_read: bool = False
) -> Rig:
    """Return the rig that a file describes. Raises `Refused` with all of its faults.

    `what_can_be_read`: statements that cannot be read are passed over, and stand in the rig's `unread`;
    a file whose parts or their order cannot be told is refused all the same.
    """
    reading = Reading(file, vocabulary)
    root = read_yaml(data, file, reading.faults)
    if not isinstance(root, Mapping) or "rig" not in root.items:
        reading.refuse(root, "This is no rig description.", "Begin with 'rig: what it is called'.")
        raise Refused(reading.faults)
    rig = _Loader(reading, around).load(root)
    if not reading.faults:
        return rig
    if not what_can_be_read or not all(fault.alone for fault in reading.faults):
        raise Refused(reading.faults)
    return replace(rig, unread=Refused(reading.faults).faults)


class _Loader:
    def __init__(self, reading: Reading, around: Around) -> None:
        self.reading, self.around = reading, around
        reading.sights = []
        self.every = Every(reading)
        self.kinds = reading.vocabulary.kinds
        self.flows: list[Flow] = []
        self.standard: tuple[Mapping, str] | None = None  # one that says where a rig of it may differ

    def load(self, own: Mapping) -> Rig:
        self.reading.faults += self.around.unread
        body, standard = self._over_standard(own)
        self.every.standard = standard.file if standard is not None else ""
        settings = self.around.settings
        if settings is not None and settings.every is not None:
            self.every.read_of_folder(settings.every)
        self.every.read(body.items.get("every"))
        root = self.reading.thing(self.kinds["rig"], "rig", None, body)
        self.reading.state(root, root.kind.facts["name"], body.items["rig"])
        self.reading.fill(root, body, _TOP if "concession" in self.kinds else _PLAIN_TOP)
        if "name" in body.items:
            self.reading.refuse(body.keys["name"], "A rig's name stands under 'rig:'.", "Take this line out.")
        stands_at = self._stands_at(root, body.items.get("stands_at"))
        self._lines(root, body)
        self._torches(root)
        register = self._on_record(body.items.get("register"))  # it may name what is built in
        self._imply(self.reading.things)
        self.every.lay(self.reading.things)
        lay_sights(self.reading, self.reading.things)
        for look in sorted(self.around.looks, key=lambda look: (look.day, look.file)):
            look.lay(self.reading, self.reading.things)
        self.reading.doubt()
        self.reading.doubled_tags(root)
        if self.standard is not None:
            self._departures(root, *self.standard)
        for thing in self.reading.things:
            thing.facts["rig"] = root
        on_site = self._on_site(body.items.get("on_site"))
        begun_from = standard or self._begun_from(body.items.get("begun_from"))
        concessions = self._concessions(root, body)
        lay_sights(self.reading, self.reading.things)  # none is left, but of a concession
        for thing in self.reading.things:
            thing.seal()
        things = tuple(self.reading.things)
        may_differ = self._may_differ(body.items.get("may_differ"))
        return Rig(
            self.reading.file,
            root,
            things,
            on_site,
            concessions,
            begun_from,
            stands_at,
            may_differ=may_differ,
            register=register,
            settings=settings.file if settings is not None else "",
        )

    def _on_record(self, node: Node | None) -> str:
        """Lay in what the register has on record of tagged things, and return where it is."""
        register = self._register(node)
        if register is None:
            return ""
        register.lay(self.reading, self.reading.things)
        return register.file

    def _register(self, node: Node | None) -> Register | None:
        if node is not None and not (isinstance(node, Scalar) and node.text.strip()):
            self.reading.refuse(node, "This names no register.", "Write its path: register: ../register")
            return None
        if self.around.register_of is None:
            if node is not None:
                self.reading.refuse(node, "The register cannot be reached from here.", "Inspect the rig by its file.")
            return None
        try:
            return self.around.register_of(node.text if isinstance(node, Scalar) else "")
        except OSError as error:
            where = node if node is not None else Place(self.reading.file, 1, 1)
            read = f"The register {error.filename or ''} cannot be read: {error.strerror or error}.".replace("  ", " ")
            self.reading.pass_over(where, read, "Write the path of a register file, or of a folder of them.")
        except Refused as refused:  # what is wrong with it silences no rig: it is judged without what is on record
            self.reading.faults += (fault._replace(alone=True) for fault in refused.faults)
        return None

    def _over_standard(self, own: Mapping) -> tuple[Mapping, BegunFrom | None]:
        """Return a description laid over the standard rig that it names, if it names one."""
        node = own.items.get("standard_rig")
        if node is None:
            return own, None
        if not isinstance(node, Scalar) or not node.text.strip():
            write = "Write its name or path: standard_rig: oxy-propane-cutting"
            self.reading.refuse(node, "This names no standard rig.", write)
            return own, None
        if "begun_from" in own.items:
            write = "Take 'begun_from:' out: what the standard rig says is laid in already."
            self.reading.refuse(own.keys["begun_from"], "The rig names its standard rig twice.", write)
        if self.around.standard_of is None:
            write = "Inspect the rig by the name of its file."
            self.reading.refuse(node, f"The standard rig {shown_text(node.text)} cannot be reached from here.", write)
            return own, None
        try:
            data, file = self.around.standard_of(node.text)
        except OSError as error:
            write = "Write the name of a standard rig ('rigcheck new' lists them), or its path seen from here."
            read = f"The standard rig {shown_text(node.text)} cannot be read: {error.strerror or error}."
            self.reading.refuse(node, read, write)
            return own, None
        except UnknownStandard as error:
            read = f"No standard rig is called {shown_text(node.text)}."
            self.reading.refuse(node, read, "'rigcheck new' lists them; a file is named by its path.", error.near)
            return own, None
        standard = laid_in(read_yaml(data, file, self.reading.faults), file)
        if not isinstance(standard, Mapping) or "rig" not in standard.items or "standard_rig" in standard.items:
            read = f"{shown_text(node.text)} is no standard rig."
            self.reading.refuse(node, read, "A standard rig is a rig description that names none itself.")
            return own, None
        place = Place(self.reading.file, node.line, node.column)
        if "may_differ" in standard.items and _DEPARTURE in self.kinds:
            self.standard = standard, file
        return laid_over(own, standard), BegunFrom(node.text, "", place, file)

    def _departures(self, root: Thing, tree: Mapping, file: str) -> None:
        """Make a thing of every place where the rig is otherwise than its standard rig and may not be."""
        from rigcheck.rig.departure import departures_of  # most rigs name no standard rig that says so

        reading = Reading(file, self.reading.vocabulary)
        standard = _Loader(reading, _ALONE).load(tree)
        here = Rig(self.reading.file, root, tuple(self.reading.things), frozenset())
        for one in list(departures_of(here, standard)):
            where = one.thing.places.get(one.fact) if one.thing is not None else None
            at = where if where is not None and not isinstance(where, Place) else _place_of(one.thing, root)
            made = self.reading.thing(self.kinds[_DEPARTURE], one.called, root, at)
            made.facts["lets"] = False

    def _begun_from(self, node: Node | None) -> BegunFrom | None:
        """Return which standard rig a description was begun from: its name, or its name and digest."""
        if node is None:
            return None
        place = Place(self.reading.file, node.line, node.column)
        if isinstance(node, Scalar) and node.text:
            return BegunFrom(node.text, "", place)
        items = node.items if isinstance(node, Mapping) else {}
        texts = {key: one.text for key, one in items.items() if isinstance(one, Scalar)}
        if not texts.get("standard_rig") or set(items) - {"standard_rig", "digest"}:
            write = "Write 'begun_from: {standard_rig: oxy-propane-cutting}', as 'rigcheck new' does."
            self.reading.refuse(node, "This names no standard rig.", write)
            return None
        return BegunFrom(texts["standard_rig"], texts.get("digest", ""), place)

    def _stands_at(self, root: Thing, node: Node | None) -> str:
        """Lay in what the site of the rig shares, and return the path of its file; nothing where none is named."""
        if node is None:
            return ""
        if not isinstance(node, Scalar) or not node.text.strip():
            self.reading.refuse(
                node, "This names no site file.", "Write its path, seen from here: stands_at: yard.yaml"
            )
            return ""
        if self.around.site_of is None:
            write = "Inspect the rig by the name of its file, or take 'stands_at:' out."
            self.reading.refuse(node, f"The site file {shown_text(node.text)} cannot be reached from here.", write)
            return ""
        try:
            shared = self.around.site_of(node.text)
        except (OSError, ValueError) as error:
            read = f"The site file {shown_text(node.text)} cannot be read: {getattr(error, 'strerror', None) or error}."
            self.reading.refuse(node, read, "Write the path of the site file, seen from the folder of this rig.")
            return ""
        except Refused as refused:
            self.reading.faults += refused.faults
            return ""
        lay_shared(self.reading, root, shared)
        return node.text

    def _concessions(self, root: Thing, body: Mapping) -> tuple[Concessions, ...]:
        node = body.items.get("concessions")
        if node is None:
            return ()
        from rigcheck.rig.concessions import concessions_of  # most rigs have none

        return concessions_of(self.reading, node, root)

    # --- lines and torches ---

    def _lines(self, root: Thing, body: Mapping) -> None:
        lines = body.items.get("lines")
        if not isinstance(lines, Sequence) or not lines.items:
            where = lines if lines is not None else body
            if isinstance(lines, Mapping) and lines.items:
                self.reading.refuse(where, "The gas lines are no list.", "Begin each line of gas with '- gas: …'.")
            else:
                self.reading.refuse(where, "The rig has no gas lines.", "Write 'lines:' and a list.")
            return
        root.facts["lines"] = tuple(self._line(root, item) for item in lines.items)

    def _line(self, root: Thing, body: Node) -> Thing:
        line = self.reading.thing(self.kinds["line"], "line", root, body)
        line.facts["line"] = line
        if not isinstance(body, Mapping):
            self.reading.refuse(body, "A line is a mapping.", "Write '- gas: …' and 'parts:'.")
            return line
        if "gas" not in body.items:
            self.reading.refuse(body, "The line names no gas.", "Write 'gas: acetylene', say.")
        self.reading.fill(line, body, LINE_GRAMMAR)
        self.every.read(body.items.get("every"), line)
        flow = Flow(self.reading, line, self._every_joint(line, body))
        flow.read(body)
        self.flows.append(flow)
        return line

    def _every_joint(self, line: Thing, body: Mapping) -> Mapping | None:
        every = body.items.get("every_joint")
        if every is None:
            return None
        sample = Thing(self.kinds["hose end"], "joint", line, every.line, every.column)
        self.reading.fill(sample, every)
        return every if isinstance(every, Mapping) else None

    def _torches(self, root: Thing) -> None:
        torches = root.facts.get("torch") or ()
        self._refuse_same_names(torches)
        for torch in torches:
            torch.facts["lines"] = ()
            torch.facts |= {"line": None, "upstream": None, "downstream": None, "regulator": None}
        for flow in self.flows:
            for outlet in flow.outlets:
                torch = None if outlet.at_the_work else self._torch_of(torches, outlet)
                if outlet.at_the_work and outlet.joint is not None:
                    self.reading.refuse(outlet.joint, "This joint leads to nothing.", "Write the part that follows it.")
                if torch is not None:
                    flow.join(outlet.last, torch, outlet.joint)
                    torch.facts["lines"] = (*torch.facts["lines"], flow.line)
                    self._feed(torch, flow, outlet)
            self._relate(flow)
        for torch in torches:
            torch.facts["inlets"] = tuple(
                joint.facts["upstream"]
                for flow in self.flows
                for joint in flow.joints
                if joint.facts["downstream"] is torch
            )
        self._pairs(root, torches)

    def _refuse_same_names(self, torches: Iterable[Thing]) -> None:
        """Two torches of one name could not be told apart by 'to:'."""
        seen: set[object] = set()
        for torch in torches:
            name = torch.facts.get("name")
            if name is not None and name in seen:
                read = f"A second torch is called {shown_text(str(name))}."
                where = torch.places["name"]
                self.reading.refuse(Mapping(where.line, where.column), read, "Give each torch a name of its own.")
            seen.add(name)

    def _relate(self, flow: Flow) -> None:
        """Name the parts of a line that rules speak of."""
        facts = flow.line.facts
        facts["joints"] = tuple(flow.joints)
        facts["regulator"] = next((p for p in flow.parts if "regulator" in p.kind.lineage), None)
        facts["source"] = flow.parts[0] if flow.parts else None
        facts["torch_end"] = tuple(outlet.last for outlet in flow.outlets if not outlet.at_the_work)
        for part in flow.parts:
            part.facts["regulator"] = _setter(part.facts["upstream"])
            if "regulator" in part.kind.lineage:
                part.facts["feeds"] = ()
            if part.facts["regulator"] is not None:
                part.facts["regulator"].facts["feeds"] += (part,)
        for joint in flow.joints:
            joint.facts["regulator"] = _setter(joint.facts["upstream"])

    def _torch_of(self, torches: Iterable[Thing], outlet: Outlet) -> Thing | None:
        named = [t for t in torches if outlet.to and t.facts.get("name") == outlet.to.text]
        if outlet.to is not None and not named:
            names = [str(t.facts.get("name", "")) for t in torches]
            near = nearest_word(outlet.to.text, names)
            read = f"No torch is called {shown_text(outlet.to.text)}."
            self.reading.refuse(outlet.to, read, "Write the name that stands under 'torch:'.", near)
            return None
        if named:
            return named[0]
        several = tuple(torches)
        if len(several) > 1:
            where = Mapping(outlet.last.line, outlet.last.column)
            write = (
                "Write 'to: name of the torch' beside the line's or the branch's parts; "
                "a line that feeds several ends in a header with branches, one of purge gas in 'to: work'."
            )
            self.reading.refuse(where, "With several torches, it is not said which one this leads to.", write)
        if not several and outlet.joint is not None:
            self.reading.refuse(outlet.joint, "This joint leads to nothing.", "Write the torch, under 'torch:'.")
        return several[0] if len(several) == 1 else None

    # --- hoses that run side by side ---

    def _feed(self, torch: Thing, flow: Flow, outlet: Outlet) -> None:
        hose: Thing | None = outlet.last
        while hose is not None and "hose" not in hose.kind.lineage:
            hose = hose.facts["upstream"]
        key = "oxygen_hose" if flow.line.facts.get("gas") == "oxygen" else "fuel_hose"
        if hose is not None:
            torch.facts.setdefault(key, hose)

    def _pairs(self, root: Thing, torches: Iterable[Thing]) -> None:
        paired = [t for t in torches if "oxygen_hose" in t.facts and "fuel_hose" in t.facts]
        written = list(root.facts.get("hose_pair") or ())
        for torch in paired[len(written) :]:
            where = Mapping(torch.line, torch.column)
            written.append(self.reading.thing(self.kinds["hose pair"], "hose pair", root, where))
        for pair, torch in zip(written, paired, strict=False):
            pair.facts |= {"torch": torch}
            pair.facts |= {key: torch.facts[key] for key in ("oxygen_hose", "fuel_hose")}
        for number, pair in enumerate(written, start=1):
            pair.number = number if len(written) > 1 else 0
        root.facts["hose_pair"] = tuple(written)

    # --- things that exist though nobody wrote them ---

    def _imply(self, things: list[Thing]) -> None:
        for thing in things:  # grows while it is walked: implied things may imply others
            for key, held in thing.kind.holds.items():
                if held.implied and key not in thing.facts:
                    where = Mapping(thing.line, thing.column)
                    self.reading.inner(thing, key, where)
                elif held.many and key not in thing.facts:
                    thing.facts[key] = ()
                elif key not in thing.facts:
                    thing.facts[key] = None

    # --- facts that a template leaves open ---

    def _on_site(self, node: Node | None) -> frozenset[str]:
        if node is None:
            return frozenset()
        items = node.items if isinstance(node, Sequence) else [node]
        return frozenset(filter(None, map(self._open_fact, items)))

    def _may_differ(self, node: Node | None) -> frozenset[str]:
        """Return in which kinds and facts a rig of this standard rig may depart from it, by the words of the file."""
        found = set()
        for item in node.items if isinstance(node, Sequence) else [] if node is None else [node]:
            if isinstance(item, Scalar) and item.text in self.reading.vocabulary.by_key:
                found.add(item.text)
            elif self._open_fact(item):
                found.add(item.text if isinstance(item, Scalar) else "")
        return frozenset(found)

    def _open_fact(self, node: Node) -> str:
        if isinstance(node, Mapping) and node.items:
            return self._answered(node)
        key, _, fact = node.text.partition(".") if isinstance(node, Scalar) else ("", "", "")
        kind = self.reading.vocabulary.by_key.get(key)
        if kind is not None and fact in kind.facts and not kind.facts[fact].computed:
            return f"{kind.name}.{fact}"
        known = self.reading.vocabulary.by_key
        words = [f"{key}.{name}" for key, k in known.items() for name, f in k.facts.items() if not f.computed]
        shown = shown_text(node.text) if isinstance(node, Scalar) else "This"
        near = nearest_word(node.text, words, _ALIKE) if isinstance(node, Scalar) else ""
        self.reading.pass_over(node, f"{shown} is no fact.", "Write kind.fact, as 'hose.made'.", near)
        return ""

    def _answered(self, node: Mapping) -> str:
        """Refuse '- arrester.cut_off: open' among the facts that stay open, and say where it goes."""
        name, value = next(iter(node.items.items()))
        key, _, fact = name.partition(".")
        kind, answer = self.reading.vocabulary.by_key.get(key), value.text if isinstance(value, Scalar) else "…"
        if kind is not None and fact in kind.facts:
            read = f"{shown_text(name)} has an answer, and here stand facts that are left open."
            write = f"Write '{fact}: {answer}' at the {kind.name} itself, and take it out here."
        else:
            write = f"Write '{name}.{answer}'." if kind and answer in kind.facts else "Write kind.fact, as 'hose.made'."
            read = "Here stands a mapping in place of a fact."
        self.reading.pass_over(node, read, write)
        return ""


def _place_of(thing: Thing | None, root: Thing) -> Node:
    at = thing if thing is not None and not thing.file else root
    return Mapping(at.line, at.column)


def _setter(upstream: Thing | None) -> Thing | None:
    """Return the regulator that sets the pressure behind a part: itself, or the one before it."""
    if upstream is None or "regulator" in upstream.kind.lineage:
        return upstream
    found: Thing | None = upstream.facts["regulator"]
    return found
