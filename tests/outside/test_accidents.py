"""What published accident reports say was wrong before is found, graver than a caution, and before all else."""

from __future__ import annotations

from copy import deepcopy
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml

import rigcheck
from rigcheck.judge.causes import causes_of
from rigcheck.judge.inspection import Inspection, inspect_rig
from rigcheck.rig.loader import load_rig
from rigcheck.rules.pack import Pack

_DAY = date(2026, 11, 25).toordinal()
_LINES = {"fuel": 0, "oxygen": 1}


@cache
def _told() -> list[dict[str, Any]]:
    text = Path(__file__).with_name("data").joinpath("accidents.yaml").read_text(encoding="utf-8")
    return list(yaml.load(text, yaml.BaseLoader)["accidents"])


@cache
def _tool_room() -> dict[str, Any]:
    text = (rigcheck.configs_folder() / "sites" / "tool-room-welding.yaml").read_text(encoding="utf-8")
    return dict(yaml.load(text, yaml.BaseLoader))


def _number(parts: list[dict[str, Any]], kind: str, nth: str = "1") -> int:
    return [place for place, part in enumerate(parts) if kind in part][int(nth) - 1]


def _state(rig: dict[str, Any], where: str, said: Any) -> None:
    """Write what is said at `fuel hose`, `fuel arrester 2`, `oxygen joint after hose`, `fuel line` or `site`."""
    first, _, rest = where.partition(" ")
    if first not in _LINES:
        _state_of_the_rig(rig, where, said)
        return
    line = rig["lines"][_LINES[first]]
    kind, *more = rest.split()
    if kind == "line":
        line |= said
    elif kind == "every_joint":
        line[kind] |= said
    elif kind == "joint":
        place = _number(line["parts"], *more[1:]) + 1
        if place < len(line["parts"]) and "joint" in line["parts"][place]:
            line["parts"][place]["joint"] |= said
        else:
            line["parts"].insert(place, {"joint": said})
    elif kind == "pigtail":
        line["parts"].insert(1, {"pigtail": said})
    else:
        part = line["parts"][_number(line["parts"], kind, *more)]
        part[kind] = "taken out" if said == "none" else part[kind] | said


def _state_of_the_rig(rig: dict[str, Any], where: str, said: Any) -> None:
    if where == "rig":
        rig |= said
    elif where == "person":
        rig["people"][0] |= said
    else:
        rig[where] = rig.get(where, {}) | said


def _inspected(accident: dict[str, Any], pack: Pack) -> Inspection:
    rig = deepcopy(_tool_room())
    if "other_gas" in accident:
        rig["lines"][0]["gas"] = rig["lines"][0]["parts"][0]["cylinder"]["gas"] = accident["other_gas"]
    for where, said in accident["stated"].items():
        _state(rig, where, said)
    for line in rig["lines"]:
        line["parts"] = [part for part in line["parts"] if "taken out" not in part.values()]
    text = yaml.safe_dump(rig, sort_keys=False, allow_unicode=True)
    return inspect_rig(load_rig(text.encode(), "told.yaml", pack.vocabulary), pack, day=_DAY)


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
