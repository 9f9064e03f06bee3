"""`rigcheck file`: to a file, to the screen, what it was made from, and what it leaves alone."""

from __future__ import annotations

import hashlib
import re
from pathlib import Path

from rigcheck.report.html.heads import FILE_HEAD
from rigcheck.rules.folders import configs_folder

from ..conftest import HELD, WRONG, Run


def test_the_file_is_written_and_names_the_digest_of_what_it_read(run: Run, rig: Path, tmp_path: Path) -> None:
    output = tmp_path / "rig.html"
    for _ in range(2):  # an earlier file is written over
        assert run("file", rig, "--output", output, "--day", "2026-11-25").code == 0
    page = output.read_text(encoding="utf-8")
    assert page.startswith(FILE_HEAD)
    assert hashlib.sha256(rig.read_bytes()).hexdigest() in page  # FIPS 180-4, by the standard library


def test_without_an_output_it_is_written_to_the_screen_and_a_rig_is_read_from_input(run: Run) -> None:
    ran = run("file", "-", "--day", "2026-11-25", given=HELD.encode())
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.startswith(FILE_HEAD) and "standard input" in ran.out


def test_local_code_day_and_hold_level_are_those_that_are_asked_for(run: Run, rig: Path) -> None:
    page = run("file", rig, "--local-code", "uk", "--day", "2026-11-26", "--hold-at", "danger").out
    told = dict(re.findall(r"<dt>([^<]*)</dt><dd>([^<]*)</dd>", page))
    assert (told["Local code"], told["Judged for"], told["Hold level"]) == ("uk", "2026-11-26", "DANGER")


def test_rules_of_ones_own_are_laid_on_top(run: Run, rig: Path, tmp_path: Path) -> None:
    own = tmp_path / "own" / "limits"
    own.mkdir(parents=True)
    value = "{since: 2020-01-01, value: 35 deg, drawn_from: common practice, because: 'the <floor> is ribbed'}"
    (own / "general.yaml").write_text(f"local_code: general\nlimits:\n  trolley_tilt:\n    values:\n      - {value}\n")
    page = run("file", rig, "--rules", own.parent, "--day", "2026-11-25").out
    assert "35 deg instead of 20 deg, because: the &lt;floor&gt; is ribbed" in page


def test_concessions_beside_the_rig_are_taken_with_their_digest(run: Run, rig: Path, tmp_path: Path) -> None:
    beside = tmp_path / "beside.yaml"
    beside.write_text(
        "concessions:\n  - {rig: Nobody's rig, rule: trolley/trolley_stands_upright, thing: trolley, "
        "reason: none needed, who: works manager, until: 2026-12-31}\n"
    )
    ran = run("file", rig, "--concessions", beside, "--day", "2026-11-25")
    assert ran.code == 0
    assert hashlib.sha256(beside.read_bytes()).hexdigest() in ran.out


def test_neither_the_rig_nor_a_file_of_another_kind_is_written_over(run: Run, rig: Path, tmp_path: Path) -> None:
    other = tmp_path / "page.html"
    other.write_text("<!DOCTYPE html>\n<html lang='en'>")
    for output in (rig, other):
        before = output.read_text()
        ran = run("file", rig, "--output", output)
        assert ran.code == 2 and str(output) in ran.err
        assert output.read_text() == before


def test_what_cannot_be_read_is_refused_and_nothing_is_written(run: Run, tmp_path: Path) -> None:
    wrong, output = tmp_path / "wrong.yaml", tmp_path / "rig.html"
    wrong.write_text(WRONG)
    ran = run("file", wrong, "--output", output)
    assert ran.code == 2
    assert "acetilene" in ran.err and "Traceback" not in ran.err
    assert not output.exists()
    assert run("file", tmp_path / "missing.yaml").code == 2
    assert run("file", "-", "--concessions", "-", given=HELD.encode()).code == 2
    template = configs_folder() / "templates" / "oxy-propane-cutting.yaml"
    assert run("file", template, "--concessions", tmp_path / "missing.yaml").code == 2


def test_the_working_is_left_out_where_that_is_asked_for(run: Run, rig: Path) -> None:
    assert 'id="working"' in run("file", rig).out
    assert 'id="working"' not in run("file", rig, "--without-working").out
