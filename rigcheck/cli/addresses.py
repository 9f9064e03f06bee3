"""Rigs that do not lie on this machine's disk: a folder, an archive or an object store, named by an fsspec address.

What is there is fetched into a folder of its own, so that a rig finds what lies beside it as it always does, and is
called by its address in every report: the name of that folder says which. What lies above an address is not seen.
The folder goes with this process; what a killed one left, the next one takes away that fetches something.
"""

from __future__ import annotations

import os
import posixpath
import re
from collections import Counter
from collections.abc import Callable, Collection, Mapping
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory, gettempdir
from threading import Event, Thread
from time import monotonic
from typing import Any, TypeVar
from urllib.parse import quote

from rigcheck.cli.console import ProblemFound
from rigcheck.cli.draft import lock, take_dead_away
from rigcheck.text.address import FETCHED, folder_of
from rigcheck.text.harmless import visible
from rigcheck.text.yamlfile import LARGEST

__all__ = ["end_without_answer", "fetched"]

_T = TypeVar("_T")
_LONGEST = 240  # bytes; the name of a folder can have no more
_ANSWER, _MUCH = 60.0, 300.0  # seconds that a store has for an answer, and for a list or a lot of files
_LOT = 128  # files that are asked for together
_folders: list[TemporaryDirectory[str]] = []  # each goes when this process ends
_asked: list[Event] = []  # each is set when the store has answered


def fetched(address: str, wanted: Callable[[str], bool]) -> str:
    """Return the path of what an address names, fetched: a folder with all YAML below it, or a file with its folder.

    A look or a register may lie there. `wanted` says which files are read, by their names.

    Raises `ProblemFound` where the library, the store or what is named is not there.
    """
    try:
        from fsspec.core import url_to_fs
    except ImportError:
        raise ProblemFound(f"{address}: an address needs the library fsspec: install rigcheck[remote].") from None
    try:
        store, path = _answered(lambda: url_to_fs(address))
        return _fetched(store, path, address, wanted)
    except ProblemFound:
        raise
    except Exception as error:  # every store has errors of its own
        told = getattr(error, "strerror", None) or f"{type(error).__name__}: {error}"
        raise ProblemFound(f"{address} cannot be read: {told}.") from None


def end_without_answer(code: int) -> None:
    """End this process where a store still owes an answer: what waits for it could keep the process for ever."""
    if not all(one.is_set() for one in _asked):
        for folder in _folders:
            folder.cleanup()
        os._exit(code)


def _answered(act: Callable[[], _T], seconds: float | None = None) -> _T:
    """Return what a store answers. Raises what it raises, and `ProblemFound` where it is silent for so long."""
    answers: list[_T] = []
    errors: list[BaseException] = []

    def wait() -> None:
        try:
            answers.append(act())
        except BaseException as error:
            errors.append(error)
        answered.set()

    _asked.append(answered := Event())
    Thread(target=wait, daemon=True).start()
    # Here, and not in the store's own code, Ctrl-C ends it at once. In short waits: a signal that comes just before one
    # is seen after it only; and no join: one that is cut off forgets its thread.
    end = monotonic() + (seconds := seconds or _ANSWER)
    while not answered.wait(min(0.5, seconds)):
        if monotonic() > end:
            raise TimeoutError(None, f"there is no answer for {seconds:g} s")
    _asked.remove(answered)
    if errors:
        raise errors[0]
    return answers[0]


def _fetched(store: Any, path: str, address: str, wanted: Callable[[str], bool]) -> str:
    path = path.rstrip("/")
    if _answered(lambda: store.isdir(path)):
        root = _root(address)
        _fetch(store, path, root, wanted)
        return root
    if not _answered(lambda: store.exists(path)):
        raise ProblemFound(f"{address} cannot be read: there is nothing of that name.")
    root = _root(folder_of(address))
    _fetch(store, posixpath.dirname(path), root, wanted)
    return os.path.join(root, posixpath.basename(path))


def _root(address: str) -> str:
    name = quote(address, safe="")
    if len(name) > _LONGEST:
        raise ProblemFound(f"{address} is too long an address.")
    take_dead_away(Path(gettempdir()).glob(f"{FETCHED}*"))
    holding = TemporaryDirectory(prefix=FETCHED)
    _folders.append(holding)
    if os.name == "posix":
        lock(os.open(holding.name, os.O_RDONLY))  # until this process and its workers end, however they do
    root = os.path.join(os.path.realpath(holding.name), name)
    os.mkdir(root)
    return root


def _fetch(store: Any, top: str, root: str, wanted: Callable[[str], bool]) -> None:
    """Lay the YAML files below a folder of a store into one here; of one that is too large, enough to say so."""
    _refuse_twins(store)
    small: list[tuple[str, str]] = []
    large: list[tuple[str, str]] = []
    found: Mapping[str, Mapping[str, Any]] = _answered(lambda: store.find(top, detail=True), _MUCH)
    _refuse_bomb(found.values())
    for name, told in found.items():
        below = posixpath.relpath(name, top) if top else name.lstrip("/")
        if ".." in re.split(r"[/\\]", below):  # an archive may say so
            raise ProblemFound(f"{name} would lie outside of what the address names; it is not read.")
        *folders, called = below.split("/")
        if wanted(called) and not any(one.startswith(".") for one in folders):
            lot = large if (told.get("size") or 0) > LARGEST else small
            lot.append((name, os.path.join(root, *below.split("/"))))
    for folder in {os.path.dirname(path) for _, path in (*small, *large)}:
        os.makedirs(folder, exist_ok=True)
    for at in range(0, len(small), _LOT):
        names, paths = zip(*small[at : at + _LOT], strict=True)
        _answered(partial(store.get, list(names), list(paths)), _MUCH)
    for name, path in large:
        with open(path, "wb") as file:
            file.write(_answered(partial(store.cat_file, name, start=0, end=LARGEST + 1), _MUCH))


def _refuse_twins(store: Any) -> None:
    """Refuse an archive that has two files of one name: only one of them would be read."""
    names = store.zip.namelist() if hasattr(store, "zip") else []
    twice = [name for name, times in Counter(names).items() if times > 1]
    if twice:
        raise ProblemFound(f"the archive has {visible(twice[0])} twice; it is not known which one is meant.")


_UNPACKED, _TIMES = 64 * 1024 * 1024, 100  # bytes; descriptions become 3 to 20 times as small, much alike 60 times


def _refuse_bomb(found: Collection[Mapping[str, Any]]) -> None:
    """Refuse an archive that would fill the disk with very much of very little."""
    whole = sum(min(one.get("size") or 0, LARGEST) for one in found)
    packed = sum(one.get("compress_size") or one.get("size") or 0 for one in found)
    if whole > _UNPACKED and whole > packed * _TIMES:
        raise ProblemFound(f"it unpacks to more than {_TIMES} times its size; unpack it yourself, and name the folder.")
