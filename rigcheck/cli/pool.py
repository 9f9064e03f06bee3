"""Work over many files on all cores: results in the order of the files, with flat memory."""

from __future__ import annotations

import os
import signal
from collections import deque
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Any, Self, TypeVar

if TYPE_CHECKING:
    from concurrent.futures import Future

__all__ = ["over_files"]

Made = TypeVar("Made")

_POOL_FROM = 200  # files; below that the workers cost more than they bring
_CHUNK = 64
_WINDOW = 8  # chunks under way at once


def over_files(
    work: Callable[[list[str]], list[Made]], files: list[str], start: Callable[..., None], given: tuple[Any, ...]
) -> Iterator[Made]:
    """Yield what `work` makes of the files, in order; `start(*given)` makes a worker ready, and this process too.

    `work` and `start` are functions of a module. Raises KeyboardInterrupt between two chunks.
    """
    workers = os.cpu_count() or 1
    if len(files) < _POOL_FROM or workers == 1 or "-" in files:
        start(*given)
        return (made for name in files for made in work([name]))
    return _pooled(work, files, start, given, workers)


def _pooled(
    work: Callable[[list[str]], list[Made]],
    files: list[str],
    start: Callable[..., None],
    given: tuple[Any, ...],
    workers: int,
) -> Iterator[Made]:
    from concurrent.futures import ProcessPoolExecutor  # slow to load, and wanted only for many files

    pool = ProcessPoolExecutor(workers, initializer=_quiet_start, initargs=(start, given))
    waiting: deque[Future[list[Made]]] = deque()
    with _PutOff() as ctrl_c:
        try:
            for first in range(0, len(files), _CHUNK):
                waiting.append(pool.submit(work, files[first : first + _CHUNK]))
                if len(waiting) >= _WINDOW:
                    yield from ctrl_c.unless(waiting.popleft().result())
            while waiting:
                yield from ctrl_c.unless(waiting.popleft().result())
        finally:
            pool.shutdown(wait=True, cancel_futures=True)


def _quiet_start(start: Callable[..., None], given: tuple[Any, ...]) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for the parent
    start(*given)


class _PutOff:
    """Ctrl-C put off to between two chunks: in the middle of its own work a pool would hang on it."""

    def __enter__(self) -> Self:
        self.pressed = False
        self.before = signal.signal(signal.SIGINT, self._press)
        return self

    def __exit__(self, *_: object) -> None:
        signal.signal(signal.SIGINT, self.before)

    def _press(self, *_: object) -> None:
        self.pressed = True

    def unless(self, done: list[Made]) -> list[Made]:
        """Return what is done, unless Ctrl-C was pressed."""
        if self.pressed:
            raise KeyboardInterrupt
        return done
