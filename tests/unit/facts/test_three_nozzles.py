"""The invented boiler house: three large nozzles on one acetylene cylinder, caught by arithmetic alone."""

from __future__ import annotations

from datetime import date

import pytest
from support.in_full import sites_in_full

from rigcheck.judge.inspection import inspect_rig
from rigcheck.judge.judged import judge
from rigcheck.rig.loader import load_rig
from rigcheck.rig.thing import Rig
from rigcheck.rules.pack import Pack

DAY = date(2026, 11, 25).toordinal()
SITE = sites_in_full() / "boiler-house-heating.yaml"
STATED = ("consumption", "supply_content", "withdrawal_share")


def boiler_house(pack: Pack) -> Rig:
    return load_rig(SITE.read_bytes(), SITE.name, pack.vocabulary)


def broken(rig: Rig, pack: Pack) -> set[str]:
    return {finding.rule for finding in inspect_rig(rig, pack, day=DAY).findings}


def test_nobody_states_the_draw_or_the_content(pack: Pack) -> None:
    line = next(line for line in boiler_house(pack).of_kind("line") if line.facts["gas"] == "acetylene")
    assert not line.places.keys() & set(STATED)


def test_nine_tenths_of_the_cylinder_an_hour_are_found(pack: Pack) -> None:
    # 3 nozzles x 700 L/h = 2.1 m3/h; 2.6 kg / 1.109 kg/m3 (trade figure, from memory) = 2.34 m3; 2.1 / 2.34 = 89.6 %.
    rig = boiler_house(pack)
    assert broken(rig, pack) >= {
        "cylinders/acetylene_draw_is_within_the_supply",
        "cylinders/acetylene_draw_without_pauses_is_smaller",
        "cylinders/one_acetylene_cylinder_is_not_overdrawn",
    }
    known = judge(rig, pack, day=DAY).known
    line = next(line for line in known.filled.of_kind("line") if line.facts["gas"] == "acetylene")
    assert line.facts["hourly_share"].lo == pytest.approx(0.896, abs=0.005)


@pytest.mark.parametrize(("nozzle", "found"), [("700 L/h", True), ("35 L/h", False)])
def test_it_is_the_nozzles_that_do_it(pack: Pack, nozzle: str, found: bool) -> None:
    text = SITE.read_text(encoding="utf-8").replace("fuel_flow: 700 L/h", f"fuel_flow: {nozzle}")
    rig = load_rig(text.encode(), SITE.name, pack.vocabulary)
    assert ("cylinders/acetylene_draw_without_pauses_is_smaller" in broken(rig, pack)) is found
