"""The folders of a pack read from YAML, checked, and laid on each other."""

from __future__ import annotations

import dataclasses
import hashlib
from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path
from typing import Any

from msgspec import structs

from rigcheck.rig.vocabulary import Vocabulary, build_vocabulary
from rigcheck.rig.vocabulary_file import KindFile, VocabularyFile, WordsFile
from rigcheck.rig.vocabulary_overlay import is_read_otherwise, laid_over, name_of, read_otherwise
from rigcheck.rig.vocabulary_reader import read_vocabulary_file
from rigcheck.rules.consequence import FOLLOWS, Consequence
from rigcheck.rules.documents import DocumentEntry
from rigcheck.rules.figure_reading import FigureReader, declared_fact
from rigcheck.rules.file_models import DocumentsFile, TablesFile
from rigcheck.rules.layer import DOCUMENTS, INDEX, STANDARD_RIGS, Layer, files_below
from rigcheck.rules.limit_reading import LimitChange, LimitReader
from rigcheck.rules.overlay import How, Laid
from rigcheck.rules.pack import Pack
from rigcheck.rules.pack_json import PREPARED_TOO, content_digest, laid_by, to_json
from rigcheck.rules.rule import Rule
from rigcheck.rules.rule_reading import RuleReader
from rigcheck.rules.tables import KNOWN_TABLES, laid_tables, rows_of
from rigcheck.rules.written_figure import FIGURES, WrittenFigure
from rigcheck.text.binding import bind, node_at
from rigcheck.text.faults import Fault, Refused, nearest_word
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import Mapping as MappingNode
from rigcheck.text.yamlfile import Node, Scalar, read_yaml

__all__ = ["assemble_pack", "prepare_pack"]


def assemble_pack(layers: list[Layer], lowest: Pack | None = None) -> Pack:
    """Return the pack of layers, later ones laid on earlier ones. Raises `Refused`.

    `lowest`: the pack of the lowest one, if it is ready. What leaves the rules of that as they are is laid on it,
    since reading them again is most of the time; all else is read anew.
    """
    if len(layers) > 1 and _leave_rules_as_they_are(layers):
        lowest = lowest or assemble_pack(layers[:1])
        if not _documents_named(layers[1:]) & lowest.documents.keys():
            return _Loader(layers, lowest).load()
    return _Loader(layers).load()


def _leave_rules_as_they_are(layers: list[Layer]) -> bool:
    """Whether all but the lowest bring nothing that the rules of that were read by: words, facts, figures, tables."""
    return not any(name.startswith(_READ_BY_RULES) for layer in layers[1:] for name in layer.data)


def _documents_named(layers: list[Layer]) -> set[str]:
    """Return the documents that layers describe; a rule has with it what is said of each that it cites."""
    found: set[str] = set()
    for layer in layers:
        root = read_yaml(layer.data.get(DOCUMENTS, b"{}"), layer.shown(DOCUMENTS))
        found |= set(root.items) if isinstance(root, MappingNode) else set()
    return found


def prepare_pack(folder: Path) -> bytes:
    """Return the pack of a folder as one JSON text, to lie in it as `PREPARED_NAME`. Raises `Refused`."""
    layer = Layer(folder)
    loader = _Loader([layer])
    return laid_by(loader.content(loader.load()), layer.digest())


