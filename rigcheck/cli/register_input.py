"""The register that a path leads to: a file, or a folder of files."""

from __future__ import annotations

import os

from rigcheck.cli.inputs import listed_yaml, rig_bytes, shown_name
from rigcheck.rig.register import Register
from rigcheck.rig.register_reader import load_register
from rigcheck.rules.pack import Pack

__all__ = ["read_register", "register_at", "register_files"]


def register_at(path: str, pack: Pack) -> Register:
    """Return the register of a file or a folder of files; it is kept with the pack. Raises `Refused`, OSError."""
    key = ("register", os.path.realpath(path))
    kept: Register | None = pack.kept.get(key)
    if kept is None:
        kept = pack.kept[key] = read_register(path, pack)
    return kept


def read_register(path: str, pack: Pack, *, strict: bool = False) -> Register:
    """Return the register of a file or a folder of files, read anew; `strict` as in `read_rig`.

    Raises `Refused`, OSError.
    """
    files = [(rig_bytes(one), shown_name(one)) for one in register_files(path)]
    return load_register(files, pack.vocabulary, shown_name(path), what_can_be_read=not strict)


def register_files(path: str) -> list[str]:
    """Return the files of a register: itself, or those of a folder. Raises OSError."""
    if not os.path.isdir(path):
        return [path]
    found = [os.path.join(path, one) for one in listed_yaml(path)]
    if not found:
        raise FileNotFoundError(2, "the folder holds no file that ends in .yaml or .yml", path)
    return found
