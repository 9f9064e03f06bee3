"""The walk: what is asked, in which order, and what is not."""

from __future__ import annotations

import pytest
from support.simulated_people import Round, cannot_tell, walked

from rigcheck.asking.answers import Answer
from rigcheck.asking.reasons import reasons_for
from rigcheck.asking.state import Walk
from rigcheck.asking.walk import MOST_LOOKS, Page, Stop
from rigcheck.judge.inspection import explain
from rigcheck.rules.looks import looks_of
from rigcheck.rules.pack import Pack
from rigcheck.rules.rule import GRAVITY

_SET = b"""
rig: small set
lines:
  - gas: acetylene
    parts: [cylinder, regulator, arrester, hose, arrester]
  - gas: oxygen
    parts: [cylinder, regulator, arrester, hose, arrester]
torch: {form: welding}
trolley: {}
"""
_ONE = b"""
rig: one hose
lines: [{gas: propane, parts: [cylinder, regulator, hose]}]
torch: {form: air-aspirated}
people: none
workpiece: none
breaks: none
overnight: none
"""
_PRESUMED = b"rig: a set\nstandard_rig: oxy-acetylene-welding\n"


@pytest.fixture(scope="module")
def walk(pack: Pack) -> Walk:
    return Round(_SET, pack).walk()


def _pages(walk: Walk) -> list[Page]:
    return [page for stop in walk.stops for page in stop.pages]


def _page(walk: Walk, look: str, fact: str) -> Page:
    return next(page for page in _pages(walk) if page.look.name == look and fact in page.facts)


def _as_found(page: Page) -> Answer:
    """Answer with a day for what is one, and with the first word for what is chosen."""
    kinds = {one.path: one.kind.facts for one in page.things}
    told = {
        (path, name): next(iter(kinds[path][name].words), "2026-03-01" if name in ("made", "tested") else "")
        for path, name in page.open
    }
    return Answer(
        {key: value for key, value in told.items() if value}, {key: "" for key, value in told.items() if not value}
    )


def test_stations_come_in_walking_order_along_the_flow(walk: Walk) -> None:
    met = list(dict.fromkeys(stop.station for stop in walk.stops))
    order = ["place", "work", "people", "supply", "regulator", "line", "joints", "torch", "trolley"]
    assert [one for one in met if one != "store"] == [*order, "tools", "habits"]


def test_nobody_comes_back_to_each_part_for_what_its_own_answer_opened(pack: Pack) -> None:
    went = Round(_SET, pack)
    met = []
    for _ in range(11):
        pages = [page for stop in went.walk().stops if stop.station == "line" for page in stop.pages]
        page = next(page for page in pages if page.look.name in ("arrester", "any_part_marks"))
        went.answer(page, _as_found(page))
        met += [page.facts[0]] if page.facts[0] in ("standard", "tested_by") else []
    assert met == ["tested_by", *["standard"] * 4, "tested_by"]  # who tested it hangs on the day, read off each


def test_a_station_has_fewer_than_ten_looks(walk: Walk) -> None:
    assert max(len(stop.pages) for stop in walk.stops) == MOST_LOOKS == 9


def test_the_gravest_act_of_a_station_comes_first_and_its_questions_stay_together(walk: Walk) -> None:
    for stop in _whole_stations(walk):
        acts = [page.act for page in stop]
        assert len([one for at, one in enumerate(acts) if at == 0 or acts[at - 1] != one]) == len(set(acts))
        gravest = [max(GRAVITY[page.signal] for page in stop if page.act == act) for act in dict.fromkeys(acts)]
        assert gravest == sorted(gravest, reverse=True)


def _whole_stations(walk: Walk) -> list[list[Page]]:
    whole: dict[str, list[Page]] = {}
    for stop in walk.stops:
        whole.setdefault(_plain_title(stop), []).extend(stop.pages)
    return list(whole.values())


def _plain_title(stop: Stop) -> str:
    return ", ".join(one for one in stop.title.split(", ") if " of " not in one)


def test_a_choice_that_can_kill_is_a_question_of_its_own_unless_it_is_read_off(walk: Walk) -> None:
    for page in _pages(walk):
        kinds = {name: thing.kind for thing in page.things for name in page.facts if name in thing.kind.facts}
        choices = [name for name, kind in kinds.items() if kind.facts[name].measure in ("words", "yes_no")]
        if page.signal == "danger" and page.listed is None and len(page.facts) > 1 and page.look.act != "read":
            deadly = {name for (_, name), one in page.open.items() if one.signal == "danger"}
            assert not deadly & set(choices), page.key


