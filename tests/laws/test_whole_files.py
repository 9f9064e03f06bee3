"""A report is whole or not there: whatever ends the run, the file has all of the old text or all of the new."""

from __future__ import annotations

import json
import os
import random
import signal
import stat
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from support.in_full import text_in_full
from support.installed import as_installed
from support.open_files import nameless_drafts
from support.sampling import sampled

pytestmark = pytest.mark.crowd

_ROOT = Path(__file__).parents[2]
_RIG = """\
rig: Leaning set
inspected: 2026-11-25
trolley: {tilt: 30 deg}
lines:
  - {gas: acetylene, parts: [cylinder, regulator, hose]}
  - {gas: oxygen, parts: [cylinder, regulator, hose]}
torch: {form: cutting}
"""
# Writes reports of one letter, each a JSON text, over and over: what a run does with --output, without judging.
_WRITER = """
import json, sys
from pathlib import Path
from rigcheck.cli.draft import whole_file
letter, size, path = sys.argv[1], int(sys.argv[2]), Path(sys.argv[3])
while True:
    with whole_file(path) as write:
        for part in (json.dumps([letter * size]),):
            write(part)
    print("written", flush=True)
"""


def _writer(letter: str, size: int, path: Path) -> subprocess.Popen[bytes]:
    command = [sys.executable, "-c", _WRITER, letter, str(size), str(path)]
    return subprocess.Popen(command, env=as_installed(COLUMNS="80"), stdout=subprocess.PIPE, stderr=subprocess.PIPE)


def _is_whole(path: Path, size: int) -> bool:
    [text] = json.loads(path.read_text())
    return len(text) == size and len(set(text)) == 1


def _limited(arguments: list[str], folder: Path, blocks: int) -> subprocess.CompletedProcess[str]:
    """Run a command that may write no file of more than so many kilobytes: to it, the disk is full there."""
    command = ["bash", "-c", f'ulimit -f {blocks}; exec "$@"', "-", sys.executable, "-m", "rigcheck", *arguments]
    return subprocess.run(
        command, cwd=folder, env=as_installed(COLUMNS="80"), text=True, capture_output=True, check=False
    )


# --- no more room ---


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "rig.yaml").write_text(_RIG)
    return tmp_path


@pytest.mark.parametrize("before", [None, "rigcheck inspection\n\nof last month\n"])
def test_a_report_that_finds_no_room_leaves_what_was_there(folder: Path, before: str | None) -> None:
    report = folder / "report.txt"
    if before:
        report.write_text(before)
    done = _limited(["inspect", "rig.yaml", "--questions", "all", "--output", "report.txt"], folder, blocks=8)
    assert (done.returncode, done.stderr) == (2, "rigcheck: report.txt cannot be written: File too large.\n")
    assert (report.read_text() if report.exists() else None) == before
    assert {path.name for path in folder.iterdir()} <= {"rig.yaml", "report.txt"}


def test_a_new_rig_that_finds_no_room_is_not_there_and_can_be_tried_again(folder: Path) -> None:
    done = _limited(["new", "oxy-propane-cutting", "new.yaml"], folder, blocks=1)
    assert (done.returncode, done.stderr) == (2, "rigcheck: new.yaml cannot be written: File too large.\n")
    assert [path.name for path in folder.iterdir()] == ["rig.yaml"]
    assert _limited(["new", "oxy-propane-cutting", "new.yaml"], folder, blocks=1_000).returncode == 0


def test_tables_that_find_no_room_are_not_there_and_leave_nothing(folder: Path) -> None:
    done = _limited(["rows", "rig.yaml", "--output", "tables"], folder, blocks=8)
    assert (done.returncode, done.stderr) == (2, "rigcheck: tables cannot be written: File too large.\n")
    assert [path.name for path in folder.iterdir()] == ["rig.yaml"]


# --- a mode that is kept ---


@pytest.mark.parametrize("mode", [0o600, 0o640, 0o664])
def test_a_report_that_is_written_again_keeps_its_mode(folder: Path, mode: int) -> None:
    report = folder / "report.txt"
    report.write_text("rigcheck inspection\n")
    report.chmod(mode)
    _limited(["inspect", "rig.yaml", "--output", "report.txt"], folder, blocks=1_000)
    assert stat.S_IMODE(report.stat().st_mode) == mode
    assert report.stat().st_size > 1_000


# --- ended from outside ---


@pytest.mark.parametrize("size", [300, 200_000])
def test_a_killed_writer_leaves_the_old_or_the_new_text_whole(tmp_path: Path, size: int) -> None:
    report, dice = tmp_path / "report.json", random.Random(size)
    report.write_text(json.dumps(["z" * size]))
    for number in range(12):
        writer = _writer("abc"[number % 3], size, report)
        assert writer.stdout is not None
        writer.stdout.readline()  # it is in its rounds
        time.sleep(dice.uniform(0, 0.01))
        writer.kill()
        writer.communicate()
        assert _is_whole(report, size)


