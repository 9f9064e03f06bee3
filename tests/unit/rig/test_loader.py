"""A rig file: facts with their places, things that exist though nobody wrote them, all faults at once."""

from __future__ import annotations

import pytest

from rigcheck.rig.loader import load_rig
from rigcheck.rig.thing import Rig
from rigcheck.rules.pack import Pack
from rigcheck.text.faults import Fault, Refused
from rigcheck.text.place import Place

RIG = """\
rig: Two lines to one torch
lines:
  - gas: acetylene
    parts:
      - cylinder: {upright: true}
      - regulator: {set_pressure: 0.5 bar}
      - hose: {length: 15 m}
  - gas: O2
    parts: [cylinder, regulator, hose: {length: 49 ft}]
torch: {name: The cutter}
trolley: {tilt: 19.5 ± 1 deg}
"""


def _load(pack: Pack, text: str) -> Rig:
    return load_rig(text.encode(), "rig.yaml", pack.vocabulary)


def _faults(pack: Pack, text: str) -> list[Fault]:
    with pytest.raises(Refused) as refused:
        _load(pack, text)
    return list(refused.value.faults)


def test_a_fact_is_read_by_its_declared_kind_and_keeps_its_place(pack: Pack) -> None:
    rig = _load(pack, RIG)
    (trolley,) = rig.of_kind("trolley")
    assert (trolley.facts["tilt"].lo, trolley.facts["tilt"].hi) == (18.5, 20.5)
    assert rig.place(trolley, "tilt") == Place("rig.yaml", 11, 17)
    assert rig.name == "Two lines to one torch"


def test_a_fact_that_is_not_written_stands_at_its_thing(pack: Pack) -> None:
    rig = _load(pack, RIG)
    (trolley,) = rig.of_kind("trolley")
    assert rig.place(trolley, "wheels") == Place("rig.yaml", 11, 10)


def test_another_spelling_of_a_word_is_read_as_the_word(pack: Pack) -> None:
    assert [line.facts["gas"] for line in _load(pack, RIG).of_kind("line")] == ["acetylene", "oxygen"]


@pytest.mark.parametrize("kind", ["site", "job", "tools", "workpiece", "pause"])
def test_a_thing_that_must_be_there_exists_though_nobody_wrote_it(pack: Pack, kind: str) -> None:
    found = list(_load(pack, RIG).of_kind(kind))
    assert found
    assert set(found[0].facts) >= {"kind", "rig"}


@pytest.mark.parametrize("gases", [("propane",), ("acetylene", "oxygen")])
def test_a_torch_whose_valves_nobody_wrote_has_one_for_each_gas(pack: Pack, gases: tuple[str, ...]) -> None:
    lines = "".join(f"  - {{gas: {gas}, parts: [cylinder, regulator, hose]}}\n" for gas in gases)
    for torch, valves in (("{}", len(gases)), ("{control_valve: none}", 0), ("{control_valve: {}}", 1)):
        rig = _load(pack, f"rig: a\nlines:\n{lines}torch: {torch}\n")
        assert len([*rig.of_kind("control valve")]) == valves


def test_parts_are_a_closed_world_and_facts_an_open_one(pack: Pack) -> None:
    rig = _load(pack, RIG.replace("trolley: {tilt: 19.5 ± 1 deg}\n", ""))
    assert not list(rig.of_kind("trolley"))
    assert not list(rig.of_kind("arrester"))
    assert all("bore" not in hose.facts for hose in rig.of_kind("hose"))


@pytest.mark.parametrize("text", ["unknown", "not known", "?"])
def test_a_fact_written_as_unknown_is_as_if_it_were_left_out(pack: Pack, text: str) -> None:
    rig = _load(pack, RIG.replace("19.5 ± 1 deg", f"'{text}'"))
    assert "tilt" not in next(rig.of_kind("trolley")).facts


def test_a_bare_part_is_there_with_nothing_known_of_it(pack: Pack) -> None:
    oxygen = list(_load(pack, RIG).of_kind("regulator"))[1]
    assert "set_pressure" not in oxygen.facts


def test_several_things_of_one_kind_are_numbered(pack: Pack) -> None:
    rig = _load(pack, RIG.replace("trolley: {tilt: 19.5 ± 1 deg}", "trolley: [{tilt: 1 deg}, {tilt: 2 deg}]"))
    assert [trolley.label for trolley in rig.of_kind("trolley")] == ["trolley 1", "trolley 2"]


