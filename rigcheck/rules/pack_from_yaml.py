"""The folders of a pack read from YAML, checked, and laid on each other."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

from rigcheck.quantity.notation import NotRead
from rigcheck.rig.vocabulary import Vocabulary, build_vocabulary
from rigcheck.rig.vocabulary_file import KindFile, VocabularyFile
from rigcheck.rig.vocabulary_reader import WORDS_FILE, read_vocabulary_file
from rigcheck.rules.consequence import FOLLOWS, Consequence
from rigcheck.rules.documents import Differing, DocumentEntry, UnknownSource, find_source
from rigcheck.rules.figure_reading import FigureReader, declared_fact
from rigcheck.rules.file_models import DocumentsFile, LimitEntry, LimitsFile, TablesFile, ValueEntry
from rigcheck.rules.layer import Layer, files_below
from rigcheck.rules.limits import DatedLimit, LimitDefinition, first_day, limit_value, looser
from rigcheck.rules.pack import Loosened, Pack
from rigcheck.rules.pack_json import content_digest, laid_by, to_json
from rigcheck.rules.rule import Rule
from rigcheck.rules.rule_reading import RuleReader
from rigcheck.rules.tables import KNOWN_TABLES, laid_tables, rows_of
from rigcheck.rules.written_figure import FIGURES, WrittenFigure
from rigcheck.text.binding import bind, node_at
from rigcheck.text.faults import Fault, Refused, nearest_word, with_article
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import Node, read_yaml

__all__ = ["assemble_pack", "prepare_pack"]


def assemble_pack(layers: list[Layer]) -> Pack:
    """Return the pack of layers, later ones laid on earlier ones. Raises `Refused`."""
    return _Loader(layers).load()


def prepare_pack(folder: Path) -> str:
    """Return the pack of a folder as one JSON text, to lie in it as `PREPARED_NAME`. Raises `Refused`."""
    layer = Layer(folder)
    loader = _Loader([layer])
    return laid_by(loader.content(loader.load()), layer.digest())


class _Loader:
    def __init__(self, layers: list[Layer]) -> None:
        self.layers = layers
        self.faults: list[Fault] = []
        self.vocabulary: dict[str, tuple[str, VocabularyFile]] = {}
        self.documents: dict[str, DocumentEntry] = {}
        self.definitions: dict[str, LimitDefinition] = {}
        self.limits: list[DatedLimit] = []
        self.loosened: list[Loosened] = []

    def load(self) -> Pack:
        vocabulary = self._vocabulary()
        for layer in self.layers:
            self._documents(layer)
        for layer in self.layers:
            self._limits(layer)
        tables = self.tables()
        self._stop()
        reader = self._reader(vocabulary)
        rules, replaced = self._rules(reader)
        follows = self._follows(reader)
        figures = self._figures(vocabulary)
        self._stop()
        pack = Pack(
            vocabulary=vocabulary,
            documents=self.documents,
            definitions=self.definitions,
            limits=tuple(self.limits),
            rules=rules,
            replaced=replaced,
            loosened=tuple(self.loosened),
            digest="",
            tables={name: rows_of(name, found) for name, found in tables.items()},
            procedure_files=files_below(self.layers, "procedures"),
            look_files=files_below(self.layers, "looks"),
            follows=follows,
            figures=figures,
            folders=tuple(layer.folder for layer in self.layers),
        )
        return replace(pack, digest=self._digest(pack))

    def content(self, pack: Pack) -> str:
        """Return what judges, of a pack of one folder that was read, as one JSON text."""
        return to_json(pack, [file for _, file in self.vocabulary.values()], self.tables(), self.layers[0].label)

    def _stop(self) -> None:
        if self.faults:
            raise Refused(self.faults)

    def _try(self, read: Callable[[], None]) -> None:
        try:
            read()
        except Refused as refused:
            self.faults += refused.faults

    def _digest(self, pack: Pack) -> str:
        """Return the digest of what judges; a prepared pack of the same content has the same one."""
        if len(self.layers) == 1:
            return content_digest(self.content(pack).encode(), (*pack.procedure_files, *pack.look_files))
        return hashlib.sha256("".join(layer.digest() for layer in self.layers).encode()).hexdigest()

    # --- vocabulary and documents ---

    def _vocabulary(self) -> Vocabulary:
        for layer in self.layers:
            for name, path, data in layer.below("vocabulary"):
                self._try(partial(self._take_vocabulary, name, data, path))
        for layer in self.layers:
            for _, path, data in layer.below(FIGURES):
                self._try(partial(self._take_declared, data, path))
        self._stop()
        return build_vocabulary(self.vocabulary.values())

    def _take_vocabulary(self, name: str, data: bytes, path: str) -> None:
        inside = name.removeprefix("vocabulary/")
        key = path if inside == WORDS_FILE else inside  # of lists of words a later folder replaces only its own
        self.vocabulary[key] = (path, read_vocabulary_file(inside, data, path))

    def _take_declared(self, data: bytes, path: str) -> None:
        """Take in the fact that a figure's file brings with it; what the vocabulary has already stands."""
        declared = declared_fact(data, path)
        if declared is None:
            return
        of, figure, entry = declared
        for key, (where, file) in self.vocabulary.items():
            if isinstance(file, KindFile) and file.kind == of:
                self.vocabulary[key] = (
                    where,
                    replace(file, facts=file.facts | {figure: file.facts.get(figure, entry)}),
                )

    def _documents(self, layer: Layer) -> None:
        data = layer.data.get("documents.yaml")
        if data is not None:
            path = layer.shown("documents.yaml")
            self._try(lambda: self._take_documents(data, path))

    def _take_documents(self, data: bytes, path: str) -> None:
        written = bind(DocumentsFile, read_yaml(data, path), path).root
        self.documents |= {name: one.entry() for name, one in written.items()}

    # --- limits ---

    def _limits(self, layer: Layer) -> None:
        files = sorted(layer.below("limits"), key=lambda one: "general" not in one[0])
        for _, path, data in files:
            self._try(partial(self._take_limits, data, path, layer))

    def _take_limits(self, data: bytes, path: str, layer: Layer) -> None:
        root = read_yaml(data, path)
        file = bind(LimitsFile, root, path)
        for name, entry in file.limits.items():
            for number, value in enumerate(entry.values):
                node = node_at(root, ("limits", name, "values", number))
                limit = self._limit(name, file.local_code, value, entry, node, path)
                if limit is None:
                    continue
                limit = replace(limit, layer=self.layers.index(layer))
                new = file.local_code == "general" and name not in self.definitions
                if new and not self._define(limit, entry.means, entry.cautious, node, path):
                    continue
                self._lay(limit, node, path, overlay=layer is not self.layers[0])

    def _limit(
        self, name: str, code: str, entry: ValueEntry, whole: LimitEntry, node: Node, path: str
    ) -> DatedLimit | None:
        cited = [entry.drawn_from] if isinstance(entry.drawn_from, str) else entry.drawn_from
        try:
            return DatedLimit(
                name=name,
                local_code=code,
                since=first_day(entry.since),
                value=limit_value(entry.value),
                sources=tuple(find_source(text, self.documents) for text in cited),
                because=entry.because,
                since_from_memory=entry.since_from_memory,
                differs=tuple(
                    Differing(one.says, find_source(one.drawn_from, self.documents)) for one in whole.differs
                ),
            )
        except NotRead as error:
            self._refuse(node, path, f"Limit {name}: {error.wrong}", error.write)
        except UnknownSource as error:
            write = "Write 'common practice', or a document of documents.yaml and its clause."
            self._refuse(node, path, f"Limit {name}: {error.wrong}", write, error.near)
        return None

    def _refuse(self, node: Node, path: str, read: str, write: str, near: str = "") -> None:
        self.faults.append(Fault(Place(path, node.line, node.column), read, write, near))

    def _define(self, limit: DatedLimit, means: str, cautious: str, node: Node, path: str) -> bool:
        if limit.value is None or not means or not cautious:
            read = f"Limit {limit.name} is new, and general must say what it is."
            self._refuse(node, path, read, "Write 'means:', 'cautious: low' or 'high', and a value.")
            return False
        self.definitions[limit.name] = LimitDefinition(limit.name, means, cautious, limit.value.dimension)
        return True

    def _lay(self, limit: DatedLimit, node: Node, path: str, *, overlay: bool) -> None:
        defined = self.definitions.get(limit.name)
        if defined is None:
            near = nearest_word(limit.name, self.definitions)
            write = "Write a limit of general.yaml, or define it there."
            self._refuse(node, path, f"{limit.name!r} is no limit.", write, near)
        elif limit.value is not None and limit.value.dimension != defined.dimension:
            read = (
                f"Limit {limit.name} is {with_article(defined.dimension)}, here {with_article(limit.value.dimension)}."
            )
            self._refuse(node, path, read, "Write it in a unit of that dimension.")
        else:
            if overlay:
                self._note_loosened(limit, defined, node, path)
            self.limits.append(limit)

    def _note_loosened(self, limit: DatedLimit, defined: LimitDefinition, node: Node, path: str) -> None:
        before = self._before(limit)
        if before is None or before.value is None or not looser(limit, before, defined.cautious):
            return
        if not limit.because:
            read = f"Limit {limit.name} is loosened from {before.value.text} without a reason."
            self._refuse(node, path, read, "Write 'because:' with the reason.")
        self.loosened.append(Loosened(limit, before))

    def _before(self, limit: DatedLimit) -> DatedLimit | None:
        codes = (limit.local_code, "general")
        found = [k for k in self.limits if k.name == limit.name and k.local_code in codes]
        found.sort(key=lambda k: (k.local_code != "general", k.since))
        return found[-1] if found else None

    # --- tables ---

    def tables(self) -> dict[str, list[Mapping[str, Any]]]:
        """Return published tables by the name of their file; faults are kept."""
        files: dict[str, list[list[dict[str, Any]]]] = {}
        for layer in self.layers:
            for name, path, data in layer.below("tables"):
                self._try(partial(self._take_tables, files, name, data, path))
        return {name: laid_tables(layers) for name, layers in files.items()}

    def _take_tables(self, files: dict[str, list[list[dict[str, Any]]]], name: str, data: bytes, path: str) -> None:
        stem, root = name.removeprefix("tables/").removesuffix(".yaml"), read_yaml(data, path)
        tables = [table.model_dump() for table in bind(TablesFile, root, path).tables]
        if stem not in KNOWN_TABLES:
            write = f"Call the file one of: {', '.join(KNOWN_TABLES)}."
            self._refuse(root, path, "No figure reads this file of tables.", write, nearest_word(stem, KNOWN_TABLES))
            return
        try:
            rows_of(stem, tables)
        except (ValueError, KeyError, TypeError) as error:
            self._refuse(root, path, f"{error}.", "Mend the table, as in the tables that come with rigcheck.")
            return
        files.setdefault(stem, []).append(tables)

    # --- rules ---

    def _reader(self, vocabulary: Vocabulary) -> RuleReader:
        dimensions = {name: one.dimension for name, one in self.definitions.items()}
        return RuleReader(vocabulary, self.documents, dimensions)

    def _follows(self, reader: RuleReader) -> dict[str, Consequence]:
        found: dict[str, Consequence] = {}
        for layer in self.layers:
            for name, path, data in layer.below(FOLLOWS):
                try:
                    called = name.removesuffix(".yaml")
                    found[called] = reader.read_consequence(data, path, called)
                except Refused as refused:
                    self.faults += refused.faults
        return found

    def _figures(self, vocabulary: Vocabulary) -> dict[str, WrittenFigure]:
        reader = FigureReader(vocabulary, {name: one.dimension for name, one in self.definitions.items()})
        found: dict[str, WrittenFigure] = {}
        for layer in self.layers:
            for name, path, data in layer.below(FIGURES):
                try:
                    found[name.removesuffix(".yaml")] = reader.read(data, path)
                except Refused as refused:
                    self.faults += refused.faults
        return found

    def _rules(self, reader: RuleReader) -> tuple[dict[str, Rule], tuple[str, ...]]:
        rules: dict[str, Rule] = {}
        replaced = []
        for layer in self.layers:
            for name, path, data in layer.rules():
                if name in rules:
                    replaced.append(name)
                try:
                    rules[name] = reader.read(data, path, name)
                except Refused as refused:
                    self.faults += refused.faults
        return rules, tuple(replaced)
