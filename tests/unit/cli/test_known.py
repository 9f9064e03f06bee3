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
        told = " ".join(told.split())
        for rule in ("hoses/hose_is_not_pinched", "trolley/trolley_stands_upright"):  # never as if it were so
            assert f": found by {rule}" in told


def test_a_new_finding_below_the_hold_level_fails_no_run(run: Run, known: tuple[Path, Path]) -> None:
    rig, report = known
    rig.write_text(_RIG.replace("HOSE", "yes"))
    assert run("inspect", rig, *_DAY, "--known", report).code == 1
    assert run("inspect", rig, *_DAY, "--known", report, "--hold-at", "danger").code == 0


@pytest.mark.parametrize("form", REPORT_FORMS)
def test_what_was_known_and_is_graver_now_fails_the_run_and_is_told(
    form: str, run: Run, known: tuple[Path, Path]
) -> None:
    rig, report = known
    rig.write_text(_RIG.replace("HOSE", "no").replace("30 deg", "60 deg"))
    ran = run("inspect", rig, *_DAY, "--known", report, "--format", form)
    assert ran.code == 1
    if form == "json":
        since = json.loads(ran.out)["since"]
        assert [one["how"] for one in since["changed"] if one["thing"] == "trolley"] == ["tilt: 60 deg, was 30 deg"]
        assert not since["new"]
    else:
        assert "tilt: 60 deg, was 30 deg" in " ".join(ran.out.split())


@pytest.mark.parametrize(
    ("becomes", "code"),
    [("28 deg", 0), ("30.0 deg", 0), ("25 to 30 deg", 0), ("25 to 40 deg", 1)],
    ids=["less", "the same", "up to the same", "up to more"],
)
def test_a_number_is_graver_where_it_may_go_further_the_wrong_way(
    becomes: str, code: int, run: Run, known: tuple[Path, Path]
) -> None:
    rig, report = known
    rig.write_text(_RIG.replace("HOSE", "no").replace("30 deg", becomes))
    assert run("inspect", rig, *_DAY, "--known", report).code == code


_OLD = _RIG.replace("kinked: HOSE", "made: MADE, cover: WORD")


def _then_and_now(run: Run, folder: Path, then: tuple[str, str, str], now: tuple[str, str, str]) -> int:
    """Return how a run ends for a hose of a day of making, a state of its cover and a day, known as it was then."""
    rig, report = folder / "old.yaml", folder / "old.json"
    for number, (made, word, day) in enumerate((then, now)):
        rig.write_text(_OLD.replace("MADE", made).replace("WORD", word))
        more = ("--known", report) if number else ("--format", "json", "--output", report)
        code = run("inspect", rig, "--day", day, "--hold-at", "notice", *more).code
    return code


def test_a_time_that_grew_by_itself_is_known(run: Run, tmp_path: Path) -> None:
    assert _then_and_now(run, tmp_path, ("2015-03", "sound", "2026-11-25"), ("2015-03", "sound", "2027-05-25")) == 0


def test_a_time_that_is_counted_from_an_earlier_day_than_then_is_graver(run: Run, tmp_path: Path) -> None:
    assert _then_and_now(run, tmp_path, ("2015-03", "sound", "2026-11-25"), ("2009-03", "sound", "2026-11-25")) == 1
    assert _then_and_now(run, tmp_path, ("2015-03", "sound", "2026-11-25"), ("2017-03", "sound", "2026-11-25")) == 0


def test_another_word_under_the_same_rule_is_looked_at_again(run: Run, tmp_path: Path) -> None:
    then, now = ("2025-03", "cut", "2026-11-25"), ("2025-03", "burnt", "2026-11-25")
    assert _then_and_now(run, tmp_path, then, now) == 1


_LEAVE = (
    "concessions:\n"
    "  - {rule: hoses/hose_is_not_pinched, thing: acetylene hose, reason: The hose comes on Thursday and till then "
    "no gas is let on., who: works manager, until: UNTIL}\n"
)


