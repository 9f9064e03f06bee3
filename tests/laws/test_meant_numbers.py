"""A number far from what is usual is told as a notice, at its place, with what is usual beside it."""

from __future__ import annotations

from rigcheck.judge.inspection import inspect_rig
from rigcheck.rig.loader import load_rig
from rigcheck.rules.pack import Pack


def _unusual(pack: Pack, text: str) -> list[tuple[str, int]]:
    rig = load_rig(text.encode(), "yard.yaml", pack.vocabulary)
    return [(thing.label, rig.place(thing).line) for thing in rig.of_kind("unusual number")]


def test_an_unusual_number_is_a_thing_that_stands_where_it_is_written(pack: Pack) -> None:
    text = "rig: A\nlines:\n- gas: oxygen\n  parts:\n  - hose: {bore: 8 mm}\n  - hose: {length: 300 m,\n bore: 60 mm}\n"
    assert _unusual(pack, text) == [("oxygen hose 2, length", 6), ("oxygen hose 2, bore", 7)]


def test_an_unusual_number_of_every_joint_is_told_once(pack: Pack) -> None:
    line = "{gas: oxygen,\n every_joint: {tail_bore: 90 mm}, parts: [regulator, hose, hose]}"
    text = f"rig: A\nlines:\n- {line}\ntorch: {{}}\n"
    assert _unusual(pack, text) == [("oxygen joint, regulator to hose 1, tail bore", 4)]


def test_an_unusual_number_is_a_notice_that_shows_what_is_usual(pack: Pack) -> None:
    text = "rig: A\nlines: [{gas: oxygen, parts: [{hose: {length: 300 m}}]}]\n"
    found = inspect_rig(load_rig(text.encode(), "yard.yaml", pack.vocabulary), pack, day=739_945).findings
    (notice,) = [one for one in found if one.rule == "rig/number_is_meant"]
    assert (notice.signal, notice.thing) == ("notice", "oxygen hose, length")
    working = notice.found[0].working
    assert working is not None
    assert [one.value for one in working.inputs] == ["300 m", "30 cm", "100 m"]


def test_a_trolley_that_leans_the_other_way_leans_as_far(pack: Pack) -> None:
    text = "rig: A\nlines: [{gas: oxygen, parts: [hose]}]\ntrolley: {tilt: -25 deg}\n"
    found = inspect_rig(load_rig(text.encode(), "yard.yaml", pack.vocabulary), pack, day=739_945).findings
    assert "trolley/trolley_stands_upright" in {one.rule for one in found}
