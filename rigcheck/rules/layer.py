"""The files of one folder of rules."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterable, Iterator
from pathlib import Path

from rigcheck.rules.folders import configs_folder, label_of
from rigcheck.text.faults import Fault, Refused
from rigcheck.text.harmless import visible
from rigcheck.text.place import Place
from rigcheck.text.source_file import file_bytes

__all__ = ["DOCUMENTS", "INDEX", "STANDARD_RIGS", "Layer", "files_below"]

INDEX = "index.yaml"
"""The page of a topic folder that says what belongs there; it is no rule."""
DOCUMENTS = "documents.yaml"
STANDARD_RIGS = "standard_rigs"
"""The folder of a company's own standard rigs."""
_NOT_RULES = ("vocabulary", "limits", "procedures", "tables", "follows", "looks", "figures", STANDARD_RIGS)


class Layer:
    """The files of one folder, by their path inside it; what ships is told of by name, not by where it lies.

    Raises `Refused` where one would be passed over; OSError.
    """

    def __init__(self, folder: Path) -> None:
        if not folder.is_dir():
            raise NotADirectoryError(f"{folder} is no folder of rules")
        self.folder, self.label = folder, label_of(folder)
        self.files = dict(sorted(_yaml_files(str(folder), "")))
        self._refuse_strays()
        self.data = {name: file_bytes(path) for name, path in self.files.items()}

    def _refuse_strays(self) -> None:
        """Refuse files that nothing would read: a rule that is passed over is one that never bites."""
        faults = [Fault(Place(self.files[name], 1, 1), *told) for name in self.files if (told := _stray(name))]
        if not self.files:
            where, write = Place(self.label, 1, 1), "Name a folder that is laid out as the rules that ship."
            faults.append(Fault(where, "The folder holds no file that ends in .yaml.", write))
        if faults:
            raise Refused(faults)

    def digest(self) -> str:
        """Return a digest of the names and contents of the files."""
        total = hashlib.sha256()
        for name, data in self.data.items():
            total.update(f"{name}\0{len(data)}\0".encode())
            total.update(data)
        return total.hexdigest()

    def shown(self, name: str) -> str:
        """Return the path of a file as it is told of."""
        return f"{self.label}/{name}"

    def below(self, top: str) -> Iterator[tuple[str, str, bytes]]:
        """Yield name, path as shown, and bytes of the files in one sub-folder."""
        for name, data in self.data.items():
            if name.startswith(f"{top}/"):
                yield name, self.shown(name), data

    def rules(self) -> Iterator[tuple[str, str, bytes]]:
        """Yield name, path as shown, and bytes of the rule files."""
        for name, data in self.data.items():
            top, _, rest = name.partition("/")
            if rest and rest != INDEX and top not in _NOT_RULES:
                yield name.removesuffix(".yaml"), self.shown(name), data


def _stray(name: str) -> tuple[str, str] | None:
    """Return what is wrong with where a file lies or how it is called, and what to do; or None."""
    if visible(name) != name:  # a rule is called by it in every report
        return "The name of a file of rules has a letter that does not show.", "Call it otherwise, as its claim."
    if not name.endswith(".yaml"):
        return (
            "The name of a file of rules ends in .yaml.",
            f"Call it {name.rpartition('/')[2].rpartition('.')[0]}.yaml.",
        )
    top, _, rest = name.partition("/")
    if top == STANDARD_RIGS and "/" in rest:
        return "A standard rig lies right in the folder standard_rigs.", "Move it there."
    if top == STANDARD_RIGS and (configs_folder() / "templates" / rest).is_file():
        return "A standard rig of that name comes with rigcheck.", "Call your own otherwise."
    if "/" not in name and name != DOCUMENTS:
        return "No rule lies at the top of a folder of rules.", "Put it into the folder of its topic, as hoses."
    return None


def _yaml_files(folder: str, below: str) -> Iterator[tuple[str, str]]:
    """Yield name and path of every YAML file, however it ends; os.scandir takes a fifth of the time of Path.rglob."""
    for entry in os.scandir(folder):
        if entry.is_dir():
            yield from _yaml_files(entry.path, f"{below}{entry.name}/")
        elif entry.name.endswith(".yaml") or entry.name.lower().endswith((".yaml", ".yml")):
            yield f"{below}{entry.name}", entry.path


def files_below(layers: Iterable[Layer], top: str) -> tuple[tuple[str, bytes], ...]:
    """Return path and bytes of the files in one sub-folder; a later folder's takes the place of an earlier one."""
    found = {name: (path, data) for layer in layers for name, path, data in layer.below(top)}
    return tuple(found.values())
