"""One statement that cannot be read does not silence the rest; a file whose parts cannot be told is refused."""

from __future__ import annotations

from datetime import date

import pytest
from msgspec.structs import replace

from rigcheck.judge.finding import Inspection
from rigcheck.judge.inspection import explain
from rigcheck.judge.judged import judge
from rigcheck.rig.loader import load_rig
from rigcheck.rules.pack import Pack
from rigcheck.text.faults import Refused

_DAY = date(2026, 11, 25).toordinal()
_RIG = """\
rig: one slip
trolley: {tilt: 30 deg}
lines:
  - gas: acetylene
    parts:
      - cylinder: {pressure: 14 bar}
      - joint: {sealing: ptfe-tape}
      - regulator: {gas: acetylene}
      - arrester: {functions: [NV, FA, TV]}
      - hose: {cover: sound}
  - gas: oxygen
    parts: [cylinder, regulator, hose]
torch: {form: cutting}
"""


def _inspection(text: str, pack: Pack) -> Inspection:
    rig = load_rig(text.encode(), "rig.yaml", pack.vocabulary, what_can_be_read=True)
    return explain(judge(rig, pack, day=_DAY))


@pytest.mark.parametrize(
    ("was", "slip", "fact"),
    [
        ("cover: sound", "cover: sownd-ish", "cover"),
        ("cover: sound", "covver: sound", "cover"),
        ("14 bar", "14", "pressure"),
        ("gas: acetylene}", "gas: acetilene}", "gas"),
        ("{tilt: 30 deg}", "{tilt: 30 deg, seen: yesterday}", ""),
        ("- arrester", "- aresster", ""),
        ("- regulator: {gas: acetylene}", "- regulator: new one", "gas"),
    ],
)
def test_the_rest_is_judged_as_if_the_slip_were_not_there(was: str, slip: str, fact: str, pack: Pack) -> None:
    whole = _inspection(_RIG, pack)
    part = _inspection(_RIG.replace(was, slip, 1), pack)
    assert len(part.unread) == 1
    assert {(one.rule, one.thing) for one in part.findings} == {(one.rule, one.thing) for one in whole.findings}
    assert {one.fact for one in part.questions} - {one.fact for one in whole.questions} <= {fact}


def test_the_state_is_never_better_than_not_yet_shown(pack: Pack) -> None:
    text = _RIG.replace("cover: sound", "cover: sownd-ish")
    inspection = _inspection(text, pack)
    bare = replace(inspection, findings=(), questions=())
    assert bare.state("warning") == "not yet shown"


@pytest.mark.parametrize("slip", ["- gizmo", "- [hose]", "- {hose: {}, arrester: {}}", "- inlet_gauge: {}"])
def test_a_file_whose_parts_cannot_be_told_is_refused(slip: str, pack: Pack) -> None:
    text = _RIG.replace("- arrester: {functions: [NV, FA, TV]}", slip)
    with pytest.raises(Refused):
        _inspection(text, pack)


@pytest.mark.parametrize(
    ("written", "told"),
    [
        (
            "inlet_guage: {full_scale: 25 bar}",
            ["'inlet_guage' is nothing known of a regulator: read as its 'inlet_gauge'."],
        ),
        ("inlet gauge: {full_scale: 25 bar}", []),
        ("Inlet-Gauge: {Full scale: 25 bar}", []),
        ("inlet_guage: {full_scale: 25 bar}, inlet_gauge: {}", ["'inlet_guage' is nothing known of a regulator."]),
    ],
)
def test_a_misspelt_inner_part_is_not_taken_for_an_absent_one(written: str, told: list[str], pack: Pack) -> None:
    text = _RIG.replace("- regulator: {gas: acetylene}", f"- regulator: {{gas: acetylene, {written}}}")
    rig = load_rig(text.encode(), "rig.yaml", pack.vocabulary, what_can_be_read=True)
    assert [fault.read for fault in rig.unread] == told
    [gauge] = [one for one in rig.of_kind("gauge") if one.key == "inlet gauge" and "gas" in one.parent.facts]
    assert ("full_scale" in gauge.places) == ("inlet_gauge" not in written)


