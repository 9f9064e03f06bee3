"""`rigcheck history`: sights day by day, findings that came, went and came back."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from jsonschema_rs import Draft202012Validator

from ..conftest import Run

_RIG = """\
rig: barn gate
lines:
  - gas: acetylene
    parts: [cylinder, regulator, hose: {tag: H-1, bend_test: no-cracks}]
  - gas: oxygen
    parts: [cylinder, regulator, hose: {tag: H-2}]
torch: {form: cutting}
"""
_LOOK = "look: ../rig.yaml\nday: {day}\nby: {by}\nseen:\n  - {{thing: H-1, cover: {cover}}}\n"
_RULE = "hoses/hose_cover_is_sound"


@pytest.fixture
def rig(tmp_path: Path) -> Path:
    (tmp_path / "looks").mkdir()
    rig = tmp_path / "rig.yaml"
    rig.write_text(_RIG)
    for day, cover in (("2026-03-01", "cut"), ("2026-03-08", "sound"), ("2026-04-01", "cracked")):
        (tmp_path / "looks" / f"{day}.yaml").write_text(_LOOK.format(day=day, by="fitter", cover=cover))
    return rig


def _days(run: Run, rig: Path, last: str = "2026-11-25") -> list[dict[str, Any]]:
    told = json.loads(run("history", rig, "--day", last, "--format", "json").out)
    schema = json.loads(run("schema", "history").out)
    Draft202012Validator(schema).validate(told)
    days: list[dict[str, Any]] = told["days"]
    return days


def _of_the_cover(day: dict[str, Any]) -> list[tuple[str, str, str]]:
    return [(one["how"], one["tag"], one["first_found"]) for one in day["events"] if one["rule"] == _RULE]


def test_a_fault_comes_goes_and_comes_back_on_the_days_on_which_somebody_saw_it(run: Run, rig: Path) -> None:
    days = _days(run, rig)
    assert [day["day"] for day in days] == ["2026-03-01", "2026-03-08", "2026-04-01"]
    assert [_of_the_cover(day) for day in days] == [
        [("found", "H-1", "2026-03-01")],
        [("put right", "H-1", "2026-03-01")],
        [("came back", "H-1", "2026-03-01")],
    ]
    assert [(one["by"], one["fact"], one["value"]) for one in days[1]["seen"]] == [("fitter", "cover", "sound")]


def test_nothing_of_a_later_day_is_told(run: Run, rig: Path) -> None:
    assert [day["day"] for day in _days(run, rig, "2026-03-10")] == ["2026-03-01", "2026-03-08"]


def test_the_text_says_what_came_back(run: Run, rig: Path) -> None:
    ran = run("history", rig, "--day", "2026-11-25")
    told = " ".join(ran.out.split())
    assert ran.code == 0
    assert f"came back: {_RULE} on acetylene hose." in told
    assert "came back WARNING acetylene hose (H-1), first found 2026-03-01" in told


def test_a_look_at_a_part_that_left_the_rig_is_told(run: Run, rig: Path) -> None:
    rig.write_text(_RIG.replace("rig: barn gate\n", "rig: barn gate\nseen: 2026-05-01\n").replace("H-1", "H-9"))
    told = run("history", rig, "--day", "2026-11-25")
    assert told.code == 2 and "H-1" in told.err


def test_one_word_that_cannot_be_read_is_told_and_silences_no_day(run: Run, rig: Path) -> None:
    (rig.parent / "looks" / "later.yaml").write_text(_LOOK.format(day="2026-05-01", by="fitter", cover="kut"))
    got = run("history", rig, "--day", "2026-11-25")
    assert got.code == 2 and "'kut' is not one of its words" in got.err
    assert "2026-04-01" in got.out and "came back" in got.out


def test_a_rig_that_nobody_looked_at_has_no_history(run: Run, tmp_path: Path) -> None:
    rig = tmp_path / "rig.yaml"
    rig.write_text(_RIG)
    assert "Nobody has looked at it on a day that is written" in " ".join(run("history", rig).out.split())
