"""The rig files that a command line names, and what is in them."""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager

from rigcheck.cli.console import ProblemFound
from rigcheck.text.address import FETCHED, address_of
from rigcheck.text.faults import Fault, Refused
from rigcheck.text.harmless import visible
from rigcheck.text.place import Place
from rigcheck.text.source_file import file_bytes
from rigcheck.text.yamlfile import LARGEST, Mapping, read_yaml

__all__ = [
    "SETTINGS",
    "as_refused",
    "holds_record",
    "is_yaml",
    "listed_yaml",
    "rig_bytes",
    "rig_files",
    "shown_name",
    "unreadable",
    "yaml_files",
]

SETTINGS = ".rigcheck.yaml"
"""The name of the settings file that is looked for upwards from a rig."""
_ENDINGS = (".yaml", ".yml")
_ADDRESS = re.compile(r"(?:[a-z][a-z0-9+.-]*://|.+::)", re.IGNORECASE)
_RECORD_KEY = re.compile(rb"^(?:\xef\xbb\xbf)?[\"']?record[\"']?[ \t]*:", re.MULTILINE)


def rig_files(paths: Iterable[str]) -> list[str]:
    """Return the files in order, folders walked, each once. Raises `ProblemFound`."""
    return list(dict.fromkeys(name for path in paths for name in _files_of(path)))


def _files_of(path: str) -> Iterator[str]:
    if _ADDRESS.match(path) and not os.path.lexists(path):
        from rigcheck.cli.addresses import fetched  # most runs name files of this machine

        yield from _files_of(fetched(path, lambda name: is_yaml(name) or name == SETTINGS))
    elif path == "-":
        yield path
    elif os.path.isdir(path):
        found = list(yaml_files(path))
        if not found:
            raise ProblemFound(f"the folder {shown_name(path)} holds no file that ends in .yaml or .yml.")
        yield from found
    else:
        yield path  # if it is not there, reading it says so, and the others still are read


def yaml_files(folder: str) -> Iterator[str]:
    """Yield every YAML file of a folder and those in it, through links too, but nothing hidden.

    A folder that cannot be listed is given as it is: whoever reads it says so.
    """
    closed: list[str] = []
    been: set[str] = set()
    for parent, folders, names in os.walk(
        folder, onerror=lambda error: closed.append(error.filename), followlinks=True
    ):
        real = os.path.realpath(parent)
        folders[:] = [] if real in been else sorted(name for name in folders if not name.startswith("."))
        if real not in been:
            been.add(real)
            yield from (os.path.join(parent, name) for name in sorted(names) if is_yaml(name))
        while closed:
            yield closed.pop()
    yield from closed


def listed_yaml(folder: str) -> list[str]:
    """Return the names of the YAML files in a folder. Raises OSError: what nobody can see would be passed over."""
    return sorted(filter(is_yaml, os.listdir(folder)))


def is_yaml(name: str) -> bool:
    """Return whether a file in a folder is one to read, by its name."""
    return name.lower().endswith(_ENDINGS) and not name.startswith(".")


def shown_name(name: str) -> str:
    """Return what a file is called in a report, one that was fetched by its address.

    What in its name would act unseen is shown as a number.
    """
    name = address_of(name) if FETCHED in name else name
    return "standard input" if name == "-" else visible(name)


def rig_bytes(name: str) -> bytes:
    """Return a file's bytes, one more than are read at the most: the reader says it is too large."""
    if name == "-":
        return sys.stdin.buffer.read(LARGEST + 1)
    try:
        return file_bytes(name)
    except OSError as error:
        if FETCHED in name:
            error.filename = shown_name(name)
        raise


def holds_record(data: bytes) -> bool:
    """Return whether a file is a record of work, not a rig: its top level has the key 'record'."""
    if _RECORD_KEY.search(data) is None:
        return False
    try:  # a text over several lines may have such a line too
        root = read_yaml(data, "")
    except Refused:  # reading it as a record says what is wrong with it
        return True
    return not isinstance(root, Mapping) or "record" in root.items


@contextmanager
def as_refused(name: str) -> Iterator[None]:
    """Raise `Refused` where a file, or one beside it that belongs to it, cannot be opened."""
    try:
        yield
    except OSError as error:
        raise Refused([unreadable(name, error)]) from None


def unreadable(name: str, error: OSError) -> Fault:
    """Return the fault of a file that could not be opened, or of one beside it that belongs to it."""
    other = error.filename if isinstance(error.filename, str) and error.filename not in (name, shown_name(name)) else ""
    read = f"{visible(other) if other else 'The file'} cannot be read: {error.strerror or error}."
    return Fault(
        Place(shown_name(name), 1, 1), read, "Let it be read, or take it away." if other else "Name a rig file."
    )
