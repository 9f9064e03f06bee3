"""`rigcheck inspect --questions`: a shorter list for people; nothing is dropped silently, and no state changes."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from .conftest import Run

_DAY = ("--day", "2026-11-25")
_LEFT = re.compile(r"(\d+) open questions? not listed here \(([^)]*)\): --questions all lists them\.")


def _left(text: str) -> int:
    found = _LEFT.search(" ".join(text.split()))
    if found is None:
        return 0
    assert sum(int(number) for number in re.findall(r"\d+", found[2])) == int(found[1])
    return int(found[1])


@pytest.fixture
def told(run: Run, rigs: Path, monkeypatch: pytest.MonkeyPatch) -> dict[str, str]:
    """The text report of a rig of which little is known, at each choice."""
    monkeypatch.setenv("COLUMNS", "110")
    choices = ("danger", "warning", "caution", "all", "none")
    return {one: run("inspect", rigs / "deeper" / "open.yml", *_DAY, "--questions", one).out for one in choices}


def test_the_questions_of_lesser_words_are_counted_and_not_listed(told: dict[str, str]) -> None:
    total = int(re.findall(r"fact(?:s?), (\d+) question", told["all"])[0])
    words = {
        choice: set(re.findall(r"DANGER|WARNING|CAUTION|NOTICE", _LEFT.sub("", " ".join(text.split()))))
        for choice, text in told.items()
    }
    assert _left(told["all"]) == 0
    assert _left(told["none"]) == total
    assert 0 < _left(told["caution"]) <= _left(told["warning"]) < _left(told["danger"]) < total
    assert "CAUTION" not in words["warning"]
    assert "WARNING" not in words["danger"]


def test_the_state_does_not_change_by_it(told: dict[str, str]) -> None:
    assert len({text[text.index("State:") :] for text in told.values()}) == 1


def test_a_report_for_programs_keeps_every_question(run: Run, rigs: Path) -> None:
    rig = rigs / "deeper" / "open.yml"
    whole = run("inspect", rig, *_DAY, "--format", "json").out
    assert run("inspect", rig, *_DAY, "--format", "json", "--questions", "none").out == whole


def test_the_markdown_list_is_shortened_and_counted_too(run: Run, rigs: Path) -> None:
    rig = rigs / "deeper" / "open.yml"
    short = run("inspect", rig, *_DAY, "--format", "markdown", "--questions", "danger").out
    assert "- DANGER" in short
    assert "- WARNING" not in short
    assert re.search(r"\d+ open facts not listed here \(\d+ WARNING", short)
