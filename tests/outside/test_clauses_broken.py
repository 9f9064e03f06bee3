"""Published clauses, each broken once: the rule of the clause breaks, and of a number only beyond it.

Source of each row: the clause that it names, as `data/clause_numbers.yaml`, `data/clause_breaches.yaml` and
`data/clause_exemptions.yaml` say; how far each was read stands in the documents of the pack, and the rule, or the limit
that it reads, must cite it. `data/clause_register.yaml` has every clause once: what judges it, or why nothing does.
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
from rigcheck.rules.procedures import procedures_of
from rigcheck.rules.rule import Rule
from rigcheck.text.binding import node_at
from rigcheck.text.yamlfile import read_yaml

_DAY = date(2026, 11, 25).toordinal()


def _read(name: str) -> list[dict[str, Any]]:
    text = Path(__file__).with_name("data").joinpath(f"clause_{name}.yaml").read_text(encoding="utf-8")
    return list(yaml.load(text, yaml.CBaseLoader)[name])


_NUMBERS, _BREACHES, _EXEMPTIONS = _read("numbers"), _read("breaches"), _read("exemptions")
_A_HUNDREDTH = (0.004, 0.012)
"""How far beyond is meant: a hundredth, and less where the number itself is a breach and both sides of it are tried."""


@cache
def _limits(pack: Pack, code: str) -> dict[str, DatedLimit]:
    return dict(in_force(pack.limits, code, _DAY, pack.definitions))


def _verdict(row: dict[str, Any], stated: dict[str, Any], pack: Pack) -> tuple[str, Any]:
    text = yaml.safe_dump({"proven_by": [{"case": "one", "verdict": "broken", "under": row["under"], **stated}]})
    rule = pack.rules[row["rule"]]
    cases = node_at(read_yaml(text.encode(), "clause.yaml"), ("proven_by",))
    (case,) = read_cases(replace(rule, cases=cases), pack.vocabulary)
    judge = Judge({name: one.value for name, one in _limits(pack, row["under"]).items() if one.value is not None})
    concerns = judge.check(rule.concerns) if rule.concerns else None
    return judge_thing(concerns, judge.check(rule.holds), case.thing), case.thing


def _number(thing: Any, path: str) -> Interval:
    for step in path.split("."):
        thing = thing.facts[step]
    assert isinstance(thing, Interval)
    return thing


def _cited(rule: Rule, code: str, pack: Pack) -> list[str]:
    limits = _limits(pack, code)
    own = [source.text for source in rule.sources]
    return own + [s.text for name in rule.limits if name in limits for s in limits[name].sources]


def _named(row: dict[str, Any]) -> str:
    return f"{row['clause']}-{row['rule'].split('/')[1]}-{row.get('fact', '')}"


@pytest.mark.parametrize("row", _NUMBERS, ids=_named)
def test_the_rule_of_a_number_breaks_just_beyond_it_and_not_at_it(row: dict[str, Any], pack: Pack) -> None:
    others = row.get("with", {})
    at, thing = _verdict(row, {row["fact"]: row["at"], **others}, pack)
    beyond, other = _verdict(row, {row["fact"]: row["beyond"], **others}, pack)
    assert at in ("holds", "not concerned")
    assert beyond == "broken"
    number, next_one = _number(thing, row["fact"]), _number(other, row["fact"])
    if number.dimension not in ("count", "age", "temperature"):
        least, most = _A_HUNDREDTH
        assert least < abs(next_one.lo - number.lo) / abs(number.lo) < 2 * most


@pytest.mark.parametrize("row", _BREACHES, ids=_named)
def test_the_rule_of_a_clause_breaks_by_a_plain_breach_of_it(row: dict[str, Any], pack: Pack) -> None:
    assert _verdict(row, row["stated"], pack)[0] == "broken"


@pytest.mark.parametrize("row", _EXEMPTIONS, ids=_named)
def test_what_a_clause_lets_pass_breaks_no_rule_and_what_lies_outside_does(row: dict[str, Any], pack: Pack) -> None:
    assert _verdict(row, row["lets"], pack)[0] in ("holds", "not concerned")
    assert _verdict(row, row["but_not"], pack)[0] == "broken"


@pytest.mark.parametrize("row", [*_NUMBERS, *_BREACHES, *_EXEMPTIONS], ids=_named)
def test_the_rule_or_its_limit_cites_the_clause_and_runs_under_its_code(row: dict[str, Any], pack: Pack) -> None:
    rule = pack.rules[row["rule"]]
    assert not rule.under or row["under"] in rule.under
    wanted = row.get("cited", row["clause"])
    assert [text for text in _cited(rule, row["under"], pack) if text.startswith(wanted)]


def test_each_local_code_has_its_clauses() -> None:
    for rows in (_NUMBERS, _BREACHES):
        assert {row["under"] for row in rows} >= {"us", "uk", "eu", "za", "au", "ca"}


# --- the register: every clause once ---


@cache
def _register(name: str, top: str) -> dict[str, dict[str, Any]]:
    text = Path(__file__).with_name("data").joinpath(f"{name}.yaml").read_text(encoding="utf-8")
    return dict(yaml.load(text, yaml.CBaseLoader)[top])


_CLAUSES = _register("clause_register", "clauses")
_JUDGED = {name: clause for name, clause in _CLAUSES.items() if "judged_by" in clause}
_CHECKABLE = {name for name, clause in _CLAUSES.items() if "not_checkable" not in clause and "generator" not in clause}
_IN_THE_REGISTER = 421
_FULL = 0.95


def _broken_under(clause: str) -> set[str]:
    """Return the rules that a row of a clause breaks, and the steps that a record does."""
    rows = [row["rule"] for row in (*_NUMBERS, *_BREACHES, *_EXEMPTIONS) if row["clause"] == clause]
    records = [one for one in _register("procedure_clauses", "clauses").values() if one["source"] == clause]
    steps = [step for one in records for step in one.get("answered_by", ()) if step.startswith("procedures/")]
    return {*rows, *steps}


def test_every_clause_of_the_register_is_judged_or_says_why_not_and_never_both() -> None:
    assert len(_CLAUSES) == _IN_THE_REGISTER
    answers = ("judged_by", "not_checkable", "generator")
    assert [name for name, clause in _CLAUSES.items() if sum(key in clause for key in answers) != 1] == []


@pytest.mark.parametrize("name", _JUDGED)
def test_a_clause_that_is_judged_is_broken_by_a_row_or_a_record_of_its_own(name: str) -> None:
    clause = _JUDGED[name]
    assert set(clause["judged_by"]) & _broken_under(clause["clause"])


def test_what_judges_a_clause_is_a_rule_or_a_step_of_the_pack(pack: Pack) -> None:
    steps = {f"procedures/{p.name}/{name}" for p in procedures_of(pack).values() for name in p.steps}
    named = {one for clause in _JUDGED.values() for one in clause["judged_by"]}
    assert sorted(named - set(pack.rules) - steps) == []


def test_almost_every_clause_that_can_be_checked_is_judged_in_full() -> None:
    full = {name for name, clause in _JUDGED.items() if "short" not in clause}
    assert len(full) / len(_CHECKABLE) >= _FULL
