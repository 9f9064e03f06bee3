"""A register on the command line: inspected by itself, as one file or as a folder of them."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from .conftest import HELD, Run

_DAY = ("--day", "2026-11-25")
PARTS = """\
register: invented harbour stores
things:
  H-0231: {as: hose-20, cover: cracked}
  R-1: {regulator: {made: 2024-01}}
"""
KINDS = "register: invented harbour stores\nkinds:\n  hose-20: {hose: {bore: 8 mm, length: 20 m, made: 2024-05}}\n"


@pytest.fixture
def stores(tmp_path: Path) -> Path:
    """A folder with a register of two files."""
    folder = tmp_path / "register"
    folder.mkdir()
    (folder / "parts.yaml").write_text(PARTS)
    (folder / "kinds.yaml").write_text(KINDS)
    return folder


def test_a_folder_of_a_registers_files_is_one_register(run: Run, stores: Path) -> None:
    ran = run("inspect", *_DAY, stores)
    assert ran.code == 1
    assert ran.out.startswith("Register “invented harbour stores”")
    assert ran.out.count("Register “") == 1
    assert "parts.yaml:3:32" in "".join(ran.out.split())


def test_a_register_is_told_in_every_form(run: Run, stores: Path) -> None:
    report = json.loads(run("inspect", *_DAY, stores, "--format", "json").out)
    (one,) = report["entries"]
    assert (one["rig"], one["about"]) == ("invented harbour stores", "register")
    assert [f["thing"] for f in one["findings"]] == ["hose H-0231"]
    for form in ("sarif", "junit", "markdown"):
        assert "H-0231" in run("inspect", *_DAY, stores, "--format", form).out


def test_rigs_and_registers_are_told_apart_in_one_folder(run: Run, stores: Path) -> None:
    (stores.parent / "rig.yaml").write_text(HELD)
    out = run("inspect", *_DAY, stores.parent).out
    heads = [line for line in out.splitlines() if line.startswith(("Rig ", "Register "))]
    assert [head.split()[0] for head in heads] == ["Rig", "Register"]
    assert "2 files: 2 on hold." in out


def test_a_register_that_cannot_be_read_is_told_and_the_rest_is_judged(run: Run, stores: Path) -> None:
    (stores.parent / "rig.yaml").write_text(HELD)
    (stores / "parts.yaml").write_text(PARTS.replace("hose-20", "hose-21"))
    ran = run("inspect", *_DAY, stores.parent)
    assert ran.code == 2
    assert "'hose-21' is no kind of this register." in " ".join(ran.out.split())
    assert "Rig “Leaning set”" in ran.out