@pytest.mark.parametrize(("until", "code"), [("2026-12-20", 0), ("2026-12-22", 0), ("2026-12-05", 1)])
def test_the_days_that_a_leave_has_left_run_on_and_are_known_but_a_shorter_leave_is_not(
    until: str, code: int, run: Run, known: tuple[Path, Path], tmp_path: Path
) -> None:
    rig, _ = known
    told = ("--hold-at", "notice", "--known", tmp_path / "leave.json")
    rig.write_text(_RIG.replace("HOSE", "yes") + _LEAVE.replace("UNTIL", "2026-12-20"))
    run("inspect", rig, *_DAY, "--format", "json", "--output", tmp_path / "leave.json")
    rig.write_text(_RIG.replace("HOSE", "yes") + _LEAVE.replace("UNTIL", until))
    ran = run("inspect", rig, "--day", "2026-11-28", *told)
    assert ran.code == code and ("was 2026-12-20" in " ".join(ran.out.split())) == bool(code)


def test_a_leave_that_ended_lets_the_run_fail_again(run: Run, known: tuple[Path, Path], tmp_path: Path) -> None:
    rig, _ = known
    rig.write_text(_RIG.replace("HOSE", "yes") + _LEAVE.replace("UNTIL", "2026-12-20"))
    assert run("inspect", rig, *_DAY, "--format", "json", "--output", tmp_path / "leave.json").code == 1
    assert run("inspect", rig, *_DAY, "--known", tmp_path / "leave.json").code == 0
    rig.write_text(_RIG.replace("HOSE", "yes"))
    ran = run("inspect", rig, *_DAY, "--known", tmp_path / "leave.json")
    assert ran.code == 1 and "leave was given then, and is not now" in " ".join(ran.out.split())


def test_a_report_of_before_without_ends_compares_what_was_told(run: Run, known: tuple[Path, Path]) -> None:
    rig, report = known
    whole = json.loads(report.read_text())
    for finding in whole["entries"][0]["findings"]:
        for found in finding["found"]:
            for key in ("least", "greatest", "graver", "counted_from"):
                found.pop(key)
    report.write_text(json.dumps(whole))
    assert run("inspect", rig, *_DAY, "--known", report).code == 0
    rig.write_text(_RIG.replace("HOSE", "no").replace("30 deg", "60 deg"))
    assert run("inspect", rig, *_DAY, "--known", report).code == 1


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


def test_concessions_that_lie_among_the_rigs_are_no_unread_rig(run: Run, tmp_path: Path) -> None:
    (tmp_path / "set.yaml").write_text(_RIG.replace("HOSE", "yes"))
    beside = tmp_path / "leave.yaml"
    beside.write_text("# of the yard\n" + _LEAVE.replace("  - {", "  - {rig: Yard, ").replace("UNTIL", "2026-12-20"))
    told = run("inspect", tmp_path, *_DAY)
    assert told.code == 1 and "leave.yaml holds concessions; none of them counts without --concessions" in told.err
    counted = run("inspect", tmp_path, *_DAY, "--concessions", beside)
    assert counted.code == 1 and counted.err == "" and "(conceded)" in counted.out
    assert run("due", tmp_path).err == ""
    alone = run("inspect", beside)
    assert alone.code == 2 and "Name a file of concessions by --concessions" in " ".join(alone.out.split())


def test_the_report_that_is_compared_with_is_not_written_over(run: Run, known: tuple[Path, Path]) -> None:
    rig, report = known
    rig.write_text(_RIG.replace("HOSE", "yes"))
    ran = run("inspect", rig, *_DAY, "--known", report, "--format", "json", "--output", report)
    assert ran.code == 2 and "would be known in the next run" in " ".join(ran.err.split())
    assert run("inspect", rig, *_DAY, "--known", report).code == 1


@pytest.mark.parametrize("more", ["rig: Yard", "'rig': Yard", "trolley: {tilt: 45 deg}", "rig: ["])
def test_a_rig_that_begins_with_long_concessions_is_passed_over_by_nothing(run: Run, tmp_path: Path, more: str) -> None:
    (tmp_path / "set.yaml").write_text(_RIG.replace("HOSE", "yes"))
    long = f"{_LEAVE.replace('UNTIL', '2026-12-20')}# {'of the yard ' * 9_000}\n"
    (tmp_path / "other.yaml").write_text(f"{long}{more}\n")
    told = run("inspect", tmp_path, *_DAY)
    assert told.code in (2, 3) and "not read" in told.out and "other" in told.out
    assert "holds concessions" not in told.err
    assert "other.yaml" in run("due", tmp_path).err
