"""`rigcheck ask RIG start-up`: a procedure by the hand, its record on the disk before the next step."""

from __future__ import annotations

import io
import shutil
from collections.abc import Iterable
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from support.in_full import sites_in_full
from support.procedure_tools import DAY

from rigcheck.cli.ask_terminal import Stopped
from rigcheck.cli.console import Console
from rigcheck.cli.main import main
from rigcheck.cli.procedure_terminal import ProcedureTerminal
from rigcheck.cli.record_on_disk import RecordOnDisk
from rigcheck.rules.pack import Pack
from rigcheck.rules.procedures import procedures_of

_RECORD = "tool-room-welding-start-up-2026-11-24.yaml"
_WHOLE = """d d 1 d 1 d d d d|0.75_turn d|1.5_turn d|14_bar d|150_bar d|0.2_bar|0.25_bar d|0.2_bar d 1 d 1"""
"""What is typed where every step is done in its turn; each entry is a line, `_` a space."""


@pytest.fixture
def rig(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("COLUMNS", "60")
    return Path(shutil.copy(sites_in_full() / "tool-room-welding.yaml", tmp_path))


def _lines(typed: str) -> list[str]:
    return typed.replace("|", " ").replace(" ", "\n").replace("_", " ").split("\n")


def _ask(rig: Path, lines: Iterable[str], monkeypatch: pytest.MonkeyPatch, *more: str, name: str = "start-up") -> int:
    monkeypatch.setattr("sys.stdin", io.StringIO("".join(f"{one}\n" for one in lines)))
    return main(["ask", str(rig), name, "--by", "fitter", "--day", "2026-11-24", *more])


def test_every_step_in_its_turn_makes_a_record_that_nothing_is_found_against(
    rig: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert _ask(rig, _lines(_WHOLE), monkeypatch) == 0
    out = capsys.readouterr().out
    assert "== Every step is recorded ==\nState of the record: " in out
    assert main(["inspect", str(rig.parent / _RECORD)]) == 0
    assert "is safe" not in out


def test_nothing_is_written_until_something_was_done(rig: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert _ask(rig, ["?", "q"], monkeypatch) == 0
    assert [one.name for one in rig.parent.iterdir()] == [rig.name]


def test_a_step_whose_turn_has_not_come_is_told_before_and_after_it_is_written(
    rig: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    _ask(rig, [*_lines("d d 1 d 1"), "o", "5", "d", "1 turn", "q"], monkeypatch)
    out = " ".join(capsys.readouterr().out.split())
    assert out.index("Not yet: first back off knobs, acetylene regulator") < out.index(
        "not done before: back off knobs"
    )
    assert "do Close the cylinder valve, let the gas out through the torch, and back the knob off." in out
    assert "open_oxygen_cylinder_valve: {thing: oxygen cylinder" in (rig.parent / _RECORD).read_text()


def test_a_value_beyond_its_limit_is_told_at_once_and_the_step_comes_again(
    rig: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    _ask(rig, [*_lines("d d 1 d 1 d d d"), "d", "5 turn", "d", "0.75 turn", "q"], monkeypatch)
    out = " ".join(capsys.readouterr().out.split())
    assert "WARNING turns: 5 turns. Must be: turns: at most 1.5 turns" in out
    assert "do Close the valve, see that the knob is backed off, stand aside, and open it slowly." in out
    assert (rig.parent / _RECORD).read_text().count("open_acetylene_cylinder_valve") == 2


def test_what_is_recorded_is_corrected_by_a_new_line(
    rig: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    _ask(rig, [*_lines("d d 1 d 1 d d d"), "d", "1 turn", "c", "7", "d", "0.75 turn", "q"], monkeypatch)
    assert "turns: 1 turn, at " in " ".join(capsys.readouterr().out.split())
    record = (rig.parent / _RECORD).read_text()
    assert record.index("turns: 1 turn") < record.index("turns: 0.75 turn")


def test_a_record_that_was_stopped_says_so_and_is_gone_on_with(
    rig: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert _ask(rig, [*_lines("d d 1 d 1 d"), "q"], monkeypatch) == 1
    assert "stopped: " in (rig.parent / _RECORD).read_text()
    assert "rigcheck ask" in capsys.readouterr().out  # how to leave it without gas
    assert (
        _ask(
            rig,
            _lines(_WHOLE.removeprefix("d d 1 d 1 d ")),
            monkeypatch,
        )
        == 0
    )
    assert "Going on after: back off knobs, acetylene regulator." in " ".join(capsys.readouterr().out.split())
    assert "stopped: " not in (rig.parent / _RECORD).read_text()
    assert [one.name for one in rig.parent.glob("*start-up*")] == [_RECORD]


def test_an_emergency_is_one_key_away_from_every_line_and_the_record_waits(
    rig: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    _ask(rig, ["!", "2", "d", "d", "!", "2", "1", "q"], monkeypatch)
    out = capsys.readouterr().out
    assert out.count("FLASHBACK\n  1   Close the oxygen valve") == 2
    assert "permit: issued" in (rig.parent / _RECORD).read_text()


def test_a_required_step_is_not_left_out(
    rig: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    _ask(rig, ["n", "q"], monkeypatch)
    assert "This step is not left out." in capsys.readouterr().out


def test_a_rig_on_hold_is_not_started_and_is_shut_down_all_the_same(
    rig: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    text = rig.read_text()
    assert "cover: sound" in text
    rig.write_text(text.replace("cover: sound", "cover: oil-soaked", 1))
    assert _ask(rig, ["d"] * 3, monkeypatch) == 1
    out = capsys.readouterr().out
    assert "DO NOT BEGIN" in out
    assert "done? > " not in out
    assert f"rigcheck ask {rig} NAME" in out
    _ask(rig, ["q"], monkeypatch, name="shut-down")
    assert "done? > " in capsys.readouterr().out


def test_nothing_is_wider_than_the_screen(
    rig: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    _ask(rig, ["?", "o", "b", "!", "3", "d", "d", "x", "q"], monkeypatch)
    assert [
        row
        for row in capsys.readouterr().out.replace("> ", ">\n").splitlines()
        if len(row) > 60 and f"rigcheck ask {rig}" not in row
    ] == []


def test_a_procedure_that_is_none_is_told_with_the_nearest(rig: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["ask", str(rig), "startup", "--by", "fitter"]) == 2
    assert "Nearest: start-up." in capsys.readouterr().err


def test_a_purge_is_timed_from_one_key_to_the_next(rig: Path, pack: Pack) -> None:
    now = datetime(2026, 11, 24, 23, 59, 50)
    typed = iter(["d", "1", "d", "t", "", "", "q"])

    def clock() -> datetime:
        nonlocal now
        now += timedelta(seconds=6.5)
        return now

    def keys(before: str, words: list[str]) -> str:
        return next(typed)

    going = RecordOnDisk(str(rig), procedures_of(pack)["purge"], pack, DAY, "fitter")
    with pytest.raises(Stopped):
        ProcedureTerminal(going, Console(io.StringIO()), keys, "warning", clock).run()
    assert [(one.signal, one.found[0].value) for one in going.progress.last.findings] == [("warning", "6 s")]
    record = (rig.parent / "tool-room-welding-purge-2026-11-24.yaml").read_text()
    assert 'at: "2026-11-25 00:00:16", time: 6 s' in record  # after midnight with its day


def test_whether_a_step_applies_is_told_as_the_question_that_would_say_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    rig = tmp_path / "set.yaml"
    rig.write_text("rig: any\nlocal_code: uk\nstandard_rig: oxy-acetylene-welding\n")
    _ask(rig, ["d", "d", "1", "d", "1", "q"], monkeypatch)
    out = " ".join(capsys.readouterr().out.split())
    cylinder = "Did the cylinder lie flat within the last day? (acetylene cylinder)"
    assert f"It is not known whether this applies. {cylinder}" in out
    rig.write_text("rig: any\nlocal_code: uk\nstandard_rig: oxy-propane-cutting\n")
    _ask(rig, [*"d1ddd", "q"], monkeypatch, name="shut-down")
    place = "Gas that leaks stays in the place, since it is closed in or lies low. (site)"
    assert f"It is not known whether this applies. {place}" in " ".join(capsys.readouterr().out.split())
