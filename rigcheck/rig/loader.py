"""A rig file to a rig: structure, facts, and the things that exist though nobody wrote them."""

from __future__ import annotations

from collections.abc import Collection, Container

from msgspec.structs import replace

from rigcheck.rig.around import Around, UnknownStandard
from rigcheck.rig.every import Every
from rigcheck.rig.left_open import left_to_site, may_differ
from rigcheck.rig.line_ends import LineEnds
from rigcheck.rig.line_reader import LINE_GRAMMAR, Flow
from rigcheck.rig.look_file import LookFile
from rigcheck.rig.put_down import put_down_of
from rigcheck.rig.register import Register
from rigcheck.rig.shared_facts import lay_shared
from rigcheck.rig.sights import lay_sights
from rigcheck.rig.sights_by_place import SightsByPlace
from rigcheck.rig.standard_overlay import laid_over
from rigcheck.rig.thing import BegunFrom, Concessions, Rig, Thing
from rigcheck.rig.thing_reader import Reading
from rigcheck.rig.vocabulary import Vocabulary
from rigcheck.text.faults import Refused, shown_text
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import Mapping, Node, Scalar, Sequence, empty_at, laid_in, read_yaml

__all__ = ["load_rig"]

_PLAIN_TOP = (
    *("rig", "begun_from", "standard_rig", "may_differ", "register", "stands_at"),
    *("lines", "on_site", "every", "$schema"),
)
_TOP = (*_PLAIN_TOP, "concessions")  # a vocabulary of one's own may have none
_DEPARTURE = "departure"


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
        reading.refuse(root, "This is no rig description.", _begun_as(root.items if isinstance(root, Mapping) else ()))
        raise Refused(reading.faults)
    rig = _Loader(reading, around).load(root)
    if not reading.faults:
        return rig
    if not what_can_be_read or not all(fault.alone for fault in reading.faults):
        raise Refused(reading.faults)
    return replace(rig, unread=Refused(reading.faults).faults)


