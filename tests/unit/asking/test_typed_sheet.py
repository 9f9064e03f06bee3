"""A sheet of a walk that was filled in and typed: what it says, and what is wrong with it."""

from __future__ import annotations

import re

import pytest
from support.simulated_people import Round, knows_all, sound, walked

from rigcheck.asking.answers import Answer, with_answer
from rigcheck.asking.typed_sheet import answers_of, read_sheet
from rigcheck.report.walk.walk_rows import walk_rows
from rigcheck.report.walk.walk_yaml import walk_yaml
from rigcheck.rules.looks import looks_of
from rigcheck.rules.pack import Pack
from rigcheck.text.faults import Fault, Refused

_RIG = b"rig: one\nlines: [{gas: propane, parts: [cylinder, regulator, hose]}]\ntorch: {form: air-aspirated}\n"


@pytest.fixture(scope="module")
def went(pack: Pack) -> Round:
    return Round(_RIG, pack)


@pytest.fixture(scope="module")
def sheet(went: Round) -> str:
    return "".join(walk_yaml(walk_rows(went.walk().stops), "rig.yaml", "2026-11-25", "fitter"))


def _read(went: Round, text: str) -> tuple[Answer, int]:
    return answers_of(read_sheet(text.encode(), "sheet.yaml"), went.rig(), looks_of(went.pack))


def _filled(sheet: str, thing: str, fact: str, answer: str) -> str:
    made, count = re.subn(rf"(?m)^(  [0-9]+ {re.escape(thing)} (?:\w+ )*{fact}(?: \w+)*:)", rf"\1 {answer}", sheet)
    assert count == 1, f"{fact} of {thing} is on the sheet once"
    return made


def _faults(went: Round, text: str) -> tuple[Fault, ...]:
    with pytest.raises(Refused) as refused:
        _read(went, text)
    return refused.value.faults


def test_an_empty_sheet_tells_nothing(went: Round, sheet: str) -> None:
    answer, empty = _read(went, sheet)
    assert answer == Answer()
    assert empty == len(re.findall("(?m)^  [0-9]+ ", sheet))


def test_a_word_a_reading_and_what_one_cannot_tell_are_taken_in(went: Round, sheet: str) -> None:
    text = _filled(sheet, "lines[0].parts[2]", "cover", "cut")
    text = _filled(text, "site", "ambient_temperature", "12 degC")
    text = _filled(text, "lines[0].parts[2]", "bore", "cannot tell, unreadable")
    answer, _ = _read(went, text)
    assert answer.values == {("lines[0].parts[2]", "cover"): "cut", ("site", "ambient_temperature"): "12 degC"}
    assert answer.cannot_tell == {("lines[0].parts[2]", "bore"): "unreadable"}


def test_numbers_of_a_list_are_those_that_the_sheet_gives_its_defects(went: Round, sheet: str) -> None:
    (row,) = re.findall(r"(?m)^  [0-9]+ lines\[0\]\.parts\[2\] .*kinked.*$", sheet)
    number = re.search("([0-9]+) It is kinked", row)
    assert number is not None
    answer, _ = _read(went, _filled(sheet, "lines[0].parts[2]", "kinked", number[1]))
    assert answer.values["lines[0].parts[2]", "kinked"] == "yes"
    fine, _ = _read(went, _filled(sheet, "lines[0].parts[2]", "kinked", "none"))
    assert fine.values["lines[0].parts[2]", "kinked"] == "no"
    assert fine.values.keys() == answer.values.keys()


def test_what_is_wrong_is_told_at_once_with_line_and_column(went: Round, sheet: str) -> None:
    text = _filled(sheet, "lines[0].parts[2]", "cover", "cutt")
    text = _filled(text, "site", "ambient_temperature", "12 parsec")
    text = _filled(text, "lines[0].parts[2]", "bore", "cannot tell, lazy")
    text += "  99 lines[0].parts[9] cover: cut\n  98 site covr: cut\n  site: cut\n"
    text += "  97 lines[0].parts[2] cover: cut\n"
    faults = _faults(went, text)
    rows = text.splitlines()
    for fault in faults:
        assert fault.place.file == "sheet.yaml"
        assert 0 < fault.place.column <= len(rows[fault.place.line - 1])
    told = "\n".join(map(str, faults))
    for words in (
        "cover: 'cutt' is not one of its words. Write one of: sound",
        "'parsec' in '12 parsec' is no unit",
        "Write 'cannot tell, ' and one of: no access",
        "'lines[0].parts[9]' is nothing of this rig",
        "'covr' is nothing that is asked of site",
        "'site' is no row of a sheet. Write number, thing and fact, as '1 site place: workshop'.",
    ):
        assert words in told
    assert len(faults) == 6


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("rig: one\n", "This is no sheet of a walk."),
        ("sheet: rig.yaml\nday: 2026-11-25\nby:\nanswers: {}\n", "'by' is not said."),
        ("sheet: rig.yaml\nday: soon\nby: fitter\nanswers: {}\n", "day"),
        ("sheet: rig.yaml\nday: 2026-11-25\nby: fitter\nanswers: [one]\n", "There are no answers."),
        ("sheet: rig.yaml\nday: 2026-11-25\nby: fitter\nanswer: {}\n", "Nearest known word: answers."),
        ("sheet: rig.yaml\nday: 2026-11-25\nby: fitter\nanswers: {1 site place: {a: b}}\n", "word or a value"),
    ],
)
def test_what_is_no_sheet_is_refused(went: Round, text: str, told: str) -> None:
    assert told in "\n".join(map(str, _faults(went, text)))


def test_one_answer_twice_is_refused(went: Round, sheet: str) -> None:
    text = _filled(sheet, "site", "place", "workshop") + "  99 site place: open-air\n"
    assert "is answered above" in str(_faults(went, text)[0])


def test_typed_from_paper_it_comes_out_as_asked_one_by_one(pack: Pack, went: Round, sheet: str) -> None:
    truth = Round(_RIG, pack, text=sound(_RIG, pack)).judged().known.filled
    person, text = knows_all(truth), sheet
    for stop in went.walk().stops:
        for page in stop.pages:
            told = person(page)
            if page.listed is None:
                for (path, fact), value in told.values.items():
                    words = value if isinstance(value, str) else f'"{", ".join(value)}"'
                    text = re.sub(
                        rf"(?m)^(  [0-9]+ {re.escape(path)} {fact}:)", lambda row, w=words: f"{row[1]} {w}", text
                    )
    answer, _ = _read(went, text)
    assert len(answer.values) > 100
    typed = Round(_RIG, pack, text=with_answer(went.text, answer))
    asked = Round(_RIG, pack)
    walked(asked, person, finds=False)
    left, right = _settled(typed), _settled(asked)
    assert {key: left[key] for key in left.keys() & right.keys() if left[key] != right[key]} == {}


def _settled(went: Round) -> dict[tuple[str, str], str]:
    judged = went.judged()
    return {
        (thing.path, rule.name): verdict
        for thing, rule, verdict, _ in judged.judgements()
        if verdict in ("holds", "broken")
    }
