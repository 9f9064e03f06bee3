"""A figure's file to a figure: its formulas, letters and paths, checked before any rig is; all faults at once."""

from __future__ import annotations

from collections.abc import Iterator
from collections.abc import Mapping as Map
from typing import Any

from msgspec import Struct

from rigcheck.condition.shape import ListShape, ThingShape, ValueShape, shape_of
from rigcheck.quantity.dimension import DIMENSIONS, PURE, Dimension, dimension_words
from rigcheck.quantity.formula import Formula, formula_dimension, read_formula
from rigcheck.quantity.interval import Interval
from rigcheck.quantity.notation import NotRead, read_quantity
from rigcheck.rig.fact import Fact
from rigcheck.rig.vocabulary import Kind, Vocabulary
from rigcheck.rig.vocabulary_file import FactEntry
from rigcheck.rules.file_models import FigureCase, FigureFile, WayEntry
from rigcheck.rules.written_figure import LetterRange, WrittenFigure, WrittenWay
from rigcheck.text.binding import bind, node_at
from rigcheck.text.faults import Fault, Refused, nearest_word, shown_text, with_article
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import Node, read_yaml

__all__ = ["FigureReader", "ReadCase", "declared_fact", "read_figure_cases"]

_LIMIT = "limit:"


def declared_fact(data: bytes, file: str) -> tuple[str, str, FactEntry] | None:
    """Return kind, name and entry of a fact that a figure's file brings with it; None where it brings none.

    Raises `Refused`.
    """
    root = read_yaml(data, file)
    model = bind(FigureFile, root, file)
    if not model.measure and not model.means:
        return None
    if model.measure not in DIMENSIONS or not model.means:
        near = "" if model.measure in DIMENSIONS else nearest_word(model.measure, DIMENSIONS)
        node = node_at(root, ("measure",))
        write = "Write 'measure:' and 'means:', or neither where the vocabulary has the fact."
        raise Refused([Fault(Place(file, node.line, node.column), "This fact is half declared.", write, near)])
    return model.of, model.figure, FactEntry(measure=model.measure, means=model.means, computed=True)  # type: ignore[arg-type]


class ReadCase(Struct, frozen=True):
    """A case of a way: its name, who says so, the value of each letter, the wanted result, how far it may be off."""

    name: str
    answer_from: str
    given: Map[str, LetterRange]
    wanted: LetterRange
    within: float
    place: Place


class FigureReader:
    """Reads the files of figures against a vocabulary and limits (name to dimension)."""

    def __init__(self, vocabulary: Vocabulary, limits: Map[str, str]) -> None:
        self.vocabulary, self.limits = vocabulary, limits

    def read(self, data: bytes, file: str) -> WrittenFigure:
        """Return the figure of a file. Raises `Refused` with all of its faults."""
        root = read_yaml(data, file)
        model = bind(FigureFile, root, file)
        kind = self.vocabulary.looked_at.get(model.of)
        reading = _Reading(self, root, file)
        if kind is None:
            near = nearest_word(model.of, self.vocabulary.looked_at)
            reading.refuse(("of",), f"{shown_text(model.of)} is no kind.", "Write a kind of thing, as 'line'.", near)
            raise Refused(reading.faults)
        fact = kind.facts.get(model.figure)
        if fact is None or not fact.computed or fact.measure not in DIMENSIONS:
            read = f"{shown_text(model.figure)} is no computed number of {with_article(kind.name)}."
            write = "Declare it: 'measure:' and 'means:' here, or 'computed: true' in the vocabulary."
            near = "" if fact is not None else nearest_word(model.figure, kind.facts)
            reading.refuse(("figure",), read, write, near)
            raise Refused(reading.faults)
        ways = tuple(reading.way(number, one, kind, fact) for number, one in enumerate(model.ways))
        tolerance = reading.quantity(("tolerance",), model.tolerance, "share") if model.tolerance else None
        if reading.faults:
            raise Refused(reading.faults)
        share = tolerance.hi if tolerance else 0.0
        return WrittenFigure(kind.name, model.figure, fact.measure, file, ways, share, model.because)


