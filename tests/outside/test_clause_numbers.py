"""Published numbers, tried at the number and one in a hundred beyond it: the rule of the clause breaks only beyond.

Source of each row: the clause that it names, as `data/clause_numbers.yaml` says; how far each was read stands in the
documents of the pack, and the rule, or the limit that it reads, must cite it.
"""

from __future__ import annotations

from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml
from msgspec.structs import replace

from rigcheck.condition.compiler import Judge
from rigcheck.judge.judged import judge_thing
from rigcheck.quantity.interval import Interval
from rigcheck.rules.cases import read_cases
from rigcheck.rules.limits import DatedLimit, in_force
from rigcheck.rules.pack import Pack
from rigcheck.rules.rule import Rule
from rigcheck.text.binding import node_at
from rigcheck.text.yamlfile import read_yaml

_DAY = date(2026, 11, 25).toordinal()
_TEXT = Path(__file__).with_name("data").joinpath("clause_numbers.yaml").read_text(encoding="utf-8")
_ROWS: list[dict[str, Any]] = yaml.load(_TEXT, yaml.BaseLoader)["numbers"]
_A_HUNDREDTH = (0.004, 0.012)
"""How far beyond is meant: a hundredth, and less where the number itself is a breach and both sides of it are tried."""


@cache
def _limits(pack: Pack, code: str) -> dict[str, DatedLimit]:
    return dict(in_force(pack.limits, code, _DAY, pack.definitions))


def _verdict(row: dict[str, Any], which: str, pack: Pack) -> tuple[str, Any]:
    stated = {"case": which, "verdict": "broken", "under": row["under"], row["fact"]: row[which], **row.get("with", {})}
    text = yaml.safe_dump({"proven_by": [stated]})
    rule = pack.rules[row["rule"]]
    cases = node_at(read_yaml(text.encode(), "clause.yaml"), ("proven_by",))
    (case,) = read_cases(replace(rule, cases=cases), pack.vocabulary)
    judge = Judge({name: one.value for name, one in _limits(pack, row["under"]).items() if one.value is not None})
    concerns = judge.check(rule.concerns) if rule.concerns else None
    thing: Any = case.thing
    for step in row["fact"].split(".")[:-1]:
        thing = thing.facts[step]
    return judge_thing(concerns, judge.check(rule.holds), case.thing), thing.facts[row["fact"].split(".")[-1]]


def _cited(rule: Rule, code: str, pack: Pack) -> list[str]:
    limits = _limits(pack, code)
    own = [source.text for source in rule.sources]
    return own + [s.text for name in rule.limits if name in limits for s in limits[name].sources]


@pytest.mark.parametrize("row", _ROWS, ids=lambda row: f"{row['clause']}-{row['rule'].split('/')[1]}-{row['fact']}")
def test_the_rule_of_a_clause_breaks_just_beyond_its_number_and_not_at_it(row: dict[str, Any], pack: Pack) -> None:
    rule = pack.rules[row["rule"]]
    assert not rule.under or row["under"] in rule.under
    at, number = _verdict(row, "at", pack)
    beyond, other = _verdict(row, "beyond", pack)
    assert at in ("holds", "not concerned")
    assert beyond == "broken"
    assert isinstance(number, Interval)
    assert isinstance(other, Interval)
    if other.dimension not in ("count", "age", "temperature"):
        assert _A_HUNDREDTH[0] < abs(other.lo - number.lo) / abs(number.lo) < 2 * _A_HUNDREDTH[1]


@pytest.mark.parametrize("row", _ROWS, ids=lambda row: f"{row['clause']}-{row['rule'].split('/')[1]}-{row['fact']}")
def test_the_rule_or_its_limit_cites_the_clause(row: dict[str, Any], pack: Pack) -> None:
    assert [text for text in _cited(pack.rules[row["rule"]], row["under"], pack) if text.startswith(row["clause"])]


def test_each_local_code_has_its_numbers() -> None:
    assert {row["under"] for row in _ROWS} >= {"us", "uk", "eu", "za", "au", "ca", "general"}
    assert len(_ROWS) > 120