@pytest.mark.parametrize(("called", "part"), [("check_valve", "non_return_valve"), ("bottle", "cylinder")])
def test_what_people_call_a_part_leads_to_its_word(pack: Pack, called: str, part: str) -> None:
    faults = _faults(pack, RIG.replace("- hose: {length: 15 m}", f"- {called}", 1))
    assert [fault.read.endswith(f"read as a {part}.") for fault in faults if called in fault.read] == [True]


def test_facts_left_open_for_the_site_are_kept_by_kind_and_name(pack: Pack) -> None:
    rig = _load(pack, RIG + "on_site: [hose.made, hose_pair.held_by]\n")
    assert rig.on_site == {"hose.made", "hose pair.held_by"}


BAD = [  # text to change, its replacement, place, what is said
    ("tilt:", "tlit:", "11:11", "'tlit' is nothing known of a trolley"),
    ("19.5 ± 1 deg", "19.5", "11:17", "'19.5' has no unit"),
    ("19.5 ± 1 deg", "3 bar", "11:17", "'3 bar' is a pressure"),
    ("19.5 ± 1 deg", "[1 deg, 2 deg]", "11:17", "Here stands a list"),
    ("19.5 ± 1 deg", "{a: 1}", "11:17", "Here stands a mapping"),
    ("tilt: 19.5 ± 1 deg}", "tilt: }", "11:17", "Nothing is written"),
    ("upright: true", "upright: perhaps", "5:29", "'perhaps' is neither yes nor no"),
    ("gas: acetylene", "gas: acetylen", "3:10", "'acetylen' is not one of its words"),
    ("gas: acetylene\n    ", "", "3:5", "names no gas"),
    ("- regulator: {set", "- regulater: {set", "6:9", "'regulater' is no part of a line"),
    ("- hose: {length: 15 m}", "- torch: {}", "7:9", "'torch' is no part of a line"),
    ("- hose: {length: 15 m}", "- hose: {age: 3 year}", "7:21", "'age' is computed and cannot be stated"),
    ("- hose: {length: 15 m}", "- [hose]", "7:9", "This is not one part"),
    ("- hose: {length: 15 m}", "- {hose: {}, joiner: {}}", "7:9", "This is not one part"),
    ("- hose: {length: 15 m}", "- hose: 15 m", "7:15", "The hose is not a mapping"),
    ("- hose: {length: 15 m}", "- hose: {length: -15 m}", "7:24", "'-15 m' is a length below nothing"),
    ("trolley:", "trolly:", "11:1", "'trolly' is nothing known of a rig"),
    ("trolley: {tilt: 19.5 ± 1 deg}", "site: [{}, {}]", "11:7", "'site' is written as a list"),
    ("trolley: {tilt: 19.5 ± 1 deg}", "on_site: [hose.maid]", "11:11", "'hose.maid' is no fact"),
    ("rig: Two lines to one torch\n", "", "1:1", "no rig description"),
]


@pytest.mark.parametrize(("old", "new", "place", "said"), BAD)
def test_a_slip_is_told_at_its_place(pack: Pack, old: str, new: str, place: str, said: str) -> None:
    assert old in RIG
    faults = _faults(pack, RIG.replace(old, new, 1))
    told = [fault for fault in faults if said in fault.read]
    assert told, [str(fault) for fault in faults]
    assert str(told[0]).startswith(f"rig.yaml:{place}: ")
    assert told[0].write


def test_all_slips_of_a_file_are_told_at_once_in_order(pack: Pack) -> None:
    text = RIG.replace("upright: true", "upright: perhaps").replace("15 m", "15").replace("tilt:", "tlit:")
    assert [fault.place.line for fault in _faults(pack, text)] == [5, 7, 11]


@pytest.mark.parametrize("text", ["[a, b]", "text", "{}", "lines: []"])
def test_what_is_no_rig_is_refused(pack: Pack, text: str) -> None:
    assert any("rig description" in fault.read for fault in _faults(pack, text))


def test_gas_lines_that_are_no_list_are_told_from_none(pack: Pack) -> None:
    assert [one.read for one in _faults(pack, "rig: Nothing\nlines: {gas: oxygen}\n")] == ["The gas lines are no list."]


@pytest.mark.parametrize("lines", ["lines: []", "lines: none", "lines: {}", ""])
def test_a_rig_without_gas_lines_is_refused(pack: Pack, lines: str) -> None:
    assert any("no gas lines" in fault.read for fault in _faults(pack, f"rig: Nothing\n{lines}\n"))
