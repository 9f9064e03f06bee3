"""`rigcheck draw`: to a file, to the screen, and what it leaves alone."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree

from rigcheck.report.drawing.drawing import DRAWING_HEAD

from ..conftest import HELD, WRONG, Run


def test_the_drawing_is_written_to_a_file(run: Run, rig: Path, tmp_path: Path) -> None:
    output = tmp_path / "rig.svg"
    for _ in range(2):  # an earlier drawing is written over
        assert run("draw", rig, "--output", output).code == 0
    assert output.read_text(encoding="utf-8").startswith(DRAWING_HEAD)
    assert ElementTree.parse(output).getroot().tag.endswith("svg")


def test_without_an_output_it_is_written_to_the_screen_and_a_rig_is_read_from_input(run: Run) -> None:
    ran = run("draw", "-", "--day", "2026-11-25", given=HELD.encode())
    assert ran.code == 0
    assert ElementTree.fromstring(ran.out).findtext("{http://www.w3.org/2000/svg}title")
    assert "judged for 2026-11-25 under local code general" in " ".join(ran.out.split())


def test_the_local_code_is_the_one_that_is_asked_for(run: Run, rig: Path) -> None:
    assert "under local code uk" in run("draw", rig, "--local-code", "uk").out


def test_neither_the_rig_nor_a_file_of_another_kind_is_written_over(run: Run, rig: Path, tmp_path: Path) -> None:
    other = tmp_path / "plan.svg"
    other.write_text("<svg/>")
    for output in (rig, other):
        before = output.read_text()
        ran = run("draw", rig, "--output", output)
        assert ran.code == 2 and str(output) in ran.err
        assert output.read_text() == before


def test_a_rig_that_cannot_be_read_is_refused_and_nothing_is_written(run: Run, tmp_path: Path) -> None:
    wrong, output = tmp_path / "wrong.yaml", tmp_path / "rig.svg"
    wrong.write_text(WRONG)
    ran = run("draw", wrong, "--output", output)
    assert ran.code == 2
    assert "acetilene" in ran.err and "Traceback" not in ran.err
    assert not output.exists()
    assert run("draw", tmp_path / "missing.yaml").code == 2