class _Reading:
    """One file on its way: faults are kept with the place of what is wrong."""

    def __init__(self, reader: FigureReader, root: Node, file: str) -> None:
        self.reader, self.root, self.file = reader, root, file
        self.faults: list[Fault] = []

    def refuse(self, path: tuple[str | int, ...], read: str, write: str, near: str = "") -> None:
        node = node_at(self.root, path)
        self.faults.append(Fault(Place(self.file, node.line, node.column), read, write, near))

    def quantity(self, path: tuple[str | int, ...], text: str, measure: str) -> Interval | None:
        try:
            return read_quantity(text, measure)
        except NotRead as error:
            self.refuse(path, error.wrong, error.write)
            return None

    def way(self, number: int, entry: WayEntry, kind: Kind, fact: Fact) -> WrittenWay:
        at: tuple[str | int, ...] = ("ways", number)
        only = dict(self._only(at, entry, kind))
        if entry.stated:
            self._measure_of((*at, "stated"), entry.stated, kind)
            return WrittenWay("", {}, {}, {}, {}, only, "stated", "", entry.stated, entry.alone, bool(entry.asks))
        if not entry.source:
            self.refuse(at, "The way has no source.", "Write 'source:' and who says so, as it can be looked up.")
        if not entry.proven_by:
            self.refuse(at, "The way has no case.", "Write 'proven_by:' and what it must give, from elsewhere.")
        measures: dict[str, str] = {}
        constants: dict[str, tuple[str, LetterRange]] = {}
        for letter, text in entry.letters.items():
            path = (*at, "letters", letter)
            if text[:1].isdigit() or text[:1] in "+-.":
                found = self._constant(path, text)
                if found is not None:
                    constants[letter] = (text, (found.lo, found.hi))
                    measures[letter] = found.dimension
            elif (measure := self._measure_of(path, text, kind)) is not None:
                measures[letter] = measure
        letters = {letter: text for letter, text in entry.letters.items() if letter not in constants}
        formula = self._formula((*at, "formula"), entry, measures, fact)
        valid = dict(self._valid(at, entry, measures))
        if formula is not None and not self.faults:
            self._try_cases(at, entry, formula, measures, fact)
        return WrittenWay(
            entry.formula,
            letters,
            constants,
            measures,
            valid,
            only,
            entry.source,
            entry.validity,
            asks=entry.asks is not False,
        )

    def _formula(
        self, path: tuple[str | int, ...], entry: WayEntry, measures: Map[str, str], fact: Fact
    ) -> Formula | None:
        try:
            formula = read_formula(entry.formula)
        except NotRead as error:
            self.refuse(path, error.wrong, error.write)
            return None
        for letter in formula.letters:
            if letter not in entry.letters:
                write = "Write under 'letters:' where it comes from."
                self.refuse(path, f"{shown_text(letter)} is no letter.", write, nearest_word(letter, entry.letters))
        for letter in entry.letters:
            if letter not in formula.letters:
                self.refuse((*path[:-1], "letters", letter), "The formula does not have this letter.", "Take it out.")
        if not set(formula.letters) <= set(measures):
            return None
        return formula if self._fits(path, formula, measures, fact) else None

    def _fits(self, path: tuple[str | int, ...], formula: Formula, measures: Map[str, str], fact: Fact) -> bool:
        try:
            found = formula_dimension(formula, {letter: DIMENSIONS[one] for letter, one in measures.items()})
        except NotRead as error:
            self.refuse(path, error.wrong, error.write)
            return False
        wanted: Dimension = DIMENSIONS[fact.measure]
        if found not in (wanted, None):
            read = f"The formula gives {dimension_words(found or PURE)}, and {fact.label} is {dimension_words(wanted)}."
            self.refuse(path, read, "Mend the formula, or its letters.")
            return False
        return True

    def _constant(self, path: tuple[str | int, ...], text: str) -> Interval | None:
        """Return a constant of whatever measure its unit says."""
        for measure in ("count", *DIMENSIONS):
            try:
                return read_quantity(text, measure)
            except NotRead:
                continue
        self.refuse(path, f"{shown_text(text)} is no number with a unit.", "Write it as '1.5 bar' or '0.7'.")
        return None

    def _measure_of(self, path: tuple[str | int, ...], text: str, kind: Kind) -> str | None:
        """Return the measure of the fact or limit that a path leads to; None where it leads nowhere."""
        if text.startswith(_LIMIT):
            name = text.removeprefix(_LIMIT)
            measure = self.reader.limits.get(name, "")
            if measure not in DIMENSIONS:
                near = nearest_word(name, self.reader.limits)
                self.refuse(path, f"{shown_text(name)} is no limit that is a number.", "Write a limit.", near)
                return None
            return measure
        fact = self._fact_at(path, text, kind)
        if fact is not None and fact.measure not in DIMENSIONS:
            self.refuse(path, f"{fact.label} is no number to count with.", "Write the path of a number.")
            return None
        return None if fact is None else fact.measure

    def _fact_at(self, path: tuple[str | int, ...], text: str, kind: Kind) -> Fact | None:
        *steps, last = text.split(".")
        for step in steps:
            shape = shape_of(kind, step, self.reader.vocabulary)
            if isinstance(shape, ListShape):
                self.refuse(path, f"{shown_text(step)} is several things.", "Write a path over single things.")
                return None
            if not isinstance(shape, ThingShape):
                known = [*kind.related, *kind.holds]
                read = f"{shown_text(step)} is no thing of {with_article(kind.name)}."
                self.refuse(path, read, "Write a thing that it has.", nearest_word(step, known))
                return None
            kind = shape.kind
        shape = shape_of(kind, last, self.reader.vocabulary)
        if not isinstance(shape, ValueShape):
            read = f"{shown_text(last)} is nothing known of {with_article(kind.name)}."
            self.refuse(path, read, "Write a fact of it.", nearest_word(last, kind.facts))
            return None
        return shape.fact

    def _only(self, at: tuple[str | int, ...], entry: WayEntry, kind: Kind) -> Iterator[tuple[str, tuple[Any, ...]]]:
        for text, words in entry.only.items():
            path = (*at, "only", text)
            if words == ["none"] and isinstance(shape_of(kind, text, self.reader.vocabulary), ThingShape):
                yield text, (None,)
                continue
            fact = self._fact_at(path, text, kind)
            if fact is None:
                continue
            listed = words if isinstance(words, list) else [words]
            try:
                yield text, tuple(fact.read(str(word)) for word in listed)
            except NotRead as error:
                self.refuse(path, error.wrong, error.write)

    def _valid(
        self, at: tuple[str | int, ...], entry: WayEntry, measures: Map[str, str]
    ) -> Iterator[tuple[str, LetterRange]]:
        for letter, ends in entry.valid.items():
            path = (*at, "valid", letter)
            if letter not in measures or len(ends) != 2:
                near = nearest_word(letter, measures)
                self.refuse(path, "This is no range of a letter.", "Write 'letter: [1 mm, 1 m]'.", near)
                continue
            found = [self.quantity(path, end, measures[letter]) for end in ends]
            if found[0] is not None and found[1] is not None:
                yield letter, (found[0].lo, found[1].hi)

    def _try_cases(
        self, at: tuple[str | int, ...], entry: WayEntry, formula: Formula, measures: Map[str, str], fact: Fact
    ) -> None:
        for number, case in enumerate(entry.proven_by):
            try:
                _read_case(case, entry, formula, measures, fact, self._place((*at, "proven_by", number)))
            except NotRead as error:
                self.refuse((*at, "proven_by", number), error.wrong, error.write)

    def _place(self, path: tuple[str | int, ...]) -> Place:
        node = node_at(self.root, path)
        return Place(self.file, node.line, node.column)


