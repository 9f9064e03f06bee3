"""Files that somebody wrote, read whole: by kind and size it is known before that they can be."""

from __future__ import annotations

import errno
import os
import stat
from typing import BinaryIO

from rigcheck.text.yamlfile import LARGEST

__all__ = ["file_bytes", "file_text", "ordinary_file"]

_KINDS = {
    stat.S_IFDIR: "a folder",
    stat.S_IFIFO: "a pipe",
    stat.S_IFCHR: "a device",
    stat.S_IFBLK: "a device",
    stat.S_IFSOCK: "a socket",
}
_AT_ONCE = getattr(os, "O_NONBLOCK", 0)  # opening a pipe would wait for somebody to write to it
_AS_IT_IS = os.O_RDONLY | _AT_ONCE | getattr(os, "O_BINARY", 0)


def file_bytes(path: str | os.PathLike[str], most: int = LARGEST) -> bytes:
    """Return the bytes of an ordinary file, `most` and one more at the most: readers say that it is too large.

    Raises OSError where it cannot be opened, or is a folder, a pipe or a device, which may never end.
    """
    number = os.open(path, _AS_IT_IS)  # a pack is a thousand files: a file object takes twice as long
    try:
        size = _size(number, path)
        # A system's own files say that they are empty; asking for no more than there is takes half the time.
        left = min(size or most, most) + 1
        read = [os.read(number, left)]
        while read[-1] and (left := left - len(read[-1])):
            read.append(os.read(number, left))
    finally:
        os.close(number)
    return b"".join(read)


def file_text(path: str | os.PathLike[str]) -> str:
    """Return what stands in a file in UTF-8, each line ended by a line feed. Raises OSError as above, ValueError."""
    return file_bytes(path).decode().replace("\r\n", "\n").replace("\r", "\n")


def ordinary_file(path: str | os.PathLike[str]) -> BinaryIO:
    """Return an ordinary file, open for reading. Raises OSError as `file_bytes` does."""
    file = open(path, "rb", opener=_opened)  # noqa: SIM115  whoever asks for it closes it
    try:
        _size(file.fileno(), path)
    except OSError:
        file.close()
        raise
    return file


def _size(number: int, path: str | os.PathLike[str]) -> int:
    """Return how long an open file says that it is. Raises OSError where it is no ordinary one."""
    told = os.fstat(number)
    kind = stat.S_IFMT(told.st_mode)
    if kind != stat.S_IFREG:
        raise OSError(errno.EINVAL, f"it is {_KINDS.get(kind, 'something else')}, not a file", path)
    return told.st_size


def _opened(path: str | os.PathLike[str], flags: int) -> int:
    return os.open(path, flags | _AT_ONCE)
