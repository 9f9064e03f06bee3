"""`rigcheck inspect`: exit codes, options, files in and reports out."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest
from jsonschema_rs import Draft202012Validator, meta

from rigcheck.rules.folders import configs_folder
from rigcheck.rules.rule import GRAVITY, SIGNALS

from ..conftest import HELD, WRONG, Run

_SITES = sorted((configs_folder() / "sites").glob("[!.]*.yaml"))
_DAY = ("--day", "2026-11-25")


def _report(run: Run, *arguments: object, given: bytes = b"") -> dict:
    return json.loads(run("inspect", *arguments, "--format", "json", *_DAY, given=given).out)


def test_the_exit_code_is_one_for_a_rig_on_hold_and_nought_for_one_that_is_not(run: Run, rigs: Path) -> None:
    assert run("inspect", rigs / "held.yaml").code == 1
    assert run("inspect", rigs / "deeper" / "open.yml").code == 0


def test_a_file_that_cannot_be_read_is_told_and_the_others_still_are_judged(run: Run, rigs: Path) -> None:
    ran = run("inspect", rigs)
    assert ran.code == 3
    assert "Leaning set" in ran.out
    assert "Set of which little is known" in ran.out
    assert "'acetilene' is not one of its words" in ran.out
    assert "3 files: 1 on hold, 1 not yet shown, 1 not read." in ran.out


@pytest.mark.parametrize("level", SIGNALS)
@pytest.mark.parametrize("site", _SITES, ids=lambda path: path.stem)
def test_a_rig_is_held_for_findings_at_the_level_and_graver_ones_only(run: Run, site: Path, level: str) -> None:
    ran = run("inspect", site, "--hold-at", level, "--format", "json", *_DAY)
    (entry,) = json.loads(ran.out)["entries"]
    grave = any(GRAVITY[finding["signal"]] >= GRAVITY[level] for finding in entry["findings"])
    assert (ran.code, entry["state"] == "on hold") == (int(grave), grave)


def test_open_questions_hold_a_rig_only_where_that_is_asked_for(run: Run, rigs: Path) -> None:
    path = rigs / "deeper" / "open.yml"
    assert "State: not yet shown" in run("inspect", path).out
    held = run("inspect", path, "--hold-on-unproven", "warning")
    assert (held.code, "State: on hold" in held.out) == (1, True)


def test_the_local_code_of_the_command_line_goes_before_that_of_the_rig(run: Run, rigs: Path) -> None:
    path = rigs / "held.yaml"
    assert _report(run, path)["entries"][0]["local_code"] == "general"
    assert not _report(run, path)["entries"][0]["local_code_stated"]
    path.write_text(HELD + "local_code: uk\n")
    assert _report(run, path)["entries"][0]["local_code"] == "uk"
    assert _report(run, path, "--local-code", "za")["entries"][0]["local_code"] == "za"


def test_the_day_of_the_command_line_decides_what_is_out_of_date(run: Run, rigs: Path) -> None:
    path = rigs / "held.yaml"
    path.write_text(HELD.replace("[cylinder, regulator, hose]", "[cylinder, {regulator: {made: 2021-01}}, hose]"))
    rules = {
        day: {
            found["rule"]
            for found in json.loads(run("inspect", path, "--day", day, "--format", "json").out)["entries"][0][
                "findings"
            ]
        }
        for day in ("2021-02-01", "2035-02-01")
    }
    assert rules["2035-02-01"] > rules["2021-02-01"]


@pytest.mark.parametrize("day", ["25-11-2026", "2026-02-30", "2026-11", "today", "20261125"])
def test_a_day_that_is_none_is_refused(run: Run, rigs: Path, day: str) -> None:
    ran = run("inspect", rigs / "held.yaml", "--day", day)
    assert ran.code == 2
    assert repr(day) in ran.err


def test_a_folder_of_rules_of_ones_own_is_laid_on_top_and_told(run: Run, rigs: Path, tmp_path: Path) -> None:
    own = tmp_path / "own"
    (own / "limits").mkdir(parents=True)
    (own / "limits" / "general.yaml").write_text(
        "local_code: general\nlimits:\n  trolley_tilt:\n    values:\n"
        "      - {since: 2020-01-01, value: 35 deg, drawn_from: common practice, because: ribbed floor}\n"
    )
    ran = run("inspect", rigs / "held.yaml", "--rules", own)
    told = " ".join(ran.out.split())
    assert (
        "loosened limit trolley tilt (general, since 2020-01-01): 35 deg instead of 20 deg, because: ribbed floor"
        in told
    )
    assert "must be The trolley leans no further" not in told


def test_wrong_rules_of_ones_own_are_told_at_their_place_and_nothing_is_judged(
    run: Run, rigs: Path, tmp_path: Path
) -> None:
    own = tmp_path / "own"
    (own / "trolley").mkdir(parents=True)
    (own / "trolley" / "stands_well.yaml").write_text("claim: The trolley stands well.\n")
    ran = run("inspect", rigs / "held.yaml", "--rules", own)
    assert (ran.code, ran.out) == (2, "")
    assert f"rigcheck: {own}/trolley/stands_well.yaml:1:1: 'signal' is not written." in ran.err


def test_a_folder_of_rules_that_is_not_there_is_told(run: Run, rigs: Path, tmp_path: Path) -> None:
    ran = run("inspect", rigs / "held.yaml", "--rules", tmp_path / "nowhere")
    assert (ran.code, "nowhere is no folder of rules" in ran.err) == (2, True)


def test_the_report_as_json_fits_the_schema_that_is_published_for_it(run: Run, rigs: Path) -> None:
    schema = json.loads(run("schema", "report").out)
    meta.validate(schema)
    report = _report(run, rigs, *_SITES)
    Draft202012Validator(schema).validate(report)
    assert {entry["outcome"] for entry in report["entries"]} == {"judged", "refused"}
    assert report["totals"]["files"] == len(report["entries"]) == 3 + len(_SITES)
    counted = [report["totals"][key] for key in ("on_hold", "not_yet_shown", "nothing_found", "refused")]
    assert sum(counted) == report["totals"]["files"]


def test_the_schema_of_the_report_refuses_another_form(run: Run, rigs: Path) -> None:
    validator = Draft202012Validator(json.loads(run("schema", "report").out))
    report = _report(run, rigs / "held.yaml")
    for spoilt in ({"form": "report 2"}, {"more": 1}, {"entries": [{"outcome": "judged"}]}, {"hold_at": "error"}):
        assert not validator.is_valid(report | spoilt)


def test_a_report_in_a_file_is_whole_and_replaces_an_earlier_one(run: Run, rigs: Path, tmp_path: Path) -> None:
    for form in ("text", "json"):
        output = tmp_path / f"report.{form}"
        first = run("inspect", rigs / "held.yaml", "--format", form, "--output", output, *_DAY)
        once = output.read_text()
        again = run("inspect", rigs, "--format", form, "--output", output, *_DAY)
        assert (first.code, first.out, again.code, again.out) == (1, "", 3, "")
        assert once not in ("", output.read_text())
    assert sorted(path.name for path in tmp_path.iterdir()) == ["report.json", "report.text", "rigs"]


def test_a_report_is_never_written_over_a_rig(run: Run, rigs: Path) -> None:
    for output in (rigs / "held.yaml", rigs / "deeper" / ".." / "held.yaml"):
        ran = run("inspect", rigs / "held.yaml", "--output", output)
        assert (ran.code, "is one of the rigs" in ran.err) == (2, True)
    assert (rigs / "held.yaml").read_text() == HELD


def test_a_report_is_never_written_over_a_file_that_is_no_report(run: Run, rigs: Path, tmp_path: Path) -> None:
    foreign = tmp_path / "notes.txt"
    foreign.write_text("Ask about the rigcheck report 1 of last week.\n")
    ran = run("inspect", rigs / "held.yaml", "--output", foreign)
    assert (ran.code, "exists and is no report" in ran.err) == (2, True)
    assert foreign.read_text() == "Ask about the rigcheck report 1 of last week.\n"


def test_a_report_is_never_put_in_the_place_of_a_device(run: Run, rigs: Path, tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    ran = run("inspect", rigs / "held.yaml", "--output", pipe)
    assert (ran.code, "is no ordinary file" in ran.err) == (2, True)
    assert pipe.is_fifo()


def test_a_report_through_a_link_leaves_the_link(run: Run, rigs: Path, tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    link = tmp_path / "report.txt"
    link.symlink_to(tmp_path / "real" / "report.txt")
    assert run("inspect", rigs / "held.yaml", "--output", link).code == 1
    assert link.is_symlink()
    assert (tmp_path / "real" / "report.txt").is_file()


def test_a_report_into_a_folder_that_is_not_there_is_told(run: Run, rigs: Path, tmp_path: Path) -> None:
    ran = run("inspect", rigs / "held.yaml", "--output", tmp_path / "nowhere" / "report.txt")
    assert (ran.code, "cannot be written: No such file or directory." in ran.err) == (2, True)


def test_folders_are_walked_in_order_without_hidden_and_other_files(run: Run, rigs: Path) -> None:
    (rigs / "notes.txt").write_text("rig: no\n")
    (rigs / ".hidden.yaml").write_text(HELD)
    (rigs / ".git").mkdir()
    (rigs / ".git" / "x.yaml").write_text(HELD)
    names = [entry["file"] for entry in _report(run, rigs)["entries"]]
    assert names == [str(rigs / name) for name in ("held.yaml", "wrong.yaml", "deeper/open.yml")]


def test_folders_are_taken_in_the_order_of_their_names(run: Run, tmp_path: Path) -> None:
    for name in "zkbxaqmc":
        (tmp_path / name).mkdir()
        (tmp_path / name / "rig.yaml").write_text(HELD)
    names = [Path(entry["file"]).parent.name for entry in _report(run, tmp_path)["entries"]]
    assert names == sorted("zkbxaqmc")


def test_a_file_that_is_named_twice_is_judged_once(run: Run, rigs: Path) -> None:
    assert len(_report(run, rigs / "held.yaml", rigs / "held.yaml", rigs)["entries"]) == 3


def test_a_folder_without_rigs_is_told(run: Run, tmp_path: Path) -> None:
    ran = run("inspect", tmp_path)
    assert (ran.code, "holds no file that ends in .yaml or .yml" in ran.err) == (2, True)


def test_a_dash_is_standard_input(run: Run) -> None:
    (entry,) = _report(run, "-", given=HELD.encode())["entries"]
    assert (entry["file"], entry["rig"]) == ("standard input", "Leaning set")
    assert "standard input:3:10" in run("inspect", "-", given=b"rig: a\nlines:\n  - gas: x\n").out


@pytest.mark.parametrize("name", ["nowhere.yaml", "deeper"])
def test_a_file_that_cannot_be_opened_is_told_among_those_that_can(run: Run, rigs: Path, name: str) -> None:
    broken = rigs / "loop.yaml"
    broken.symlink_to(broken)
    ran = run("inspect", rigs / "nowhere.yaml", broken, rigs / "deeper")
    assert ran.code == 2
    assert ran.out.count("The file cannot be read:") == 2
    assert "Set of which little is known" in ran.out


def test_a_name_that_is_no_text_is_shown_as_well_as_it_can_be(apart: Run, tmp_path: Path) -> None:
    name = os.fsencode(tmp_path) + b"/caf\xe9.yaml"
    with open(name, "w") as file:
        file.write(WRONG)
    for form in ("text", "json"):
        ran = apart("inspect", tmp_path, "--format", form)
        assert (ran.code, "Traceback" in ran.err) == (2, False)
        assert "caf" in ran.out


def test_a_screen_that_has_no_such_letters_still_gets_the_report(apart: Run, rigs: Path) -> None:
    ran = apart("inspect", rigs / "held.yaml", PYTHONIOENCODING="ascii")
    assert (ran.code, ran.err) == (1, "")
    assert ran.out.isascii()


def test_no_file_is_a_mistake_that_is_told(run: Run) -> None:
    ran = run("inspect")
    assert (ran.code, "PATH" in ran.err) == (2, True)


def test_what_is_left_out_is_asked_for_and_what_is_wrong_is_found(
    run: Run, rigs: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(rigs)
    told = " ".join(run("inspect", "held.yaml", *_DAY).out.split())
    assert "DANGER trolley found tilt: 30 deg, must be at most 20 deg. must be The trolley leans no" in told
    assert "rig held.yaml:3:17" in told
    assert "rule trolley/trolley_stands_upright" in told
    assert "Not yet shown:" in told


def test_the_entries_of_one_rig_are_the_same_alone_and_among_others(run: Run, rigs: Path) -> None:
    together = _report(run, *_SITES)["entries"]
    assert [_report(run, site)["entries"][0] for site in _SITES] == together
