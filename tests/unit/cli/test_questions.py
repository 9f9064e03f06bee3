"""`rigcheck inspect --questions`: a shorter list for people; nothing is dropped silently, and no state changes."""

from __future__ import annotations

import html
import json
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
    total = int(re.findall(r"Not yet shown: (\d+) questions about", told["all"])[0])
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
    states = [re.search(r"State: .*?[;.]", " ".join(text.split())) for text in told.values()]
    assert len({state[0] for state in states if state is not None}) == 1
    assert None not in states


def test_a_report_for_programs_keeps_every_question(run: Run, rigs: Path) -> None:
    rig = rigs / "deeper" / "open.yml"
    whole = run("inspect", rig, *_DAY, "--format", "json").out
    assert run("inspect", rig, *_DAY, "--format", "json", "--questions", "none").out == whole


def test_the_markdown_list_is_shortened_and_counted_too(run: Run, rigs: Path) -> None:
    rig = rigs / "deeper" / "open.yml"
    short = run("inspect", rig, *_DAY, "--format", "markdown", "--questions", "danger").out
    assert "- DANGER" in short
    assert "- WARNING" not in short
    assert re.search(r"\d+ open questions not listed here \(\d+ WARNING", short)


def test_every_report_for_people_counts_the_same_questions(run: Run, rigs: Path, tmp_path: Path) -> None:
    rig = rigs / "deeper" / "open.yml"
    entry = json.loads(run("inspect", rig, *_DAY, "--format", "json").out)["entries"][0]
    asked = len({(one["fact"], one["ask"], one["too_close"], one["left_open"]) for one in entry["questions"]})
    assert 1 < asked < len(entry["questions"])
    text = " ".join(run("inspect", rig, *_DAY).out.split())
    assert f"Not yet shown: {asked} questions about {len(entry['questions'])} facts" in text
    assert f", {asked} questions open; " in text
    assert f"<summary>{asked} questions about " in run("inspect", rig, *_DAY, "--format", "markdown").out
    summary = json.loads(run("summary", rig, *_DAY, "--format", "json").out)
    assert [one["questions"] for one in (*summary["rigs"], *summary["folders"])] == [asked] * 2
    run("file", rig, *_DAY, "--output", tmp_path / "open.html")
    page = (tmp_path / "open.html").read_text()
    assert f">Questions ({asked})<" in page
    assert f"<p>Not yet shown: {asked} questions about " in page
    run("draw", rig, *_DAY, "--output", tmp_path / "open.svg")
    assert f"(open questions, not drawn: {asked})" in (tmp_path / "open.svg").read_text()


def test_many_questions_are_told_look_by_look_the_gravest_first_and_the_rest_is_counted(
    run: Run, rigs: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "110")
    rig = rigs / "deeper" / "open.yml"
    short, whole = run("inspect", rig, *_DAY).out, run("inspect", rig, *_DAY, "--questions", "all").out
    assert short == run("inspect", rig, *_DAY, "--questions", "looks").out
    assert len(short.splitlines()) * 4 < len(whole.splitlines())
    rows = re.findall(r"^(DANGER|WARNING|CAUTION|NOTICE) ", short.partition("Not yet shown")[2], re.MULTILINE)
    assert rows == sorted(rows, key="DANGER WARNING CAUTION NOTICE".split().index)
    assert short.count("  asked ") == short.count("  write ") == len(rows) == 12
    assert 0 < _left(short) < int(re.findall(r"Not yet shown: (\d+) questions about", short)[0])
    assert f"rigcheck ask {rig}" in " ".join(short.split())


def test_every_form_says_of_every_question_its_key_its_place_and_what_to_write(
    run: Run, rigs: Path, tmp_path: Path
) -> None:
    rig = rigs / "deeper" / "open.yml"
    told = {
        form: run("inspect", rig, *_DAY, "--format", form, "--questions", "all").out
        for form in ("text", "json", "sarif", "junit", "markdown", "lines")
    }
    run("file", rig, *_DAY, "--output", tmp_path / "open.html")
    told["html"] = (tmp_path / "open.html").read_text(encoding="utf-8")
    shown = {form: re.sub(r"[^A-Za-z0-9]+", "", html.unescape(text)) for form, text in told.items()}
    questions = json.loads(told["json"])["entries"][0]["questions"]
    assert len(questions) > 100
    for one in questions:
        assert one["write"]
        assert one["path"]
        first = re.sub(r"[^A-Za-z0-9]+", "", one["fact"] + one["write"].split(" | ")[0].partition(" (in ")[0])
        for form in told.keys() - {"json"}:
            assert first in shown[form], (form, one["fact"])
    paths = {one["path"] for one in questions}
    assert all(f", at {path}" in told["sarif"] for path in paths)
