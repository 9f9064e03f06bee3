"""`rigcheck compare`: exit codes, forms, output files."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import pytest

from rigcheck.report.text.inspection_text import CAUTION

from ..conftest import HELD, Run


@pytest.fixture
def rigs(tmp_path: Path) -> tuple[Path, Path]:
    before, after = tmp_path / "before.yaml", tmp_path / "after.yaml"
    before.write_text(HELD)
    after.write_text(HELD.replace("tilt: 30 deg", "tilt: 5 deg"))
    return before, after


def test_the_same_gives_0_and_a_difference_1(run: Run, rigs: tuple[Path, Path]) -> None:
    same = run("compare", rigs[0], rigs[0])
    assert same.code == 0 and "No difference in what is stated." in same.out
    other = run("compare", *rigs)
    told = " ".join(other.out.split())
    assert other.code == 1
    assert "trolley, tilt: was 30 deg, is 5 deg" in told and "1 difference: 1 changed." in told
    assert "broken before, holds after" in told and told.endswith(CAUTION)


def test_what_cannot_be_read_gives_2_with_the_faults_of_both(run: Run, rigs: tuple[Path, Path], tmp_path: Path) -> None:
    wrong = tmp_path / "wrong.yaml"
    wrong.write_text("rig: x\nlines: []\n")
    got = run("compare", wrong, tmp_path / "nowhere.yaml")
    assert got.code == 2 and "no gas lines" in got.err and "nowhere.yaml" in got.err
    assert run("compare", "-", "-").code == 2


def test_one_of_them_may_come_from_input(run: Run, rigs: tuple[Path, Path]) -> None:
    assert run("compare", rigs[0], "-", given=HELD.encode()).code == 0


def test_json_fits_its_schema(run: Run, rigs: tuple[Path, Path]) -> None:
    report = json.loads(run("compare", *rigs, "--format", "json").out)
    jsonschema.validate(report, json.loads(run("schema", "departures").out))
    (one,) = report["departures"]
    assert (one["how"], one["before"]["value"], one["after"]["value"]) == ("changed", "30 deg", "5 deg")
    assert report["same"] is False and report["caution"] == CAUTION


@pytest.mark.parametrize("form", ["text", "json"])
def test_an_output_is_written_over_only_where_it_is_our_own(
    run: Run, rigs: tuple[Path, Path], tmp_path: Path, form: str
) -> None:
    output = tmp_path / "out"
    assert run("compare", *rigs, "--format", form, "--output", output).code == 1
    assert run("compare", *rigs, "--output", output).code == 1
    assert run("compare", *rigs, "--output", rigs[0]).code == 2
    assert rigs[0].read_text() == HELD


def test_a_hostile_name_stays_text(run: Run, rigs: tuple[Path, Path]) -> None:
    rigs[1].write_text(HELD.replace("Leaning set", '"\\e[31mred\\u202e<b>"'))
    got = run("compare", *rigs)
    assert "\x1b" not in got.out and "\u202e" not in got.out
