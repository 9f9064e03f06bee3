"""Looks as data: acts of looking, touching or reading off, and which facts each of them answers.

The files of `rules/looks/` are read when somebody first asks: inspecting a rig pays nothing for them. The questions
and the words to choose from stand in the vocabulary alone; a look says what is done with eyes and hands, and which
of its facts are asked one by one, which are read off at once, and which share a list of defects.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal

from rigcheck.rig.vocabulary import Kind
from rigcheck.rig.vocabulary_file import Written
from rigcheck.rules.documents import Source, UnknownSource, find_source
from rigcheck.rules.pack import Pack
from rigcheck.text.faults import Fault, Refused, nearest_word
from rigcheck.text.place import Place

__all__ = ["Act", "Lesser", "Look", "Looks", "Station", "Tick", "look_title", "looks_of"]

Act = Literal["look", "touch", "read", "measure", "try", "ask"]
"""With the eyes; with the hand; off a plate, a print, a dial or a paper; with an instrument; by doing; somebody."""

_STATIONS = "stations.yaml"
_Texts = dict[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Tick(Written):
    """One defect of a list, and the facts that are known where it is ticked."""

    shows: str
    tells: _Texts


@dataclass(frozen=True, slots=True, kw_only=True)
class Lesser(Written):
    """A list of lesser defects that ends in `none`, which tells all of `fine`.

    A tick says nothing of the other facts of the list but that they are fine; `alike`: all things of the kind stand on
    one page.
    """

    none: str
    fine: _Texts
    ticks: list[Tick]
    alike: bool = False


@dataclass(frozen=True, kw_only=True)
class Look(Written):
    """One act at one kind of thing; `look` is its title, `name` that of its file.

    `each`: facts that are a question of their own, thing by thing; `at_once`: facts that are read off together, of one
    thing; `alike`: facts of all things of the kind on one page, thing by thing where they differ;
    `again`: those that may have changed since, and are asked once more before gas is let on;
    `after_work`: those that are known once the rig was at work: a daily look asks them when the work is over;
    `dated`: facts whose answer here was tried on the day of the look, and the day that is known with these words of it;
    `who`: who could know what one cannot tell.
    """

    look: str
    looks_at: str
    station: str
    act: Act
    do: str
    each: list[str] = field(default_factory=list)
    at_once: list[list[str]] = field(default_factory=list)
    alike: list[list[str]] = field(default_factory=list)
    lesser: list[Lesser] = field(default_factory=list)
    again: list[str] = field(default_factory=list)
    after_work: list[str] = field(default_factory=list)
    dated: dict[str, dict[str, list[str]]] = field(default_factory=dict)
    who: str = ""
    drawn_from: list[str]
    because: str = ""
    name: str = ""

    @cached_property
    def groups(self) -> tuple[tuple[tuple[str, ...], bool, Lesser | None], ...]:
        """What is asked on one page: the facts, whether of all things of the kind, and the list that they stand in."""
        each = tuple(((name,), False, None) for name in self.each)
        at_once = tuple((tuple(names), False, None) for names in self.at_once)
        alike = tuple((tuple(names), True, None) for names in self.alike)
        lists = tuple((tuple(one.fine), one.alike, one) for one in self.lesser)
        return (*each, *alike, *at_once, *lists)

    @cached_property
    def facts(self) -> tuple[str, ...]:
        """The facts that it answers, as often as it names them."""
        return tuple(name for names, _, _ in self.groups for name in names)


@dataclass(frozen=True, slots=True, kw_only=True)
class Station(Written):
    """A place of the walk; a part of the torch that a look along a line is made at is met where the torch is."""

    title: str
    means: str
    along_line: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class _StationsFile(Written):
    stations: dict[str, Station]
    cannot_tell: dict[str, str]
    beyond: dict[str, str]
    absent: str = ""
    because: str = ""


@dataclass(frozen=True, eq=False)
class Looks:
    """All looks of a pack by name, and the stations in the order of the walk.

    `cannot_tell`: why somebody may not be able to tell, each with its sentence;
    `absent`: that reason which says that the thing is not there at all;
    `beyond`: kinds, and facts as `kind.fact`, that no look answers, with the reason;
    `places`: where each look is written; `sources`: what it is drawn from.
    """

    looks: Mapping[str, Look]
    stations: Mapping[str, Station]
    cannot_tell: Mapping[str, str]
    beyond: Mapping[str, str]
    absent: str
    places: Mapping[str, Place]
    sources: Mapping[str, tuple[Source, ...]]

    def answering(self, lineage: tuple[str, ...], fact: str) -> list[Look]:
        """Return the looks that answer a fact of a kind: those for the nearest kind of its lineage that has one."""
        return next((found for kind in lineage if (found := self._by_fact.get((kind, fact)))), [])

    @cached_property
    def _by_fact(self) -> Mapping[tuple[str, str], list[Look]]:
        found: dict[tuple[str, str], list[Look]] = {}
        for one in self.looks.values():
            for fact in dict.fromkeys(one.facts):
                found.setdefault((one.looks_at, fact), []).append(one)
        return found

    def for_kind(self, lineage: tuple[str, ...]) -> Iterator[Look]:
        """Yield the looks at a kind of thing, those for itself before those for what it is one of."""
        for kind in lineage:
            yield from (one for one in self.looks.values() if one.looks_at == kind)


def looks_of(pack: Pack) -> Looks:
    """Return the looks of a pack; they are kept with it, and so is what is wrong with them. Raises `Refused`."""
    kept: Looks | Refused | None = pack.kept.get("looks")
    if kept is None:
        try:
            kept = _Reader(pack).read()
        except Refused as refused:
            kept = refused
        pack.kept["looks"] = kept
    if isinstance(kept, Refused):
        raise kept
    return kept


def look_title(pack: Pack, lineage: tuple[str, ...], fact: str) -> str:
    """Return the title of the look that answers a fact of a kind; empty where none does, or none can be read."""
    try:
        found = looks_of(pack).answering(lineage, fact)
    except Refused:  # whoever asks is told; a report does without it
        return ""
    return found[-1].look if found else ""


class _Reader:
    def __init__(self, pack: Pack) -> None:
        self.pack = pack
        self.faults: list[Fault] = []

    def read(self) -> Looks:
        from rigcheck.text.binding import bind  # whoever asks for no look starts without what checks YAML
        from rigcheck.text.yamlfile import read_yaml

        stations = _StationsFile(stations={}, cannot_tell={}, beyond={})
        looks: dict[str, Look] = {}
        places: dict[str, Place] = {}
        for path, data in self.pack.look_files:
            try:
                root = read_yaml(data, path)
                if path.endswith(f"/{_STATIONS}"):
                    stations = bind(_StationsFile, root, path)
                else:
                    name = path.rpartition("/")[2].removesuffix(".yaml")
                    looks[name], places[name] = bind(Look, root, path), Place(path, 1, 1)
            except Refused as refused:
                self.faults += refused.faults
        if self.faults:
            raise Refused(self.faults)
        sources = {name: self._sources(one, places[name]) for name, one in looks.items()}
        if stations.absent and stations.absent not in stations.cannot_tell:
            place = Place(next((path for path, _ in self.pack.look_files if path.endswith(f"/{_STATIONS}")), ""), 1, 1)
            self._refuse(place, f"{stations.absent!r} is no reason.", "Write one of 'cannot_tell'.")
        for name, look in looks.items():
            self._check(look, places[name], stations)
        if self.faults:
            raise Refused(self.faults)
        named = {name: _named(one, name) for name, one in looks.items()}
        return Looks(named, stations.stations, stations.cannot_tell, stations.beyond, stations.absent, places, sources)

    def _sources(self, look: Look, place: Place) -> tuple[Source, ...]:
        found = []
        for text in look.drawn_from:
            try:
                found.append(find_source(text, self.pack.documents))
            except UnknownSource as error:
                write = "Write 'common practice', or a document of documents.yaml and its clause."
                self.faults.append(Fault(place, error.wrong, write, error.near))
        return tuple(found)

    def _check(self, look: Look, place: Place, stations: _StationsFile) -> None:
        kinds = self.pack.vocabulary.looked_at
        if look.station not in stations.stations:
            near = nearest_word(look.station, stations.stations)
            self._refuse(place, f"{look.station!r} is no station.", "Write one of stations.yaml.", near)
        kind = kinds.get(look.looks_at)
        if kind is None:
            near = nearest_word(look.looks_at, kinds)
            self._refuse(place, f"{look.looks_at!r} is no kind of thing.", "Write a kind of the vocabulary.", near)
            return
        for name in (*look.facts, *look.again, *look.after_work):
            fact = kind.facts.get(name)
            if fact is None or fact.computed:
                near = nearest_word(name, kind.facts)
                self._refuse(place, f"{name!r} is no fact that can be stated of it.", "Write a fact of it.", near)
        self._check_dated(look, kind, place)
        for listed in look.lesser:
            for told in (listed.fine, *(tick.tells for tick in listed.ticks)):
                self._check_values(look, told, place)

    def _check_dated(self, look: Look, kind: Kind, place: Place) -> None:
        for of, days in look.dated.items():
            for day, words in days.items():
                known = {name for name, fact in kind.facts.items() if fact.measure == "day" and not fact.computed}
                if of not in look.facts or day not in known:
                    read = f"{of!r} does not date {day!r}."
                    self._refuse(place, read, "Write a fact of this look, and a day that can be stated of the kind.")
                elif wrong := sorted(set(words) - set(kind.facts[of].words)):
                    self._refuse(place, f"{wrong[0]!r} is no word of {of}.", "Write one of its words.")

    def _check_values(self, look: Look, told: Mapping[str, str], place: Place) -> None:
        from rigcheck.quantity.notation import NotRead

        facts = self.pack.vocabulary.looked_at[look.looks_at].facts
        for name, text in told.items():
            fact = facts.get(name)
            try:
                if fact is None:
                    raise NotRead(f"{name!r} is no fact of it.", "Write a fact of it.")
                fact.read(text)
            except NotRead as error:
                self._refuse(place, f"{name}: {error.wrong}", error.write)

    def _refuse(self, place: Place, read: str, write: str, near: str = "") -> None:
        self.faults.append(Fault(place, read, write, near))


def _named(look: Look, name: str) -> Look:
    from dataclasses import replace

    return replace(look, name=name)
