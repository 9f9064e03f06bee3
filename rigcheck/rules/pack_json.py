"""A pack in one JSON text, so that an installed rigcheck starts without reading 500 YAML files.

The wheel carries it beside the files that it was made from. Its first line has the digest of those files and that
of the rest: where one of the two differs, something was changed since, and the files are read instead. It is plain
data (no pickle), read by the types of the values that it holds.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Collection, Iterable, Mapping
from typing import TYPE_CHECKING, Any, TypeVar

import msgspec
from msgspec.structs import replace

from rigcheck.rig.fact import Fact
from rigcheck.rig.vocabulary import Kind, Vocabulary, build_vocabulary
from rigcheck.rig.vocabulary_file import FactEntry, KindFile, TraitFile, VocabularyFile, WordsFile
from rigcheck.rules.consequence import Consequence
from rigcheck.rules.documents import DocumentEntry
from rigcheck.rules.limits import DatedLimit, LimitDefinition
from rigcheck.rules.looks import Looks, looks_of
from rigcheck.rules.procedures import procedures_of
from rigcheck.rules.rule import Rule
from rigcheck.rules.steps import Procedure
from rigcheck.rules.tables import rows_of
from rigcheck.rules.written_figure import WrittenFigure
from rigcheck.text.faults import Refused

if TYPE_CHECKING:
    from rigcheck.rules.pack import Pack

__all__ = [
    "PREPARED_NAME",
    "PREPARED_TOO",
    "Damaged",
    "content_digest",
    "from_json",
    "laid_by",
    "prepared_content",
    "to_json",
]

PREPARED_NAME = "pack.json"
PREPARED_TOO = ("looks", "procedures")
"""What of a pack is prepared besides what judges, and kept with it."""
_FORM = "rigcheck prepared pack 11"
Read = TypeVar("Read")
_FOLDER = b'"\\u0000/'
"""How a path of the folder begins in the text; no YAML has that letter."""


class _Words(msgspec.Struct):
    """The files of a vocabulary."""

    kinds: list[KindFile]
    traits: list[TraitFile]
    lists: list[WordsFile]


class _Judging(msgspec.Struct):
    """What of a pack judges, beside the words; by the names that the pack has."""

    documents: Mapping[str, DocumentEntry]
    definitions: Mapping[str, LimitDefinition]
    limits: tuple[DatedLimit, ...]
    rules: Mapping[str, Rule]
    follows: Mapping[str, Consequence]
    figures: Mapping[str, WrittenFigure]
    looks: Looks | None  # none where they are wrong, as of procedures: whoever asks is told
    procedures: Mapping[str, Procedure] | None


class _Content(msgspec.Struct):
    words: _Words
    tables: dict[str, list[Mapping[str, Any]]]
    judging: msgspec.Raw  # its kinds are found by the words


class Damaged(Exception):
    """A prepared pack is not what was laid there."""


def laid_by(content: bytes, files: str) -> bytes:
    """Return the text of a prepared pack; `files` is the digest of the files that its content was made from."""
    head = {"form": _FORM, "files": files, "content": hashlib.sha256(content).hexdigest()}
    return json.dumps(head).encode() + b"\n" + content


def prepared_content(text: bytes, files: str) -> bytes | None:
    """Return the content of a prepared pack, or None where it was made from other files than `files` names.

    Raises `Damaged` where it is not whole, or is not the content that was laid there.
    """
    first, _, content = text.partition(b"\n")
    try:
        head = json.loads(first)
        form, made_from, digest = head["form"], head["files"], head["content"]
    except (ValueError, KeyError, TypeError, RecursionError):
        raise Damaged from None
    if form != _FORM or made_from != files:
        return None
    if hashlib.sha256(content).hexdigest() != digest:
        raise Damaged
    return content


def content_digest(content: bytes, files: Iterable[tuple[str, bytes]]) -> str:
    """Return the digest of what judges: the content of a pack as JSON, and the bytes of its procedures and looks."""
    total = hashlib.sha256(content)
    for _, data in files:
        total.update(b"\0%d\0" % len(data))
        total.update(data)
    return total.hexdigest()


def to_json(
    pack: Pack, vocabulary: Collection[VocabularyFile], tables: dict[str, list[Mapping[str, Any]]], folder: str
) -> bytes:
    """Return a pack as JSON, with the files of its vocabulary; `folder` is cut off the paths in it."""
    words = _Words(
        [one for one in vocabulary if isinstance(one, KindFile)],
        [one for one in vocabulary if isinstance(one, TraitFile)],
        [one for one in vocabulary if isinstance(one, WordsFile)],
    )
    judging = _Judging(
        pack.documents,
        pack.definitions,
        pack.limits,
        {name: _without_cases(rule) for name, rule in pack.rules.items()},
        {name: replace(one, rule=_without_cases(one.rule)) for name, one in pack.follows.items()},
        pack.figures,
        _if_right(looks_of, pack),
        _if_right(procedures_of, pack),
    )
    raw = msgspec.Raw(msgspec.json.encode(judging, enc_hook=_plain))
    return msgspec.json.encode(_Content(words, tables, raw)).replace(_path_in(folder), _FOLDER)


def _if_right(read: Callable[[Pack], Read], pack: Pack) -> Read | None:
    try:
        return read(pack)
    except Refused:
        return None


def _path_in(folder: str) -> bytes:
    return json.dumps(folder, ensure_ascii=False)[:-1].encode() + b"/"


def _without_cases(rule: Rule) -> Rule:
    return replace(rule, cases=None, sharper={kind: replace(one, cases=None) for kind, one in rule.sharper.items()})


def _plain(value: object) -> str | tuple[str, FactEntry]:
    """Return what stands for a value: a kind goes by its name, a fact of a step is what it was made of."""
    if isinstance(value, Kind):
        return value.name
    assert isinstance(value, Fact)
    return value.name, value.entry


def _made_with(vocabulary: Vocabulary) -> Callable[[type, Any], Any]:
    kinds: Mapping[str, Kind] = vocabulary.looked_at

    def made(sort: type, plain: Any) -> Kind | Fact:
        if sort is Kind:
            return kinds[plain]
        return Fact(plain[0], msgspec.convert(plain[1], FactEntry), vocabulary.choices)

    return made


def from_json(text: bytes, folder: str) -> dict[str, Any]:
    """Return what a pack is made of, by its names, from JSON.

    Raises `Damaged` where it has not the shape that `to_json` gives it.
    """
    try:
        content = msgspec.json.decode(text.replace(_FOLDER, _path_in(folder)), type=_Content)
        files: list[VocabularyFile] = [*content.words.kinds, *content.words.traits, *content.words.lists]
        vocabulary = build_vocabulary((folder, file) for file in files)
        judging = msgspec.json.decode(content.judging, type=_Judging, dec_hook=_made_with(vocabulary))
        tables = {name: rows_of(name, found) for name, found in content.tables.items()}
    except (ValueError, LookupError, TypeError, AttributeError, RecursionError):
        raise Damaged from None
    return {"vocabulary": vocabulary, "tables": tables, **msgspec.structs.asdict(judging)}
