"""`rigcheck rules`, `new`, `schema`, `completion`, `--version`, and what they say to a mistyped word."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
import yaml
from jsonschema_rs import Draft202012Validator, meta
from support.editor_yaml import as_an_editor_reads
from support.in_full import sites_in_full

import rigcheck
from rigcheck.cli.options import SCHEMAS, SHELLS
from rigcheck.rules.folders import configs_folder, rules_folder
from rigcheck.rules.pack import Pack
from rigcheck.rules.procedures import procedures_of
from rigcheck.rules.standard_rigs import digest_of

from .conftest import Run

_CONFIGS = sorted(one for folder in (configs_folder() / "templates", sites_in_full()) for one in folder.glob("*.yaml"))
_TEMPLATES = sorted((configs_folder() / "templates").glob("*.yaml"))


# --- rules ---


def test_the_list_of_rules_has_each_rule_with_its_signal_word_and_claim(run: Run, pack: Pack) -> None:
    ran = run("rules", "list")
    told = " ".join(ran.out.split())
    assert ran.code == 0
    assert [name for name, rule in pack.rules.items() if f"{rule.signal.upper()} {name} {rule.claim}" not in told] == []
    assert f"{len(pack.rules)} rules." in told
    assert told.endswith("competent or licensed person decide. No rule does.")


def test_the_list_of_sources_counts_every_rule_and_every_step_once(run: Run, pack: Pack) -> None:
    lines = run("rules", "list", "--sources").out.splitlines()
    rows = [line.split() for line in lines]
    assert max(map(len, lines)) <= 80
    steps = sum(len(one.steps) for one in procedures_of(pack).values())
    assert [int(row[1]) for row in rows if row[:1] == ["all"] and row[1].isdigit()] == [len(pack.rules), steps]


def test_a_step_is_shown_with_its_sources_and_a_misspelt_one_with_the_nearest(run: Run, pack: Pack) -> None:
    step = procedures_of(pack)["lighting"].steps["dress"]
    told = " ".join(run("rules", "show", "procedures/lighting/dress").out.split())
    assert step.do in told
    assert all(source.text in told for source in step.sources)
    assert "Nearest: procedures/lighting/dress." in run("rules", "show", "procedures/lighting/dres").err


def test_the_list_is_cut_to_what_a_kind_a_fact_a_code_and_words_leave_and_says_what_belongs_in_each_topic(
    run: Run,
) -> None:
    told = run("rules", "list", "--about", "hose", "--fact", "bore", "--code", "us", "--signal", "caution").out
    assert "\n1 rules." in told
    assert "hoses: Hoses from the supply to the torch" in told
    assert run("rules", "list", "--about", "hoze").err.endswith("no kind of thing is called 'hoze'. Nearest: hose.\n")
    nothing = run("rules", "list", "trolley/", "--about", "nozzle")
    assert (nothing.code, "no rule is about all of that" in nothing.err) == (2, True)


def test_the_list_can_be_cut_to_the_rules_that_begin_so(run: Run, pack: Pack) -> None:
    hoses = [name for name in pack.rules if name.startswith("hoses/")]
    out = run("rules", "list", "hoses/").out
    assert f"\n{len(hoses)} rules.\n" in out
    assert "trolley/" not in out


def test_a_rule_is_shown_in_words_with_limit_source_and_cases(run: Run) -> None:
    told = " ".join(run("rules", "show", "trolley/trolley_stands_upright").out.split())
    for words in (
        "signal DANGER",
        "looks at every trolley",
        "tilt is at most 20 deg",
        "common practice",
        "harm",
        "do ",
    ):
        assert words in told
    assert "trolley_tilt under general" in told


def test_a_mistyped_rule_is_answered_with_the_nearest(run: Run) -> None:
    for action in ("show", "list", "prove"):
        ran = run("rules", action, "hoses/twin_hose_part_freely")
        assert (ran.code, ran.out) == (2, "")
        assert "Nearest: hoses/twin_hoses_part_freely." in ran.err


def test_a_rule_like_no_other_is_answered_with_the_way_to_the_list(run: Run) -> None:
    assert "'rigcheck rules list' has them all" in run("rules", "show", "zzz").err


def test_proving_tells_how_much_was_tried(run: Run) -> None:
    ran = run("rules", "prove", "trolley/")
    assert ran.code == 0
    assert "0 cases fail, 0 changes go unnoticed" in " ".join(ran.out.split())


def _own_rule(folder: Path, cases: str) -> Path:
    (folder / "own").mkdir()
    (folder / "own" / "hoses_are_short.yaml").write_text(
        "claim: Hoses are no longer than they need to be.\nsignal: caution\nlooks_at: hose\n"
        "holds:\n  length: {maximum: 10 m}\nharm: Long hoses are trodden on and burnt.\n"
        f"put_right: Fit shorter hoses.\ndrawn_from: [common practice]\nproven_by:\n{cases}"
    )
    return folder


def test_a_case_that_fails_and_a_change_that_nobody_notices_are_told(run: Run, tmp_path: Path) -> None:
    own = _own_rule(tmp_path, "  - {case: long, length: 12 m, verdict: holds}\n")
    ran = run("rules", "prove", "own/", "--rules", own)
    told = " ".join(ran.out.split())
    assert ran.code == 1
    assert "case “long”: must be holds, is broken" in told
    own_again = tmp_path / "again"
    own_again.mkdir()
    _own_rule(own_again, "  - {case: short, length: 1 m, verdict: holds}\n")
    told = " ".join(run("rules", "prove", "own/", "--rules", own_again).out.split())
    assert "own/hoses_are_short: maximum dropped, and no case notices" in told


def test_cases_that_cannot_be_read_give_two(run: Run, tmp_path: Path) -> None:
    ran = run(
        "rules", "prove", "own/", "--rules", _own_rule(tmp_path, "  - {case: long, lenght: 12 m, verdict: holds}\n")
    )
    assert ran.code == 2
    assert "Nearest known word: length." in ran.err
    assert "1 have cases that cannot be read" in " ".join(ran.out.split())


# --- new ---


def test_the_templates_are_listed_with_what_they_are(run: Run) -> None:
    out = run("new").out
    assert len(_TEMPLATES) >= 9
    for path in _TEMPLATES:
        assert f"{path.stem} " in out


@pytest.mark.parametrize("template", _TEMPLATES, ids=lambda path: path.stem)
def test_a_new_rig_is_the_template_and_can_be_inspected_at_once(run: Run, template: Path, tmp_path: Path) -> None:
    file = tmp_path / "my-rig.yaml"
    ran = run("new", template.stem, file)
    assert ran.code == 0
    assert f"rigcheck inspect {file}" in " ".join(ran.out.split())
    begun = f"begun_from: {{standard_rig: {template.stem}, digest: {digest_of(template.read_bytes())}}}\n"
    kept = file.read_text(encoding="utf-8").split(begun)[1].lstrip("\n")
    lines = template.read_bytes().splitlines(keepends=True)
    real = b"".join(line for line in lines if not line.startswith(b"invented: true")).decode()
    assert real.endswith(kept)
    assert kept.startswith("rig:")
    assert run("inspect", file, "--day", "2026-11-25").code in (0, 1)


def test_a_new_rig_stands_under_the_local_code_that_was_asked_for(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "my-rig.yaml"
    assert run("new", "machine-cutting-bank", file, "--local-code", "uk").code == 0
    assert [line for line in file.read_text().splitlines() if line.startswith("local_code:")] == ["local_code: uk"]


@pytest.mark.parametrize("option", [("--day", "2026-11-25"), ("--rules", "."), ("--hold-at", "danger")])
def test_a_template_takes_no_option_that_would_do_nothing(run: Run, option: tuple[str, str], tmp_path: Path) -> None:
    ran = run("new", "machine-cutting-bank", tmp_path / "my-rig.yaml", *option)
    assert (ran.code, "for a record" in ran.err, [*tmp_path.iterdir()]) == (2, True, [])


def test_a_blank_record_is_on_hold_as_its_sheet_would_be(run: Run, rig: Path, tmp_path: Path) -> None:
    record = tmp_path / "record.yaml"
    for level, words in (("danger", "the rig is ON HOLD"), ("warning", "the rig is ON HOLD")):
        run("new", "record", rig, "start-up", record, "--hold-at", level, "--day", "2026-11-25")
        told = record.read_text()
        assert words in " ".join(told.replace("#", "").split())
        assert all(line.startswith("#") for line in told.split("\nrecord:")[0].strip().split("\n"))
        record.unlink()


def test_a_file_that_is_there_is_never_overwritten(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "my-rig.yaml"
    file.write_text("mine")
    for there in (file, tmp_path):
        ran = run("new", _TEMPLATES[0].stem, there)
        assert (ran.code, "is there already" in ran.err) == (2, True)
    assert file.read_text() == "mine"


def test_a_link_to_nowhere_is_not_written_through(run: Run, tmp_path: Path) -> None:
    link = tmp_path / "my-rig.yaml"
    link.symlink_to(tmp_path / "elsewhere.yaml")
    assert run("new", _TEMPLATES[0].stem, link).code == 2
    assert not (tmp_path / "elsewhere.yaml").exists()


def test_a_folder_that_is_not_there_is_told(run: Run, tmp_path: Path) -> None:
    ran = run("new", _TEMPLATES[0].stem, tmp_path / "nowhere" / "my-rig.yaml")
    assert (ran.code, "cannot be written: No such file or directory." in ran.err) == (2, True)


def test_a_mistyped_template_is_answered_with_the_nearest(run: Run, tmp_path: Path) -> None:
    assert "Nearest: oxy-propane-cutting." in run("new", "oxy-propan-cuting", tmp_path / "a.yaml").err
    assert "There are: acetylene-bank-of-three," in run("new", "zzzz", tmp_path / "a.yaml").err
    assert list(tmp_path.iterdir()) == []


def test_a_template_without_a_file_name_asks_for_one(run: Run) -> None:
    ran = run("new", _TEMPLATES[0].stem)
    assert (ran.code, "write a file name after" in ran.err) == (2, True)


# --- schema ---


_PRINTED: dict[str, str] = {}


@pytest.fixture
def schemas(run: Run) -> dict[str, Any]:
    """The schemas as the command prints them; they are large, and printed once for all tests of this module."""
    for what in SCHEMAS:
        if what not in _PRINTED:
            _PRINTED[what] = run("schema", what).out
    return {what: json.loads(text) for what, text in _PRINTED.items()}


def test_every_schema_is_a_schema_of_2020_12(schemas: dict[str, Any]) -> None:
    for schema in schemas.values():
        assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
        meta.validate(schema)


@pytest.mark.parametrize("path", _CONFIGS, ids=lambda path: path.stem)
def test_every_template_and_site_fits_the_schema_of_a_rig(path: Path, schemas: dict[str, Any]) -> None:
    Draft202012Validator(schemas["rig"]).validate(_as_an_editor_reads_it(path))


def _as_an_editor_reads_it(path: Path) -> Any:
    return as_an_editor_reads(path.read_bytes())


@pytest.mark.parametrize(
    ("wrong", "where"),
    [
        ({"rig": "a"}, "lines"),
        ({"rig": "a", "lines": []}, "lines"),
        ({"rig": "a", "lines": [{"gas": "oxigen", "parts": ["hose"]}]}, "gas"),
        ({"rig": "a", "lines": [{"gas": "oxygen", "parts": [{"hoze": {}}]}]}, "part"),
        ({"rig": "a", "lines": [{"gas": "oxygen", "parts": [{"hose": {"bora": "8 mm"}}]}]}, "fact"),
        ({"rig": "a", "lines": [{"gas": "oxygen", "parts": ["hose"]}], "colour": "red"}, "key"),
    ],
)
def test_the_schema_of_a_rig_draws_a_red_line_under_a_mistake(wrong: Any, where: str, schemas: dict[str, Any]) -> None:
    assert not Draft202012Validator(schemas["rig"]).is_valid(wrong), where


def test_the_schema_of_a_rig_knows_every_fact_that_can_be_stated(schemas: dict[str, Any], pack: Pack) -> None:
    definitions = schemas["rig"]["$defs"]
    for kind in pack.vocabulary.kinds.values():
        offered = schemas["rig"]["properties"] if kind.name == "rig" else definitions[kind.key]["properties"]
        stated = {fact.name for fact in kind.facts.values() if not fact.computed} - {"name"}
        assert stated <= set(offered)
        computed = {fact.name for fact in kind.facts.values() if fact.computed}
        assert not computed & set(offered)


def _shipped(folder: str) -> list[Any]:
    return [yaml.load(path.read_bytes(), yaml.BaseLoader) for path in sorted((rules_folder() / folder).glob("*.yaml"))]


def test_every_file_of_rules_limits_and_vocabulary_fits_its_schema(schemas: dict[str, Any], pack: Pack) -> None:
    rule = Draft202012Validator(schemas["rule"])
    for one in pack.rules.values():
        rule.validate(_as_an_editor_reads_it(Path(one.file)))
    for what in ("limits", "vocabulary"):
        for content in _shipped(what):
            Draft202012Validator(schemas[what]).validate(_with_flags(content))
    documents = yaml.load((rules_folder() / "documents.yaml").read_bytes(), yaml.BaseLoader)
    Draft202012Validator(schemas["documents"]).validate(documents)


def _with_flags(content: Any) -> Any:
    """Read true and false as such, all else as text."""
    if isinstance(content, dict):
        return {key: _with_flags(value) for key, value in content.items()}
    if isinstance(content, list):
        return [_with_flags(item) for item in content]
    return {"true": True, "false": False}.get(content, content)


def test_the_schema_of_a_rule_refuses_an_unknown_kind_and_a_missing_claim(schemas: dict[str, Any], pack: Pack) -> None:
    validator = Draft202012Validator(schemas["rule"])
    rule = _as_an_editor_reads_it(Path(next(iter(pack.rules.values())).file))
    assert validator.is_valid(rule)
    assert not validator.is_valid(rule | {"looks_at": "hoze"})
    assert not validator.is_valid(rule | {"severity": "high"})
    assert not validator.is_valid({key: value for key, value in rule.items() if key != "claim"})


def test_a_schema_in_a_file_replaces_an_earlier_schema_and_nothing_else(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "rig.schema.json"
    for _ in range(2):
        assert run("schema", "rig", "--output", file).code == 0
    assert json.loads(file.read_text())["title"] == "rig"
    file.write_text("mine")
    ran = run("schema", "rig", "--output", file)
    assert (ran.code, "is no schema" in ran.err, file.read_text()) == (2, True, "mine")


def test_a_schema_that_there_is_not_is_answered_with_those_that_there_are(run: Run) -> None:
    ran = run("schema", "rgi")
    assert (ran.code, "'rgi' is no word for WHAT" in ran.err, "Nearest: rig." in ran.err) == (2, True, True)


# --- completion, version, help ---


@pytest.mark.parametrize("shell", SHELLS)
def test_completion_knows_the_commands_and_options(run: Run, shell: str) -> None:
    out = run("completion", shell).out
    for word in ("inspect", "rules", "schema", "hold-at", "za"):
        assert word in out


def test_completion_for_bash_is_a_script_that_bash_reads(run: Run, tmp_path: Path) -> None:
    script = tmp_path / "completion.bash"
    script.write_text(run("completion", "bash").out)
    assert subprocess.run(["bash", "-n", script], check=False).returncode == 0


def test_the_version_is_told_without_loading_the_heavy_parts() -> None:
    code = (
        "import sys\n"
        "from rigcheck.cli.main import main\n"
        "try:\n    main(['--version'])\nexcept SystemExit as stop:\n    assert not stop.code\n"
        "heavy = {'rich', 'pydantic', 'jsonschema', 'concurrent.futures.process', 'CoolProp'} & set(sys.modules)\n"
        "print(sorted(heavy))\n"
    )
    done = subprocess.run([sys.executable, "-c", code], text=True, capture_output=True, check=True)
    assert done.stdout.split("\n")[:2] == [f"rigcheck {rigcheck.__version__}", "[]"]


def test_the_module_can_be_run_and_says_the_same(apart: Run, run: Run, tmp_path: Path) -> None:
    assert apart("--version", cwd=tmp_path).out == f"rigcheck {rigcheck.__version__}\n"
    ran = apart("inspect", _TEMPLATES[0], "--day", "2026-11-25", cwd=tmp_path)
    assert (ran.code, ran.err) == (0, "")


def test_the_help_of_every_command_has_examples_that_are_understood(run: Run) -> None:
    for command in ("inspect", "rules", "new", "schema", "completion"):
        ran = run(command, "--help")
        assert ran.code == 0
        assert "example" in ran.out


def test_a_command_that_there_is_not_is_told(run: Run) -> None:
    ran = run("inspct")
    assert (ran.code, "'inspct' is no command. Nearest: inspect." in ran.err) == (2, True)
    assert run().code == 2


def test_no_command_leaves_anything_behind_in_the_folder(apart: Run, tmp_path: Path) -> None:
    apart("inspect", _TEMPLATES[0], cwd=tmp_path)
    apart("rules", "list", "hoses", cwd=tmp_path)
    assert os.listdir(tmp_path) == []
