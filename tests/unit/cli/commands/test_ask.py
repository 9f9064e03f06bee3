"""`rigcheck ask`: questions on the terminal, answers beside the rig, nothing lost."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from support.simulated_people import DAY

from rigcheck.asking.answers import Answer
from rigcheck.cli.main import main
from rigcheck.cli.walk_on_disk import WalkOnDisk, look_for
from rigcheck.report.text.page_text import find_lines
from rigcheck.rules.pack import Pack
from rigcheck.text.faults import Refused

_RIG = """rig: one hose
local_code: uk
lines: [{gas: propane, parts: [cylinder, regulator, hose]}]
torch: {form: air-aspirated}
people: none
workpiece: none
"""
_LOOK = "one-look-2026-11-25.yaml"


@pytest.fixture
def rig(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("COLUMNS", "40")
    path = tmp_path / "one.yaml"
    path.write_text(_RIG)
    return path


def _ask(rig: Path, typed: str, monkeypatch: pytest.MonkeyPatch, *more: str) -> int:
    monkeypatch.setattr("sys.stdin", io.StringIO(typed))
    return main(["ask", str(rig), "--by", "fitter", "--day", "2026-11-25", *more])


def test_an_answer_is_in_the_look_before_the_next_question(
    rig: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert _ask(rig, "open-air\n", monkeypatch) == 0  # and then the line is cut
    look = (rig.parent / _LOOK).read_text()
    assert "  - {thing: site, place: open-air}\n" in look
    assert "Stopped. What was answered stands in" in " ".join(capsys.readouterr().out.split())


def test_the_same_command_goes_on_where_it_ended(
    rig: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    _ask(rig, "1\nq\n", monkeypatch)
    capsys.readouterr()
    _ask(rig, "q\n", monkeypatch)
    out = capsys.readouterr().out
    assert "Going on with" in out
    assert "Where is the work done?" not in out


def test_a_file_of_that_name_by_somebody_else_is_left_alone(rig: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (rig.parent / _LOOK).write_text("my notes\n")
    _ask(rig, "1\nq\n", monkeypatch)
    assert (rig.parent / _LOOK).read_text() == "my notes\n"
    assert "place: open-air" in (rig.parent / "one-look-2026-11-25-2.yaml").read_text()


def test_a_find_is_told_at_once_with_what_to_do(rig: Path, pack: Pack, monkeypatch: pytest.MonkeyPatch) -> None:
    look, was_there = look_for(str(rig), DAY, "fitter", pack)
    assert not was_there
    going = WalkOnDisk(str(rig), look, pack, DAY)
    page = next(page for stop in going.walk.stops for page in stop.pages if page.facts == ("cover",))
    hose = page.things[0].path
    found = going.take(page, Answer({(hose, "cover"): "cut"}))
    told = "".join(line.text + "\n" for line in find_lines(found, 40))
    assert [one.at.path for one in found] == [hose]
    assert told.index("WARNING") < told.index("harm") < told.index("do  ")
    assert going.walk.next_page is not None
    assert [one.path for one in going.walk.next_page.things] == [hose]


def test_what_cannot_be_read_back_is_not_written(rig: Path, pack: Pack) -> None:
    look, _ = look_for(str(rig), DAY, "fitter", pack)
    going = WalkOnDisk(str(rig), look, pack, DAY)
    page, before = going.walk.next_page, look.read_text()
    assert page is not None
    with pytest.raises(Refused):
        going.take(page, Answer({("site", "place"): "moon"}))
    assert look.read_text() == before


def test_why_it_is_asked_is_told_with_the_harm(
    rig: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    _ask(rig, "?\nq\n", monkeypatch)
    assert "DANGER   " in capsys.readouterr().out


def test_back_asks_the_page_before_again_and_the_new_answer_stands_below_the_old(
    rig: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    _ask(rig, "1\nb\n2\nq\n", monkeypatch)
    look = (rig.parent / _LOOK).read_text()
    assert look.index("place: open-air") < look.index("place: workshop")


def test_a_word_that_is_none_is_refused_and_asked_for_again(
    rig: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    _ask(rig, "moon\n1\nq\n", monkeypatch)
    assert "'moon' is not one of its words." in capsys.readouterr().out
    assert "place: open-air" in (rig.parent / _LOOK).read_text()


def test_nothing_is_wider_than_the_screen(
    rig: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    _ask(rig, "1\n?\nx\n2\n1\nb\n2\nq\n", monkeypatch)
    told = capsys.readouterr().out.replace("x ? b q > ", "x ? b q >\n")  # nothing that is typed is seen in a pipe
    assert [row for row in told.splitlines() if len(row) > 42 and " " in row.strip()] == []


def test_it_never_says_that_the_rig_may_be_used(
    rig: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert _ask(rig, "x\n2\n" * 400, monkeypatch, "--only", "danger") in (0, 1)
    out = " ".join(capsys.readouterr().out.split())
    assert "End of this walk" in out
    assert "Put down as not known" in out
    assert "decide whether this rig may be used. This report does not." in out
    assert "is safe" not in out


def test_a_station_is_headed_once_however_its_questions_change(
    rig: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    _ask(rig, "workshop\n1\n1\n1\n1\n" + "1\n" * 8 + "q\n", monkeypatch)  # closed in, and what hangs on that
    heads = [row for row in capsys.readouterr().out.splitlines() if row.startswith("== ")]
    assert len(heads) == len(set(heads)) and sum(row.startswith("== The place") for row in heads) == 1
    assert not any(" of " in row for row in heads)


def test_a_rig_that_is_no_file_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["ask", str(tmp_path), "--by", "fitter"]) == 2
    assert "is no rig file" in capsys.readouterr().err


def test_a_rig_without_a_description_is_begun_by_a_few_questions(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "barn.yaml"
    _ask(path, "cutting\npropane\none cylinder for each gas\nyes\nuk\nBarn: set #2\n1\nopen-air\n", monkeypatch)
    text = path.read_text()
    assert 'rig: "Barn: set #2"\nlocal_code: uk\nstandard_rig: oxy-propane-cutting\n' in text
    assert "place: open-air" in (tmp_path / "barn-look-2026-11-25.yaml").read_text()
    assert "This is written:" in capsys.readouterr().out


def test_what_nobody_asked_of_the_one_standard_rig_left_is_said_of_it_before_it_is_taken(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    _ask(tmp_path / "roof.yaml", "brazing\npropane\nq\n", monkeypatch)  # a set with oxygen is none of them
    told = " ".join(capsys.readouterr().out.split())
    assert "Is there oxygen, or does the torch draw in air? air alone" in told
    assert "Which fuel gas? propane" not in told
    assert told.index("Is your rig like this one?") > told.index("draw in air? air alone")


def test_a_rig_that_is_like_no_standard_rig_is_put_together_part_by_part(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "lance.yaml"
    parts = "oxygen\ncylinder, regulator, hoze\nCylinder, regulator,non-return valve , hose\nno more gas\nyes\nno\n"
    for begun in ("cutting\n6\n", "cutting\nhydrogen\n2\n"):
        _ask(path, f"{begun}{parts}uk\nyard lance\nwrite it\n", monkeypatch)
        assert "'hoze' is no part of a line. Write 'hose'?" in " ".join(capsys.readouterr().out.split())
        text = path.read_text()
        assert "  - gas: oxygen\n    parts: [cylinder, regulator, non_return_valve, hose]\ntorch: {}\n" in text
        assert text.endswith("torch: {}\n")
        path.unlink()


def test_a_description_that_is_not_wanted_is_not_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "barn.yaml"
    _ask(path, "cutting\npropane\none cylinder for each gas\nyes\nuk\nBarn\n2\n", monkeypatch)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("name", "begins"), [("w.html", "<!DOCTYPE html>"), ("w.yaml", "# What"), ("w.txt", "rigcheck walk")]
)
def test_paper_is_made_by_its_ending_and_asks_nothing(rig: Path, name: str, begins: str) -> None:
    output = rig.parent / name
    assert main(["ask", str(rig), "--paper", "--day", "2026-11-25", "--output", str(output)]) == 0
    assert output.read_text().startswith(begins)
    assert not (rig.parent / _LOOK).exists()


def test_paper_leaves_a_look_that_is_there_alone(rig: Path, capsys: pytest.CaptureFixture[str]) -> None:
    output = rig.parent / "w.yaml"
    output.write_text("mine\n")
    assert main(["ask", str(rig), "--paper", "--output", str(output)]) == 2
    assert output.read_text() == "mine\n"


def test_the_daily_look_ends_before_gas_is_let_on_and_goes_on_when_the_work_is_over(
    rig: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    nothing = "x\n1\n" * 400
    assert _ask(rig, nothing, monkeypatch, "--for", "use", "--only", "danger") in (0, 1)
    out = " ".join(capsys.readouterr().out.split())
    assert "How the rig was used is asked when the work is over." in out
    assert "Was this line purged with its own gas" not in out
    _ask(rig, nothing, monkeypatch, "--for", "use", "--only", "danger")
    out = " ".join(capsys.readouterr().out.split())
    assert "Was this line purged with its own gas" in out
    assert "when the work is over" not in out


def test_a_number_that_none_of_the_words_has_is_refused_with_those_that_there_are(
    rig: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    _ask(rig, "99\nq\n", monkeypatch)
    assert "There is no 99. Write a number from 1 to 17, or the word." in " ".join(capsys.readouterr().out.split())


def test_the_command_that_goes_on_names_all_that_was_chosen(
    rig: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    _ask(rig, "q\n", monkeypatch, "--local-code", "us", "--only", "danger", "--for", "use")
    told = " ".join(capsys.readouterr().out.split())
    assert told.endswith("--by fitter --only danger --for use --local-code us --day 2026-11-25")


# --- into the description ---


def _seen(rig: Path) -> None:
    said = "cannot_tell:\nseen:\n  - {thing: 'lines[0].parts[2]', cover: sound, bore: 8 mm}\n"
    (rig.parent / _LOOK).write_text(f"look: {rig.name}\nday: 2026-11-25\nby: fitter\n{said}")


def test_what_lasts_is_shown_and_written_into_the_description_when_that_is_wanted(
    rig: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    _seen(rig)
    assert _ask(rig, "2\n", monkeypatch, "--write") == 0
    assert rig.read_text() == _RIG
    assert "+ " in capsys.readouterr().out
    assert _ask(rig, "", monkeypatch, "--write") == 0  # the line is cut
    assert rig.read_text() == _RIG
    assert _ask(rig, "write it in\n", monkeypatch, "--write") == 0
    assert "{seen: 2026-11-25, by: fitter, cover: sound, bore: 8 mm}" in rig.read_text()
    capsys.readouterr()
    assert _ask(rig, "", monkeypatch, "--write") == 0
    assert "Nothing more is to be written into" in capsys.readouterr().out


def test_what_was_changed_since_it_was_shown_is_not_written_over(
    rig: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    _seen(rig)

    class Slow(io.StringIO):
        def readline(self, *_: object) -> str:  # type: ignore[override]
            rig.write_text(f"# mine\n{_RIG}")
            return "1\n"

    monkeypatch.setattr("sys.stdin", Slow())
    assert main(["ask", str(rig), "--by", "fitter", "--day", "2026-11-25", "--write"]) == 2
    assert rig.read_text() == f"# mine\n{_RIG}"
    assert "was changed since this was shown" in " ".join(capsys.readouterr().err.split())


_TWO_HOSES = """rig: two hoses
lines:
  - {gas: propane, parts: [regulator, hose]}
  - {gas: oxygen, parts: [regulator, hose]}
