"""The rig files that a command line names, and what is in them."""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Iterable, Iterator

from rigcheck.cli.console import ProblemFound
from rigcheck.text.faults import Fault
from rigcheck.text.harmless import visible
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import LARGEST

__all__ = ["holds_record", "rig_bytes", "rig_files", "shown_name", "unreadable"]

_ENDINGS = (".yaml", ".yml")
_RECORD_KEY = re.compile(rb"^(?:\xef\xbb\xbf)?[\"']?record[\"']?[ \t]*:", re.MULTILINE)


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


def shown_name(name: str) -> str:
    """Return what a file is called in a report; what in its name would act unseen is shown as a number."""
    return "standard input" if name == "-" else visible(name)


def rig_bytes(name: str) -> bytes:
    """Return a file's bytes, one more than are read at the most: the reader says it is too large."""
    if name == "-":
        return sys.stdin.buffer.read(LARGEST + 1)
    with open(name, "rb") as file:
        return file.read(LARGEST + 1)


def holds_record(data: bytes) -> bool:
    """Return whether a file is a record of work, not a rig: its top level has the key 'record'."""
    return _RECORD_KEY.search(data) is not None


def unreadable(name: str, error: OSError) -> Fault:
    """Return the fault of a file that could not be opened."""
    read = f"The file cannot be read: {error.strerror or error}."
    return Fault(Place(shown_name(name), 1, 1), read, "Name a rig file.")
