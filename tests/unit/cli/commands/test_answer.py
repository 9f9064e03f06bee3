"""`rigcheck answer`: a sheet that was filled in on paper and typed goes into a look beside the rig."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.unit.cli.conftest import Run

_RIG = "rig: one\nlines: [{gas: propane, parts: [cylinder, regulator, hose]}]\ntorch: {form: air-aspirated}\n"


@pytest.fixture
def rig(tmp_path: Path) -> Path:
    made = tmp_path / "one.yaml"
    made.write_text(_RIG)
    return made


@pytest.fixture
def sheet(run: Run, rig: Path) -> Path:
    made = rig.with_name("sheet.yaml")
    run("ask", rig, "--paper", "--by", "fitter", "--day", "2026-11-25", "--output", made)
    return made


def _fill(sheet: Path, row: str, answer: str) -> None:
    text = sheet.read_text(encoding="utf-8")
    assert text.count(f"{row}:") == 1
    sheet.write_text(text.replace(f"{row}:", f"{row}: {answer}"), encoding="utf-8")


def test_what_was_filled_in_is_written_in_a_look_and_what_it_finds_is_told(run: Run, rig: Path, sheet: Path) -> None:
    _fill(sheet, "lines[0].parts[2] cover", "cut")
    came = run("answer", rig, sheet)
    assert came.code == 1
    assert "1 fact written in" in came.out
    assert "cover: cut" in came.out
    look = rig.with_name("one-look-2026-11-25.yaml").read_text()
    assert '{thing: "lines[0].parts[2]", cover: cut}' in look
    assert "cover: cut (seen 2026-11-25 by fitter)" in run("inspect", rig, "--day", "2026-11-25").out


def test_a_sheet_that_is_taken_in_twice_is_written_once(run: Run, rig: Path, sheet: Path) -> None:
    _fill(sheet, "lines[0].parts[2] cover", "cut")
    _fill(sheet, "site ambient_temperature", "cannot tell, no access")
    run("answer", rig, sheet)
    before = rig.with_name("one-look-2026-11-25.yaml").read_text()
    assert "0 facts written" in run("answer", rig, sheet).out
    assert rig.with_name("one-look-2026-11-25.yaml").read_text() == before


def test_where_one_row_cannot_be_read_nothing_is_written(run: Run, rig: Path, sheet: Path) -> None:
    _fill(sheet, "lines[0].parts[2] cover", "cut")
    _fill(sheet, "site ambient_temperature", "warm")
    came = run("answer", rig, sheet)
    line = next(n for n, row in enumerate(sheet.read_text().splitlines(), 1) if "ambient_temperature: warm" in row)
    assert came.code == 2
    assert f"sheet.yaml:{line}:" in came.err
    assert not rig.with_name("one-look-2026-11-25.yaml").exists()


def test_an_empty_sheet_and_one_for_another_rig_write_nothing(run: Run, rig: Path, sheet: Path) -> None:
    assert "are empty: nothing is written" in " ".join(run("answer", rig, sheet).out.split())
    other = rig.with_name("two.yaml")
    other.write_text(_RIG)
    _fill(sheet, "lines[0].parts[2] cover", "cut")
    assert "This is a sheet for one.yaml." in run("answer", other, sheet).err
    assert sorted(one.name for one in rig.parent.glob("*.yaml")) == ["one.yaml", "sheet.yaml", "two.yaml"]
