"""`rigcheck compare`: exit codes, forms, output files."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema_rs
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
    jsonschema_rs.validate(json.loads(run("schema", "departures").out), report)
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


_STANDARD = """\
rig: yard standard
may_differ: [hose.length, swivel]
lines:
  - gas: propane
    parts: [cylinder, regulator, hose: {bore: 8 mm, length: 10 m}, swivel]
torch: {form: cutting}
"""
_OWN = """\
rig: set 2
standard_rig: standard.yaml
lines:
  - gas: propane
    parts: [cylinder: {tag: C-1}, hose: {length: 15 m, cover: cut, kinked: yes}, swivel: none]
"""


def test_a_rig_is_compared_with_its_standard_rig_where_no_other_is_named(run: Run, tmp_path: Path) -> None:
    (tmp_path / "standard.yaml").write_text(_STANDARD)
    rig = tmp_path / "rig.yaml"
    rig.write_text(_OWN)
    allowed = run("compare", rig)
    told = " ".join(allowed.out.split())
    assert allowed.code == 0
    assert "length: was 10 m, is 15 m (the standard rig lets it differ)" in told
    assert "missing propane swivel, after the propane hose (the standard rig lets it differ)" in told
    rig.write_text(_OWN.replace("length: 15 m", "bore: 6 mm"))
    other = run("compare", rig, "--format", "json")
    assert other.code == 1
    told_apart = {(one["fact"], one["allowed"]) for one in json.loads(other.out)["departures"]}
    assert told_apart == {("bore", False), ("", True)}


def test_a_rig_without_a_standard_rig_has_nothing_to_be_compared_with(run: Run, rigs: tuple[Path, Path]) -> None:
    alone = run("compare", rigs[0])
    assert alone.code == 2 and "names no standard rig" in alone.err


def test_what_may_differ_is_a_kind_or_a_fact(run: Run, tmp_path: Path) -> None:
    (tmp_path / "standard.yaml").write_text(_STANDARD.replace("hose.length", "hose.lenght"))
    (tmp_path / "rig.yaml").write_text(_OWN)
    got = run("compare", tmp_path / "rig.yaml")
    assert got.code == 2 and "standard.yaml:2:14: 'hose.lenght' is no fact." in got.err
