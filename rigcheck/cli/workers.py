"""Work over many files on all cores: results in the order of the files, with flat memory.

Whatever the work on one file ends with is a result of that file; the others are still worked on.
"""

from __future__ import annotations

import gc
import os
import signal
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from typing import TYPE_CHECKING, Any, Generic, Self, TypeVar

from msgspec import Struct

from rigcheck.cli.console import complain
from rigcheck.cli.inputs import shown_name
from rigcheck.text.faults import Fault
from rigcheck.text.place import Place

if TYPE_CHECKING:
    from multiprocessing.connection import Connection

__all__ = ["Work", "over_files"]

Task = TypeVar("Task")
Made = TypeVar("Made")

_POOL_FROM = 200  # files; below that the workers cost more than they bring
_CHUNK = 64
_WINDOW = 8  # chunks under way at once


class Work(Struct, Generic[Task, Made], frozen=True):
    """What is done with every file: functions of a module, so that they can be sent to a worker.

    `do` makes something of a file for a task; `refuse` makes the same of a file and what is wrong with it.
    `load(plain)` makes the task anew in a worker that cannot take it over; `plain` can be pickled.
    """

    do: Callable[[Task, str], Made]
    refuse: Callable[[Task, str, tuple[Fault, ...]], Made]
    load: Callable[[Any], Task]

    def done(self, task: Task, name: str) -> Made:
        """Return what is made of a file; whatever goes wrong with it is part of that."""
        try:
            return self.do(task, name)
        except Exception as error:
            from rigcheck.cli.failure import faults_of  # most files can be read

            return self.refuse(task, name, faults_of(name, error))


def over_files(work: Work[Task, Made], task: Task, files: list[str], plain: object) -> Iterator[Made]:
    """Yield what `work` makes of each file for a task, in the order of the files.

    A worker that is killed is told of, and its files are done again one by one; a file that ends a second is refused.
    Raises KeyboardInterrupt or SystemExit, between two results, where a signal ends the run.
    """
    workers = os.cpu_count() or 1
    if len(files) < _POOL_FROM or workers == 1 or "-" in files:
        return (work.done(task, name) for name in files)
    return _pooled(work, task, files, plain, workers)


def _pooled(work: Work[Task, Made], task: Task, files: list[str], plain: object, workers: int) -> Iterator[Made]:
    chunks = [files[first : first + _CHUNK] for first in range(0, len(files), _CHUNK)]
    with _PutOff() as stop, _Crew(work, task, plain, workers, stop) as crew:
        yield from crew.made(chunks)


class _Crew(Generic[Task, Made]):
    """The workers, each with a pipe of its own: one that is killed in the middle of a word stops no other.

    They end with the block, and with this process, whatever ends it.
    """

    def __init__(self, work: Work[Task, Made], task: Task, plain: object, workers: int, stop: _PutOff) -> None:
        self.work, self.task, self.plain, self.stop = work, task, plain, stop
        self.size = workers
        self.told = False

    def __enter__(self) -> Self:
        global _taken_over
        _taken_over = self.task
        self.crew = [_Worker(self.work, self.plain) for _ in range(self.size)]
        return self

    def __exit__(self, *_: object) -> None:
        global _taken_over
        _taken_over = None
        for worker in self.crew:
            worker.end()

    def made(self, chunks: list[list[str]]) -> Iterator[Made]:
        """Yield what is made of every file of the chunks, in order."""
        to_do, ready, next_one = deque(range(len(chunks))), dict[int, list[Made]](), 0
        at_work: dict[Connection, tuple[_Worker, int]] = {}
        idle = list(self.crew)
        while next_one < len(chunks):
            while idle and to_do and to_do[0] < next_one + _WINDOW:
                worker, number = idle.pop(), to_do.popleft()
                worker.give(chunks[number])
                at_work[worker.pipe] = (worker, number)
            for pipe in self.stop.answered(at_work):
                worker, number = at_work.pop(pipe)
                ready[number], worker = self._answer(worker, chunks[number])
                idle.append(worker)
            while next_one in ready:
                yield from ready.pop(next_one)
                next_one += 1

    def _answer(self, worker: _Worker, names: list[str]) -> tuple[list[Made], _Worker]:
        """Return what a worker made of its files, and the worker that goes on; it was killed if it says nothing."""
        made = worker.answer()
        if made is not None:
            return made, worker
        worker = self._replaced(worker)
        made = []
        for name in names:
            worker.give([name])
            self.stop.answered([worker.pipe])
            one = worker.answer()
            if one is None:
                worker = self._replaced(worker)
            made += [self._refused(name)] if one is None else one
        return made, worker

    def _replaced(self, worker: _Worker) -> _Worker:
        if not self.told:
            complain("a worker process was killed, perhaps for want of memory; its files are worked on again.")
        self.told = True
        worker.end()
        self.crew.remove(worker)
        self.crew.append(_Worker(self.work, self.plain))
        return self.crew[-1]

    def _refused(self, name: str) -> Made:
        read = "The process that worked on this file was killed, twice; perhaps there was not enough memory."
        return self.work.refuse(self.task, name, (Fault(Place(shown_name(name), 1, 1), read, "Work on it alone."),))


