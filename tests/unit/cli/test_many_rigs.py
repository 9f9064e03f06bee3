"""Many rigs told to people: a row each, the worst first; lines for logs; exit codes that tell held from not read."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from .conftest import HELD, OPEN, WRONG, Run

_DAY = ("--day", "2026-11-25")
_LEVEL = HELD.replace("30 deg", "3 deg")
_LINE = re.compile(r"^(?P<file>[^:]+):(?P<line>\d+):(?P<column>\d+): (?P<word>[A-Z ]+): (?P<text>.+)$")


@pytest.fixture
def yard(tmp_path: Path) -> Path:
    """Twelve rigs: eleven level ones, the seventh of them leaning, and one of which little is known."""
    folder = tmp_path / "yard"
    folder.mkdir()
    for number in range(11):
        text = HELD if number == 7 else _LEVEL
        (folder / f"rig-{number:02}.yaml").write_text(text.replace("rig: ", f"rig: {number} "))
    (folder / "open.yaml").write_text(OPEN)
    return folder


def _rows(told: str) -> list[str]:
    return [line.split()[-1].rpartition("/")[2] for line in told.splitlines() if line.endswith(".yaml")]


def test_more_than_ten_rigs_have_a_line_each_the_worst_first_and_totals_after_them(run: Run, yard: Path) -> None:
    ran = run("inspect", yard, *_DAY)
    rows = _rows(ran.out)
    assert ran.code == 1
    assert sorted(rows) == sorted(path.name for path in yard.iterdir())
    assert rows[0] == "rig-07.yaml" and rows[-1] == "open.yaml"
    before, _, after = ran.out.partition("12 files: 11 on hold, 1 not yet shown.")
    assert (
        "open.yaml" in before
        and "--in-full" in after
        and "decide whether this rig may be used" in " ".join(after.split())
    )


def test_a_name_too_long_for_its_row_is_shown_without_its_middle_unless_another_would_look_the_same(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.chdir(tmp_path)
    below = Path("yard/a-customer-with-a-rather-long-name-in-the-north/below-him")
    names = [below / f"rig-with-a-long-name-{number:02}.yaml" for number in range(11)]
    alike = [Path("yard/a-customer-with", f"{one}{'x' * 60}.yaml") for one in "ab"]
    for path in (*names, *alike):
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(OPEN)
    rows = [line for line in run("inspect", "yard", *_DAY).out.splitlines() if line.endswith(".yaml")]
    assert max(len(row) for row in rows if "x" not in row) <= 80
    assert sorted(row.rpartition("…")[2][-12:] for row in rows if "…" in row) == [path.name[-12:] for path in names]
    assert sorted(row.split()[-1] for row in rows if "x" in row) == list(map(str, alike))


def test_each_row_has_the_counts_of_its_own_report(run: Run, yard: Path) -> None:
    (row,) = (line for line in run("inspect", yard, *_DAY).out.splitlines() if "rig-07" in line)
    alone = run("inspect", yard / "rig-07.yaml", *_DAY).out.partition("State: ")[2].partition(";")[0]
    counts = {word: count for count, word in re.findall(r"(\d+) (DANGER|WARNING|CAUTION|NOTICE)\b", alone)}
    told = [counts.get(word, "-") for word in ("DANGER", "WARNING", "CAUTION", "NOTICE")]
    assert row.split()[:4] == told and row.split()[4] == re.findall(r"(\d+) questions? open", alone)[0]


@pytest.mark.parametrize("form", ["text", "markdown"])
def test_ten_rigs_and_all_of_them_where_that_is_asked_for_are_told_in_full(form: str, run: Run, yard: Path) -> None:
    rows = run("inspect", yard, *_DAY, "--format", form).out
    full = run("inspect", yard, *_DAY, "--format", form, "--in-full").out
    (yard / "open.yaml").unlink()
    (yard / "rig-10.yaml").unlink()
    assert "Stand the trolley" not in rows
    for told in (full, run("inspect", yard, *_DAY, "--format", form).out):
        assert "Stand the trolley" in " ".join(told.split())


def test_a_summary_page_has_the_counts_first_and_a_table_for_each_state(run: Run, yard: Path) -> None:
    told = run("inspect", yard, *_DAY, "--format", "markdown").out
    assert told.index("11 on hold") < told.index("## On hold (11)") < told.index("## Not yet shown (1)")
    assert told.count("| file |") == 2


def test_a_file_that_is_not_read_stands_before_the_rows_with_what_is_wrong(run: Run, yard: Path) -> None:
    (yard / "wrong.yaml").write_text(WRONG)
    ran = run("inspect", yard, *_DAY, "--strict")
    told = " ".join(ran.out.split())
    assert ran.out.startswith("not read") and "'acetilene'" in told and told.index("acetilene") < told.index("On hold")


def test_a_row_says_how_much_of_a_rig_is_new_since_an_earlier_report(run: Run, yard: Path, tmp_path: Path) -> None:
    known = tmp_path / "known.json"
    run("inspect", yard, *_DAY, "--output", known)
    assert run("inspect", yard, *_DAY, "--known", known).code == 0
    (yard / "rig-03.yaml").write_text(HELD.replace("rig: ", "rig: 3 "))
    ran = run("inspect", yard, *_DAY, "--known", known)
    (row,) = (line for line in ran.out.splitlines() if line.endswith("rig-03.yaml"))
    assert ran.code == 1 and row.split()[-2] == "1"


@pytest.mark.parametrize("command", ["inspect", "summary"])
@pytest.mark.parametrize(
    ("held", "wrong", "code"), [(False, False, 0), (True, False, 1), (False, True, 2), (True, True, 3)]
)
def test_the_exit_code_tells_held_from_not_read(
    command: str, held: bool, wrong: bool, code: int, run: Run, tmp_path: Path
) -> None:
    files = {"open.yaml": OPEN} | ({"held.yaml": HELD} if held else {}) | ({"wrong.yaml": "rig: [\n"} if wrong else {})
    for name, text in files.items():
        (tmp_path / name).write_text(text)
    ran = run(command, tmp_path, *_DAY)
    assert ran.code == code
    assert ("exit code 3: 1 on hold, and 1 file not read" in ran.err) == (code == 3)


def test_findings_and_open_questions_hold_a_rig_at_levels_of_their_own(run: Run, yard: Path) -> None:
    path = yard / "open.yaml"  # nothing is found against it, and what could be DANGER is open
    for at, unproven, code in (("notice", (), 0), ("danger", ("danger",), 1), ("danger", ("notice",), 1)):
        more = [part for word in unproven for part in ("--hold-on-unproven", word)]
        assert run("inspect", path, *_DAY, "--hold-at", at, *more).code == code


# --- lines for logs ---


def test_each_finding_is_a_line_with_its_place_and_word(run: Run, yard: Path) -> None:
    path = yard / "rig-07.yaml"
    told = run("inspect", path, *_DAY, "--format", "lines").out
    found = [_LINE.match(line) for line in told.splitlines()[1:-2]]
    assert all(found)
    (lean,) = (one for one in found if one and "tilt: 30 deg" in one["text"])
    assert (lean["file"], lean["line"], lean["word"]) == (str(path), "3", "DANGER")
    assert "Do: Stand the trolley" in lean["text"] and lean["text"].endswith("(trolley/trolley_stands_upright)")
    words = [one["word"] for one in found if one]
    assert words[-2:] == ["QUESTION", "STATE"] and set(words[:-2]) <= {"DANGER", "WARNING", "CAUTION", "NOTICE"}


def test_each_question_is_a_line_where_they_are_asked_for_and_an_ending_makes_the_form(
    run: Run, yard: Path, tmp_path: Path
) -> None:
    log = tmp_path / "rigs.log"
    run("inspect", yard / "open.yaml", *_DAY, "--questions", "all", "--output", log)
    told = log.read_text().splitlines()
    assert sum(": QUESTION: " in line for line in told) > 100
    assert all(_LINE.match(line) for line in told[1:-2])


def test_what_is_not_read_is_a_line_too(run: Run, tmp_path: Path) -> None:
    (tmp_path / "wrong.yaml").write_text(WRONG)
    told = run("inspect", tmp_path / "wrong.yaml", *_DAY, "--format", "lines").out
    found = [one for one in map(_LINE.match, told.splitlines()) if one and one["word"] == "NOT READ"]
    assert {one["line"] for one in found} == {"3", "4"}