def test_like_joints_stand_on_one_page_thing_by_thing(walk: Walk) -> None:
    page = _page(walk, "leak_fluid_at_each_joint", "leak_test")
    assert [one.path for one in page.things] == [
        f"lines[{line}].joints[{number}]" for line in range(2) for number in range(5)
    ]


def test_a_walk_for_danger_alone_asks_nothing_lesser(pack: Pack) -> None:
    pages = _pages(Round(_SET, pack, only="danger").walk())
    assert pages
    assert {page.signal for page in pages} == {"danger"}


def test_what_nobody_can_tell_is_put_down_and_does_not_come_again(pack: Pack) -> None:
    went = Round(_SET, pack, only="danger")
    page = went.walk().next_page
    assert page is not None
    went.answer(page, cannot_tell(page))
    assert page.key not in [one.key for one in _pages(went.walk())]
    assert {(one.thing.path, one.name) for one in went.walk().not_told} == set(page.open)


def test_whoever_can_tell_nothing_comes_to_the_end_and_settles_nothing(pack: Pack) -> None:
    went = Round(_ONE, pack, only="danger")
    before = went.walk()
    end = walked(went, cannot_tell)
    assert end.left == before.left
    assert end.findings == before.findings


def test_a_find_asks_at_once_what_else_is_wrong_with_that_thing(pack: Pack) -> None:
    went = Round(_SET, pack, only="danger")
    page = _page(went.walk(), "hose_through_the_hand", "cover")
    path = page.things[0].path
    went.answer(page, Answer({(path, "cover"): "cut"}))
    went.hot = frozenset([path])
    nexts = went.walk().stops[0].pages
    assert {one.path for page in nexts for one in page.things} == {path}
    assert {page.signal for page in nexts} > {"danger"}  # lesser defects too, though the walk is for danger alone


def test_what_follows_is_not_asked(walk: Walk) -> None:
    facts = {key for page in _pages(walk) for key in page.open}
    assert ("lines[0].parts[0]", "upright") in facts
    assert ("lines[0].parts[0]", "connected") not in facts  # it stands in a line


def test_where_the_work_is_decides_what_else_is_asked_and_is_asked_first(walk: Walk) -> None:
    assert walk.next_page is not None
    assert walk.next_page.facts == ("place",)


def test_what_is_only_presumed_is_asked_after_like_what_nobody_said(pack: Pack) -> None:
    asked = {key for page in _pages(Round(_PRESUMED, pack).walk()) for key in page.open}
    assert ("lines[0].parts[0]", "gas") in asked
    assert ("lines[0].parts[3]", "cover") in asked


def test_every_question_of_a_bare_rig_has_a_look(pack: Pack) -> None:
    from rigcheck.asking.open_facts import open_rig

    went = Round(_SET, pack)
    rig = went.rig()
    facts = {
        key for key, one in open_rig(went.judged(rig)).facts.items() if not _beyond(one.thing.kind.name, key, pack)
    }
    asked = {key for page in _pages(went.walk()) for key in page.open}
    assert facts - asked == set()


def _beyond(kind: str, key: tuple[str, str], pack: Pack) -> bool:
    return f"{kind}.{key[1]}" in looks_of(pack).beyond


def test_the_last_page_asks_once_more_what_may_have_changed(pack: Pack) -> None:
    went = Round(_ONE, pack, only="danger")
    page = _page(went.walk(), "cylinder_stands", "secured")
    went.answer(page, Answer({(page.things[0].path, "secured"): "chain"}))
    end = walked(went, cannot_tell)
    assert end.next_page is None
    again = [one for one in went.pages if one.again]
    assert [one.facts for one in again] == [("secured",)]
    assert went.pages[-1].again


def test_a_thing_that_nobody_could_tell_anything_of_is_not_asked_after_for_ever(pack: Pack) -> None:
    went = Round(b"rig: a set\nstandard_rig: air-aspirated-propane-brazing\n", pack, only="danger")
    end = walked(went, cannot_tell, most=200)
    assert end.next_page is None
    assert len({page.key for page in went.pages}) == len(went.pages)


