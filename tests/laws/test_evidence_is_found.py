"""However a look is written, called, dated or reached: what it saw is found or the look is told of, never neither."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from support.every_form import told
from support.one_pack import with_one_pack

from rigcheck.cli.main import main
from rigcheck.rules.pack import Pack

_RIG = (
    "rig: set\nlines: [{gas: propane, parts: [cylinder, regulator, hose]}]\ntorch: {form: air-aspirated}\ntrolley: {}\n"
)
_HEAD = "look: rig.yaml\nday: 2026-11-24\nby: fitter\n"
_SEEN = "seen:\n- {thing: trolley, tilt: 30 deg}\n"
_LOOK = _HEAD + _SEEN
_FLOW = "{look: rig.yaml, day: 2026-11-24, by: fitter, seen: [{thing: trolley, tilt: 30 deg}]}\n"
_FORMS = ("text", "json", "sarif", "junit", "markdown", "lines")


@pytest.fixture(autouse=True)
def _one_pack(pack: Pack, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    with_one_pack(pack, monkeypatch)
    monkeypatch.chdir(tmp_path)


def _inspected(form: str = "text", rig: str = "rig.yaml", day: str = "2026-11-25") -> str:
    return " ".join(told("inspect", rig, "--day", day, "--format", form, "--questions", "none").split())


_WRITTEN = {
    "plainly": _LOOK,
    "below many words": "# words\n" * 700 + _LOOK,
    "in braces": _FLOW,
    "in braces, behind the dashes": f"--- {_FLOW}",
    "indented": "".join(f"  {line}\n" for line in _LOOK.splitlines()),
    "with its rig in a folded text": _LOOK.replace("look: ", "look: >-\n  "),
    "with its rig on the next line": _LOOK.replace("look: ", "look:\n  "),
    "with a marked key": _LOOK.replace("look: ", "? look\n: "),
    "with a key in numbers": _LOOK.replace("look", '"lo\\u006fk"', 1),
    "with its rig in numbers": _LOOK.replace("rig.yaml", '"r\\u0069g.yaml"'),
    "with a tag": _LOOK.replace("rig.yaml", "!!str rig.yaml"),
    "with an anchor": _LOOK.replace("rig.yaml", "&a rig.yaml"),
    "with returns alone": _LOOK.replace("\n", "\r"),
    "in braces that do not close": _FLOW.replace("}]}", "}]"),
    "of a rig in other letters": _LOOK.replace("rig.yaml", "Rig.yaml"),
    "of a rig that is misspelt": _LOOK.replace("rig.yaml", "rigg.yaml"),
}


@pytest.mark.parametrize("how", _WRITTEN)
def test_a_look_is_found_or_told_of_however_it_is_written(how: str) -> None:
    Path("rig.yaml").write_text(_RIG)
    Path("look.yaml").write_text(_WRITTEN[how])
    for form in _FORMS if how == "of a rig that is misspelt" else ("text",):
        text = _inspected(form)
        assert "tilt: 30 deg" in text or "look.yaml" in text, form


@pytest.mark.parametrize("coded", ["utf-16", "utf-16-be"])
def test_a_look_in_another_coding_is_told_of(coded: str) -> None:
    Path("rig.yaml").write_text(_RIG)
    Path("look.yaml").write_bytes(("\ufeff" if coded.endswith("be") else "").encode(coded) + _LOOK.encode(coded))
    assert "look.yaml" in _inspected()


def test_a_rig_that_is_reached_by_a_link_has_what_lies_beside_it_and_beside_the_link() -> None:
    for folder in ("yard", "there"):
        Path(folder).mkdir()
    Path("yard/rig.yaml").write_text(_RIG)
    Path("yard/look.yaml").write_text(_LOOK)
    Path("there/other.yaml").write_text(_LOOK.replace(_SEEN, "seen:\n- {thing: propane hose, cover: cut}\n"))
    os.symlink("../yard/rig.yaml", "there/rig.yaml")
    text = _inspected(rig="there/rig.yaml")
    assert "tilt: 30 deg" in text and "cover: cut" in text
    os.symlink("yard", "linked")  # the same folder twice is one
    assert _inspected(rig="linked/rig.yaml").count("30 deg (seen") == _inspected(rig="yard/rig.yaml").count(
        "30 deg (seen"
    )


_SOUND = _SEEN.replace("30 deg", "5 deg")


@pytest.mark.parametrize("day", ["2026-11-24", "2026-11-25", "2027-01-01", "2029-02-28"])
def test_of_two_looks_of_one_day_that_do_not_agree_neither_wins(day: str) -> None:
    """Also when both are too old to go by: a defect stands until a later look sees it put right."""
    Path("rig.yaml").write_text(_RIG)
    Path("a.yaml").write_text(_LOOK)
    Path("b.yaml").write_text(_HEAD + _SOUND)
    text = _inspected(day=day)
    assert "State: on hold" in text and "rig/statements_agree" in text
    assert "30 deg; tilt, seen 2026-11-24 by fitter in b.yaml: 5 deg" in text


@pytest.mark.parametrize("day", ["1926-11-25", "2026-11-23", "2027-11-24", "9999-12-31"])
def test_a_look_of_another_year_takes_no_danger_away(day: str) -> None:
    Path("rig.yaml").write_text(_RIG)
    Path("a.yaml").write_text(_LOOK)
    Path("b.yaml").write_text(_HEAD.replace("2026-11-24", day) + _SOUND)
    assert "State: on hold" in (text := _inspected()) and "tilt: 30 deg (seen 2026-11-24" in text


def test_one_tag_in_two_forms_of_the_same_letters_is_one_tag() -> None:
    things = "".join(f"  {tag}: {{hose: {{cover: sound}}}}\n" for tag in ("\u00c5-1", "A\u030a-1"))
    Path("register.yaml").write_text(f"register: stores\nthings:\n{things}", encoding="utf-8")
    assert "stands in the register twice" in _inspected("lines", "register.yaml")


def test_that_looks_do_not_agree_is_in_the_history_and_beside_another_rig() -> None:
    """It is found on no thing of the rig by a verdict, and reports that go by verdicts alone passed it over."""
    for name in ("old.yaml", "rig.yaml"):
        Path(name).write_text(_RIG)
    Path("a.yaml").write_text(_LOOK)
    Path("b.yaml").write_text(_HEAD + _SOUND)
    day = ("--day", "2026-11-25")
    assert "DANGER trolley" in (text := told("history", "rig.yaml", *day)) and "rig/statements_agree" in text
    for form in ("text", "json"):
        beside = " ".join(told("compare", "old.yaml", "rig.yaml", *day, "--format", form).split())
        assert "and yet not the same is found" in beside or '"same": false' in beside
    assert main(["compare", "old.yaml", "rig.yaml", *day]) == 1


@pytest.mark.parametrize(
    "twice", ["tilt: 30 deg, lean: 5 deg", "lean: 5 deg, tilt: 30 deg", "tilt: 30 deg, Tilt: 5 deg"]
)
def test_a_fact_under_two_of_its_names_is_told_and_the_second_takes_nothing_away(twice: str) -> None:
    Path("rig.yaml").write_text(_RIG.replace("trolley: {}", f"trolley: {{{twice}}}"))
    assert "which is stated here too" in (text := _inspected()) and "tilt: 30 deg" in text


def test_what_a_rig_says_under_another_name_goes_before_what_its_standard_rig_says() -> None:
    Path("standard.yaml").write_text(_RIG.replace("trolley: {}", "trolley: {tilt: 30 deg}"))
    Path("rig.yaml").write_text("rig: set\nstandard_rig: standard.yaml\ntrolley: {lean: 5 deg}\n")
    assert "stated here too" not in (text := _inspected()) and "tilt: 30 deg" not in text
    Path("standard.yaml").write_text(_RIG.replace("trolley: {}", "trolley: {lean: 5 deg}"))
    Path("rig.yaml").write_text("rig: set\nstandard_rig: standard.yaml\ntrolley: {tilt: 30 deg}\n")
    assert "stated here too" not in (text := _inspected()) and "tilt: 30 deg" in text


@pytest.mark.parametrize(
    "where", ["trolley: {tilt: 30 deg, seen: 2027-01-01, by: f}", "seen: 2027-01-01\nby: f\ntrolley: {tilt: 30 deg}"]
)
def test_a_sight_in_the_description_of_a_day_to_come_is_told(where: str) -> None:
    Path("rig.yaml").write_text(_RIG.replace("trolley: {}", where))
    assert "it does not count yet" in _inspected()


def test_settings_of_another_ending_are_told() -> None:
    Path("rig.yaml").write_text(_RIG)
    Path(".rigcheck.yml").write_text("every: {trolley: {tilt: 30 deg}}\n")
    assert "Call the file .rigcheck.yaml" in _inspected()


_AT_ANOTHER_RIG = "look: other.yaml\nday: 2026-11-20\nby: fitter\nseen:\n- ROW\n"
_ROWS = {
    "plainly": "thing: H-2\n  cover: cut",
    "in quotes": "thing: 'H-2'\n  cover: cut",
    "in braces": "{thing: H-2, cover: cut}",
    "as JSON": '{"thing": "H-2", "cover": "cut"}',
    "with a word in numbers": '{thing: "H\\u002d2", cover: cut}',
    "with a key in numbers": '{"th\\u0069ng": H-2, cover: cut}',
    "on the next line": "thing:\n    H-2\n  cover: cut",
    "as a folded text": "thing: >-\n    H-2\n  cover: cut",
    "with a marked key": "? thing\n  : H-2\n  cover: cut",
    "in other letters": "thing: h-2\n  cover: cut",
    "before a note": "thing: H-2  # the spare one\n  cover: cut",
    "by place, with its tag": "{thing: 'lines[0].parts[2]', tag: H-2, cover: cut}",
    "by place, with its serial": "{thing: 'lines[0].parts[2]', serial: H-2, cover: cut}",
    "by place, with its Serial No": "{thing: 'lines[0].parts[2]', Serial No: H-2, cover: cut}",
}


@pytest.mark.parametrize("how", _ROWS)
def test_what_was_seen_of_a_tag_at_another_rig_is_found_however_its_row_is_written(how: str) -> None:
    Path("rig.yaml").write_text(_RIG.replace("hose]", "hose: {tag: H-2}]"))
    Path("other.yaml").write_text(_RIG.replace("rig: set", "rig: other set"))
    Path("looks").mkdir()
    Path("looks/other.yaml").write_text(_AT_ANOTHER_RIG.replace("look: ", "look: ../").replace("ROW", _ROWS[how]))
    assert "cover: cut" in _inspected(), how
