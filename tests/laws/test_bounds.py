"""A small file makes no endless work and no endless report: what is said of n parts does not grow with n times n."""

from __future__ import annotations

import json
import os
from pathlib import Path
from time import process_time

import pytest
from support.every_report import REPORTS, told_by
from support.one_pack import with_one_pack
from support.sampling import sampled

from rigcheck.cli.main import main
from rigcheck.rules.pack import Pack

_DAY = ("--day", "2026-11-25")
_RECORD = "record: start-up\nrig: rig.yaml\ndone: 2026-11-25\nby: user\nsteps: [look_the_rig_over]\n"
_LARGEST = {1: 2_000_000, 4: 1_500_000}  # bytes of any report of a rig of three thousand; a long one leaves some out
_SHARE = [4, pytest.param(1, marks=pytest.mark.whole)]  # a quarter of the parts shows as well what grows with n times n
_WORST = (  # of a hose: each breaks rules, and is so of every one of them
    "{repaired_by: user, factory_made: no, approved: no, condition: leaking, service_until: 1900-01-01, kinked: yes, "
    "tested: 1900-01-01, tested_by: user, test_result: failed, made: 1999-01-01, rated_pressure: 1 mbar, oil_free: no, "
    "oxygen_clean: no, gases: acetylene, bore: 1 mm, colour: red, burst_pressure: 1 mbar, mark_spacing: 100 m, "
    "cover: cracked, repaired_with: tape, run: across-passage, blown_out: no, flashback_seen: yes, joiners: 100}"
)


def _in_a_row(count: int, every: str = "") -> str:
    parts = ", ".join(["cylinder", "regulator"] + ["hose"] * count)
    said = f"every: {{hose: {every}}}\n" if every else ""
    return f"rig: Row\n{said}lines:\n  - {{gas: oxygen, parts: [{parts}]}}\ntorch: {{}}\n"


@pytest.fixture(autouse=True)
def _one_pack(pack: Pack, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    with_one_pack(pack, monkeypatch)
    monkeypatch.chdir(tmp_path)


def _told(capsys: pytest.CaptureFixture[str], arguments: list[str]) -> tuple[int, int, float]:
    """Return the exit code, how long what was told is, and the time of the processor that it took, in seconds."""
    began = process_time()
    code = main(arguments)
    return code, len(capsys.readouterr().out), process_time() - began


@pytest.mark.parametrize("share", _SHARE)
@pytest.mark.parametrize("report", sampled(REPORTS, 6))
def test_as_many_parts_as_a_rig_may_have_make_a_report_that_can_be_read(
    report: str, share: int, capsys: pytest.CaptureFixture[str]
) -> None:
    Path("rig.yaml").write_text(_in_a_row(190 // share))
    Path("record.yaml").write_text(_RECORD)
    code, size, seconds = _told(capsys, told_by(report, "rig.yaml", "record.yaml", *_DAY))
    assert code in (0, 1)
    assert size < _LARGEST[share]
    assert seconds < 10 / share  # on a busy machine; what grows with n times n took 30


@pytest.mark.parametrize("share", _SHARE)
@pytest.mark.parametrize("report", sampled(REPORTS, 6))
def test_as_many_findings_as_a_few_lines_can_make_are_a_report_that_can_be_read(
    report: str, share: int, capsys: pytest.CaptureFixture[str]
) -> None:
    Path("rig.yaml").write_text(_in_a_row(160 // share, _WORST))
    assert os.path.getsize("rig.yaml") < 3_000
    Path("record.yaml").write_text(_RECORD)
    code, size, seconds = _told(capsys, told_by(report, "rig.yaml", "record.yaml", *_DAY))
    assert code in (0, 1)
    assert size < _LARGEST[share] and seconds < 10 / share


@pytest.mark.parametrize("form", ["json", "sarif", "junit"])
def test_what_a_report_leaves_out_is_counted_in_it_and_told_when_asked_for(
    form: str, capsys: pytest.CaptureFixture[str]
) -> None:
    Path("rig.yaml").write_text(_in_a_row(60, _WORST))
    code, cut = _report(capsys, form)
    assert (code == 1 and "left" in cut and "--questions all" in cut) or form == "json"
    _, whole = _report(capsys, form, "--questions", "all")
    assert len(whole) > len(cut)
    if form == "json":
        few, every = (json.loads(one)["entries"][0] for one in (cut, whole))
        for part in ("findings", "questions"):
            assert few["left_out"][part] == len(every[part]) - len(few[part]) > 0
            assert every[part][: len(few[part])] == few[part]
        assert few["state"] == every["state"] and few["verdicts"] == every["verdicts"]


def test_a_file_that_would_be_too_long_leaves_the_working_out_and_says_so(capsys: pytest.CaptureFixture[str]) -> None:
    Path("rig.yaml").write_text(_in_a_row(150, _WORST))
    assert main(["file", "rig.yaml", *_DAY]) == 0
    told = capsys.readouterr().out
    assert len(told) < 2_000_000 and "The working of the figures is left out" in told and 'id="working"' not in told


def _report(capsys: pytest.CaptureFixture[str], form: str, *more: str) -> tuple[int, str]:
    code = main(["inspect", "rig.yaml", *_DAY, "--format", form, *more])
    return code, capsys.readouterr().out


def test_a_rig_of_more_parts_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    Path("rig.yaml").write_text(_in_a_row(500))
    assert main(["figures", "rig.yaml"]) == 2
    assert "parts, joints and other things" in capsys.readouterr().err


def test_a_working_with_many_inputs_names_a_few_and_says_how_many_more(capsys: pytest.CaptureFixture[str]) -> None:
    Path("rig.yaml").write_text(_in_a_row(100).replace("hose,", "hose: {bore: 8 mm, length: 5 m},"))
    main(["figures", "rig.yaml", "--all", *_DAY])
    told = capsys.readouterr().out
    assert "and 94 more" in told or "and 95 more" in told or "more" in told.split("with", 1)[1]


def test_a_thousand_concessions_that_lead_nowhere_are_told_in_time(capsys: pytest.CaptureFixture[str]) -> None:
    row = "  - {{rule: hoses/none_{n}, thing: hose {n}, reason: r, who: w, until: 2026-12-31}}\n"
    given = "".join(row.format(n=number) for number in range(1000))
    Path("rig.yaml").write_text(f"{_in_a_row(190)}concessions:\n{given}")
    code, _, seconds = _told(capsys, ["inspect", "rig.yaml", *_DAY])
    assert code == 1 and seconds < 10