@pytest.mark.parametrize(
    ("was", "slip"),
    [
        ("gas: acetylene}", "gas: acetylene, dials: {left: 14 bar}}"),
        ("torch: {", "hoses: {bound: cable tie}\ntorch: {"),
        ("  - gas: oxygen\n", "  - gas: oxygen\n    seals: [{of: PTFE}]\n"),
    ],
)
def test_what_stands_under_an_unknown_key_silences_nothing_else(was: str, slip: str, pack: Pack) -> None:
    whole, part = _inspection(_RIG, pack), _inspection(_RIG.replace(was, slip, 1), pack)
    assert len(part.unread) == 1
    assert {(one.rule, one.thing) for one in part.findings} == {(one.rule, one.thing) for one in whole.findings}


@pytest.mark.parametrize("slip", ["line:\n", "ways:\n"])
def test_a_file_whose_lines_cannot_be_told_is_refused(slip: str, pack: Pack) -> None:
    with pytest.raises(Refused):
        _inspection(_RIG.replace("lines:\n", slip), pack)


def test_what_cannot_be_read_at_a_thing_is_not_taken_from_every(pack: Pack) -> None:
    text = _RIG.replace("cover: sound", "cover: sownd-ish") + "every: {hose: {cover: sound}}\n"
    inspection = _inspection(text, pack)
    assert [one.thing for one in inspection.questions if one.fact == "cover"] == ["acetylene hose"]


@pytest.mark.parametrize(
    ("was", "slip", "hint"),
    [
        ("- cylinder: {pressure: 14 bar}", "- cylinder: {label: propane}", "'gas': Which gas"),
        ("gas: acetylene}", "inlet_pressure: 230 bar}", "'inlet_rating' for what is asked"),
        ("    parts:\n      - cyl", "    leak_test: tight\n    parts:\n      - cyl", "every: {joint: {leak_test: …}}"),
    ],
)
def test_a_hint_names_a_fact_that_takes_the_value(was: str, slip: str, hint: str, pack: Pack) -> None:
    [fault] = _inspection(_RIG.replace(was, slip, 1), pack).unread
    assert hint in str(fault)


@pytest.mark.parametrize(
    ("was", "other"),
    [
        ("{tilt: 30 deg}", "{lean: 30 deg}"),
        ("functions: [NV, FA, TV]", "marks: [NV, FA, TV]"),
        ("cover: sound", "Cover: sound"),
        ("cover: sound", "cover: sound, expiry: 2027-05, Date of manufacture: 2024-05"),
        ("pressure: 14 bar", "pressure: 14 bar, size: 40 L"),
    ],
)
def test_another_name_of_a_fact_is_understood(was: str, other: str, pack: Pack) -> None:
    rig = load_rig(_RIG.replace(was, other, 1).encode(), "rig.yaml", pack.vocabulary)
    [cylinder, *_] = rig.of_kind("cylinder")
    assert other.endswith("40 L") == ("water_capacity" in cylinder.facts)
    assert {name for thing in rig.things for name in thing.places} >= {"tilt", "functions", "cover", "pressure"}


def test_a_word_where_facts_should_stand_silences_nothing_else_and_no_stands_for_none(pack: Pack) -> None:
    text = _RIG.replace("{form: cutting}", "{form: cutting, nozzle: 1/16}").replace("bar}", "bar, secured: no}")
    part = _inspection(text + "tools: no\n", pack)
    assert [fault.read for fault in part.unread] == [
        "The nozzle is not a mapping of facts.",
        "The tools are not a mapping of facts.",
    ]
    assert part.unread[1].write == "Write none where there is none."
    assert "cylinders/cylinder_is_secured" in {one.rule for one in part.findings}
