"""Records of work that lie beside a rig state what their steps saw, from which file, and for how long that counts."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from support.in_full import sites_in_full

from rigcheck.rules.folders import configs_folder

from .conftest import Run

_RIG = (sites_in_full() / "pipe-loft-brazing.yaml").read_text(encoding="utf-8")
_RECORD = (configs_folder() / "records" / "pipe-loft-leak-test.yaml").read_text(encoding="utf-8")
_TIGHT = 'try_joint: {thing: "propane joint, arrester to hose", at: "08:12", result: tight}'


@pytest.fixture(params=["records", "looks", ".", "../records"])
def rig(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    """A rig whose description says nothing of the leak test, with the record of one of the day in a folder."""
    rigs = tmp_path / "rigs"
    folder = rigs / request.param
    folder.mkdir(parents=True, exist_ok=True)
    rigs.mkdir(exist_ok=True)
    rig = rigs / "rig.yaml"
    rig.write_text("\n".join(line for line in _RIG.splitlines() if "leak_test" not in line) + "\n")
    text = _RECORD.replace("../sites/pipe-loft-brazing.yaml", "../rig.yaml" if request.param != "." else "rig.yaml")
    text = text.replace("../rig.yaml", "../rigs/rig.yaml") if request.param == "../records" else text
    (folder / "leak.yaml").write_text(text.replace("2026-11-24", "2026-11-25"))
    return rig


def _report(run: Run, rig: Path, day: str = "2026-11-25") -> dict[str, Any]:
    entries: list[dict[str, Any]] = json.loads(run("inspect", rig, "--day", day, "--format", "json").out)["entries"]
    return entries[0]


def _asked(entry: dict[str, Any]) -> set[str]:
    return {one["thing"] for one in entry["questions"] if one["fact"].replace("_", " ") == "leak test"}


def test_the_leak_test_of_the_day_answers_for_every_joint_and_not_for_the_next_day(run: Run, rig: Path) -> None:
    assert _asked(_report(run, rig)) == set()
    assert len(_asked(_report(run, rig, "2026-11-26"))) >= 4


def test_a_joint_that_leaked_is_a_finding_that_leads_to_the_record(run: Run, rig: Path) -> None:
    [record] = rig.parent.parent.rglob("leak.yaml")
    record.write_text(record.read_text().replace(_TIGHT, _TIGHT.replace("result: tight", "result: leaks")))
    [found] = [one for one in _report(run, rig)["findings"] if one["rule"] == "joints/joint_does_not_leak"]
    assert found["at"]["file"].endswith("leak.yaml")
    assert found["found"][0]["value"] == "leaks (seen 2026-11-25 by the user who works with it)"


def test_a_step_that_cannot_be_read_is_told_and_the_rig_is_judged_without_it(run: Run, rig: Path) -> None:
    [record] = rig.parent.parent.rglob("leak.yaml")
    record.write_text(record.read_text().replace("- wipe_dry", "- wipe_drai"))
    ran = run("inspect", rig, "--day", "2026-11-25")
    assert ran.code == 2
    assert "'wipe_drai' is no step of leak-test" in " ".join(ran.out.split())
    assert "State: " in ran.out


@pytest.mark.parametrize("rig", ["records"], indirect=True)
@pytest.mark.parametrize("wrong", [("- wipe_dry", "- wipe_drai"), ("done: ", "dune: ")])
def test_one_record_that_cannot_be_read_takes_no_other_with_it(run: Run, rig: Path, wrong: tuple[str, str]) -> None:
    [record] = rig.parent.rglob("leak.yaml")
    (record.parent / "earlier.yaml").write_text(record.read_text().replace(*wrong))
    ran = run("inspect", rig, "--day", "2026-11-25")
    assert ran.code in (2, 3) and "earlier.yaml" in "".join(ran.out.split())
    assert _asked(_report(run, rig)) == set()


@pytest.mark.parametrize("rig", ["records"], indirect=True)
def test_a_record_of_a_day_that_is_still_to_come_is_told_and_does_not_count(run: Run, rig: Path) -> None:
    ran = run("inspect", rig, "--day", "2026-11-24")
    assert ran.code in (2, 3) and "records/leak.yaml:6:7" in "".join(ran.out.split())
    assert "it does not count yet" in " ".join(ran.out.split())
    assert len(_asked(_report(run, rig, "2026-11-24"))) >= 4


def test_a_leak_of_last_week_is_found_until_it_is_seen_to_be_tight(run: Run, rig: Path) -> None:
    [record] = rig.parent.parent.rglob("leak.yaml")
    right = record.read_text()
    leaks = right.replace(_TIGHT, _TIGHT.replace("result: tight", "result: leaks"))
    for later, is_found in ((leaks, True), (right, False)):
        record.write_text(leaks)
        (record.parent / "later.yaml").write_text(later.replace("2026-11-25", "2026-11-27"))
        rules = {one["rule"] for one in _report(run, rig, "2026-12-04")["findings"]}
        assert ("joints/joint_does_not_leak" in rules) == is_found


def test_a_look_of_a_day_that_is_still_to_come_is_told_and_does_not_count(run: Run, tmp_path: Path) -> None:
    rig = tmp_path / "rig.yaml"
    rig.write_text("rig: r\nlines: [{gas: oxygen, parts: [cylinder, regulator, hose]}]\ntorch: {form: cutting}\n")
    look = "look: rig.yaml\nday: 2026-11-26\nby: fitter\nseen: [every: {hose: {cover: cut}}]\n"
    (tmp_path / "look.yaml").write_text(look)
    early, then = (run("inspect", rig, "--day", day) for day in ("2026-11-25", "2026-11-26"))
    assert (
        early.code == 3
        and "look.yaml:2:6" in "".join(early.out.split())
        and "it does not count yet" in " ".join(early.out.split())
    )
    assert "cover: cut" not in early.out and "cover: cut" in then.out and "not read" not in then.out
