"""Site files on the command line: with their rigs, from their rigs, and where the two do not name each other."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from rigcheck.rules.folders import configs_folder

from .conftest import HELD, Run

_DAY = ("--day", "2026-11-25")


@pytest.fixture
def yard(tmp_path: Path) -> Path:
    """The folder of the invented yard, to be changed."""
    return Path(shutil.copytree(configs_folder() / "yards", tmp_path / "yards"))


def test_a_site_file_is_judged_with_what_its_rigs_hold(run: Run, yard: Path) -> None:
    ran = run("inspect", *_DAY, yard / "skerry-haven.yaml")
    assert ran.code == 1
    assert "Site “Skerry Haven, yard by the slip (invented for demonstration)”" in ran.out
    assert "separation of oxygen cage and gas cage" in ran.out
    assert "A permit for several tasks names each of them" in " ".join(ran.out.split())


def test_the_site_of_a_rig_is_judged_after_the_rigs_that_name_it_and_once(run: Run, yard: Path) -> None:
    out = run("inspect", *_DAY, yard / "slip-shed-cutting.yaml", yard / "slip-shed-heating.yaml").out
    heads = [line for line in out.splitlines() if line.startswith(("Rig ", "Site "))]
    assert [head.split()[0] for head in heads] == ["Rig", "Rig", "Site"]


def test_a_rig_that_the_site_does_not_list_is_refused_with_what_to_write(run: Run, yard: Path) -> None:
    site = yard / "skerry-haven.yaml"
    site.write_text(site.read_text().replace("slip-shed-heating", "slip-shed-brazing"))
    told = " ".join(run("figures", yard / "slip-shed-heating.yaml").err.split())
    assert "does not list the rig" in told
    assert "Write '- file: slip-shed-heating.yaml' under 'rigs:'." in told


def test_a_listed_rig_that_does_not_name_the_site_is_refused_with_what_to_write(run: Run, yard: Path) -> None:
    rig = yard / "slip-shed-heating.yaml"
    rig.write_text(rig.read_text().replace("stands_at: skerry-haven.yaml\n", ""))
    ran = run("inspect", *_DAY, yard / "skerry-haven.yaml")
    assert ran.code == 2
    assert "Write 'stands_at: skerry-haven.yaml' below its name." in " ".join(ran.out.split())


def test_a_listed_rig_that_is_not_there_is_told_in_its_place(run: Run, yard: Path) -> None:
    (yard / "slip-shed-heating.yaml").unlink()
    told = " ".join(run("inspect", *_DAY, yard / "skerry-haven.yaml").out.split())
    assert "The rig slip-shed-heating.yaml cannot be read: No such file or directory." in told


def test_a_site_file_that_is_not_there_is_told_at_the_rig(run: Run, yard: Path) -> None:
    (yard / "skerry-haven.yaml").unlink()
    told = " ".join(run("inspect", *_DAY, yard / "slip-shed-heating.yaml").out.split())
    assert "slip-shed-heating.yaml:6:12" in told
    assert "The site file 'skerry-haven.yaml' cannot be read: No such file or directory." in told


def test_a_rig_on_standard_input_reaches_no_site(run: Run) -> None:
    given = HELD.replace("inspected", "stands_at: yard.yaml\ninspected").encode()
    assert "a rig on standard input has no folder" in " ".join(run("inspect", "-", given=given).out.split())


def test_the_last_day_of_a_permit_falls_due(run: Run, yard: Path) -> None:
    out = run("due", *_DAY, yard / "skerry-haven.yaml").out
    assert "permit “frame work”" in out
    assert "valid until 2026-11-27" in " ".join(out.split())
