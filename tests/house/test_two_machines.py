"""What is handed over is made of rig, rules, day and version alone: two installs give the same bytes, and no paths."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from support.in_full import text_in_full
from support.installed import installed
from support.sampling import sampled

pytestmark = pytest.mark.crowd

_ROOT = Path(__file__).parents[2]
_DAY = "2026-11-25"
_MADE = {
    "file": ("file", "{rig}"),
    "draw": ("draw", "{rig}"),
    "figures": ("figures", "{rig}"),
    "plots": ("figures", "{rig}", "--format", "svg"),
    "sheet": ("sheet", "{rig}", "leak-test", "--format", "html"),
    "report": ("inspect", "rigs", "--format", "text"),
    "json": ("inspect", "rigs", "--format", "json"),
    "sarif": ("inspect", "rigs", "--format", "sarif"),
    "due": ("due", "rigs", "--format", "icalendar"),
    "junit": ("inspect", "rigs", "--format", "junit"),
    "markdown": ("inspect", "rigs", "--format", "markdown"),
    "summary": ("summary", "rigs"),
    "overview": ("summary", "rigs", "--format", "json"),
    "compare": ("compare", "rigs/van-pipe-repair.yaml", "rigs/tool-room-welding.yaml"),
    "history": ("history", "rigs/van-pipe-repair.yaml"),
    "table": ("due", "rigs", "--format", "csv"),
    "walk": ("ask", "rigs/van-pipe-repair.yaml", "--paper"),
    "rule": ("rules", "show", "hoses/twin_hoses_part_freely"),
}

_SHORT = {"history", "walk"}


@pytest.fixture(scope="module")
def installs(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """Two installs in folders of different names, each with the same rig beside it."""
    made = (tmp_path_factory.mktemp("one-machine"), tmp_path_factory.mktemp("another") / "place" / "far down")
    for install in made:
        shutil.copytree(installed(), install / "lib")
        (install / "work" / "rigs").mkdir(parents=True)
        for rig in ("van-pipe-repair", "tool-room-welding"):
            (install / "work" / "rigs" / f"{rig}.yaml").write_text(text_in_full(rig), encoding="utf-8")
    return made


def _handed(install: Path, *arguments: str) -> bytes:
    """Return what a command makes in an install of its own."""
    environment = {**os.environ, "PYTHONPATH": str(install / "lib"), "COLUMNS": "80"}
    environment.pop("FORCE_COLOR", None)
    named = Path("rigs", "van-pipe-repair.yaml")  # on one machine by its whole path, on the other from where it works
    rig = named if install.name == "far down" else install / "work" / named
    command = [sys.executable, "-m", "rigcheck", *(one.format(rig=rig) for one in arguments), "--day", _DAY]
    return subprocess.run(
        command, cwd=install / "work", env=environment, capture_output=True, timeout=120, check=False
    ).stdout


@pytest.mark.parametrize("what", sampled(_MADE, 3))
def test_two_installs_make_the_same_bytes_without_a_path_of_either(what: str, installs: tuple[Path, Path]) -> None:
    one, other = (_handed(install, *_MADE[what]) for install in installs)
    assert len(one) > (250 if what in _SHORT else 1_000)
    assert one == other
    assert not any(str(install).encode() in one for install in (*installs, installed()))
