"""The published clauses about start-up, shut-down and leak tests, against the steps and rules that cite them.

Source of each clause: `data/procedure_clauses.yaml`, which says who read it.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml
from msgspec.structs import replace
from support.procedure_tools import entry, expanded, judged, record_text

from rigcheck.procedure.expansion import Instance
from rigcheck.rig.loader import load_rig
from rigcheck.rig.thing import Rig
from rigcheck.rules.documents import Source
from rigcheck.rules.folders import configs_folder, rules_folder
from rigcheck.rules.load import load_pack
from rigcheck.rules.procedures import procedures_of

_DATA = Path(__file__).parent / "data" / "procedure_clauses.yaml"
_CLAUSES: dict[str, dict[str, Any]] = yaml.safe_load(_DATA.read_text(encoding="utf-8"))["clauses"]
_PACK = load_pack(rules_folder())
_PROCEDURES = procedures_of(_PACK)
_TEMPLATES = configs_folder() / "templates"
_NO_RULES = replace(_PACK, rules={name: replace(rule, under=("nowhere",)) for name, rule in _PACK.rules.items()})


def _all_sources() -> dict[str, tuple[Source, ...]]:
    """Return what every rule and every step is drawn from, by its name."""
    found = {rule.name: rule.sources for rule in _PACK.rules.values()}
    for procedure in _PROCEDURES.values():
        found |= {f"procedures/{procedure.name}/{name}": step.sources for name, step in procedure.steps.items()}
    return found


_SOURCES = _all_sources()
_ANSWERED = {name: clause for name, clause in _CLAUSES.items() if "answered_by" in clause}
_NOT_ANSWERED = {name: clause for name, clause in _CLAUSES.items() if "not_answered" in clause}


def _citation(clause: dict[str, Any]) -> str:
    return str(clause.get("cited_as", clause["source"]))


@pytest.mark.parametrize("name", _ANSWERED)
def test_a_clause_is_cited_by_each_step_or_rule_that_asks_for_the_same(name: str) -> None:
    clause = _ANSWERED[name]
    cited = {one: [source.text for source in _SOURCES[one]] for one in clause["answered_by"]}
    assert [one for one, texts in cited.items() if _citation(clause) not in texts] == []


@pytest.mark.parametrize("name", _ANSWERED)
def test_a_step_or_rule_says_of_a_clause_who_read_it(name: str) -> None:
    clause = _ANSWERED[name]
    cited = [source for one in clause["answered_by"] for source in _SOURCES[one]]
    assert {s.standing for s in cited if s.text == _citation(clause)} == {clause["standing"]}


def test_every_clause_is_answered_or_says_why_not_but_never_both() -> None:
    assert set(_ANSWERED) | set(_NOT_ANSWERED) == set(_CLAUSES)
    assert set(_ANSWERED) & set(_NOT_ANSWERED) == set()


@pytest.mark.parametrize("name", _NOT_ANSWERED)
def test_nothing_cites_a_clause_that_is_not_answered(name: str) -> None:
    citation = _citation(_NOT_ANSWERED[name])
    assert [one for one, sources in _SOURCES.items() if citation in [s.text for s in sources]] == []


def test_the_clauses_that_are_not_answered_are_these() -> None:
    assert sorted(_NOT_ANSWERED) == [
        "us-1910-253-f5ii-recharge",
        "us-1910-253-f7i-order",
        "us-1910-253-f7iii",
        "us-1910-253-f7iv",
        "us-1910-253-f7v",
        "us-1910-253-f7vi",
        "us-1926-350-j",
    ]


# --- the orders that clauses ask for ---

_ORDERS = [
    # clause, procedure, the step that comes first, the step that comes later
    ("us-1910-253-b5iiiD", "cylinder-change", "see_gauges_at_zero", "take_the_regulator_off"),
    ("us-1926-350-d4", "cylinder-change", "see_gauges_at_zero", "take_the_regulator_off"),
    ("us-1926-350-d1", "cylinder-change", "blow_the_valve_clean", "fit_the_regulator"),
    ("us-1910-253-b5iiP-crack", "cylinder-change", "blow_the_valve_clean", "fit_the_regulator"),
    ("ab-1712-1", "cylinder-change", "fit_the_regulator", "open_and_try_the_joint"),
    ("uk-purge", "purge", "purge_fuel", "purge_oxygen"),
    ("us-1910-253-d5ii", "purge", "find_open_air", "purge_fuel"),
    ("uk-light", "lighting", "light_the_fuel", "add_oxygen"),
    ("us-1926-352-i", "lighting", "open_the_vessel", "light_the_fuel"),
    ("uk-shutdown", "shut-down", "put_out_fuel_first", "close_fuel_cylinder_valve"),
    ("uk-shutdown", "shut-down", "close_fuel_cylinder_valve", "vent_fuel"),
    ("uk-shutdown", "shut-down", "close_oxygen_cylinder_valve", "vent_oxygen"),
    ("uk-shutdown", "shut-down", "close_fuel_torch_valve", "vent_oxygen"),
    ("uk-shutdown", "shut-down", "vent_fuel", "back_off_fuel_knob"),
    ("uk-shutdown", "shut-down", "vent_oxygen", "back_off_oxygen_knob"),
    ("uk-cp7-visual", "start-up", "look_the_rig_over", "open_acetylene_cylinder_valve"),
]


def _all_before(procedure: str, step: str) -> set[str]:
    """Return the steps that are all done before every one of a step, at whatever distance."""
    steps, found = _PROCEDURES[procedure].steps, set[str]()
    waiting = list(steps[step].after)
    while waiting:
        name = waiting.pop()
        if name not in found:
            found.add(name)
            waiting += steps[name].after
    return found


@pytest.mark.parametrize(("clause", "procedure", "first", "later"), _ORDERS)
def test_steps_stand_in_the_order_that_a_clause_asks_for(clause: str, procedure: str, first: str, later: str) -> None:
    assert clause in _ANSWERED
    assert first in _all_before(procedure, later)


def test_leaks_are_looked_for_and_lines_purged_before_the_first_lighting() -> None:
    """Alberta OHS Code Explanation Guide s.171.2 (published); British guidance on start-up (from memory)."""
    earlier: list[str] = []
    waiting = ["lighting"]
    while waiting:
        name = waiting.pop()
        waiting += _PROCEDURES[name].comes_after
        earlier += _PROCEDURES[name].comes_after
    assert earlier == ["purge", "leak-test", "start-up"]


# --- each step of a clause, broken in a record ---

_STEPS = [
    (name, step, clause.get("stated", {}).get(step.rpartition("/")[2]))
    for name, clause in _ANSWERED.items()
    for step in clause["answered_by"]
    if step.startswith("procedures/")
]


def _set_in_a_tank() -> str:
    """A welding set whose work, place and torch ask for the steps that hang on them."""
    rig = yaml.load((_TEMPLATES / "oxy-acetylene-welding.yaml").read_text(encoding="utf-8"), yaml.BaseLoader)
    rig["shut_order"] = "fuel-first"
    rig["job"]["hot_work_permit"] = "issued"
    rig["site"] = rig.get("site", {}) | {"place": "confined-space"}
    rig["workpiece"] = rig.get("workpiece", {}) | {"form": "tank"}
    return yaml.safe_dump(rig)


@cache
def _rigs() -> list[Rig]:
    texts = [_set_in_a_tank(), *(path.read_text(encoding="utf-8") for path in sorted(_TEMPLATES.glob("*.yaml")))]
    return [load_rig(text.encode(), "rig.yaml", _NO_RULES.vocabulary) for text in texts]


@cache
def _with_the_step(procedure: str, step: str) -> tuple[Rig, str, tuple[Instance, ...]]:
    """Return a rig and a local code under which it has a step, and all steps of that procedure for it."""
    codes = _PROCEDURES[procedure].steps[step].under or ("general",)
    for rig in _rigs():
        instances = expanded(_NO_RULES, rig, procedure, codes[0]).instances
        if any(one.step.name == step for one in instances):
            return rig, codes[0], instances
    raise AssertionError(f"no rig has {procedure}/{step}")


def _steps_broken(rig: Rig, code: str, procedure: str, entries: list[str]) -> set[str]:
    return {one.rule for one in judged(_NO_RULES, rig, record_text(procedure, entries), code).findings}


@pytest.mark.parametrize(("name", "step", "stated"), _STEPS, ids=[f"{name}-{step}" for name, step, _ in _STEPS])
def test_a_record_breaks_the_step_of_a_clause(name: str, step: str, stated: dict[str, str] | None) -> None:
    _, procedure, of_clause = step.split("/")
    rig, code, instances = _with_the_step(procedure, of_clause)
    assert step not in _steps_broken(rig, code, procedure, [entry(one) for one in instances])
    its_own = [one for one in instances if one.step.name == of_clause]
    wrong = [entry(one) for one in instances if one not in its_own]
    if its_own[0].step.optional or stated:  # what may be left out is done wrong, or too early
        wrong = [*(entry(one, stated) for one in its_own), *wrong]
    broken = _steps_broken(rig, code, procedure, wrong)
    assert step in broken
