"""A store that does not answer ends a run in a line, and a run that is killed leaves nothing for good."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from threading import Event
from typing import Any

import fsspec
import pytest
from support.installed import as_installed

from rigcheck.cli import addresses

from .conftest import HELD, Run

pytestmark = pytest.mark.crowd

_DAY = ("--day", "2026-11-25")
_SILENT = """
import sys
from concurrent.futures import ThreadPoolExecutor
from threading import Event
from fsspec.implementations.memory import MemoryFileSystem
from rigcheck.cli import addresses
from rigcheck.cli.entry import start

def silent(*given, **more):
    sys.stdout.write("waits\\n"); sys.stdout.flush()
    ThreadPoolExecutor().submit(Event().wait, 100).result()  # as a store does that looks its host up

MemoryFileSystem().pipe("/yard/a.yaml", b"rig: a")
setattr(MemoryFileSystem, sys.argv[1], silent)
addresses._ANSWER = addresses._MUCH = float(sys.argv[2])
sys.argv[1:] = ["inspect", "memory://yard"]
sys.exit(start())
"""


@pytest.fixture
def store(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Iterator[Any]:
    """A store in memory with a rig, a look that is too large, and little patience with it."""
    as_installed()  # which lies where temporary files do
    (tmp_path / "temporary").mkdir()
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path / "temporary"))
    monkeypatch.setattr(addresses, "_ANSWER", 0.2)
    monkeypatch.setattr(addresses, "_MUCH", 0.2)
    made = fsspec.filesystem("memory")
    made.pipe("/yard/rig.yaml", HELD.encode())
    made.pipe("/yard/large.yaml", b"#" * (addresses.LARGEST + 1))
    yield made
    made.store.clear()
    made.pseudo_dirs[:] = [""]
    addresses._folders.clear()
    addresses._asked.clear()


@pytest.mark.parametrize("command", ["inspect", "due", "summary"])
def test_a_host_that_takes_a_call_and_never_answers_is_told_in_a_line(command: str, run: Run, store: Any) -> None:
    with socket.create_server(("127.0.0.1", 0)) as host:
        address = f"ftp://127.0.0.1:{host.getsockname()[1]}/yard"
        ran = run(command, address, *_DAY)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err == f"rigcheck: {address} cannot be read: there is no answer for 0.2 s.\n"


@pytest.mark.parametrize("act", ["isdir", "exists", "find", "get", "cat_file"])
def test_whatever_a_store_is_silent_at_the_run_ends(
    act: str, run: Run, store: Any, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    answer = Event()
    monkeypatch.setattr(type(store), act, lambda *given, **more: answer.wait(20))
    address = "memory://nothing" if act == "exists" else "memory://yard"
    ran = run("inspect", address, *_DAY)
    answer.set()
    addresses._folders.clear()
    assert (ran.code, ran.out) == (2, "") and "there is no answer for 0.2 s" in ran.err and ran.err.count("\n") == 1
    assert list((tmp_path / "temporary").iterdir()) == []


def _started(act: str, patience: float, folder: Path) -> subprocess.Popen[str]:
    command = [sys.executable, "-c", _SILENT, act, str(patience)]
    environment = as_installed(TMPDIR=str(folder))
    return subprocess.Popen(command, env=environment, text=True, stdout=subprocess.PIPE, stderr=subprocess.PIPE)


def test_the_process_ends_though_the_store_still_waits(tmp_path: Path) -> None:
    started = _started("get", 0.2, tmp_path)
    _, told = started.communicate(timeout=30)
    assert started.returncode == 2 and "no answer" in told and told.count("\n") == 1
    assert list(tmp_path.iterdir()) == []


def test_ctrl_c_ends_the_wait_at_once(tmp_path: Path) -> None:
    started = _started("get", 90, tmp_path)
    assert started.stdout is not None and started.stdout.readline() == "waits\n"
    started.send_signal(signal.SIGINT)
    assert started.communicate(timeout=30)[1] == "" and started.returncode == 130
    assert list(tmp_path.iterdir()) == []


def test_what_a_killed_run_fetched_is_taken_away_by_the_next_and_not_while_it_runs(
    run: Run, store: Any, tmp_path: Path
) -> None:
    temporary = Path(tempfile.gettempdir())
    started = _started("get", 90, temporary)
    assert started.stdout is not None and started.stdout.readline() == "waits\n"
    (left,) = temporary.iterdir()
    os.utime(left, (0, 0))
    run("inspect", "memory://yard", *_DAY)
    assert left in temporary.iterdir()
    started.kill()
    started.communicate()
    (other := temporary / ".rigcheck-fetched-new").mkdir()  # begun just now, and not locked yet
    run("inspect", "memory://yard", *_DAY)
    assert left not in temporary.iterdir() and other in temporary.iterdir()
