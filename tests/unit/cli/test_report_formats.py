"""`rigcheck inspect --format … --output …`: several reports of one run, and what held where it is asked for."""

from __future__ import annotations

import json
from pathlib import Path
from xml.etree import ElementTree

import pytest

from rigcheck.cli.options import REPORT_FORMS

from .conftest import Ran, Run

_DAY = ("--day", "2026-11-25")
_FORMS = [form for form in REPORT_FORMS if form != "text"]


def _together(run: Run, rigs: Path, folder: Path, *more: object) -> Ran:
    pairs = [part for form in REPORT_FORMS for part in ("--format", form, "--output", folder / f"report.{form}")]
    return run("inspect", rigs, *pairs, *more, *_DAY)


def test_reports_that_are_written_together_are_those_that_are_written_alone(
    run: Run, rigs: Path, tmp_path: Path
) -> None:
    ran = _together(run, rigs, tmp_path)
    assert (ran.code, ran.out) == (3, "")
    for form in REPORT_FORMS:
        alone = tmp_path / f"alone.{form}"
        run("inspect", rigs, "--format", form, "--output", alone, *_DAY)
        assert alone.read_text() == (tmp_path / f"report.{form}").read_text(), form


def test_one_report_goes_to_the_screen_beside_those_in_files(run: Run, rigs: Path, tmp_path: Path) -> None:
    output = tmp_path / "rigs.sarif"
    ran = run("inspect", rigs, "--format", "text", "--format", "sarif", "--output", output, *_DAY)
    assert ran.out == run("inspect", rigs, *_DAY).out
    assert json.loads(output.read_text())["version"] == "2.1.0"


@pytest.mark.parametrize(
    "given",
    [
        ["--format", "json", "--format", "sarif"],
        ["--output", "a", "--format", "json", "--output", "a"],
        ["--format", "json", "--output", "a", "--output", "b"],
    ],
)
def test_two_reports_to_one_place_or_two_places_for_one_report_are_refused(
    given: list[str], run: Run, rigs: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    ran = run("inspect", rigs, *given)
    assert (ran.code, ran.out) == (2, "")
    assert "--format" in ran.err
    assert [path.name for path in tmp_path.iterdir()] == ["rigs"]


@pytest.mark.parametrize("form", _FORMS)
def test_an_earlier_report_of_the_same_form_is_replaced_and_any_other_file_kept(
    form: str, run: Run, rigs: Path, tmp_path: Path
) -> None:
    output = tmp_path / "report"
    for path in (rigs / "held.yaml", rigs):
        assert run("inspect", path, "--format", form, "--output", output, *_DAY).code in (1, 3)
    other = next(one for one in _FORMS if one != form)
    before = output.read_bytes()
    ran = run("inspect", rigs, "--format", other, "--output", output, *_DAY)
    assert (ran.code, "is no report of rigcheck" in ran.err) == (2, True)
    assert output.read_bytes() == before


def test_what_held_is_named_in_every_form_only_where_that_is_asked_for(run: Run, rigs: Path, tmp_path: Path) -> None:
    told, plain = tmp_path / "told", tmp_path / "plain"
    for folder, more in ((told, ["--tell-holds"]), (plain, [])):
        folder.mkdir()
        _together(run, rigs / "held.yaml", folder, *more)
        counted = {form: _held_in((folder / f"report.{form}").read_text(), form) for form in REPORT_FORMS}
        (entry,) = json.loads((folder / "report.json").read_text())["entries"]
        wanted = entry["verdicts"]["holds"] if more else 0
        assert counted == dict.fromkeys(REPORT_FORMS, wanted)
    assert wanted == 0


def _held_in(text: str, form: str) -> int:
    """Return how many checks a report names as held."""
    if form == "json":
        return len(json.loads(text)["entries"][0]["held"])
    if form == "sarif":
        return sum(one.get("kind") == "pass" for one in json.loads(text)["runs"][0]["results"])
    if form == "junit":
        passed = [case for case in ElementTree.fromstring(text).iter("testcase") if len(case) == 0]
        return sum("/" in (case.get("name") or "") for case in passed)
    if form == "markdown":
        _, _, after = text.partition(" checks that held</summary>")
        return after.partition("</details>")[0].count("\n- ")
    if form == "lines":
        return text.count(": HELD: ")
    _, _, after = text.partition("\nHeld\n")
    return after.partition("\nThe findings again")[0].partition("\nState:")[0].count("(line ")


def test_places_in_a_log_are_told_from_the_folder_in_which_rigcheck_runs(
    run: Run, rigs: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for folder, file in ((rigs.parent, "rigs/held.yaml"), (rigs, "held.yaml")):
        monkeypatch.chdir(folder)
        (told,) = json.loads(run("inspect", rigs / "held.yaml", "--format", "sarif", *_DAY).out)["runs"]
        place = told["results"][0]["locations"][0]["physicalLocation"]["artifactLocation"]
        assert place == {"uri": file, "uriBaseId": "ROOT"}
        assert str(rigs.parent) not in json.dumps(told)


@pytest.mark.parametrize("form", ["lines", "sarif"])
def test_what_only_a_standard_rig_says_is_found_in_the_file_of_the_rig(form: str, run: Run, tmp_path: Path) -> None:
    rig = tmp_path / "set.yaml"
    rig.write_text("rig: Ferry set\nlocal_code: us\nstandard_rig: acetylene-bank-of-three\n")
    told = run("inspect", rig, "--for", "standard", "--format", form).out
    if form == "lines":
        found = [row for row in told.splitlines() if ": WARNING: " in row]
        assert found and all(row.startswith(f"{rig}:1:1: ") for row in found)
        assert "[written in the standard rig, acetylene-bank-of-three.yaml:" in found[0]
    else:
        at = [one["locations"][0]["physicalLocation"] for one in json.loads(told)["runs"][0]["results"]]
        assert {one["artifactLocation"]["uri"].rpartition("/")[2] for one in at} == {"set.yaml"}
