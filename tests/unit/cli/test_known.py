"""`rigcheck inspect --known`: a run fails for what is new since an earlier report; the state of a rig is never bent."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from rigcheck.cli.options import REPORT_FORMS

from .conftest import Run

_DAY = ("--day", "2026-11-25")
_RIG = """\
rig: Yard
trolley: {tilt: 30 deg}
lines:
  - {gas: acetylene, parts: [cylinder, regulator, hose: {kinked: HOSE}]}
  - {gas: oxygen, parts: [cylinder, regulator, hose]}
torch: {form: cutting}
"""


@pytest.fixture
def known(run: Run, tmp_path: Path) -> tuple[Path, Path]:
    """A rig with findings and a question, and the report of it."""
    rig, report = tmp_path / "rig.yaml", tmp_path / "known.json"
    rig.write_text(_RIG.replace("HOSE", "no"))
    assert run("inspect", rig, *_DAY, "--format", "json", "--output", report).code == 1
    return rig, report


@pytest.mark.parametrize("form", REPORT_FORMS)
def test_what_is_known_fails_no_run_and_holds_its_rig_all_the_same(
    form: str, run: Run, known: tuple[Path, Path]
) -> None:
    rig, report = known
    ran = run("inspect", rig, *_DAY, "--known", report, "--format", form)
    assert ran.code == 0
    assert '"still_there":' in ran.out if form == "json" else "0 new, 0 gone" in ran.out
    if form in ("text", "markdown"):
        assert "on hold" in ran.out.lower()
    if form == "json":
        assert json.loads(ran.out)["entries"][0]["state"] == "on hold"


@pytest.mark.parametrize("form", REPORT_FORMS)
def test_what_is_new_fails_the_run_and_what_is_gone_is_told(form: str, run: Run, known: tuple[Path, Path]) -> None:
    rig, report = known
    rig.write_text(_RIG.replace("HOSE", "yes").replace("30 deg", "3 deg"))
    ran = run("inspect", rig, *_DAY, "--known", report, "--format", form)
    assert ran.code == 1
    told = ran.out.replace("\\_", "_")
    if form == "json":
        since = json.loads(ran.out)["since"]
        assert [one["rule"] for one in since["new"]] == ["hoses/hose_is_not_pinched"]
        assert "trolley/trolley_stands_upright" in {one["rule"] for one in since["gone"]}
    else:
        assert "1 new, " in told
        assert told.count("hoses/hose_is_not_pinched") and told.count("trolley/trolley_stands_upright")


def test_a_new_finding_below_the_hold_level_fails_no_run(run: Run, known: tuple[Path, Path]) -> None:
    rig, report = known
    rig.write_text(_RIG.replace("HOSE", "yes"))
    assert run("inspect", rig, *_DAY, "--known", report).code == 1
    assert run("inspect", rig, *_DAY, "--known", report, "--hold-at", "danger").code == 0


def test_open_questions_that_hold_a_rig_are_never_known(run: Run, known: tuple[Path, Path]) -> None:
    rig, report = known
    assert run("inspect", rig, *_DAY, "--known", report, "--hold-on-unproven", "warning").code == 1


def test_a_file_that_cannot_be_read_is_never_known(run: Run, known: tuple[Path, Path]) -> None:
    rig, report = known
    rig.write_text("rig: [\n")
    assert run("inspect", rig, *_DAY, "--known", report).code == 2


def test_a_report_that_leaves_findings_out_or_is_none_is_refused(run: Run, known: tuple[Path, Path]) -> None:
    rig, report = known
    whole = json.loads(report.read_text())
    whole["entries"][0]["left_out"] = {"findings": 1}
    report.write_text(json.dumps(whole))
    ran = run("inspect", rig, *_DAY, "--known", report)
    assert ran.code == 2 and "--questions all" in ran.err
    assert run("inspect", rig, *_DAY, "--known", rig).code == 2
