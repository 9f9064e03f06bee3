"""A rig that is otherwise than its standard rig, where that says in what it may differ."""

from __future__ import annotations

from datetime import date

import pytest

from rigcheck.judge.inspection import Inspection, inspect_rig
from rigcheck.rig.around import Around
from rigcheck.rig.loader import load_rig
from rigcheck.rig.register_reader import load_register
from rigcheck.rules.pack import Pack

DAY = date(2026, 11, 25).toordinal()
RULE = "rig/departs_only_where_it_may"
STANDARD = """\
rig: company set
{may}
lines:
  - gas: oxygen
    parts:
      - cylinder: {{gas: oxygen, pressure: 200 bar}}
      - regulator: {{gas: oxygen}}
      - hose: {{length: 10 m, colour: blue, made: 2024-03}}
torch: {{form: cutting}}
"""
RIG = "rig: shop set\nstandard_rig: company.yaml\nlines: [{{gas: oxygen, parts: [{parts}]}}]\n"
REGISTER = "register: stores\nthings: {H-1: {hose: {length: 20 m}}}\n"


def inspected(pack: Pack, parts: str, may: str = "may_differ: [hose.length]") -> Inspection:
    register = load_register([(REGISTER.encode(), "stores.yaml")], pack.vocabulary, "stores.yaml")
    standard = STANDARD.format(may=may).encode()
    around = Around(standard_of=lambda name: (standard, name), register_of=lambda _: register)
    return inspect_rig(load_rig(RIG.format(parts=parts).encode(), "rig.yaml", pack.vocabulary, around), pack, day=DAY)


def departures(inspection: Inspection) -> list[str]:
    return [one.thing for one in inspection.findings if one.rule == RULE]


@pytest.mark.parametrize(
    ("parts", "told"),
    [
        ("hose: {condition: sound}", []),
        ("hose: {length: 20 m}", []),  # it may differ
        ("hose: {length: 10000 mm}", []),
        ("hose: {colour: red}", ["oxygen hose, colour (in the standard rig blue)"]),
        ("cylinder: {pressure: 150 bar}, hose: {made: 2025-01}", []),  # of each rig anew
        ("hose: none", ["oxygen hose, which is in the standard rig"]),
        ("hose, swivel", ["oxygen swivel, which the standard rig has not"]),
    ],
)
def test_what_is_otherwise_and_may_not_be_is_found_where_it_is_written(parts: str, told: list[str], pack: Pack) -> None:
    inspection = inspected(pack, parts)
    assert departures(inspection) == told
    assert all(one.place.file == "rig.yaml" for one in inspection.findings if one.rule == RULE)


def test_what_is_on_record_departs_too(pack: Pack) -> None:
    assert departures(inspected(pack, "hose: {tag: H-1}")) == []
    told = departures(inspected(pack, "hose: {tag: H-1}", "may_differ: [hose.colour]"))
    assert told == ["oxygen hose, length (in the standard rig 10 m)"]


def test_a_kind_that_may_differ_may_come_and_go(pack: Pack) -> None:
    assert departures(inspected(pack, "hose, swivel", "may_differ: [swivel]")) == []


def test_a_standard_rig_that_says_nothing_of_it_lets_all_differ(pack: Pack) -> None:
    assert departures(inspected(pack, "hose: {colour: red}, swivel", "invented: true")) == []