class _Loader:
    """Reads layers; `lowest` is the pack of the first, where only the others are to be read."""

    def __init__(self, layers: list[Layer], lowest: Pack | None = None) -> None:
        self.layers, self.lowest = layers, lowest
        self.to_read = layers if lowest is None else layers[1:]
        self.faults: list[Fault] = []
        self.vocabulary: dict[tuple[type, str], tuple[str, VocabularyFile]] = {}
        self.below: list[Vocabulary] = []  # of each layer, that of the layers below it
        self.taken_over: set[str] = set()  # files of figures that were there under another file's name
        self.documents: dict[str, DocumentEntry] = {} if lowest is None else {**lowest.documents}
        self.limits = LimitReader(self.documents, self._note_limit, lowest)
        self.laid: list[Laid] = []

    def load(self) -> Pack:
        vocabulary = self._vocabulary() if self.lowest is None else self.lowest.vocabulary
        for layer in self.to_read:
            self._documents(layer)
        for layer in self.to_read:
            self._limits(layer)
        tables = self._rows() if self.lowest is None else self.lowest.tables
        self.faults += self.limits.faults
        self._stop()
        reader = self._reader(vocabulary)
        rules = self._rules(reader)
        follows = self._follows(reader)
        figures = self._figures(vocabulary)
        self._whole_files()
        self._stop()
        pack = Pack(
            vocabulary=vocabulary,
            documents=self.documents,
            definitions=self.limits.definitions,
            limits=tuple(self.limits.kept),
            rules=rules,
            laid=tuple(self.laid),
            digest="",
            tables=tables,
            procedure_files=files_below(self.layers, "procedures"),
            look_files=files_below(self.layers, "looks"),
            follows=follows,
            figures=figures,
            folders=tuple(layer.folder for layer in self.layers),
        )
        whole = structs.replace(pack, digest=self._digest(pack))
        kept = (self.lowest or pack).kept  # its digest took what is prepared besides
        for sort in PREPARED_TOO:
            own = any(name.startswith(f"{sort}/") for layer in self.layers[1:] for name in layer.data)
            if sort in kept and not own:
                whole.kept[sort] = kept[sort]
        return whole

    def content(self, pack: Pack) -> bytes:
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
            return content_digest(self.content(pack), (*pack.procedure_files, *pack.look_files))
        digests = [layer.digest() for layer in self.layers]
        if self.lowest is not None:
            digests[0] = self.lowest.digest  # that of what judges, prepared or read
        return hashlib.sha256("".join(digests).encode()).hexdigest()

    # --- vocabulary and documents ---

    def _vocabulary(self) -> Vocabulary:
        for layer in self.layers:
            self._stop()
            self.below.append(build_vocabulary(self.vocabulary.values()))
            for name, path, data in layer.below("vocabulary"):
                self._try(partial(self._take_vocabulary, name, data, path, layer))
            for _, path, data in layer.below(FIGURES):
                self._try(partial(self._take_declared, data, path))
        self._stop()
        return build_vocabulary(self.vocabulary.values())

    def _take_vocabulary(self, name: str, data: bytes, path: str, layer: Layer) -> None:
        file = read_vocabulary_file(name.removeprefix("vocabulary/"), data, path)
        called = type(file), name_of(file)
        sort, of = ("word list", "") if isinstance(file, WordsFile) else ("fact", f"{called[1]}.")
        lower = self.vocabulary.get(called)
        if lower is not None and layer is not self.layers[0]:
            otherwise = read_otherwise(file, self.below[-1])
            file, added, changed = laid_over(lower[1], file)
            for one in added:
                self._note(layer, path, sort, f"{of}{one}", "changed" if one in otherwise else "added", file.because)
            for one in changed:
                self._note(layer, path, sort, f"{of}{one}", "changed", file.because)
        elif layer is not self.layers[0]:
            how: How = "changed" if is_read_otherwise(file, self.below[-1]) else "added"
            self._note(layer, path, "kind", called[1], how, file.because)
        self.vocabulary[called] = (path, file)

    # --- what a folder that is laid on top changes ---

    def _note(
        self, layer: Layer, path: str, sort: str, name: str, how: How, because: str = "", told: str = "", at: int = 1
    ) -> None:
        """Keep one change; refuse one that may turn a finding into none and has no reason."""
        one = Laid(sort, name, how, layer.label, f"{path}:{at}", told, " ".join(because.split()))
        if one.bends and not one.because:
            what = f" from {told.rpartition(' instead of ')[2]}" if how == "loosened" else ""
            read = f"{sort.capitalize()} {name} is {how}{what} without a reason."
            self.faults.append(Fault(Place(path, at, 1), read, "Write 'because:' with the reason."))
        self.laid.append(one)

    def _note_limit(self, change: LimitChange, path: str, layer: int) -> None:
        self._note(self.layers[layer], path, "limit", *change)

    def _whole_files(self) -> None:
        """Note files that take the place of one with the same name, and those that count before others."""
        below: dict[str, bytes] = dict(self.layers[0].data)
        for layer in self.layers[1:]:
            for name, data in layer.data.items():
                top, _, rest = name.partition("/")
                sort = _SORTS.get(top, "rule")
                if sort and rest and rest != INDEX and data != below.get(name):
                    path = layer.shown(name)
                    changed = name in below or top in _FOREMOST or path in self.taken_over
                    how: How = "changed" if changed and top != STANDARD_RIGS else "added"  # what is of it is presumed
                    called = name.removesuffix(".yaml") if sort == "rule" else rest.removesuffix(".yaml")
                    self._note(layer, path, sort, called, how, _reason(read_yaml(data, name)))
            below |= layer.data

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
                    dataclasses.replace(file, facts=file.facts | {figure: file.facts.get(figure, entry)}),
                )

    def _documents(self, layer: Layer) -> None:
        data = layer.data.get(DOCUMENTS)
        if data is not None:
            path = layer.shown(DOCUMENTS)
            self._try(lambda: self._take_documents(data, path, layer))

    def _take_documents(self, data: bytes, path: str, layer: Layer) -> None:
        root = read_yaml(data, path)
        for name, one in bind(DocumentsFile, root, path).root.items():
            entry, before = one.entry(), self.documents.get(name)
            if layer is not self.layers[0] and entry != before:
                at = node_at(root, (name,)).line
                self._note(layer, path, "document", name, "changed" if before else "added", one.because, at=at)
            self.documents[name] = entry

    # --- limits ---

    def _limits(self, layer: Layer) -> None:
        files = sorted(layer.below("limits"), key=lambda one: "general" not in one[0])
        for _, path, data in files:
            self._try(partial(self.limits.take, data, path, self.layers.index(layer)))

    def _refuse(self, node: Node, path: str, read: str, write: str, near: str = "") -> None:
        self.faults.append(Fault(Place(path, node.line, node.column), read, write, near))

    # --- tables ---

    def _rows(self) -> dict[str, tuple[Any, ...]]:
        return {name: rows_of(name, found) for name, found in self.tables().items()}

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
        return RuleReader(vocabulary, self.documents, self.limits.dimensions())

    def _follows(self, reader: RuleReader) -> dict[str, Consequence]:
        found: dict[str, Consequence] = {} if self.lowest is None else {**self.lowest.follows}
        for layer in self.to_read:
            for name, path, data in layer.below(FOLLOWS):
                try:
                    called = name.removesuffix(".yaml")
                    found[called] = reader.read_consequence(data, path, called)
                except Refused as refused:
                    self.faults += refused.faults
        return found

    def _figures(self, vocabulary: Vocabulary) -> dict[str, WrittenFigure]:
        reader = FigureReader(vocabulary, self.limits.dimensions())
        found: dict[str, WrittenFigure] = {} if self.lowest is None else {**self.lowest.figures}
        for layer in self.to_read:
            for name, path, data in layer.below(FIGURES):
                try:
                    figure = found[name.removesuffix(".yaml")] = reader.read(data, path)
                except Refused as refused:
                    self.faults += refused.faults
                    continue
                about = self.below[self.layers.index(layer)].looked_at.values()
                if any(figure.kind in kind.lineage and figure.name in kind.facts for kind in about):
                    self.taken_over.add(path)
        return found

    def _rules(self, reader: RuleReader) -> dict[str, Rule]:
        rules: dict[str, Rule] = {} if self.lowest is None else {**self.lowest.rules}
        for layer in self.to_read:
            for name, path, data in layer.rules():
                try:
                    rules[name] = reader.read(data, path, name)
                except Refused as refused:
                    self.faults += refused.faults
        return rules


_SORTS = {
    "vocabulary": "",  # noted fact by fact
    "limits": "",  # noted value by value
    "procedures": "procedure",
    "tables": "table",
    "follows": "consequence",
    "looks": "look",
    "figures": "figure",
    STANDARD_RIGS: "standard rig",
}
"""What a file is, by the folder that it lies in; in any other one it is a rule."""
_READ_BY_RULES = ("vocabulary/", f"{FIGURES}/", "tables/")
_FOREMOST = ("tables",)
"""Folders whose files count before those below, though nothing had their name there."""


def _reason(root: Node) -> str:
    node = root.items.get("because") if isinstance(root, MappingNode) else None
    return node.text if isinstance(node, Scalar) else ""
