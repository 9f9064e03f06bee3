"""Many files: the same reports in the same order on all cores, and clean ends when somebody stops reading."""

from __future__ import annotations

import gc
import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from support.installed import as_installed
from support.open_files import nameless_drafts
from support.sampling import sampled

from rigcheck import load_pack, rules_folder
from rigcheck.cli import batch
from rigcheck.cli import workers as pool
from rigcheck.cli.options import REPORT_FORMS

from .conftest import HELD, OPEN, ROOT, WRONG, Run

pytestmark = pytest.mark.crowd


@pytest.fixture
def many(tmp_path: Path) -> Path:
    folder = tmp_path / "many"
    folder.mkdir()
    for number in range(250):
        text = (HELD, OPEN, WRONG)[number % 3]
        (folder / f"rig-{number:03}.yaml").write_text(text.replace("rig: ", f"rig: {number} "))
    (folder / "rig-040.yaml").write_bytes(b"\xff\xfe\x00")
    return folder


@pytest.mark.parametrize("form", sampled(REPORT_FORMS, 5))
def test_many_files_on_all_cores_give_what_they_give_one_by_one(
    many: Path, form: str, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    for path in sorted(many.iterdir())[60:-60]:
        path.unlink()
    monkeypatch.setattr(pool, "_POOL_FROM", 100)
    monkeypatch.setattr(pool, "_CHUNK", 32)
    arguments = ("inspect", many, "--format", form, "--day", "2026-11-25")
    monkeypatch.setattr(os, "cpu_count", lambda: 3)
    pooled = run(*arguments)
    monkeypatch.setattr(pool, "_POOL_FROM", 1_000_000)
    assert pooled == run(*arguments)
    assert pooled.code == 3


def test_the_workers_are_really_used(many: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    for path in sorted(many.iterdir())[60:-60]:
        path.unlink()
    monkeypatch.setattr(pool, "_POOL_FROM", 100)
    used = []
    pooled = pool._pooled
    monkeypatch.setattr(os, "cpu_count", lambda: 2)
    monkeypatch.setattr(pool, "_pooled", lambda *given: used.append(given[-1]) or pooled(*given))
    report = json.loads(run("inspect", many, "--format", "json").out)
    assert used == [2]
    assert report["totals"]["files"] == 120
    assert [entry["file"] for entry in report["entries"]] == sorted(str(path) for path in many.iterdir())


def _started(*arguments: object) -> subprocess.Popen[str]:
    command = [sys.executable, "-m", "rigcheck", *map(str, arguments)]
    environment = as_installed()
    return subprocess.Popen(
        command, cwd=ROOT, env=environment, text=True, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    )


@pytest.mark.parametrize("form", ["text", "json"])
def test_a_reader_that_goes_away_ends_the_run_quietly(many: Path, form: str) -> None:
    started = _started("inspect", many, "--format", form)
    assert started.stdout is not None
    assert started.stderr is not None
    started.stdout.readline()
    started.stdout.close()
    told = started.stderr.read()
    assert (started.wait(60), told) == (141, "")


def test_a_reader_that_goes_away_before_the_only_report_ends_the_run_quietly(tmp_path: Path) -> None:
    (tmp_path / "held.yaml").write_text(HELD)
    started = _started("inspect", tmp_path / "held.yaml")
    assert started.stdout is not None
    assert started.stderr is not None
    started.stdout.close()
    told = started.stderr.read()
    assert (started.wait(60), told) == (141, "")


def test_ctrl_c_ends_the_run_quietly_and_leaves_no_half_report(many: Path, tmp_path: Path) -> None:
    for number in range(250, 3_000):
        (many / f"rig-{number}.yaml").write_text(HELD)
    started = _started("inspect", many, "--format", "json", "--output", tmp_path / "report.json")
    waited = time.monotonic() + 60
    while not nameless_drafts(started.pid, tmp_path) and started.poll() is None and time.monotonic() < waited:
        time.sleep(0.01)
    started.send_signal(signal.SIGINT)
    out, err = started.communicate(timeout=60)
    assert (started.returncode, out, err) == (130, "", "")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["many"]


def test_a_rig_leaves_nothing_behind_for_a_sweep_to_find(many: Path) -> None:
    # The workers sweep once a chunk: what 64 rigs leave would have to be held until then.
    pack = load_pack(rules_folder())
    task = batch.Task((), 739_580, "", ("json",), 80, "warning", None, False, pack)
    names = [str(many / f"rig-00{number}.yaml") for number in range(3)]
    list(batch.outcomes(task, names[:1]))  # compiles the rules, which stay
    gc.collect()
    gc.disable()
    try:
        outcomes = list(batch.outcomes(task, names))
        assert gc.collect() < 100
    finally:
        gc.enable()
    assert [outcome.state for outcome in outcomes] == ["on hold", "not yet shown", ""]