def test_a_reader_among_twenty_writers_never_reads_half_a_report(tmp_path: Path) -> None:
    report = tmp_path / "report.json"
    writers = [_writer("abcdefghijklmnopqrst"[number], 3_000, report) for number in range(20)]
    try:
        reads = [_is_whole(report, 3_000) for _ in _while_written(report, 2)]
    finally:
        for writer in writers:
            writer.terminate()
        errors = [writer.communicate()[1] for writer in writers]
    assert len(reads) > 100
    assert all(reads)
    assert errors == [b""] * 20


def _while_written(report: Path, seconds: float) -> Iterator[None]:
    while not report.exists():
        time.sleep(0.01)
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        yield


@pytest.fixture
def many(tmp_path: Path) -> Path:
    """More rigs than are judged before a signal comes."""
    folder = tmp_path / "many"
    folder.mkdir()
    rig = text_in_full("pipe-loft-brazing")  # of one that leaves much open the report is long
    for number in range(_MANY):
        (folder / f"rig-{number:04}.yaml").write_text(rig)
    return folder


_MANY = 210  # a few more than go to workers
_CODES = {signal.SIGTERM: 143, signal.SIGHUP: 129, signal.SIGINT: 130}


def _started(many: Path, *more: str) -> subprocess.Popen[str]:
    command = [sys.executable, "-m", "rigcheck", "inspect", str(many), "--day", "2026-12-24", *more]  # overdue
    return subprocess.Popen(
        command,
        cwd=many.parent,
        env=as_installed(COLUMNS="80"),
        text=True,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )


def _draft(folder: Path, started: subprocess.Popen[str]) -> None:
    """Wait until the draft of a report has something in it."""
    waited = time.monotonic() + 60
    while started.poll() is None and time.monotonic() < waited:
        if any(size > 10_000 for size in nameless_drafts(started.pid, folder)):
            return
        time.sleep(0.01)
    raise AssertionError("no draft")


def _children(of: int) -> list[int]:
    """Return the numbers of the processes that a process started."""
    found = []
    for entry in Path("/proc").glob("[0-9]*/stat"):
        try:
            parent = entry.read_text().rpartition(")")[2].split()[1]
        except OSError:  # it has ended
            continue
        if int(parent) == of:
            found.append(int(entry.parent.name))
    return found


def _gone(numbers: list[int], seconds: float) -> bool:
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        if not any(_runs(number) for number in numbers):
            return True
        time.sleep(0.05)
    return False


def _runs(number: int) -> bool:
    try:
        return Path(f"/proc/{number}/stat").read_text().rpartition(")")[2].split()[0] != "Z"
    except OSError:
        return False


@pytest.mark.parametrize("number", sampled(_CODES, 2))
def test_a_signal_ends_the_run_and_its_workers_soon_and_leaves_nothing_behind(
    many: Path, number: signal.Signals
) -> None:
    started = _started(many, "--format", "json", "--output", "report.json")
    _draft(many.parent, started)
    workers = _children(started.pid)
    started.send_signal(number)
    began = time.monotonic()
    out, err = started.communicate(timeout=60)
    assert (started.returncode, out, err) == (_CODES[number], "", "")
    assert time.monotonic() - began < 2
    assert _gone(workers, 2)
    assert [path.name for path in many.parent.iterdir()] == ["many"]


def test_workers_end_with_a_parent_that_is_killed_and_nothing_is_left_behind(many: Path) -> None:
    started = _started(many, "--format", "json", "--output", "report.json")
    _draft(many.parent, started)
    workers = _children(started.pid)
    started.kill()
    started.communicate()
    assert len(workers) > 1
    assert _gone(workers, 5)
    assert [path.name for path in many.parent.iterdir()] == ["many"]


def test_a_killed_worker_is_told_of_and_every_file_is_in_the_report(many: Path) -> None:
    started = _started(many, "--format", "json", "--output", "report.json")
    _draft(many.parent, started)
    os.kill(_children(started.pid)[0], signal.SIGKILL)
    _, err = started.communicate(timeout=120)
    report = json.loads((many.parent / "report.json").read_text())
    assert started.returncode == 1
    assert err == "rigcheck: a worker process was killed, perhaps for want of memory; its files are worked on again.\n"
    assert report["totals"]["files"] == report["totals"]["on_hold"] == _MANY
    assert [entry["file"] for entry in report["entries"]] == sorted(str(path) for path in many.iterdir())
