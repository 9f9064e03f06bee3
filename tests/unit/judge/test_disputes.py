"""Statements of one rig that do not agree are found, asked after, and hold nothing."""

from __future__ import annotations

from datetime import date

import pytest
from support.in_full import sites_in_full

from rigcheck.judge.finding import Inspection
from rigcheck.judge.inspection import inspect_rig
from rigcheck.rig.loader import load_rig
from rigcheck.rules.folders import configs_folder
from rigcheck.rules.pack import Pack

DAY = date(2026, 11, 25).toordinal()
SITE = sites_in_full() / "tool-room-welding.yaml"
AGREE = "rig/statements_agree"


def inspected(pack: Pack, *changes: tuple[str, str]) -> Inspection:
    text = SITE.read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    return inspect_rig(load_rig(text.encode(), SITE.name, pack.vocabulary), pack, day=DAY)


def test_a_rig_whose_statements_agree_has_no_such_finding(pack: Pack) -> None:
    assert AGREE not in {one.rule for one in inspected(pack).findings}


def test_a_stated_mass_that_the_parts_outweigh_is_found_with_both_values_side_by_side(pack: Pack) -> None:
    changes = ("loaded_mass: 180 kg", "loaded_mass: 100 kg"), ("rated_mass: 250 kg", "rated_mass: 150 kg")
    inspection = inspected(pack, *changes)
    found = next(one for one in inspection.findings if one.rule == AGREE)
    assert [one.value for one in found.found] == ["100 kg", "174.7 kg"]
    assert [one.fact for one in found.found] == ["loaded mass, written", "whole mass, worked out"]
    assert found.at.path == "trolley[0]"


def test_the_finding_is_as_grave_as_the_gravest_rule_that_it_keeps_open(pack: Pack) -> None:
    changes = ("loaded_mass: 180 kg", "loaded_mass: 100 kg"), ("rated_mass: 250 kg", "rated_mass: 150 kg")
    inspection = inspected(pack, *changes)
    asked = next(one for one in inspection.questions if "do not agree" in one.too_close)
    found = next(one for one in inspection.findings if one.rule == AGREE)
    assert found.signal == asked.signal
    assert asked.signal != "notice"
    assert "written at tool-room-welding.yaml" in asked.too_close


def test_a_disagreement_that_decides_nothing_is_a_notice(pack: Pack) -> None:
    bank = configs_folder() / "templates" / "oxy-propane-heating.yaml"
    text = bank.read_text(encoding="utf-8").replace("cylinder_count: 2", "cylinder_count: 20")
    inspection = inspect_rig(load_rig(text.encode(), bank.name, pack.vocabulary), pack, day=DAY)
    assert {one.signal for one in inspection.findings if one.rule == AGREE} == {"notice"}


@pytest.mark.parametrize(
    "change",
    [
        ("fuel_flow: 200 L/h", "fuel_flow: 2000 L/h"),
        ("supply_content: 4.3 m3", "supply_content: 43 m3"),
        ("withdrawal_share: 4.7 % per h", "withdrawal_share: 1 % per h"),
    ],
)
def test_a_sum_is_no_lid_over_its_parts(pack: Pack, change: tuple[str, str]) -> None:
    assert inspected(pack, change).state("notice") == "on hold"
