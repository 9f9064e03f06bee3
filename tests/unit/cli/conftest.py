"""What the tests of the command line share: a runner, and two rigs of a few lines."""

from __future__ import annotations

import io
import subprocess
import sys
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import NamedTuple

import pytest
from support.installed import as_installed

from rigcheck.cli import pack_option as packing
from rigcheck.cli.main import main
from rigcheck.rules.folders import configs_folder
from rigcheck.rules.pack import Pack

ROOT = Path(__file__).parents[3]

HELD = """\
rig: Leaning set
inspected: 2026-11-25
trolley: {tilt: 30 deg}
lines:
  - gas: acetylene
    parts: [cylinder, regulator, hose]
  - gas: oxygen
    parts: [cylinder, regulator, hose]
torch: {form: cutting}
"""
OPEN = (
    (configs_folder() / "templates" / "air-aspirated-propane-brazing.yaml")
    .read_text(encoding="utf-8")
    .replace("rig: Air-aspirated propane brazing", "rig: Set of which little is known")
)
WRONG = "rig: Wrong set\nlines:\n  - gas: acetilene\n    parts: [hose, gizmo]\n"


class Ran(NamedTuple):
    """What a command gave."""

    code: int
    out: str
    err: str


Run = Callable[..., Ran]


@pytest.fixture(autouse=True)
def _pack_read_once(monkeypatch: pytest.MonkeyPatch, _reader: Callable[..., Pack]) -> None:
    monkeypatch.setattr(packing, "load_pack", _reader)


@pytest.fixture(scope="session")
def _reader() -> Callable[..., Pack]:
    return cache(packing.load_pack)


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    """Run a command in this process."""
    monkeypatch.delenv("FORCE_COLOR", raising=False)
    monkeypatch.setenv("COLUMNS", "80")

    def call(*arguments: object, given: bytes = b"") -> Ran:
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(given)))
        try:
            code = main([str(argument) for argument in arguments])
        except SystemExit as stopped:
            code = int(stopped.code or 0)
        told = capsys.readouterr()
        return Ran(code, told.out, told.err)

    return call


def run_apart(*arguments: object, cwd: Path = ROOT, given: str = "", timeout: float = 60, **more: str) -> Ran:
    """Run a command in a process of its own, as a user does."""
    command = [sys.executable, "-m", "rigcheck", *map(str, arguments)]
    done = subprocess.run(
        command,
        cwd=cwd,
        env=as_installed(**{"COLUMNS": "80", **more}),
        input=given,
        text=True,
        capture_output=True,
        timeout=timeout,
        check=False,
    )
    return Ran(done.returncode, done.stdout, done.stderr)


@pytest.fixture
def apart() -> Run:
    """Run a command in a process of its own."""
    return run_apart


@pytest.fixture
def rig(tmp_path: Path) -> Path:
    """The file of a rig on hold."""
    path = tmp_path / "rig.yaml"
    path.write_text(HELD, encoding="utf-8")
    return path


@pytest.fixture
def rigs(tmp_path: Path) -> Path:
    """A folder with one rig on hold, one of which little is known, and one that cannot be read."""
    folder = tmp_path / "rigs"
    (folder / "deeper").mkdir(parents=True)
    (folder / "held.yaml").write_text(HELD)
    (folder / "deeper" / "open.yml").write_text(OPEN)
    (folder / "wrong.yaml").write_text(WRONG)
    return folder
