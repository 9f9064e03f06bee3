"""The pack: vocabulary, documents, limits, rules and tables that rigs are judged by."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from pathlib import Path
from typing import Any

from msgspec import Struct

from rigcheck.rig.vocabulary import Vocabulary
from rigcheck.rules.consequence import Consequence
from rigcheck.rules.documents import DocumentEntry
from rigcheck.rules.limits import DatedLimit, LimitDefinition
from rigcheck.rules.overlay import Laid
from rigcheck.rules.rule import Rule
from rigcheck.rules.written_figure import WrittenFigure

__all__ = ["Pack"]


class Pack(Struct, frozen=True, eq=False, dict=True):
    """Everything that rigs are judged by.

    `digest` names the content of its files; `tables` holds the rows of published tables by the file's name;
    `folders` are those that it was read from, the last laid on top;
    `follows` are the consequences of stated facts by name, `figures` those that are written as data, by file;
    `laid` is what folders that were laid on top brought and changed;
    `kept` is for what is made of a pack and lives as long as it does: rules compiled, procedures read;
    `procedure_files` and `look_files` hold path and bytes of the procedures and looks, read only when asked for.
    """

    vocabulary: Vocabulary
    documents: Mapping[str, DocumentEntry]
    definitions: Mapping[str, LimitDefinition]
    limits: tuple[DatedLimit, ...]
    rules: Mapping[str, Rule]
    tables: Mapping[str, tuple[Any, ...]]
    follows: Mapping[str, Consequence]
    figures: Mapping[str, WrittenFigure]
    laid: tuple[Laid, ...]
    digest: str
    procedure_files: tuple[tuple[str, bytes], ...] = ()
    look_files: tuple[tuple[str, bytes], ...] = ()
    folders: tuple[Path, ...] = ()

    @cached_property
    def kept(self) -> dict[Any, Any]:
        """What is made of this pack; one that is changed in a part begins anew."""
        return {}