def _read_case(
    case: FigureCase, entry: WayEntry, formula: Formula, measures: Map[str, str], fact: Fact, place: Place
) -> ReadCase:
    """Return a case. Raises `NotRead`."""
    stated: dict[str, Any] = dict(case.model_extra or {})
    result = stated.pop(formula.result, None)
    wanted = [letter for letter, text in entry.letters.items() if not (text[:1].isdigit() or text[:1] in "+-.")]
    if result is None or set(stated) != set(wanted):
        raise NotRead("The case is not whole.", f"Write a value for each of: {', '.join((*wanted, formula.result))}.")
    given = {letter: read_quantity(str(text), measures[letter]) for letter, text in stated.items()}
    answer = read_quantity(str(result), fact.measure)
    spans = {letter: (value.lo, value.hi) for letter, value in given.items()}
    share = read_quantity(case.within, "share").hi
    return ReadCase(case.case, case.answer_from, spans, (answer.lo, answer.hi), share, place)


def read_figure_cases(figure: WrittenFigure, vocabulary: Vocabulary, data: bytes) -> list[tuple[int, ReadCase]]:
    """Return the cases of a figure with the number of the way that each is of. Raises `Refused`, `NotRead`."""
    root = read_yaml(data, figure.file)
    model = bind(FigureFile, root, figure.file)
    fact = vocabulary.looked_at[figure.kind].facts[figure.name]
    found = []
    for number, (entry, way) in enumerate(zip(model.ways, figure.ways, strict=True)):
        for at, case in enumerate(entry.proven_by):
            node = node_at(root, ("ways", number, "proven_by", at))
            place = Place(figure.file, node.line, node.column)
            found.append((number, _read_case(case, entry, read_formula(way.formula), way.measures, fact, place)))
    return found
