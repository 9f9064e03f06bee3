"""A file written whole or not at all: as a draft on the same disk, which is moved to its place once it is all there.

A draft has no name where the system knows such files, so that nothing is left of it even by a process that is killed;
it has one for the moment between the two calls that put it in the place of an earlier file. Elsewhere it has a hidden
name beside that place from the beginning. What a killed process leaves under such a name the next one takes away that
writes the same file: a draft is locked by whoever writes it.
"""

from __future__ import annotations

import glob
import os
import shutil
import stat
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import BinaryIO

from rigcheck.cli.console import ProblemFound

__all__ = ["alone_in", "draft_name", "lock", "new_file", "take_dead_away", "take_dead_drafts_away", "whole_file"]


@contextmanager
def whole_file(path: Path) -> Iterator[Callable[[str], object]]:
    """Give a function that writes to a draft; at the end it takes the place of the file, whole or not at all.

    The parent folder must exist; a link stays, and what it leads to is written. The file keeps its mode.
    Raises `ProblemFound` where it cannot be written, or is a folder or a device.
    """
    with _Draft(path) as draft:
        yield draft.write
        draft.take_the_place()


def new_file(path: Path, content: bytes) -> None:
    """Write a file that must not be there yet. Raises `ProblemFound`."""
    with _Draft(path, new=True) as draft:
        draft.write_bytes(content)
        draft.take_a_free_place()


@contextmanager
def alone_in(folder: Path) -> Iterator[None]:
    """Let no other of these processes add to the files of a folder meanwhile, where the system knows such locks.

    Raises `ProblemFound` where another one does not end with it.
    """
    number = os.open(folder, os.O_RDONLY) if os.name == "posix" else None
    try:
        end = time.monotonic() + _PATIENCE
        while number is not None and _is_taken(number):
            if time.monotonic() > end:
                raise ProblemFound(f"another rigcheck writes in {folder}, and does not end; end it, and try again.")
            time.sleep(0.05)
        yield
    finally:
        if number is not None:
            os.close(number)


class _Draft:
    """The draft of one file. It is gone when the block ends, whatever ended it; raises `ProblemFound`."""

    def __init__(self, path: Path, *, new: bool = False) -> None:
        self.path = path
        with self._told():
            if new and os.path.lexists(path):
                raise FileExistsError
            self.target = Path(os.path.realpath(path))
            if self.target.exists() and not self.target.is_file():
                raise ProblemFound(f"{path} is no ordinary file; leave --output out to write to the screen or a pipe.")
        self.place = draft_name(self.target)
        self.file: BinaryIO | None = None
        self.nameless = False

    def __enter__(self) -> _Draft:
        try:
            with self._told():
                self.file = _nameless(self.target.parent)
                self.nameless = self.file is not None
                self.file = self.file or open(self.place, "xb", opener=_for_me_alone)
                lock(self.file.fileno())
        except BaseException:
            self.__exit__()
            raise
        return self

    def __exit__(self, *_: object) -> None:
        with suppress(OSError):  # it was moved away, or was never made
            os.unlink(self.place)
        if self.file is not None:
            with suppress(OSError):  # a full disk says so again; the draft is gone already
                self.file.close()

    def write(self, text: str) -> None:
        """Add text to the draft, as UTF-8."""
        self.write_bytes(text.encode("utf-8", "backslashreplace"))

    def write_bytes(self, data: bytes) -> None:
        """Add bytes to the draft."""
        assert self.file is not None
        with self._told():
            self.file.write(data)

    def take_the_place(self) -> None:
        """Put the draft where the file stands, with the mode that it has."""
        with self._told():
            self._settle(self._mode())
            if self.nameless:
                self._link(self.place)
            self._close()
            os.replace(self.place, self.target)
            self._settle_folder()

    def take_a_free_place(self) -> None:
        """Put the draft where nothing stands; what came there in the meantime is never touched."""
        with self._told():
            self._settle(0o666 & ~_umask())
            try:
                self._link(self.target)
                self._close()
            except FileExistsError:
                raise
            except OSError:  # a file system without links: take the name first, then fill it
                if self.nameless:
                    raise
                self._close()
                os.close(os.open(self.target, os.O_CREAT | os.O_EXCL | os.O_WRONLY))
                os.replace(self.place, self.target)
            self._settle_folder()

    def _settle(self, mode: int) -> None:
        """Have the whole draft on the disk, with a mode."""
        assert self.file is not None
        self.file.flush()
        os.fsync(self.file.fileno())
        os.chmod(self.file.fileno() if self.nameless else self.place, mode)

    def _link(self, path: Path) -> None:
        """Give the draft a name, or one more."""
        assert self.file is not None
        if self.nameless:
            number = self.file.fileno()  # given as a folder too, or Python does not have the link followed
            os.link(f"{_OPEN_FILES}/{number}", path, src_dir_fd=number, follow_symlinks=True)
        else:
            os.link(self.place, path)

    def _close(self) -> None:
        assert self.file is not None
        self.file.close()

    def _mode(self) -> int:
        try:
            return stat.S_IMODE(self.target.stat().st_mode)
        except FileNotFoundError:
            return 0o666 & ~_umask()

    def _settle_folder(self) -> None:
        take_dead_drafts_away(self.target)
        with suppress(OSError):  # not every system opens folders; the file itself is settled
            folder = os.open(self.target.parent, os.O_RDONLY)
            try:
                os.fsync(folder)
            finally:
                os.close(folder)

    @contextmanager
    def _told(self) -> Iterator[None]:
        """Tell what goes wrong with this file; what goes wrong elsewhere meanwhile is not taken for it."""
        try:
            yield
        except FileExistsError:
            raise ProblemFound(f"{self.path} is there already; name a file that is not.") from None
        except OSError as error:
            raise ProblemFound(f"{self.path} cannot be written: {error.strerror or error}.") from None


