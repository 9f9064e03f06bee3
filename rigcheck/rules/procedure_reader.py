"""Procedure files read against a vocabulary, documents and limits; every fault is told at once."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from pathlib import PurePath
from typing import Any

from msgspec import Struct, field

from rigcheck.condition.parser import ConditionReader
from rigcheck.condition.shape import ListShape, ValueShape
from rigcheck.condition.tree import Schema
from rigcheck.quantity.notation import NotRead
from rigcheck.rig.fact import Choice, Fact, Value
from rigcheck.rig.vocabulary import Kind, Vocabulary
from rigcheck.rules.documents import Differing, DocumentEntry, Source, UnknownSource, find_source
from rigcheck.rules.procedure_file import ENTRY_KEYS, AlsoEntry, ProcedureFile, StepEntry, ValueEntry
from rigcheck.rules.rule import GRAVITY, Signal
from rigcheck.rules.step_links import Written, link_faults
from rigcheck.rules.steps import AS_RECORDED, Grade, Procedure, Step, StepValue
from rigcheck.text.binding import bind, node_at, place_of
from rigcheck.text.faults import Fault, Refused, nearest_word, shown_text
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import Mapping as MappingNode
from rigcheck.text.yamlfile import Node, read_yaml

__all__ = ["placeholders", "read_procedures"]

_ITS_DAY = "day of the record"
_PLACEHOLDER = re.compile(r"\{([^{}]*)\}")
_SOURCE_ADVICE = "Write 'common practice', or a document of rules/documents.yaml and its clause."
File = tuple[str, bytes]
"""A file by its path as shown, and its bytes."""
Path = tuple[str | int, ...]


def read_procedures(
    files: Iterable[File],
    vocabulary: Vocabulary,
    documents: Mapping[str, DocumentEntry],
    limits: Mapping[str, str],
    signals: Mapping[str, Signal | None],
) -> dict[str, Procedure]:
    """Return the procedures of files by name. Raises `Refused`.

    `limits`: the dimension of each; `signals`: the signal word of each rule, None where it need not be that of a step.
    """
    read: dict[str, tuple[Written, ProcedureFile]] = {}
    faults: list[Fault] = []
    for path, data in files:
        try:
            root = read_yaml(data, path)
            model = bind(ProcedureFile, root, path)
        except Refused as refused:
            faults += refused.faults
            continue
        assert isinstance(root, MappingNode)
        name = PurePath(path).stem
        if model.procedure != name:
            at = place_of(root.items["procedure"], path)
            read_ = f"The file is called {name}, but its procedure {shown_text(model.procedure)}."
            faults.append(Fault(at, read_, "Give both one name."))
        read[name] = (Written(name, path, root, model), model)
    faults += link_faults([written for written, _ in read.values()])
    makers = {name: _Maker(written, vocabulary, documents, limits, signals) for name, (written, _) in read.items()}
    made = {name: maker.procedure() for name, maker in makers.items()}
    faults += [fault for maker in makers.values() for fault in maker.faults]
    if faults:
        raise Refused(faults)
    return made


def placeholders(text: str) -> Iterator[str]:
    """Yield what stands in braces in a sentence."""
    return (match[1] for match in _PLACEHOLDER.finditer(text))


class _Maker(Struct):
    """Makes one procedure of what was written; faults are kept."""

    written: Written
    vocabulary: Vocabulary
    documents: Mapping[str, DocumentEntry]
    limits: Mapping[str, str]
    signals: Mapping[str, Signal | None]
    faults: list[Fault] = field(default_factory=list)

    def procedure(self) -> Procedure:
        model = self.written.model
        self._check_rules(model.shown_before, ("shown_before",))
        steps = (self._step(number, entry) for number, entry in enumerate(model.steps))
        return Procedure(
            name=self.written.name,
            title=model.title,
            means=model.means,
            comes_after=tuple(model.comes_after),
            shown_before=tuple(model.shown_before),
            despite_hold=model.despite_hold,
            emergency=model.emergency,
            applies=self._condition(self.vocabulary.kinds["rig"], "applies"),
            cautions=tuple(model.cautions),
            steps={step.name: step for step in steps},
            place=self._place(self.written.root),
            turn=model.turn,
        )

    def _step(self, number: int, entry: StepEntry) -> Step:
        at = ("steps", number)
        kind = self._about(entry, at)
        values = {name: self._value(name, one, kind, at, entry.signal) for name, one in entry.values.items()}
        self._check_placeholders(entry, at)
        self._check_deeds(entry.same_deed_as, entry.signal, at)
        return Step(
            name=entry.step,
            do=entry.do,
            about=kind if entry.about else None,
            concerns=self._condition(kind, *at, "for") if entry.for_ is not None else None,
            not_here=entry.not_here,
            under=tuple(entry.under),
            after=tuple(entry.after),
            after_on_line=tuple(entry.after_on_line),
            between_tries=tuple(entry.between_tries),
            stand=entry.stand,
            values=values,
            signal=entry.signal,
            hazard=entry.hazard,
            put_right=entry.put_right,
            sources=tuple(self._sources(entry.drawn_from, (*at, "drawn_from"))),
            differs=tuple(self._differing(entry, at)),
            optional=entry.optional,
            tells=self._tells(entry, kind, at),
            place=self._place(self._node(*at)),
        )

    def _about(self, entry: StepEntry, at: Path) -> Kind:
        """Return the kind that a step is about; the rig's where none is said, or none is known."""
        root = self.vocabulary.kinds["rig"]
        known = self.vocabulary.looked_at
        if entry.about and entry.about not in known:
            near = nearest_word(entry.about, known)
            write = "Write a kind of thing, as 'cylinder' or 'joint', or leave the line out."
            self._refuse((*at, "about"), f"{shown_text(entry.about)} is no kind.", write, near)
        return known.get(entry.about, root)

    def _condition(self, kind: Kind, *path: str | int) -> Schema | None:
        node = self._node(*path)
        parent = self._node(*path[:-1])
        if not isinstance(parent, MappingNode) or path[-1] not in parent.items:
            return None
        reader = self._reader(kind)
        schema = reader.read(node)
        self.faults += reader.faults
        return schema

    def _value(self, name: str, entry: ValueEntry, kind: Kind, step: Path, signal: Signal) -> StepValue:
        at, own = (*step, "values", name), entry.signal or signal
        fact = self._fact(name, entry, at)
        if name in ENTRY_KEYS:
            self._refuse(at, f"{name!r} is a key of every step of a record.", "Call the value otherwise.")
        self._check_deeds(entry.same_deed_as, own, at)
        grades = [self._also(one, fact, kind, (*at, "also", n), own) for n, one in enumerate(entry.also)]
        grades.sort(key=lambda grade: -GRAVITY[grade.signal])
        if entry.must is not None:
            grades.append(Grade(self._must(fact, kind, at), own))
        elif entry.also:
            self._refuse((*at, "also"), "Nothing is said that the value must meet.", "Write 'must:' beside it.")
        if entry.goes_by and fact.measure != "time":
            self._refuse((*at, "goes_by"), "Only a time goes by.", "Take this line out.")
        return StepValue(name, fact, tuple(grades), self._answers(entry, fact, kind, at), entry.goes_by)

    def _answers(self, entry: ValueEntry, value: Fact, kind: Kind, at: Path) -> Mapping[str, Mapping[str, Value]]:
        """Return what a value states of the thing: by word of the value, or under "" the value as it is."""
        found = {}
        for name, by_word in entry.answers.items():
            fact = self._stated(kind, name, (*at, "answers", name))
            if fact is None:
                continue
            if not by_word and (value.measure != fact.measure or not value.words.keys() <= fact.words.keys()):
                write = "Write what each word of the value says of it."
                self._refuse((*at, "answers", name), f"{name!r} is not written as the value is.", write)
            for word in by_word.keys() - value.words.keys():
                self._refuse((*at, "answers", name), f"{shown_text(word)} is no word of the value.", "Take it out.")
            where = (*at, "answers", name)
            found[name] = {word: self._told(fact, text, where) for word, text in by_word.items()}
        return found

    def _tells(self, entry: StepEntry, kind: Kind, at: Path) -> Mapping[str, Value | None]:
        found: dict[str, Value | None] = {}
        for name, text in entry.tells.items():
            fact = self._stated(kind, name, (*at, "tells", name))
            if fact is not None:
                days = fact.measure == "day" and text == _ITS_DAY
                found[name] = AS_RECORDED if days else self._told(fact, text, (*at, "tells", name))
        return found

    def _stated(self, kind: Kind, name: str, at: Path) -> Fact | None:
        fact = kind.facts.get(name)
        if fact is None or fact.computed:
            near = nearest_word(name, kind.facts)
            self._refuse(at, f"{shown_text(name)} cannot be stated of a {kind.name}.", "Write one of its facts.", near)
            return None
        return fact

    def _told(self, fact: Fact, text: str, at: Path) -> Value:
        try:
            return fact.read(text)
        except NotRead as error:
            self._refuse(at, f"{fact.label}: {error.wrong}", error.write)
            return None

    def _also(self, entry: AlsoEntry, fact: Fact, kind: Kind, at: Path, signal: Signal) -> Grade:
        signal = entry.signal or signal
        self._check_deeds(entry.same_deed_as, signal, at)
        return Grade(self._must(fact, kind, at), signal)

    def _must(self, fact: Fact, kind: Kind, at: Path) -> Schema:
        several = fact.measure == "several_words"
        shape = ListShape(ValueShape(fact, item=True)) if several else ValueShape(fact)
        reader = self._reader(kind)
        must = reader.schema(self._node(*at, "must"), shape)
        self.faults += reader.faults
        return must

    def _check_deeds(self, rules: list[str], signal: Signal, at: Path) -> None:
        """One deed has one signal word, in the rig and in a record; of several rules the gravest counts."""
        self._check_rules(rules, (*at, "same_deed_as"))
        known = [word for name in rules if (word := self.signals.get(name))]
        if len(known) == len(rules) > 0 and (gravest := max(known, key=GRAVITY.__getitem__)) != signal:
            read = f"This is {signal.upper()}, but the gravest rule that judges the same deed is {gravest.upper()}."
            self._refuse((*at, "same_deed_as"), read, "Give both one word, by the scale of DEVELOPERS.md.")

    def _check_rules(self, rules: list[str], at: Path) -> None:
        for number, name in enumerate(rules):
            if name not in self.signals:
                near = nearest_word(name, self.signals)
                self._refuse((*at, number), f"{shown_text(name)} is no rule.", "Write topic/rule.", near)

    def _fact(self, name: str, entry: ValueEntry, at: Path) -> Fact:
        choices = self.vocabulary.choices
        for key in ("words", "several_words"):
            shared = getattr(entry, key)
            if isinstance(shared, str) and shared not in choices:
                write = "Write a list of vocabulary/words.yaml, or the words with what they mean."
                self._refuse(
                    (*at, key), f"{shown_text(shared)} is no list of words.", write, nearest_word(shared, choices)
                )
                choices = {**choices, shared: Choice({}, {})}
        return Fact(name, entry.fact_entry(), choices)

    def _check_placeholders(self, entry: StepEntry, at: Path) -> None:
        known = [name for name, one in entry.values.items() if one.must is not None]
        known += ["thing"] if entry.about else []
        for name in placeholders(entry.do):
            if name not in known:
                there_are = ", ".join(f"{{{one}}}" for one in known) or "no braces"
                self._refuse((*at, "do"), f"Nothing stands for {{{name}}}.", f"Write {there_are}.")

    def _sources(self, citations: list[str], at: Path) -> Iterator[Source]:
        for number, citation in enumerate(citations):
            try:
                yield find_source(citation, self.documents)
            except UnknownSource as error:
                self._refuse((*at, number), error.wrong, _SOURCE_ADVICE, error.near)

    def _differing(self, entry: StepEntry, at: tuple[str | int, ...]) -> Iterator[Differing]:
        for number, one in enumerate(entry.differs):
            for source in self._sources([one.drawn_from], (*at, "differs", number, "drawn_from")):
                yield Differing(one.says, source)

    def _reader(self, kind: Kind) -> ConditionReader:
        return ConditionReader(self.written.file, self.vocabulary, self.limits, kind)

    def _node(self, *path: str | int) -> Node:
        return node_at(self.written.root, path)

    def _place(self, node: Node) -> Place:
        return place_of(node, self.written.file)

    def _refuse(self, path: tuple[Any, ...], read: str, write: str, near: str = "") -> None:
        self.faults.append(Fault(self._place(self._node(*path)), read, write, near))