torch: {form: cutting}
site: {place: open-air}
people: none
workpiece: none
breaks: none
overnight: none
"""


def test_what_cannot_be_told_of_any_of_them_is_said_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    rig = tmp_path / "two.yaml"
    rig.write_text(_TWO_HOSES)
    asked: list[str] = []

    def keys(before: str, words: list[str]) -> str:
        asked.append("how many" if before.startswith("how many") else "why not" if "no light" in words else "> ")
        return {"how many": "2", "why not": "no light", "> ": "x" if len(asked) < 60 else "q"}[asked[-1]]

    monkeypatch.setattr("rigcheck.cli.commands.ask.keyboard", lambda: keys)
    _ask(rig, "", monkeypatch)
    look = next(tmp_path.glob("two-look-*.yaml")).read_text()
    assert look.count("because: no light") > asked.count("why not")


@pytest.mark.parametrize("where", ["how many", "why not"])
def test_stop_is_heard_wherever_one_types(
    where: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    rig = tmp_path / "two.yaml"
    rig.write_text(_TWO_HOSES)

    asked: list[str] = []

    def keys(before: str, words: list[str]) -> str:
        asked.append("how many" if before.startswith("how many") else "why not" if "no light" in words else "> ")
        assert len(asked) < 200
        if asked[-1] == where:
            return "q"
        return {"how many": "", "why not": "no light", "> ": "x"}[asked[-1]]

    monkeypatch.setattr("rigcheck.cli.commands.ask.keyboard", lambda: keys)
    _ask(rig, "", monkeypatch)
    assert asked[-1] == where
    assert "Stopped." in capsys.readouterr().out


def test_a_question_with_many_words_stands_below_them_too_and_the_keys_at_each(
    rig: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    _ask(rig, "open-air\nq\n", monkeypatch)
    rows = capsys.readouterr().out.splitlines()
    below = rows[rows.index(next(row for row in rows if row.startswith(" 17"))) :]
    assert below[2] == "site: Where is the work done?", "twenty-four rows show the end of seventeen words"
    assert below[3].startswith("x ? b q > ")
