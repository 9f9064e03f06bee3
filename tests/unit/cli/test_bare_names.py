"""What is handed over names no folder of the machine that made it, whatever a rig was read from."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from rigcheck.rules.folders import configs_folder

from .conftest import Run

_MADE = {
    "file": ("file",),
    "drawing": ("draw",),
    "figures": ("figures", "--all"),
    "figures for programs": ("figures", "--format", "json"),
    "plots": ("figures", "--format", "svg"),
    "sheet": ("sheet", "leak-test", "--format", "html"),
}


@pytest.mark.parametrize("what", _MADE)
def test_a_register_a_look_and_a_standard_rig_are_called_by_their_names_alone(
    what: str, run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("harbour", "sites"):
        shutil.copytree(configs_folder() / name, tmp_path / "far & down" / name)
    monkeypatch.chdir(configs_folder())
    for path in ("harbour/plate-shop-2.yaml", "sites/van-pipe-repair.yaml"):
        rig, output = tmp_path / "far & down" / path, tmp_path / "made"
        command, *more = _MADE[what]
        assert run(command, rig, *more, "--day", "2026-11-25", "--output", output).code == 0
        told = output.read_text()
        assert len(told) > 1_000 and "far & down" not in told and "far &amp; down" not in told
        assert str(tmp_path) not in told and str(configs_folder()) not in told
        output.unlink()
