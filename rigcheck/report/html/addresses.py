"""Where things stand in a page and in the files that it was made from; no folder of a machine is named."""

from __future__ import annotations

from pathlib import PurePosixPath, PureWindowsPath

from rigcheck.text.place import Place

__all__ = ["bare", "file_name", "line_words"]


def file_name(shown: str) -> str:
    """Return the name of a file without the folders that it lies in on the machine that read it.

    >>> file_name("/home/somebody/rigs/wharf.yaml"), file_name("C:\\\\rigs\\\\wharf.yaml")
    ('wharf.yaml', 'wharf.yaml')
    """
    return PureWindowsPath(PurePosixPath(shown).name).name or shown


def line_words(place: Place, file: str) -> str:
    """Return the line of a place, and its file where that is another one than `file`."""
    other = "" if place.file == file else f"{file_name(place.file)}, "
    return f"{other}line {place.line}"


def bare(told: str, place: Place, file: str) -> str:
    """Return a text in which a place, with its whole path, is told as `line_words` does."""
    return told.replace(str(place), line_words(place, file)).replace(place.file, file_name(place.file))