class _Worker:
    """One worker process, as its parent sees it."""

    def __init__(self, work: Work[Any, Any], plain: object) -> None:
        from multiprocessing import Pipe, Process  # slow to load, and wanted only for many files

        self.pipe, its_end = Pipe()
        self.process = Process(target=_serve, args=(its_end, work, plain), daemon=True)
        self.process.start()
        its_end.close()  # the worker alone holds it: when the worker ends, so does the pipe

    def give(self, names: list[str]) -> None:
        """Have files worked on."""
        with suppress(OSError):  # it was killed just now: it will not answer
            self.pipe.send(names)

    def answer(self) -> list[Any] | None:
        """Return what was made of the files, or None where the worker was killed."""
        try:
            return list(self.pipe.recv())
        except (OSError, EOFError):
            return None

    def end(self) -> None:
        """End the process at once: it holds nothing that has to be put in order."""
        self.process.kill()
        self.process.join()
        self.pipe.close()


_LOOK_AGAIN = 0.1  # seconds


class _PutOff:
    """Signals that end the run, put off to between two results, where nothing is half done."""

    def __enter__(self) -> Self:
        self.number = 0
        ending = (getattr(signal, name, None) for name in ("SIGINT", "SIGTERM", "SIGHUP"))
        handled = {one: signal.getsignal(one) for one in ending if one is not None}
        self.before = {one: old for one, old in handled.items() if callable(old)}  # what is ignored stays so
        for one in self.before:
            signal.signal(one, self._come)
        return self

    def __exit__(self, *_: object) -> None:
        for one, old in self.before.items():
            signal.signal(one, old)

    def _come(self, number: int, _: object) -> None:
        self.number = number

    def answered(self, pipes: Iterable[Connection]) -> list[Connection]:
        """Return the pipes that have an answer, or ended. Raises KeyboardInterrupt or SystemExit for a signal."""
        from multiprocessing.connection import wait

        found: list[Any] = []
        while not found and not self.number:
            found = wait(pipes, _LOOK_AGAIN)
        if self.number:
            raise KeyboardInterrupt if self.number == signal.SIGINT else SystemExit(128 + self.number)
        return found


# --- in a worker ---

_taken_over: Any = None  # the parent's task, where a worker is forked


def _serve(pipe: Connection, work: Work[Any, Any], plain: object) -> None:
    """Work on files until the parent ends this process; Ctrl-C is left to it."""
    from threading import Thread

    signal.signal(signal.SIGINT, signal.SIG_IGN)
    Thread(target=_end_with_parent, daemon=True).start()
    task = work.load(plain) if _taken_over is None else _taken_over
    gc.freeze()
    gc.disable()  # the pack is never swept again, and a rig is taken apart when it is judged
    while True:
        pipe.send([work.done(task, name) for name in pipe.recv()])
        gc.collect()  # what else may point at itself: one sweep a chunk keeps memory flat


def _end_with_parent() -> None:
    """End with a parent that was killed: a forked worker holds the far end of its own pipe, so that never closes."""
    from multiprocessing import parent_process

    parent = parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)
