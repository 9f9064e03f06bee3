"""`rigcheck summary`, and concessions on the command line."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema_rs
import pytest
from markdown_it import MarkdownIt
from support.in_full import sites_in_full

from rigcheck.rules.folders import configs_folder

DAY = ("--day", "2026-11-25")


def _held(name: str, tilt: str = "30 deg") -> str:
    return (
        f"rig: {name}\ninspected: 2026-11-25\ntrolley: {{tilt: {tilt}}}\nlines:\n"
        "  - gas: acetylene\n    parts: [cylinder, regulator, hose: {kinked: true}]\n"
        "  - gas: oxygen\n    parts: [cylinder, regulator, hose]\ntorch: {form: cutting}\n"
    )


@pytest.fixture
def yard(tmp_path: Path) -> Path:
    """Two folders with three rigs, one of which cannot be read."""
    for folder in ("north", "south"):
        (tmp_path / "yard" / folder).mkdir(parents=True)
    (tmp_path / "yard" / "north" / "a.yaml").write_text(_held("Set A"))
    (tmp_path / "yard" / "south" / "b.yaml").write_text(_held("Set B", "5 deg"))
    (tmp_path / "yard" / "south" / "c.yaml").write_text("rig: Set C\nlines: none\n")
    return tmp_path / "yard"


def _json(run: Any, *arguments: object) -> dict[str, Any]:
    told: dict[str, Any] = json.loads(run("summary", *arguments, *DAY, "--format", "json").out)
    return told


def _report(run: Any, yard: Path, report: Path, *more: object) -> Path:
    run("inspect", yard, *DAY, "--format", "json", "--output", report, *more)
    return report


def test_a_summary_tells_what_is_on_hold_broken_asked_and_not_read(run: Any, yard: Path) -> None:
    ran = run("summary", yard, *DAY)
    assert ran.code == 3
    for words in ("3 files", "2 on hold", "1 not read", "“Set A”", "Folders, the worst first", "Rules that are broken"):
        assert words in ran.out
    assert "Questions, those on most rigs first" in ran.out
    assert "c.yaml:2:8: The rig has no gas lines." in " ".join(ran.out.split())
    assert "a competent or licensed person decide whether this rig may be used" in " ".join(ran.out.split())


def test_the_rig_with_more_grave_findings_is_worse(run: Any, yard: Path) -> None:
    told = _json(run, yard)
    assert [one["rig"] for one in told["rigs"]] == ["Set A", "Set B"]
    assert told["rigs"][0]["findings"]["danger"] == told["rigs"][1]["findings"]["danger"] + 1
    assert [Path(one["folder"]).name for one in told["folders"]] == ["north", "south"]


def test_folders_of_customers_are_told_with_all_that_lies_below_them(run: Any, yard: Path) -> None:
    deeper = yard / "north" / "quay"
    deeper.mkdir()
    (deeper / "c.yaml").write_text(_held("Set C"))
    told = _json(run, yard)
    below = {Path(one["folder"]).name: one["rigs"] for one in told["customers"]}
    assert below == {"north": 2, "south": 1}
    assert sum(one["findings"]["danger"] for one in told["customers"]) == told["findings"]["danger"]
    assert {Path(one["folder"]).name for one in told["folders"]} == {"north", "south", "quay"}


def test_sites_and_tagged_things_are_told_with_what_was_found_there(run: Any, tmp_path: Path) -> None:
    for name in ("slip-shed-cutting.yaml", "slip-shed-heating.yaml", "skerry-haven.yaml"):
        (tmp_path / name).write_text((configs_folder() / "yards" / name).read_text())
    tagged = _held("Set T").replace("kinked: true", "kinked: true, tag: H-7")
    (tmp_path / "t.yaml").write_text(tagged)
    told = _json(run, tmp_path)
    (site,) = told["sites"]
    assert Path(site["site"]).name == "skerry-haven.yaml" and site["rigs"] == 3
    at_site = [one for one in told["rigs"] if Path(one["file"]).name != "t.yaml"]
    assert site["findings"] == {word: sum(one["findings"][word] for one in at_site) for word in site["findings"]}
    (tag,) = told["tags"]
    assert (tag["tag"], tag["rigs"]) == ("H-7", 1)
    report = json.loads(run("inspect", tmp_path / "t.yaml", *DAY, "--format", "json").out)
    found = [one for one in report["entries"][0]["findings"] if one["tag"] == "H-7"]
    assert sum(tag["findings"].values()) == len(found) > 0
    text = run("summary", tmp_path, *DAY).out
    assert text.index("Sites, the worst first") < text.index("Tagged things with findings") < text.index("H-7")


def test_counts_agree_with_the_report_of_each_rig(run: Any, yard: Path, tmp_path: Path) -> None:
    told = _json(run, yard)
    report = json.loads(_report(run, yard, tmp_path / "all.json").read_text())
    findings = [(e["rig"], f["rule"]) for e in report["entries"] if e["outcome"] == "judged" for f in e["findings"]]
    assert {one["rule"]: one["findings"] for one in told["broken"]} == {
        rule: sum(other == rule for _, other in findings) for _, rule in findings
    }
    assert {one["rule"]: one["rigs"] for one in told["broken"]} == {
        rule: len({rig for rig, other in findings if other == rule}) for _, rule in findings
    }
    questions = sum(len(e.get("questions", ())) for e in report["entries"])
    assert sum(one["questions"] for one in told["asked"]) == questions


def test_changes_are_told_by_rule_rig_and_thing_and_never_by_line(run: Any, yard: Path, tmp_path: Path) -> None:
    before = _report(run, yard, tmp_path / "before.json")
    moved = "# a line more\n" + _held("Set A", "5 deg").replace("kinked: true", "kinked: true, cover: cut")
    (yard / "north" / "a.yaml").write_text(moved)
    changes = _json(run, yard, "--against", before)["changes"]
    assert [one["rule"] for one in changes["gone"]] == ["trolley/trolley_stands_upright"]
    assert {(one["rig"], one["thing"]) for one in changes["new"]} <= {("Set A", "acetylene hose")}
    assert changes["still_there"] > 3
    assert changes["not_inspected"] == []
    assert not changes["other_rules"]


def test_a_finding_of_a_rig_that_was_not_inspected_is_not_gone(run: Any, yard: Path, tmp_path: Path) -> None:
    before = _report(run, yard, tmp_path / "before.json")
    (yard / "south" / "b.yaml").write_text("rig: Set B\nlines: none\n")
    changes = _json(run, yard, "--against", before)["changes"]
    assert changes["gone"] == []
    assert {one["rig"] for one in changes["not_inspected"]} == {"Set B"}


def test_a_new_rig_is_told_apart_from_new_findings(run: Any, yard: Path, tmp_path: Path) -> None:
    before = _report(run, yard / "south", tmp_path / "before.json")
    changes = _json(run, yard, "--against", before)["changes"]
    assert changes["new_on_rigs_it_does_not_tell_of"] == len(changes["new"]) > 0


@pytest.mark.parametrize("indent", [None, 2])
def test_a_report_that_was_laid_out_anew_is_read_the_same(
    run: Any, yard: Path, tmp_path: Path, indent: int | None
) -> None:
    before = _report(run, yard, tmp_path / "before.json")
    wanted = _json(run, yard, "--against", before)["changes"]
    before.write_text(json.dumps(json.loads(before.read_text()), indent=indent))
    assert _json(run, yard, "--against", before)["changes"] == wanted


@pytest.mark.parametrize("text", ["", "[]", "{}", '{"form": "rigcheck due 1", "entries": []}', "rig: yaml", "[[[["])
def test_what_is_no_report_of_inspect_is_refused(run: Any, yard: Path, tmp_path: Path, text: str) -> None:
    (tmp_path / "other.json").write_text(text)
    ran = run("summary", yard, "--against", tmp_path / "other.json")
    assert ran.code == 2
    assert "is no JSON report of rigcheck inspect" in ran.err


def test_the_json_form_is_as_its_schema_says(run: Any, yard: Path, tmp_path: Path) -> None:
    schema = json.loads(run("schema", "summary").out)
    before = _report(run, yard, tmp_path / "before.json")
    jsonschema_rs.validate(schema, _json(run, yard, "--against", before))


def test_markdown_of_a_hostile_name_stays_text(run: Any, yard: Path) -> None:
    (yard / "north" / "a.yaml").write_text(_held('"<b>|x</b> [a](http://b)"'))
    told = run("summary", yard, *DAY, "--format", "markdown").out
    page = MarkdownIt("gfm-like").render(told)
    assert "<b>" not in page
    assert "href" not in page
    assert page.count("<h1>") == 1
    assert told.startswith("# rigcheck summary\n")


def test_an_output_keeps_what_is_no_summary_and_replaces_its_own(run: Any, yard: Path, tmp_path: Path) -> None:
    for name in ("s.md", "s.json", "s.txt"):
        assert run("summary", yard, *DAY, "--output", tmp_path / name).code == 3
        first = (tmp_path / name).read_text()
        assert "exists and is no" not in run("summary", yard, *DAY, "--output", tmp_path / name).err
        assert (tmp_path / name).read_text() == first
    own = tmp_path / "own.txt"
    own.write_text("my notes\n")
    assert "is no report of rigcheck" in run("summary", yard, "--output", own).err
    assert own.read_text() == "my notes\n"


@pytest.mark.crowd
def test_many_rigs_on_all_cores_give_what_they_give_one_by_one(run: Any, yard: Path) -> None:
    (yard / "south" / "c.yaml").unlink()
    one = _json(run, yard)
    for number in range(220):
        (yard / "north" / f"more-{number}.yaml").write_text(_held(f"Set {number}"))
    many = _json(run, yard)
    dangers = one["rigs"][0]["findings"]["danger"]
    assert many["findings"]["danger"] == one["findings"]["danger"] + 220 * dangers
    assert many["states"]["on hold"] == 222


# --- concessions ---


def _conceding(folder: Path, whose: str, until: str = "2027-03-31") -> Path:
    made = folder / "beside.yaml"
    kept = "thing: acetylene hose, reason: It lies straight now., who: foreman"
    made.write_text(
        f"concessions:\n- {{rig: {whose}, rule: hoses/hose_runs_free_of_kinks, {kept}, until: {until}}}\n"
        f"- {{rig: nowhere, rule: hoses/hose_runs_free_of_kinks, {kept}, until: {until}}}\n"
    )
    return made


def test_concessions_beside_count_in_reports_and_summaries(run: Any, yard: Path, tmp_path: Path, rule: str) -> None:
    beside = _conceding(tmp_path, "Set A")
    beside.write_text(beside.read_text().replace("hoses/hose_runs_free_of_kinks", rule))
    ran = run("summary", yard, *DAY, "--concessions", beside, "--format", "json")
    told = json.loads(ran.out)
    assert (told["conceded"], told["rigs"][0]["conceded"]) == (1, 1)
    assert [one["conceded"] for one in told["broken"] if one["rule"] == rule] == [1]
    assert "the concessions of line 3" in ran.err
    shown = run("inspect", yard / "north", *DAY, "--concessions", beside).out
    assert "acetylene hose (conceded)" in shown
    assert "1 conceded" in shown


@pytest.fixture
def rule(run: Any, yard: Path) -> str:
    """A rule without DANGER that is broken on the kinked hose."""
    told = json.loads(run("inspect", yard / "north", *DAY, "--format", "json").out)
    findings = told["entries"][0]["findings"]
    return next(f["rule"] for f in findings if f["thing"] == "acetylene hose" and f["signal"] != "danger")


def test_every_form_of_report_shows_a_concession(run: Any, yard: Path, tmp_path: Path, rule: str) -> None:
    beside = _conceding(tmp_path, "Set A")
    beside.write_text(beside.read_text().replace("hoses/hose_runs_free_of_kinks", rule))
    form = {
        name: run("inspect", yard / "north", *DAY, "--concessions", beside, "--format", name).out
        for name in ("json", "sarif", "junit", "markdown")
    }
    conceded = [f["conceded"] for f in json.loads(form["json"])["entries"][0]["findings"] if f["conceded"]]
    assert [(one["who"], one["until"], one["at"]["line"]) for one in conceded] == [("foreman", "2027-03-31", 2)]
    results = json.loads(form["sarif"])["runs"][0]["results"]
    # SARIF 2.1.0, 3.27.23: the lists of suppressions of a run are all null or none is (from memory)
    assert all("suppressions" in one for one in results)
    (suppressed,) = (one for one in results if one["suppressions"])
    assert suppressed["ruleId"] == rule
    assert suppressed["suppressions"][0]["kind"] == "external"
    assert "It lies straight now" in suppressed["suppressions"][0]["justification"]
    assert 'skipped message="Conceded: It lies straight now; leave given by foreman' in form["junit"]
    assert "conceded: It lies straight now; leave given by foreman" in form["markdown"]
    assert "1 of the findings conceded" in form["markdown"]


def test_a_file_of_concessions_that_cannot_be_read_stops_the_run(run: Any, yard: Path, tmp_path: Path) -> None:
    assert run("inspect", yard, "--concessions", tmp_path / "none.yaml").code == 2
    wrong = tmp_path / "wrong.yaml"
    wrong.write_text("concessions: [x]\n")
    ran = run("inspect", yard, "--concessions", wrong)
    assert ran.code == 2
    assert f"{wrong}:1:15: This is no concession." in ran.err


def test_the_schema_of_a_rig_knows_concessions(run: Any) -> None:
    schema = json.loads(run("schema", "rig").out)
    rig = {"rig": "A", "lines": [{"gas": "oxygen", "parts": ["hose"]}]}
    entry = {"rule": "a/b", "thing": "trolley", "reason": "x", "who": "foreman", "until": "2026-12-31"}
    check = jsonschema_rs.Draft202012Validator(schema)
    check.validate(rig | {"concessions": [entry]})
    for key in ("rule", "reason", "who", "until"):
        lacking = {name: value for name, value in entry.items() if name != key}
        with pytest.raises(jsonschema_rs.ValidationError):
            check.validate(rig | {"concessions": [lacking]})
    assert "may_be_conceded" in json.loads(run("schema", "rule").out)["properties"]


def test_a_register_that_is_met_is_told_of_and_passed_over(run: Any) -> None:
    harbour = configs_folder() / "harbour"
    told = " ".join(run("summary", harbour, *DAY).out.split())
    assert "1 register passed over: " in told and "'rigcheck inspect' judges what is in a register." in told
    assert _json(run, harbour)["registers"] == [str(harbour / "register")]
    assert "passed over" not in run("summary", sites_in_full() / "tool-room-welding.yaml", *DAY).out


def test_the_rigs_of_a_folder_on_hold_are_counted(run: Any, yard: Path) -> None:
    (yard / "south" / "d.yaml").write_text(_held("Set D"))
    told = " ".join(run("summary", yard, *DAY).out.split())
    assert "1 of 1 rig on hold" in told and "True" not in told


def test_whoever_reads_of_a_register_sees_that_it_is_no_rig(run: Any) -> None:
    for form in ("text", "markdown", "junit"):
        told = " ".join(run("inspect", configs_folder() / "harbour" / "register", *DAY, "--format", form).out.split())
        assert "whether what is in this register may be used" in told
    rig = run("inspect", sites_in_full() / "tool-room-welding.yaml", *DAY).out
    assert "whether this rig may be used" in " ".join(rig.split())


def test_a_summary_judges_for_what_an_inspection_does(run: Any, tmp_path: Path) -> None:
    rig = tmp_path / "set.yaml"
    rig.write_text("rig: Ferry set\nstandard_rig: oxy-propane-cutting\ninspected: 2026-11-01\n")
    for purpose, state in (("standard", "not yet shown"), ("commissioning", "on hold")):
        told = json.loads(run("summary", rig, *DAY, "--for", purpose, "--format", "json").out)
        assert (told["purpose"], told["states"][state]) == (purpose, 1)
    assert "judged as standard rigs" in " ".join(run("summary", rig, "--for", "standard").out.split())