def _begun_as(keys: Collection[str]) -> str:
    """Return what to write so that a file is a rig's, or how else it is named."""
    if "concessions" in keys:
        return "Name a file of concessions by --concessions."
    spelt = next((key for key in keys if key.strip().casefold() == "rig"), "")
    return f"Write {spelt!r} in small letters: rig." if spelt else "Begin with 'rig: what it is called'."


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
            self.reading.pass_over(body.keys["name"], "A rig's name stands under 'rig:'.", "Take this line out.")
        stands_at = self._stands_at(root, body.items.get("stands_at"))
        self._lines(root, body)
        LineEnds(self.reading, self.flows).meet(root)
        register = self._register(body.items.get("register"))
        if register is not None:
            register.lay(self.reading, self.reading.things)  # it may name what is built in
        self._imply(self.reading.things)
        self.every.lay(self.reading.things)
        lay_sights(self.reading, self.reading.things)
        by_place = self._lay_looks(register.things if register is not None else ())
        self._take_out_what_it_has_not()
        self.reading.doubt()
        self.reading.doubled_tags(root)
        if self.standard is not None:
            self._departures(root, *self.standard)
        for thing in self.reading.things:
            thing.facts["rig"] = root
        on_site = left_to_site(self.reading, body.items.get("on_site"))
        begun_from = standard or self._begun_from(body.items.get("begun_from"))
        concessions = self._concessions(root, body)
        lay_sights(self.reading, self.reading.things)  # none is left, but of a concession
        for thing in self.reading.things:
            thing.seal()
        things = tuple(self.reading.things)
        return Rig(
            self.reading.file,
            root,
            things,
            on_site,
            concessions,
            begun_from,
            stands_at,
            may_differ=may_differ(self.reading, body.items.get("may_differ")),
            register=register.file if register is not None else "",
            gone=tuple(self.reading.gone),
            seen_by_place=by_place.told(),
            put_down=put_down_of(self._looks(), things),
            settings=settings.file if settings is not None else "",
        )

    def _lay_looks(self, on_record: Container[str]) -> SightsByPlace:
        """Lay in what was seen of this rig, and of its tagged things at others."""
        things = self.reading.things
        by_place = SightsByPlace(self.around.looks, things)
        for thing in things if self.around.looks_with is not None else ():
            for look in self.around.looks_with(thing.tag) if self.around.looks_with and thing.tag else ():
                look.follow(thing, self.reading.vocabulary)
                by_place.elsewhere[thing] = max(look.day, by_place.elsewhere.get(thing, 0))
        for look in self._looks():
            look.lay(self.reading, things, by_place.not_of, on_record)
        return by_place

    def _looks(self) -> list[LookFile]:
        return sorted(self.around.looks, key=lambda look: (look.day, look.file))

    def _register(self, node: Node | None) -> Register | None:
        if node is not None and not (isinstance(node, Scalar) and node.text.strip()):
            self.reading.pass_over(node, "This names no register.", "Write its path: register: ../register")
            return None
        if self.around.register_of is None:
            if node is not None:
                self.reading.pass_over(
                    node, "The register cannot be reached from here.", "Inspect the rig by its file."
                )
            return None
        try:
            register = self.around.register_of(node.text if isinstance(node, Scalar) else "")
            self.reading.faults += register.rig.unread if register is not None else ()
            return register
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
            self.reading.pass_over(
                node, "This names no site file.", "Write its path, seen from here: stands_at: yard.yaml"
            )
            return ""
        if self.around.site_of is None:
            write = "Inspect the rig by the name of its file, or take 'stands_at:' out."
            self.reading.pass_over(node, f"The site file {shown_text(node.text)} cannot be reached from here.", write)
            return ""
        try:
            shared = self.around.site_of(node.text)
        except (OSError, ValueError) as error:
            read = f"The site file {shown_text(node.text)} cannot be read: {getattr(error, 'strerror', None) or error}."
            self.reading.pass_over(node, read, "Write the path of the site file, seen from the folder of this rig.")
            return ""
        except Refused as refused:  # the rig is judged without what it shares with others
            self.reading.faults += (fault._replace(alone=True) for fault in refused.faults)
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

    def _every_joint(self, line: Thing, body: Mapping) -> Thing | None:
        every = body.items.get("every_joint")
        if every is None:
            return None
        sample = Thing(self.kinds["hose end"], "joint", line, every.line, every.column)
        self.reading.fill(sample, every)
        return sample

    # --- things that exist though nobody wrote them ---

    def _imply(self, things: list[Thing]) -> None:
        for thing in things:  # grows while it is walked: implied things may imply others
            for key, held in thing.kind.holds.items():
                if held.implied and key not in thing.facts:
                    where = empty_at(thing.line, thing.column, thing.file)
                    several = Sequence(thing.line, thing.column)
                    several.items = [where] * (len(thing.facts["lines"]) if held.each_line else 0)
                    self.reading.inner(thing, key, several if len(several.items) > 1 else where)
                elif held.many and key not in thing.facts:
                    thing.facts[key] = ()
                elif key not in thing.facts:
                    thing.facts[key] = None

    def _take_out_what_it_has_not(self) -> None:
        """Take out implied things of a holder that has none of them, unless somebody said anything of one."""
        for holder in [one for one in self.reading.things if any(held.not_with for held in one.kind.holds.values())]:
            for key, held in holder.kind.holds.items():
                if any(_is_always(holder, name, words) for name, words in held.not_with.items()):
                    inner = holder.facts[key] if held.many else (holder.facts[key],)
                    kept = tuple(one for one in inner if one is not None and (one.places or one.said))
                    holder.facts[key] = kept if held.many else next(iter(kept), None)
                    self.reading.things = [one for one in self.reading.things if one not in inner or one in kept]


def _is_always(thing: Thing, name: str, words: Container[str]) -> bool:
    """Whether all who state a fact of a thing, and somebody does, say one of these words."""
    stated = [thing.facts[name]] if name in thing.places else []
    stated += [one.value for one in thing.said.get(name, ())]
    return bool(stated) and all(one in words for one in stated)


def _place_of(thing: Thing | None, root: Thing) -> Node:
    at = thing if thing is not None and not thing.file else root
    return Mapping(at.line, at.column)
