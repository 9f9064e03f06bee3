"""One pack for every command of a test: what ships is read once, and not for each of a thousand runs."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import pytest

from rigcheck.cli import pack_option
from rigcheck.rig.vocabulary_file import VocabularyFile
from rigcheck.rules import load, pack_from_yaml
from rigcheck.rules.folders import rules_folder
from rigcheck.rules.layer import Layer
from rigcheck.rules.load import load_pack
from rigcheck.rules.pack import Pack

__all__ = ["read_once", "with_one_pack"]


def read_once() -> None:
    """Have this process take the rules that ship for ready once they were read, as an installed rigcheck does.

    Their thousand files are read once, and files of words too, however many small folders a test copies them into.
    """
    prepared, read = load._ready_pack, pack_from_yaml.read_vocabulary_file
    shipped = cache(Layer)
    kept: dict[str, Pack] = {}
    words: dict[tuple[str, bytes], VocabularyFile] = {}

    def ready(layer: Layer) -> Pack | None:
        if layer.folder != rules_folder():
            return prepared(layer)
        digest = layer.digest()
        if digest not in kept:
            kept[digest] = pack_from_yaml.assemble_pack([layer])
        return kept[digest]

    def words_file(name: str, data: bytes, path: str) -> VocabularyFile:
        if (name, data) not in words:
            words[name, data] = read(name, data, path)
        return words[name, data]

    def layer_of(folder: Path) -> Layer:
        return shipped(folder) if folder == rules_folder() else Layer(folder)

    load._ready_pack, load.Layer = ready, layer_of  # type: ignore[assignment,misc]
    pack_from_yaml.read_vocabulary_file = words_file


def with_one_pack(pack: Pack, patch: pytest.MonkeyPatch) -> None:
    """Have commands in this process take `pack` where they name no folder of their own."""

    def chosen(*folders: Path, **more: Any) -> Pack:
        return pack if len(folders) == 1 else load_pack(*folders, **more)

    patch.setattr(pack_option, "load_pack", chosen)
