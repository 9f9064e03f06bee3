"""The rig files that a command line names."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator

from rigcheck.cli.console import ProblemFound

__all__ = ["rig_files"]

_ENDINGS = (".yaml", ".yml")


def rig_files(paths: Iterable[str]) -> list[str]:
    """Return the files in order, folders walked, each once. Raises `ProblemFound`."""
    return list(dict.fromkeys(name for path in paths for name in _files_of(path)))


def _files_of(path: str) -> Iterator[str]:
    if path == "-":
        yield path
    elif os.path.isdir(path):
        found = list(_walked(path))
        if not found:
            raise ProblemFound(f"the folder {path} holds no file that ends in .yaml or .yml.")
        yield from found
    else:
        yield path  # if it is not there, reading it says so, and the others still are read


def _walked(folder: str) -> Iterator[str]:
    for parent, folders, names in os.walk(folder):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        for name in sorted(names):
            if name.endswith(_ENDINGS) and not name.startswith("."):
                yield os.path.join(parent, name)
