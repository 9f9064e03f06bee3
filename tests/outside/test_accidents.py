"""What published accident reports say was wrong before is found, graver than a caution, and before all else."""

from __future__ import annotations

from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml
from support.tool_room import text_of, tool_room_but

from rigcheck.judge.causes import causes_of
from rigcheck.judge.inspection import Inspection, inspect_rig
from rigcheck.rig.loader import load_rig
from rigcheck.rules.pack import Pack

_DAY = date(2026, 11, 25).toordinal()


@cache
def _told() -> list[dict[str, Any]]:
    text = Path(__file__).with_name("data").joinpath("accidents.yaml").read_text(encoding="utf-8")
    return list(yaml.load(text, yaml.BaseLoader)["accidents"])


def _inspected(accident: dict[str, Any], pack: Pack) -> Inspection:
    rig = tool_room_but(accident["stated"], fuel=accident.get("other_gas", ""))
    return inspect_rig(load_rig(text_of(rig).encode(), "told.yaml", pack.vocabulary), pack, day=_DAY)


_each = pytest.mark.parametrize("accident", _told(), ids=lambda accident: accident["accident"])


@_each
def test_what_a_report_says_was_wrong_is_found(accident: dict[str, Any], pack: Pack) -> None:
    found = {one.rule: one.signal for one in _inspected(accident, pack).findings}
    assert [rule for rule in accident["breaks"] if rule not in found] == []
    assert {found[rule] for rule in accident["breaks"]} & {"danger", "warning"}


@_each
def test_it_holds_the_rig_and_is_told_first(accident: dict[str, Any], pack: Pack) -> None:
    inspection = _inspected(accident, pack)
    assert inspection.state("warning") == "on hold"
    if "other_gas" not in accident:
        assert causes_of(inspection.findings)[0].told.first.rule in accident["breaks"]


def test_each_accident_has_its_address() -> None:
    assert [one["accident"] for one in _told() if not one["seen_at"].startswith("http")] == []
    assert len(_told()) == len({one["accident"] for one in _told()})
