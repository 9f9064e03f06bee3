"""Many rigs inspected on all cores, results in the order of the files, with flat memory."""

from __future__ import annotations

import gc
import os
import signal
import sys
from collections import deque
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Self

from rigcheck.cli.forms import REFUSED, RENDERED
from rigcheck.cli.gathering import holds_record, rig_bytes, shown_name, unreadable
from rigcheck.faults import Fault, Refused
from rigcheck.inspection import Inspection, State, inspect_rig
from rigcheck.report.layout import Line
from rigcheck.report.text import inspection_lines, refusal_lines
from rigcheck.rig.loader import load_rig
from rigcheck.rules.loading import load_pack
from rigcheck.rules.pack import Pack
from rigcheck.rules.rule import Signal

if TYPE_CHECKING:
    from concurrent.futures import Future

    from rigcheck.rig.concessions import Beside

__all__ = ["Outcome", "Task", "inspection_of", "outcomes", "with_concessions"]


@dataclass(frozen=True, slots=True)
class Task:
    """What is to be done with every file; `pack` and `beside` stay behind when it goes to a worker.

    `concessions`: the file of those that are kept beside the rigs, or nothing.
    """

    folders: tuple[str, ...]
    day: int
    local_code: str
    forms: tuple[str, ...]
    width: int
    hold_at: Signal
    on_unproven: bool
    tell_holds: bool
    pack: Pack
    concessions: str = ""
    beside: Beside | None = None


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came out for one file: its state (empty if refused), and its report in each form that is wanted.

    `reached`: which concessions of the file beside were for its rig.
    """

    state: State | str
    texts: Mapping[str, str]
    lines: tuple[Line, ...] = ()
    reached: tuple[int, ...] = ()


_POOL_FROM = 200  # files; below that the workers cost more than they bring
_CHUNK = 64
_WINDOW = 8  # chunks under way at once


def outcomes(task: Task, files: list[str]) -> Iterator[Outcome]:
    """Yield the outcome of each file, in order."""
    workers = os.cpu_count() or 1
    if len(files) < _POOL_FROM or workers == 1 or "-" in files:
        found: Iterable[Outcome] = (inspect_file(task, name) for name in files)
    else:
        found = _pooled(task, files, workers)
    return _with_progress(found, len(files))


def inspect_file(task: Task, name: str) -> Outcome:
    """Return the outcome of one file; what is wrong with it is part of the outcome."""
    try:
        inspection, reached = inspection_of(task, name)
    except Refused as refused:
        return _refused(task, name, refused.faults)
    except OSError as error:
        return _refused(task, name, (unreadable(name, error),))
    state = inspection.state(task.hold_at, on_unproven=task.on_unproven)
    texts = {form: RENDERED[form](inspection, task.hold_at, task.on_unproven) for form in task.forms if form != "text"}
    if "text" not in task.forms:
        return Outcome(state, texts, (), reached)
    lines = inspection_lines(inspection, task.width, hold_at=task.hold_at, on_unproven=task.on_unproven)
    return Outcome(state, texts, tuple(lines), reached)


def inspection_of(task: Task, name: str) -> tuple[Inspection, tuple[int, ...]]:
    """Return the inspection of one file, and which concessions of the file beside were for its rig.

    Raises `Refused`, and OSError where it cannot be read.
    """
    if task.beside is None:
        return _inspection(task, name), ()
    task.beside.reached.clear()
    return _inspection(task, name), tuple(task.beside.reached)


def _inspection(task: Task, name: str) -> Inspection:
    data = rig_bytes(name)
    if holds_record(data):
        from rigcheck.cli.recording import inspect_record  # rigs are inspected without it

        shown = shown_name(name)
        code, at, holds = task.local_code, task.hold_at, task.tell_holds
        return inspect_record(data, shown, task.pack, task.beside, local_code=code, hold_at=at, tell_holds=holds)
    rig = load_rig(data, shown_name(name), task.pack.vocabulary)
    if task.beside is not None:
        rig = task.beside.given_to(rig)
    return inspect_rig(rig, task.pack, day=task.day, local_code=task.local_code, tell_holds=task.tell_holds)


def with_concessions(task: Task) -> Task:
    """Return a task with the file of concessions that it names read. Raises `Refused`, `ProblemFound`."""
    if not task.concessions:
        return task
    from rigcheck.cli.beside import read_beside  # most runs have none

    return replace(task, beside=read_beside(task.concessions, task.pack.vocabulary))


def _refused(task: Task, name: str, faults: tuple[Fault, ...]) -> Outcome:
    texts = {form: REFUSED[form](shown_name(name), faults) for form in task.forms if form != "text"}
    lines = tuple(refusal_lines(faults, task.width)) if "text" in task.forms else ()
    return Outcome("", texts, lines)


# --- workers ---

_worker_task: Task | None = None


def _pooled(task: Task, files: list[str], workers: int) -> Iterator[Outcome]:
    from concurrent.futures import ProcessPoolExecutor  # slow to load, and wanted only for many files

    plain = replace(task, pack=None, beside=None)  # type: ignore[arg-type]
    pool = ProcessPoolExecutor(workers, initializer=_start_worker, initargs=(plain,))
    waiting: deque[Future[list[Outcome]]] = deque()
    with _CtrlC() as ctrl_c:
        try:
            for start in range(0, len(files), _CHUNK):
                waiting.append(pool.submit(_work, files[start : start + _CHUNK]))
                if len(waiting) >= _WINDOW:
                    yield from ctrl_c.unless(waiting.popleft().result())
            while waiting:
                yield from ctrl_c.unless(waiting.popleft().result())
        finally:
            pool.shutdown(wait=True, cancel_futures=True)


class _CtrlC:
    """Ctrl-C put off to between two chunks: in the middle of its own work a pool would hang on it."""

    def __enter__(self) -> Self:
        self.pressed = False
        self.before = signal.signal(signal.SIGINT, self._press)
        return self

    def __exit__(self, *_: object) -> None:
        signal.signal(signal.SIGINT, self.before)

    def _press(self, *_: object) -> None:
        self.pressed = True

    def unless(self, done: list[Outcome]) -> list[Outcome]:
        """Return what is done, unless Ctrl-C was pressed: then KeyboardInterrupt is raised."""
        if self.pressed:
            raise KeyboardInterrupt
        return done


def _start_worker(task: Task) -> None:
    """Load the pack once a worker, and leave Ctrl-C to the parent."""
    global _worker_task
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    pack = load_pack(*map(Path, task.folders))
    _worker_task = with_concessions(replace(task, pack=pack))
    gc.freeze()
    gc.disable()  # the pack is never swept again; the things of a rig point at each other, see `_work`


def _work(names: list[str]) -> list[Outcome]:
    assert _worker_task is not None
    done = [inspect_file(_worker_task, name) for name in names]
    gc.collect()  # one sweep a chunk keeps memory flat
    return done


# --- progress ---


def _with_progress(found: Iterable[Outcome], total: int) -> Iterator[Outcome]:
    if total < 2 * _CHUNK or not sys.stderr.isatty():
        return iter(found)
    from rich.console import Console
    from rich.progress import track

    console = Console(stderr=True)
    return iter(track(found, "Inspecting", total, console=console, transient=True))