@pytest.mark.parametrize(
    ("fact", "kind", "wrong", "rule"),
    [
        ("direction", "arrester", "against-flow", "arresters/arrester_points_with_the_flow"),
        ("gases", "hose", ("acetylene",), "hoses/fuel_and_oxygen_keep_their_own_hoses"),
        ("secured", "cylinder", "none", "cylinders/cylinder_is_secured"),
        ("tilt", "trolley", "25 deg", "trolley/trolley_stands_upright"),
        ("sealing", "joint", "ptfe-tape", "joints/oxygen_joint_has_no_tape_or_paste"),
        ("leak_test", "joint", "leaks", "joints/joint_does_not_leak"),
        ("oil_free", "regulator", "no", "materials/oxygen_part_is_free_of_oil"),
        ("gas", "cylinder", "propane", "cylinders/oxygen_comes_from_an_oxygen_cylinder"),
        ("clip", "hose end", "wire", "joints/hose_end_has_clip_or_ferrule"),
        ("hands_oil_free", "person", "no", "people/hands_are_free_of_oil"),
    ],
)
def test_a_seeded_fault_is_asked_after_and_found(
    pack: Pack, fact: str, kind: str, wrong: str | tuple[str, ...], rule: str
) -> None:
    went = Round(_PRESUMED, pack, only="danger")
    asked = [
        (page, thing.path)
        for page in _pages(went.walk())
        for thing in page.things
        if thing.kind.name == kind and (thing.path, fact) in page.open
    ]
    assert asked
    page, path = asked[-1]  # of like things that of the oxygen line, which comes last
    went.answer(page, Answer({(path, fact): wrong}))
    assert rule in {one.rule for one in went.walk().findings}


def test_of_a_part_that_is_not_there_nothing_more_is_asked_and_nothing_is_shown(pack: Pack) -> None:
    went = Round(_PRESUMED, pack)
    before = went.walk()
    hose = next(page for page in _pages(before) if page.look.name == "hose_through_the_hand")
    path = hose.things[0].path
    key = next(key for key in hose.open if key[0] == path)
    went.answer(hose, Answer(cannot_tell={key: "not there"}))
    after = went.walk()
    assert [one.path for one in after.gone] == [path]
    assert path not in {asked for page in _pages(after) for asked, _ in page.open}
    assert after.left == before.left, "denial shows nothing"
    (found,) = (one for one in after.findings if one.at.path == path)
    assert (found.rule, found.signal) == ("rig/statements_agree", "danger")
    assert [one.value for one in found.found] == ["there", "not there"]
    assert "write 'hose: none'" in found.put_right
    went.answer(hose, Answer({key: "sound"}))
    again = went.walk()
    assert again.gone == (), "said by mistake, it can be taken back"
    assert path not in {one.at.path for one in again.findings}


def test_a_report_says_who_could_not_tell_why_and_who_could_know(pack: Pack) -> None:
    went = Round(_PRESUMED, pack)
    page = next(page for page in _pages(went.walk()) if page.look.name == "any_part_history")
    path, fact = next(iter(page.open))
    went.answer(page, Answer(cannot_tell={(path, fact): "nobody here knows"}))
    asked = {(one.at.path, one.fact): one.ask for one in explain(went.judged()).questions}
    assert asked[path, fact].endswith(
        f" Not told by fitter on 2026-11-25: “Nobody here knows it”. Who could know: {page.look.who}."
    )
    assert sum("Not told" in one for one in asked.values()) == 1
    went.answer(page, Answer({(path, fact): next(iter(page.things[0].kind.facts[fact].words), "60 %")}))
    assert not any("Not told" in one.ask for one in explain(went.judged()).questions)


@pytest.mark.parametrize(("rig", "kind"), [(_PRESUMED, "site"), (_PRESUMED, "pause"), (_ONE, "hose")])
def test_the_place_and_what_somebody_wrote_himself_are_not_passed_over_as_absent(
    pack: Pack, rig: bytes, kind: str
) -> None:
    went, looks = Round(rig, pack), looks_of(pack)
    page = next(page for page in _pages(went.walk()) if page.things[0].kind.name == kind)
    assert looks.absent not in reasons_for(looks, page.things)
    key = next(iter(page.open))
    went.answer(page, Answer(cannot_tell={key: looks.absent}))
    assert went.walk().gone == ()
    assert key[0] in {path for page in _pages(went.walk()) for path, _ in page.open}
