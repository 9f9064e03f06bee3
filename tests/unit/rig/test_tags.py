"""Tags: a tag of two things is told, and a leave goes by tag, name or place, not by a number in the order of flow."""

from __future__ import annotations

from datetime import date

import pytest

from rigcheck.judge.finding import Inspection
from rigcheck.judge.inspection import explain
from rigcheck.judge.judged import judge
from rigcheck.rig.loader import load_rig
from rigcheck.rules.pack import Pack

_DAY = date(2026, 11, 25).toordinal()
_RIG = """\
rig: tagged
lines:
  - gas: acetylene
    parts: [cylinder, regulator, {first}hose: {{tag: H-1, cover: cut, made: 2025-03}}]
  - gas: oxygen
    parts: [cylinder, regulator, hose: {{tag: {other}}}]
torch: {{form: cutting}}
"""
_LEAVE = """\
concessions:
  - rule: hoses/hose_cover_is_sound
    thing: {thing}
    reason: It is changed on Thursday.
    who: works manager
    until: 2026-12-10
    {more}
"""


def _inspection(pack: Pack, first: str = "", other: str = "H-2", thing: str = "", more: str = "") -> Inspection:
    text = _RIG.format(first=first, other=other) + (_LEAVE.format(thing=thing, more=more) if thing else "")
    return explain(judge(load_rig(text.encode(), "rig.yaml", pack.vocabulary), pack, day=_DAY))


def _conceded(inspection: Inspection) -> list[str]:
    return [one.at.tag for one in inspection.findings if one.conceded is not None]


def _rules(inspection: Inspection) -> set[str]:
    return {one.rule for one in inspection.findings}


def test_a_tag_that_two_things_bear_is_told_with_both(pack: Pack) -> None:
    [found] = [one for one in _inspection(pack, other="h-1").findings if one.rule == "rig/tag_is_of_one_thing"]
    assert "acetylene hose and oxygen hose" in found.thing
    assert "rig/tag_is_of_one_thing" not in _rules(_inspection(pack))


@pytest.mark.parametrize("first", ["", "hose: {cover: cut}, "])
def test_a_leave_by_tag_stays_with_its_part_when_another_is_fitted_before_it(first: str, pack: Pack) -> None:
    assert _conceded(_inspection(pack, first=first, thing="H-1")) == ["H-1"]


def test_a_leave_by_a_number_in_the_order_of_flow_is_void_and_says_how_to_name_the_thing(pack: Pack) -> None:
    inspection = _inspection(pack, first="hose: {cover: cut}, ", thing="acetylene hose 2")
    assert _conceded(inspection) == []
    [found] = [one for one in inspection.findings if one.rule.endswith("names_its_thing_for_good")]
    assert [one.value for one in found.found if one.fact == "lasting name"] == ["H-1"]


@pytest.mark.parametrize(
    ("more", "stands"),
    [
        ("thing_tag: H-1", True),
        ("thing_tag: H-7", False),
        ("thing_made: 2025-03", True),
        ("thing_made: 2024-03", False),
        ("thing_place: lines[0].parts[2]", True),
        ("thing_place: lines[0].parts[3]", False),
    ],
)
def test_a_leave_for_a_thing_that_has_changed_is_void_and_a_finding_says_so(
    more: str, stands: bool, pack: Pack
) -> None:
    inspection = _inspection(pack, thing="acetylene hose", more=more)
    assert bool(_conceded(inspection)) == stands
    assert ("concessions/concession_is_of_the_same_thing" in _rules(inspection)) != stands
