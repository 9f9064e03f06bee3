"""What an answer writes, and what a look says already."""

from __future__ import annotations

import pytest
from support.simulated_people import Round

from rigcheck.asking.answers import Answer, begun_look, checked, none_of_these, ticked, told_in, with_answer
from rigcheck.quantity.notation import NotRead
from rigcheck.rig.around import Around
from rigcheck.rig.loader import load_rig
from rigcheck.rig.look_file import read_look
from rigcheck.rig.thing import Rig
from rigcheck.rules.pack import Pack

_RIG = b"rig: one line\nlines:\n  - {gas: propane, parts: [cylinder, regulator, {hose: {tag: H-1}}]}\ntorch: {}\n"
_BEGUN = begun_look("rig.yaml", "2026-11-25", "fitter")


def _seen(text: str, pack: Pack) -> Rig:
    look = read_look(text.encode(), "look.yaml", pack.vocabulary)
    return load_rig(_RIG, "rig.yaml", pack.vocabulary, Around(looks=(look,)))


def test_an_answer_is_read_back_as_it_was_given(pack: Pack) -> None:
    values = {
        ("lines[0].parts[2]", "cover"): "cut",
        ("lines[0].parts[2]", "gases"): ("propane", "butane"),
        ("lines[0].parts[0]", "tag"): "no: 7 #“x”\\",
        ("torch[0]", "tubes"): "straight",
    }
    rig = _seen(with_answer(_BEGUN, Answer(values)), pack)
    hose = next(one for one in rig.things if one.kind.name == "hose")
    said = {name: [one.value for one in told] for name, told in hose.said.items()}
    assert said == {"cover": ["cut"], "gases": [("propane", "butane")]}
    cylinder = next(one for one in rig.things if one.kind.name == "cylinder")
    assert [one.value for one in cylinder.said["tag"]] == ["no: 7 #“x”\\"]


def test_who_and_when_stand_with_every_answer(pack: Pack) -> None:
    rig = _seen(with_answer(_BEGUN, Answer({("lines[0].parts[2]", "cover"): "cut"})), pack)
    statement = next(one for one in rig.things if one.kind.name == "hose").said["cover"][0]
    assert (statement.basis, statement.by) == ("seen", "fitter")


def test_a_correction_is_a_new_line_below_the_old_one(pack: Pack) -> None:
    key = ("lines[0].parts[2]", "cover")
    once = with_answer(_BEGUN, Answer({key: "cut"}))
    twice = with_answer(once, Answer({key: "sound"}))
    assert twice.startswith(once)
    hose = next(one for one in _seen(twice, pack).things if one.kind.name == "hose")
    assert [one.value for one in hose.said["cover"]] == ["sound"]


def test_what_nobody_could_tell_is_put_down_with_why_and_says_nothing_of_the_rig(pack: Pack) -> None:
    text = with_answer(_BEGUN, Answer(cannot_tell={("lines[0].parts[2]", "made"): "unreadable"}))
    rig = _seen(text, pack)
    told = told_in(read_look(text.encode(), "look.yaml", pack.vocabulary), rig)
    assert told.cannot_tell == {("lines[0].parts[2]", "made"): "unreadable"}
    assert "made" not in next(one for one in rig.things if one.kind.name == "hose").said


def test_a_look_that_speaks_of_every_joint_or_by_tag_counts_as_told(pack: Pack) -> None:
    text = _BEGUN + "  - every: {joint: {leak_test: tight}}\n  - {thing: H-1, cover: sound}\n"
    told = told_in(read_look(text.encode(), "look.yaml", pack.vocabulary), _seen(text, pack))
    assert told.times[("lines[0].joints[1]", "leak_test")] == 1
    assert told.times[("lines[0].parts[2]", "cover")] == 1


def test_a_look_that_is_laid_out_otherwise_is_left_alone() -> None:
    with pytest.raises(ValueError, match="laid out"):
        with_answer("look: rig.yaml\nseen: [{thing: torch, tubes: bent}]\n", Answer({("torch", "tubes"): "bent"}))


