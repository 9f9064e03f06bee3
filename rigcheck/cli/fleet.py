"""Work over many files on many machines: what one does, mapped by Dask, with results in the order of the files.

A worker that is killed loses nothing: the scheduler gives its files to another one, and each result is taken once.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from functools import lru_cache
from threading import Lock
from typing import Any, TypeVar

from rigcheck.cli.console import ProblemFound
from rigcheck.cli.inputs import shown_name
from rigcheck.cli.workers import Work
from rigcheck.text.faults import Fault
from rigcheck.text.place import Place

__all__ = ["over_fleet"]

Made = TypeVar("Made")
_CHUNK = 64  # files
_AHEAD = 4  # chunks under way for each core of the fleet: more would only wait in its memory


def over_fleet(
    work: Work[Any, Made], task: object, files: list[str], plain: object, scheduler: str, chunk: int = _CHUNK
) -> Iterator[Made]:
    """Yield what `work` makes of each file, in the order of the files, worked on where the scheduler says.

    Its workers must have rigcheck of the same version, and see the files under the same names.
    Raises `ProblemFound` where the library or the scheduler is not there.
    """
    try:
        from distributed import Client
    except ImportError:
        raise ProblemFound("a fleet needs the library distributed: install rigcheck[fleet].") from None
    try:
        client = Client(scheduler, set_as_default=False, timeout="10s")
    except (OSError, ValueError) as error:
        raise ProblemFound(f"no scheduler answers at {scheduler}: {error}.") from None
    with client:
        chunks = iter([files[first : first + chunk] for first in range(0, len(files), chunk)])
        ahead = _AHEAD * max(1, sum(client.ncores().values()))
        under_way: deque[tuple[list[str], Any]] = deque()
        while True:
            while len(under_way) < ahead and (names := next(chunks, None)) is not None:
                under_way.append((names, client.submit(_made, work, plain, names, pure=False)))
            if not under_way:
                return
            names, future = under_way.popleft()
            yield from _result(client, work, task, plain, names, future)


def _result(
    client: Any, work: Work[Any, Made], task: object, plain: object, names: list[str], future: Any
) -> list[Made]:
    """Return what was made of some files; where they ended several workers, each is tried by itself."""
    from distributed import KilledWorker

    try:
        return list(future.result())
    except KilledWorker:
        if len(names) == 1:
            read = "The processes that worked on this file were killed; perhaps there was not enough memory."
            return [work.refuse(task, names[0], (Fault(Place(shown_name(names[0]), 1, 1), read, "Work on it alone."),))]
        alone = [([name], client.submit(_made, work, plain, [name], pure=False)) for name in names]
        return [made for one, each in alone for made in _result(client, work, task, plain, one, each)]


# --- on a worker ---

_one_at_a_time = Lock()  # a pack keeps what was worked out, for one rig at a time


def _made(work: Work[Any, Made], plain: object, names: list[str]) -> list[Made]:
    with _one_at_a_time:
        task = _loaded(work, plain)
        return [work.done(task, name) for name in names]


@lru_cache(maxsize=1)
def _loaded(work: Work[Any, Any], plain: object) -> Any:
    return work.load(plain)
