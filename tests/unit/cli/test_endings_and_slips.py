"""A known ending of an output picks its form in every command, another is refused; slips get the nearest word."""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from support.every_form import DAY
from support.in_full import sites_in_full

from rigcheck.cli.arguments import build_parser
from rigcheck.cli.main import main

_RIG = str(sites_in_full() / "tool-room-welding.yaml")
_DAY = ("--day", DAY)
_BEGINS = {
    ".txt": "rigcheck ",
    ".json": "{",
    ".sarif": '{"$schema"',
    ".xml": "<?xml",
    ".md": ("# ", "<!-- rigcheck"),
    ".html": "<!DOCTYPE html>",
    ".svg": "<?xml",
    ".csv": "due,",
    ".ics": "BEGIN:VCALENDAR",
    ".yaml": "#",
}
_COMMANDS = {
    ("inspect", _RIG, *_DAY): (".txt", ".json", ".sarif", ".xml", ".md"),
    ("figures", _RIG, *_DAY): (".txt", ".json", ".svg"),
    ("draw", _RIG, *_DAY): (".svg",),
    ("file", _RIG, *_DAY): (".html",),
    ("sheet", _RIG, "start-up", *_DAY): (".txt", ".json", ".md", ".html"),
    ("compare", _RIG, _RIG, *_DAY): (".txt", ".json"),
    ("history", _RIG, *_DAY): (".txt", ".json"),
    ("due", _RIG, *_DAY): (".txt", ".json", ".csv", ".ics"),
    ("summary", _RIG, *_DAY): (".txt", ".json", ".md"),
    ("schema", "rig"): (".json",),
}
_CASES = [(command, ending) for command, endings in _COMMANDS.items() for ending in endings]


@pytest.mark.parametrize(("command", "ending"), _CASES, ids=lambda one: one if isinstance(one, str) else one[0])
def test_the_ending_of_an_output_picks_its_form(command: tuple[str, ...], ending: str, tmp_path: Path) -> None:
    output = tmp_path / f"made{ending}"
    assert main([*command, "--output", str(output)]) in (0, 1)
    text = output.read_text(encoding="utf-8")
    assert text.startswith(_BEGINS[ending])
    if ending in (".json", ".sarif"):
        assert json.loads(text)


_NAMES = {
    ("rows", _RIG, *_DAY, "--output", "tables.json"): "would be a folder of tables; name it without '.json'",
    ("rows", _RIG, *_DAY, "--output", "rows.parquet"): "would be a folder of tables; name it without '.parquet'",
    ("register", "write", "register.yaml", "parts.xlsx"): "There is .csv (csv)",
    ("register", "read", "parts.csv", "parts.json"): "There is .yaml (yaml)",
    ("new", "oxy-propane-cutting", "my-rig.txt"): "There is .yaml (yaml)",
    ("new", "record", _RIG, "start-up", "today.json"): "There is .yaml (yaml)",
}


@pytest.mark.parametrize("command", _NAMES, ids=lambda one: f"{one[0]} {one[-1]}")
def test_what_is_written_into_a_named_file_bears_its_ending(
    command: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("register.yaml").write_text("register: s\nthings: {H-1: {hose: {}}}\n")
    Path("parts.csv").write_text("tag,kind\nH-1,hose\n")
    assert main(list(command)) == 2
    assert _NAMES[command] in " ".join(capsys.readouterr().err.split())
    assert sorted(one.name for one in tmp_path.iterdir()) == ["parts.csv", "register.yaml"]


@pytest.mark.parametrize("command", _COMMANDS, ids=lambda one: one[0])
@pytest.mark.parametrize("ending", [".pdf", ".xlsx", ".png", ".jsn"])
def test_an_ending_that_no_form_has_is_refused_with_what_there_is(
    command: tuple[str, ...], ending: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    output = tmp_path / f"made{ending}"
    assert main([*command, "--output", str(output)]) == 2
    told = capsys.readouterr().err
    assert f"made{ending}: nothing is written here under that ending. There is {_COMMANDS[command][0]} (" in told
    assert not output.exists()


def test_a_form_that_is_asked_for_and_another_ending_do_not_go_together(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["inspect", _RIG, "--format", "sarif", "--output", str(tmp_path / "a.xml")]) == 2
    assert "a.xml would hold sarif" in capsys.readouterr().err
    assert main(["inspect", _RIG, *_DAY, "--format", "sarif", "--output", str(tmp_path / "a.sarif.json")]) in (0, 1)
    assert main(["inspect", _RIG, *_DAY, "--format", "sarif", "--output", str(tmp_path / "a.dat")]) in (0, 1)


def test_several_outputs_without_a_form_take_each_its_own(tmp_path: Path) -> None:
    names = [tmp_path / name for name in ("a.sarif", "a.xml", "a.json")]
    assert main(["inspect", _RIG, *_DAY, *(word for name in names for word in ("--output", str(name)))]) in (0, 1)
    for name in names:
        assert name.read_text(encoding="utf-8").startswith(_BEGINS[name.suffix])


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        (["inpsect", "a.yaml"], "'inpsect' is no command. Nearest: inspect."),
        (["inspect", "a.yaml", "--holdat", "danger"], "unrecognized arguments: --holdat danger. Nearest: --hold-at."),
        (["inspect", "a.yaml", "--format", "sarf"], "'sarf' is no word for --format. Nearest: sarif."),
        (["drow", "a.yaml"], "Nearest: draw."),
        (["dew", "a.yaml"], "Nearest: due."),
        (["schema", "rigg"], "'rigg' is no word for WHAT. Nearest: rig."),
        (["rules", "shw"], "'shw' is no word for ACTION. Nearest: show."),
        (["rules", "show", "hoses/twin"], "no rule is called 'hoses/twin'. Nearest: hoses/twin_"),
        (["completion", "qqq"], "'qqq' is no word for shell. There are: bash, zsh, tcsh."),
    ],
)
def test_a_slip_gets_the_nearest_word_in_two_lines(
    typed: list[str], told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(typed) == 2
    said = capsys.readouterr().err
    assert told in said
    assert len(said.splitlines()) <= 2


@pytest.mark.parametrize(
    "typed", [["sheet", "a.yaml", "--frmat", "html"], ["register", "read", "a", "b", "--all-of-it"]]
)
def test_an_option_that_a_command_does_not_know_points_to_the_help_of_that_command(
    typed: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(typed) == 2
    command = " ".join(word for word in typed[: typed.index("a") if "a" in typed else 1])
    assert f"'rigcheck {command} --help' tells what there is." in capsys.readouterr().err


def test_help_fits_eighty_columns(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    parsers = list(_parsers(build_parser()))
    assert len(parsers) > 20
    assert [row for one in parsers for row in one.format_help().split("\n") if len(row) > 80] == []


def _parsers(parser: argparse.ArgumentParser) -> Iterator[argparse.ArgumentParser]:
    yield parser
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            yield from (found for inner in action.choices.values() for found in _parsers(inner))


@pytest.mark.parametrize("shell", ["bash", "zsh", "tcsh"])
def test_completion_knows_templates_procedures_rules_and_kinds(shell: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["completion", shell]) == 0
    told = capsys.readouterr().out
    for name in ("oxy-propane-cutting", "start-up", "hoses/twin_hoses_part_freely", "regulator"):
        assert name in told


def test_no_option_is_taken_for_a_longer_one(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["due", "a.yaml", "--for", "use"]) == 2
    assert "unrecognized arguments: --for use" in capsys.readouterr().err
