"""The files of a vocabulary read from YAML: kinds, traits, and the words that several facts share."""

from __future__ import annotations

from rigcheck.quantity.notation import NotRead
from rigcheck.rig.fact import Fact
from rigcheck.rig.number_range import number_range
from rigcheck.rig.vocabulary_file import FactEntry, KindFile, TraitFile, VocabularyFile, WordsFile
from rigcheck.text.binding import bind, node_at, place_of
from rigcheck.text.faults import Fault, Refused
from rigcheck.text.yamlfile import Node, read_yaml

__all__ = ["WORDS_FILE", "read_vocabulary_file"]

WORDS_FILE = "words.yaml"
"""The file that has the words that several facts share."""
_TRAITS = "traits/"


def read_vocabulary_file(name: str, data: bytes, file: str) -> VocabularyFile:
    """Return one file; `name` is its path inside the vocabulary, which says what it holds. Raises `Refused`."""
    root = read_yaml(data, file)
    if name == WORDS_FILE:
        return bind(WordsFile, root, file)
    read = bind(TraitFile, root, file) if name.startswith(_TRAITS) else bind(KindFile, root, file)
    faults = [fault for fact, entry in read.facts.items() if (fault := _no_number(fact, entry, root, file))]
    if faults:
        raise Refused(faults)
    return read


def _no_number(fact: str, entry: FactEntry, root: Node, file: str) -> Fault | None:
    try:
        number_range(entry)
        if entry.example:
            Fact(fact, entry).read(entry.example)
    except NotRead as error:
        return Fault(place_of(node_at(root, ("facts", fact)), file), f"{fact}: {error.wrong}", error.write)
    return None
