"""`rigcheck figures`: forms, output files, and what cannot be read."""

from __future__ import annotations

import io
import json
import sys
from pathlib import Path
from xml.etree import ElementTree

import jsonschema_rs
import pytest
from support.small_sheets import rig_text

from rigcheck.cli.main import main
from rigcheck.report.text.calculation_text import CYLINDER_GAUGES, ESTIMATE
from rigcheck.report.text.inspection_text import CAUTION


@pytest.fixture
def rig(tmp_path: Path) -> Path:
    path = tmp_path / "rig.yaml"
    path.write_text(rig_text(), encoding="utf-8")
    return path


def told(capsys: pytest.CaptureFixture[str]) -> str:
    return " ".join(capsys.readouterr().out.split())


def test_the_sheet_is_printed_with_its_cautions(rig: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["figures", str(rig), "--all", "--day", "2026-11-25"]) == 0
    out = told(capsys)
    assert "hourly share: 20 %/h" in out
    assert out.endswith(f"{ESTIMATE} {CYLINDER_GAUGES} {CAUTION}")


def test_the_short_sheet_has_what_decides_most_and_says_how_to_get_the_rest(
    rig: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["figures", str(rig), "--day", "2026-11-25"]) == 0
    out = told(capsys)
    assert "hourly share of the acetylene line: 20 %/h decides WARNING, cylinders/acetylene_draw_is_within" in out
    assert "All of them: --all." in out
    assert CAUTION in out
    assert "hose volume" not in out


def test_a_rig_is_read_from_input(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(rig_text().encode())))
    assert main(["figures", "-", "--all"]) == 0
    assert "stated at standard input:6:18" in told(capsys)


def test_the_same_sheet_without_colour_and_in_colour(
    rig: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["figures", str(rig)])
    plain = capsys.readouterr().out
    monkeypatch.setenv("FORCE_COLOR", "1")
    main(["figures", str(rig)])
    styled = capsys.readouterr().out
    assert "\x1b[" in styled and "\x1b[" not in plain
    assert strip_style(styled).split() == plain.split()


def strip_style(text: str) -> str:
    parts = text.split("\x1b[")
    return parts[0] + "".join(part.partition("m")[2] for part in parts[1:])


def test_json_fits_the_schema_that_is_printed(rig: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["schema", "figures"])
    schema = json.loads(capsys.readouterr().out)
    assert main(["figures", str(rig), "--format", "json"]) == 0
    jsonschema_rs.validate(schema, json.loads(capsys.readouterr().out))


def test_an_output_that_ends_in_svg_holds_the_plots(rig: Path, tmp_path: Path) -> None:
    output = tmp_path / "figures.svg"
    assert main(["figures", str(rig), "--output", str(output)]) == 0
    assert ElementTree.parse(output).getroot().tag == "{http://www.w3.org/2000/svg}svg"


def test_another_form_in_a_file_called_svg_is_refused(
    rig: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    output = tmp_path / "figures.svg"
    assert main(["figures", str(rig), "--format", "json", "--output", str(output)]) == 2
    assert "would hold json" in capsys.readouterr().err
    assert not output.exists()


@pytest.mark.parametrize("form", ["text", "json", "svg"])
def test_an_earlier_sheet_is_written_over(rig: Path, tmp_path: Path, form: str) -> None:
    output = tmp_path / "sheet"
    for _ in range(2):
        assert main(["figures", str(rig), "--format", form, "--output", str(output)]) == 0


@pytest.mark.parametrize(
    "content",
    [
        "my own notes",
        "rig: rigcheck figures\n",  # a rig that is called so
        "<svg xmlns='http://www.w3.org/2000/svg'/>",
        "rigcheck inspection\n\nRig “small”\n",
    ],
)
def test_any_other_file_is_left_as_it_is(
    rig: Path, tmp_path: Path, content: str, capsys: pytest.CaptureFixture[str]
) -> None:
    output = tmp_path / "notes.txt"
    output.write_text(content, encoding="utf-8")
    assert main(["figures", str(rig), "--output", str(output)]) == 2
    assert output.read_text(encoding="utf-8") == content
    assert "is no report of rigcheck" in capsys.readouterr().err


@pytest.mark.parametrize("command", ["figures", "inspect"])
def test_the_rig_itself_is_never_written_over(rig: Path, command: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([command, str(rig), "--output", str(rig)]) == 2
    assert rig.read_text(encoding="utf-8") == rig_text()
    assert "is one of the rigs" in capsys.readouterr().err


def test_an_inspection_does_not_write_over_a_rig_that_speaks_of_one(
    rig: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    other = tmp_path / "other.txt"
    other.write_text("rig: after the rigcheck inspection\n", encoding="utf-8")
    assert main(["inspect", str(rig), "--output", str(other)]) == 2
    assert other.read_text(encoding="utf-8") == "rig: after the rigcheck inspection\n"
    assert "is no report of rigcheck" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("written", "said"),
    [(None, "The file cannot be read"), ("rig: [\n", "rig.yaml:"), ("not a rig\n", "This is no rig description")],
)
def test_what_cannot_be_read_is_said_with_its_place(
    tmp_path: Path, written: str | None, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "rig.yaml"
    if written is not None:
        path.write_text(written, encoding="utf-8")
    assert main(["figures", str(path)]) == 2
    error = capsys.readouterr().err
    assert said in error
    assert "rig.yaml:" in error


def test_the_limits_of_another_code_are_taken(rig: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["figures", str(rig), "--all", "--local-code", "uk", "--day", "2026-11-25"])
    assert "limit acetylene draw intermittent of local code uk" in told(capsys)


def test_an_output_is_kept_where_the_rig_is_not_there(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    output = tmp_path / "notes.txt"
    output.write_text("my own notes", encoding="utf-8")
    assert main(["inspect", str(tmp_path / "missing.yaml"), "--output", str(output)]) == 2
    assert output.read_text(encoding="utf-8") == "my own notes"
    assert "is no report of rigcheck" in capsys.readouterr().err