def test_lines_by_somebody_else_between_two_answers_stay(pack: Pack) -> None:
    text = with_answer(_BEGUN, Answer({("lines[0].parts[2]", "cover"): "cut"})) + "  # seen by lamp light\n"
    assert "  # seen by lamp light\n" in with_answer(text, Answer(cannot_tell={("torch[0]", "tubes"): "no light"}))


def _list_page(pack: Pack):  # type: ignore[no-untyped-def]
    walk = Round(_RIG, pack).walk()
    return next(page for stop in walk.stops for page in stop.pages if page.listed and page.look.looks_at == "hose")


def test_the_end_of_a_list_tells_that_each_of_its_facts_is_fine(pack: Pack) -> None:
    page = _list_page(pack)
    assert none_of_these(page).values == {
        ("lines[0].parts[2]", "kinked"): "no",
        ("lines[0].parts[2]", "work_clear"): "yes",
    }


def test_a_tick_tells_its_defect_and_leaves_the_rest_fine(pack: Pack) -> None:
    page = _list_page(pack)
    told = ticked(page, {"lines[0].parts[2]": [0]}).values
    assert told == {("lines[0].parts[2]", "kinked"): "yes", ("lines[0].parts[2]", "work_clear"): "yes"}


@pytest.mark.parametrize(
    ("kind", "fact", "typed", "written"),
    [
        ("hose", "cover", " Oil soaked ", "oil-soaked"),
        ("hose", "gases", "propane; Butane", ("propane", "butane")),
        ("arrester", "functions", "NRV FA TV", ("NV", "FA", "TV")),
        ("arrester", "functions", "NV/FA+TV, PV", ("NV", "FA", "TV", "PV")),
        ("hose", "marked_with", "working pressure, gas", ("working-pressure", "gas")),
        ("hose", "length", "10m", "10m"),
        ("hose", "kinked", "yes", "yes"),
    ],
)
def test_what_was_typed_is_read_as_in_a_description(
    pack: Pack, kind: str, fact: str, typed: str, written: str | tuple[str, ...]
) -> None:
    assert checked(pack.vocabulary.kinds[kind].facts[fact], typed) == written


@pytest.mark.parametrize("typed", ["", "unknown", "?", "ten", "3 kg", "3\u202e m"])
def test_what_is_no_value_is_refused_with_what_to_write(pack: Pack, typed: str) -> None:
    with pytest.raises(NotRead) as refused:
        checked(pack.vocabulary.kinds["hose"].facts["length"], typed)
    assert refused.value.write


def test_what_is_seen_of_a_tagged_part_is_said_of_its_tag_and_never_of_the_next_one_there(pack: Pack) -> None:
    parts = "[cylinder, {regulator: {tag: R-1, inlet_gauge: {full_scale: 16 bar}}}, {hose: {tag: H-1}}]"
    text = f"rig: one line\nlines:\n  - {{gas: propane, parts: {parts}}}\ntorch: {{}}\n"
    rig = load_rig(text.encode(), "rig.yaml", pack.vocabulary)
    values = {
        ("lines[0].parts[2]", "cover"): "sound",
        ("lines[0].parts[1].inlet_gauge", "pointer"): "at-zero",
        ("lines[0].parts[0]", "upright"): "yes",
    }
    written = with_answer(_BEGUN, Answer(values, {("lines[0].parts[2]", "bore"): "worn off"}), rig)
    assert "{thing: H-1, cover: sound}" in written and "{thing: H-1, fact: bore, because: worn off}" in written
    assert "{thing: R-1, inlet_gauge: {pointer: at-zero}}" in written
    look = read_look(written.encode(), "look.yaml", pack.vocabulary)
    told = told_in(look, rig)
    assert set(values) <= set(told.times) and set(told.cannot_tell) == {("lines[0].parts[2]", "bore")}
    swapped = text.replace("H-1", "H-2").replace("R-1", "R-2").encode()
    after = load_rig(swapped, "rig.yaml", pack.vocabulary, Around(looks=(look,)), what_can_be_read=True)
    said = {(one.path, name) for one in after.things for name in one.said if name != "inspected"}
    assert {path for path, _ in said} == {"rig", "lines[0].parts[0]"}
