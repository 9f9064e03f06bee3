"""A defect that is stated is found, by the rule that is about it and with no lesser word than it deserves."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest
import yaml
from support.tool_room import text_of, tool_room_but

from rigcheck.judge.inspection import Inspection, inspect_rig
from rigcheck.rig.loader import load_rig
from rigcheck.rules.pack import Pack
from rigcheck.text.faults import Refused

_DAY = date(2026, 11, 25).toordinal()
_WORDS = ("notice", "caution", "warning", "danger")
_TEXT = Path(__file__).with_name("stated_defects.yaml").read_text(encoding="utf-8")
_DEFECTS: list[dict[str, Any]] = yaml.load(_TEXT, yaml.BaseLoader)


def _inspected(stated: dict[str, Any], pack: Pack, fuel: str = "") -> Inspection:
    text = text_of(tool_room_but(stated, fuel=fuel))
    return inspect_rig(load_rig(text.encode(), "stated.yaml", pack.vocabulary), pack, day=_DAY)


@pytest.mark.parametrize("defect", _DEFECTS, ids=lambda defect: str(defect["stated"])[1:-1])
def test_a_stated_defect_is_found_with_the_word_that_it_deserves(defect: dict[str, Any], pack: Pack) -> None:
    found = _inspected(defect["stated"], pack, defect.get("fuel", "")).findings
    words = [_WORDS.index(one.signal) for one in found if one.rule == defect["breaks"]]
    assert words
    assert max(words) >= _WORDS.index(defect["word"])


def test_without_a_defect_nothing_is_found(pack: Pack) -> None:
    assert [one.rule for one in _inspected({}, pack).findings] == []


@pytest.mark.parametrize(
    ("where", "fact", "value"),
    [
        ("job", "torches_in_use", "-5"),
        ("site", "welders", "2.5"),
        ("fuel hose", "length", "10 km"),
        ("fuel hose", "bore", "8 m"),
        ("site", "ambient_temperature", "160 degC"),
        ("fuel hose", "made", "2999-01-01"),
        ("job", "duty_share", "1000000000 %"),
        ("person", "filter_shade", "1000000000"),
    ],
)
def test_a_number_that_cannot_be_meant_is_refused(where: str, fact: str, value: str, pack: Pack) -> None:
    with pytest.raises(Refused) as refused:
        _inspected({where: {fact: value}}, pack)
    assert value in str(refused.value)
