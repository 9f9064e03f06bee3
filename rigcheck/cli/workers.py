"""Work over many files on all cores: results in the order of the files, with flat memory."""

from __future__ import annotations

import gc
import os
import signal
from collections import deque
from collections.abc import Callable, Iterator
from functools import partial
from typing import TYPE_CHECKING, Any, Self, TypeVar

if TYPE_CHECKING:
    from concurrent.futures import Future

__all__ = ["over_files"]

Task = TypeVar("Task")
Plain = TypeVar("Plain")
Made = TypeVar("Made")

_POOL_FROM = 200  # files; below that the workers cost more than they bring
_CHUNK = 64
_WINDOW = 8  # chunks under way at once


def over_files(
    work: Callable[[Task, str], Made], task: Task, files: list[str], load: Callable[[Plain], Task], plain: Plain
) -> Iterator[Made]:
    """Yield what `work` makes of each file for a task, in the order of the files.

    `load(plain)` makes the task anew in a worker that cannot take it over; `plain` can be pickled.
    `work` and `load` are functions of a module.
    Raises KeyboardInterrupt between two chunks.
    """
    workers = os.cpu_count() or 1
    if len(files) < _POOL_FROM or workers == 1 or "-" in files:
        return (work(task, name) for name in files)
    return _pooled(partial(work, task), files, (work, load, plain), workers)


def _pooled(doing: Callable[[str], Made], files: list[str], given: tuple[Any, ...], workers: int) -> Iterator[Made]:
    from concurrent.futures import ProcessPoolExecutor  # slow to load, and wanted only for many files

    global _doing
    _doing = doing
    pool = ProcessPoolExecutor(workers, initializer=_start_worker, initargs=given)
    waiting: deque[Future[list[Made]]] = deque()
    with _PutOff() as ctrl_c:
        try:
            for first in range(0, len(files), _CHUNK):
                waiting.append(pool.submit(_chunk_done, files[first : first + _CHUNK]))
                if len(waiting) >= _WINDOW:
                    yield from ctrl_c.unless(waiting.popleft().result())
            while waiting:
                yield from ctrl_c.unless(waiting.popleft().result())
        finally:
            pool.shutdown(wait=True, cancel_futures=True)
            _doing = None


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
        """Return what is done, unless Ctrl-C was pressed: then KeyboardInterrupt is raised."""
        if self.pressed:
            raise KeyboardInterrupt
        return done


# --- in a worker ---

_doing: Callable[[str], Any] | None = None


def _start_worker(work: Callable[[Task, str], Made], load: Callable[[Plain], Task], plain: Plain) -> None:
    """Leave Ctrl-C to the parent, and load the task, unless a forked worker has its parent's."""
    global _doing
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if _doing is None:
        _doing = partial(work, load(plain))
    gc.freeze()
    gc.disable()  # the pack is never swept again, and a rig is taken apart when it is judged


def _chunk_done(names: list[str]) -> list[Any]:
    assert _doing is not None
    done = [_doing(name) for name in names]
    gc.collect()  # what else may point at itself: one sweep a chunk keeps memory flat
    return done
