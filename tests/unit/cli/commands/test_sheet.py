"""`rigcheck sheet`, `new record`, and records among the files of `rigcheck inspect`."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
import yaml
from jsonschema_rs import Draft202012Validator
from support.sampling import sampled

from rigcheck.rules.folders import configs_folder, rules_folder
from rigcheck.rules.pack import Pack
from rigcheck.rules.procedures import procedures_of

from ..conftest import Run

_TEMPLATES = sorted((configs_folder() / "templates").glob("*.yaml"))
_RIG = configs_folder() / "templates" / "oxy-acetylene-cutting.yaml"
_FORMS = {
    "text": "rigcheck sheet\n",
    "markdown": "<!-- rigcheck sheet -->",
    "html": "<!DOCTYPE html>",
    "json": '{\n "form": "rigcheck sheet 1"',
}


@pytest.fixture
def rig(tmp_path: Path) -> Path:
    file = tmp_path / "rig.yaml"
    file.write_bytes(_RIG.read_bytes())
    return file


def test_without_a_procedure_the_procedures_are_listed(run: Run, pack: Pack) -> None:
    ran = run("sheet", _RIG)
    assert ran.code == 0
    assert set(procedures_of(pack)) <= {line.partition(" ")[0] for line in ran.out.splitlines()}


def test_a_mistyped_procedure_is_answered_with_the_nearest(run: Run) -> None:
    ran = run("sheet", _RIG, "startup")
    assert (ran.code, ran.err) == (2, "rigcheck: no procedure is called 'startup'. Nearest: start-up.\n")


@pytest.mark.parametrize("form", _FORMS)
def test_a_sheet_is_written_in_each_form_and_over_an_earlier_sheet_only(form: str, run: Run, tmp_path: Path) -> None:
    output = tmp_path / "sheet"
    command = ("sheet", _RIG, "start-up", "--day", "2026-11-25", "--format", form, "--output", output)
    assert [run(*command).code for _ in range(2)] == [0, 0]
    assert output.read_text(encoding="utf-8").startswith(_FORMS[form])
    output.write_text("notes of my own")
    assert run(*command).code == 2
    assert output.read_text() == "notes of my own"


@pytest.mark.parametrize(
    ("ending", "form"), [(".html", "html"), (".md", "markdown"), (".json", "json"), (".txt", "text")]
)
def test_the_ending_of_the_output_says_the_form(ending: str, form: str, run: Run, tmp_path: Path) -> None:
    output = tmp_path / f"sheet{ending}"
    assert run("sheet", _RIG, "purge", "--output", output).code == 0
    assert output.read_text(encoding="utf-8").startswith(_FORMS[form])


def test_an_output_that_would_hold_another_form_is_refused(run: Run, tmp_path: Path) -> None:
    ran = run("sheet", _RIG, "purge", "--format", "json", "--output", tmp_path / "sheet.html")
    assert ran.code == 2
    assert "would hold json" in ran.err


@pytest.mark.parametrize("path", sampled(_TEMPLATES, 3), ids=lambda path: path.stem)
def test_every_procedure_has_a_sheet_for_every_template(path: Path, run: Run, pack: Pack) -> None:
    for name in procedures_of(pack):
        ran = run("sheet", path, name, "--format", "json", "--day", "2026-11-25")
        assert ran.code == 0
        made = json.loads(ran.out)
        assert made["steps"] or made["left_out"]
        assert [step["do"] for step in made["steps"] if re.search(r"[{}]", step["do"])] == []


def test_a_new_record_is_written_and_never_over_a_file(run: Run, rig: Path, tmp_path: Path) -> None:
    record = tmp_path / "records" / "today.yaml"
    record.parent.mkdir()
    ran = run("new", "record", rig, "start-up", record, "--day", "2026-11-25")
    assert (ran.code, 'rig: "../rig.yaml"' in record.read_text()) == (0, True)
    written = record.read_text()
    ran = run("new", "record", rig, "start-up", record)
    assert (ran.code, record.read_text()) == (2, written)
    assert "is there already" in ran.err


def test_a_new_record_needs_rig_procedure_and_file(run: Run, rig: Path) -> None:
    assert "write the rig, the procedure and a file name" in run("new", "record", rig, "start-up").err
    assert "one word too many" in run("new", "oxy-propane-cutting", "a.yaml", "start-up").err


def test_a_folder_is_walked_for_rigs_and_records_alike(run: Run, rig: Path, tmp_path: Path) -> None:
    record = tmp_path / "today.yaml"
    run("new", "record", rig, "start-up", record, "--day", "2026-11-25")
    record.write_text(re.sub(r"^#  - ", "  - ", record.read_text(), flags=re.MULTILINE))
    ran = run("inspect", tmp_path, "--day", "2026-11-25", "--format", "json")
    entries = json.loads(ran.out)["entries"]
    assert [(Path(one["file"]).name, one["record"]) for one in entries] == [
        ("rig.yaml", ""),
        ("today.yaml", "Start-up"),
    ]
    assert entries[1]["findings"] == []
    assert {question["fact"] for question in entries[1]["questions"]} >= {"turns"}
    schema = json.loads(run("schema", "report").out)
    Draft202012Validator(schema).validate(json.loads(ran.out))


def test_a_record_in_the_wrong_order_is_on_hold_and_names_both_lines(run: Run, rig: Path, tmp_path: Path) -> None:
    record = tmp_path / "today.yaml"
    run("new", "record", rig, "start-up", record, "--day", "2026-11-25")
    head, _, _ = record.read_text().partition("steps:")
    opened = "  - open_acetylene_cylinder_valve: {turns: 1 turn}\n"
    record.write_text(f'{head}steps:\n{opened}  - back_off_knobs: {{thing: "acetylene regulator"}}\n')
    lines = record.read_text().count("\n")
    ran = run("inspect", record)
    told = " ".join(ran.out.split())
    assert ran.code == 1
    assert told.startswith("Record of Start-up, rig “")
    assert (
        f"open acetylene cylinder valve, acetylene cylinder (line {lines - 1}) "
        f"came before back off knobs, acetylene regulator (line {lines})"
    ) in told


def test_a_record_whose_rig_is_not_there_is_refused_at_its_place(run: Run, tmp_path: Path) -> None:
    record = tmp_path / "today.yaml"
    record.write_text("record: start-up\nrig: gone.yaml\ndone: 2026-11-25\nby: the user\nsteps: []\n")
    ran = run("inspect", record)
    assert ran.code == 2
    assert "today.yaml:2:6" in "".join(ran.out.split())
    assert "gone.yamlcannotberead" in "".join(ran.out.split())


def test_a_faulty_rig_of_a_record_is_told_at_its_own_place(run: Run, rig: Path, tmp_path: Path) -> None:
    record = tmp_path / "today.yaml"
    rig.write_text("rig: Wrong\nlines:\n  - gas: acetilene\n    parts: [hose]\n")
    record.write_text("record: start-up\nrig: rig.yaml\ndone: 2026-11-25\nby: the user\nsteps: []\n")
    for code, more in ((3, ()), (2, ("--strict",))):
        ran = run("inspect", record, *more)
        assert (ran.code, "rig.yaml:3:10" in "".join(ran.out.split())) == (code, True)


def test_a_record_from_standard_input_is_seen_from_here(run: Run, rig: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(rig.parent)
    text = b"record: purge\nrig: rig.yaml\ndone: 2026-11-25\nby: the user\nsteps: []\n"
    ran = run("inspect", "-", given=text)
    assert ran.code == 1
    assert "Record of Purge" in ran.out


def test_the_schemas_of_procedures_and_records_fit_what_ships(run: Run, rig: Path, tmp_path: Path) -> None:
    procedures = Draft202012Validator(json.loads(run("schema", "procedure").out))
    for path in (rules_folder() / "procedures").glob("*.yaml"):
        procedures.validate(yaml.safe_load(path.read_text(encoding="utf-8")))
    record = tmp_path / "today.yaml"
    run("new", "record", rig, "leak-test", record)
    text = re.sub(r"^#  - ", "  - ", record.read_text(), flags=re.MULTILINE)
    plain = yaml.load(text, Loader=yaml.BaseLoader)
    records = Draft202012Validator(json.loads(run("schema", "record").out))
    records.validate(plain)
    plain["steps"][0] = {"no_such_step": {}}
    assert not records.is_valid(plain)


def test_a_conceded_finding_no_longer_stands_among_what_holds_the_rig(run: Run, rig: Path, tmp_path: Path) -> None:
    rig.write_text(rig.read_text().replace("held_by: parallel-clip", "held_by: cable-tie"))
    beside = tmp_path / "leave.yaml"
    told = "rule: hoses/twin_hoses_part_freely, reason: The clips come soon., who: foreman, until: 2026-12-31"
    beside.write_text(f"concessions:\n- {{rig: rig.yaml, {told}}}\n")
    command = ("sheet", rig, "start-up", "--day", "2026-11-25", "--format", "json")
    held = json.loads(run(*command).out)["held_by"]
    assert [one for one in held if "Twin hoses" in one]
    ran = run(*command, "--concessions", beside)
    assert [one for one in json.loads(ran.out)["held_by"] if "Twin hoses" in one] == []
    assert ran.err == ""


def test_concessions_that_are_for_another_rig_are_complained_of(run: Run, rig: Path, tmp_path: Path) -> None:
    beside = tmp_path / "leave.yaml"
    told = "rule: hoses/twin_hoses_part_freely, reason: The clips come soon., who: foreman, until: 2026-12-31"
    beside.write_text(f"concessions:\n- {{rig: nowhere, {told}}}\n")
    for command in (("sheet", rig, "start-up"), ("draw", rig)):
        ran = run(*command, "--day", "2026-11-25", "--concessions", beside)
        assert ran.code == 0
        assert "leave.yaml: for none of the rigs" in ran.err
    assert run("draw", "-", "--concessions", "-").code == 2