_OPEN_FILES = "/proc/self/fd"  # by which a file without a name is given one


def _nameless(folder: Path) -> BinaryIO | None:
    """Open a file that has no name yet, on the disk of a folder; None where that is not known."""
    if not hasattr(os, "O_TMPFILE") or not os.path.isdir(_OPEN_FILES):
        return None
    try:
        return open(os.open(folder, os.O_TMPFILE | os.O_WRONLY, 0o600), "wb")
    except OSError:  # a file system that has none; what else is wrong the other way says again
        return None


def _for_me_alone(path: str, flags: int) -> int:
    """Open a draft that nobody else reads: what stood in its place may have been as closed."""
    return os.open(path, flags, 0o600)


# --- what killed processes leave ---

_PATIENCE = 10.0  # seconds that another process may take to write an answer
_NEW = 60  # seconds; a draft is locked within far less of being made


def draft_name(target: Path) -> Path:
    """Return a hidden name beside a place, which no other process takes."""
    return target.with_name(f".{target.name[:40]}.{os.urandom(6).hex()}")


def lock(number: int) -> bool:
    """Whether an open file is now locked by this process, until it is closed; False where somebody else has it."""
    try:
        import fcntl  # no part of Python on Windows
    except ImportError:
        return False
    try:
        fcntl.flock(number, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:  # or the file system has no locks
        return False
    return True


def _is_taken(number: int) -> bool:
    """Whether somebody else has a file locked that is not locked now; not where there are no locks."""
    import fcntl  # no part of Python on Windows, and only asked for elsewhere

    try:
        fcntl.flock(number, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return True
    except OSError:
        return False
    return False


def take_dead_drafts_away(target: Path) -> None:
    """Take away what killed processes left of drafts for a place."""
    take_dead_away(target.parent.glob(f".{glob.escape(target.name[:40])}.{'[0-9a-f]' * 12}"))


def take_dead_away(left: Iterable[Path]) -> None:
    """Take away files and folders that killed processes left: what is not new, and what nobody has locked."""
    for one in left:
        with suppress(OSError):  # it is no longer there, or not ours
            if one.lstat().st_mtime < time.time() - _NEW:
                _take_away(one)


def _take_away(left: Path) -> None:
    number = os.open(left, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK)
    try:
        if lock(number):
            shutil.rmtree(left) if left.is_dir() else left.unlink()
    finally:
        os.close(number)


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
