"""Every rule of the pack that bounds the time since a day makes that day due, and on the day that an inspection says.

Which rules those are is read here from the YAML of the rules and of the vocabulary, by a general YAML reader.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml
from support.in_full import sites_in_full
from support.sampling import sampled

from rigcheck.judge.inspection import Inspection, inspect_rig
from rigcheck.rig.loader import load_rig
from rigcheck.rig.premises import load_premises
from rigcheck.rig.thing import Rig
from rigcheck.rules.folders import rules_folder
from rigcheck.rules.pack import Pack
from rigcheck.tasks.due_dates import Due, due_dates
from rigcheck.text.place import Place

DAY = date(2026, 11, 25).toordinal()
RULES = rules_folder()
SITES = sorted(sites_in_full().glob("*.yaml"))[:3]  # each of their days is two inspections

# Every day that a rule of the pack counts from, in one rig.
RIG = """\
rig: Every day stated
inspected: 2025-02-28
trolley: {lifted_by: lifting-eye, lift_tested: 2025-01-31}
people:
  - {role: user, competence_recorded: true, certificate_until: 2025-03-31, instructed: 2024-02-29}
tools: {extinguisher: dry-powder, extinguisher_checked: 2024-02-29}
lines:
  - gas: oxygen
    hold_tested: 2025-02-28
    parts:
      - cylinder: {retest_until: 2025-06}
      - joint: {leak_tested: 2025-02-28}
      - regulator: {made: 2024-02-29, service_until: 2025-09-30}
      - arrester: {made: 2024-02-29, service_until: 2025-09-30}
      - hose: {made: 2020-02-29, service_until: 2025-09-30}
      - non_return_valve: {made: 2020-02-29, service_until: 2025-09-30}
  - {gas: argon, to: work, parts: [bulk_tank: {checked_by_owner: 2024-02-29}]}
torch: {made: 2020-02-29}
"""


def read(path: Path) -> Any:
    return yaml.load(path.read_text(encoding="utf-8"), yaml.CBaseLoader)  # all text


@cache
def day_facts() -> dict[str, str]:
    """Return each time that is counted from a day, with the fact that states the day."""
    files = [read(path) for path in (RULES / "vocabulary").rglob("*.yaml")]
    facts = {name: fact for file in files for name, fact in (file.get("facts") or {}).items()}
    return {name: fact["from_day"].replace("_", " ") for name, fact in facts.items() if "from_day" in fact}


def bounded(condition: Any, upward: bool = True) -> Iterator[str]:
    """Yield the facts that a condition bounds from above, by a maximum or by refusing more."""
    if isinstance(condition, list):
        for inner in condition:
            yield from bounded(inner, upward)
    if not isinstance(condition, dict):
        return
    for name, inner in condition.items():
        last = name.rpartition(".")[2]
        if isinstance(inner, dict):
            refused = inner.get("not")
            above = {"maximum", "exclusiveMaximum"} & set(inner)
            below = isinstance(refused, dict) and {"minimum", "exclusiveMinimum"} & set(refused)
            if above or below:
                yield last
        yield from bounded(inner, upward)


@cache
def due_rules() -> set[tuple[str, str]]:
    days = day_facts()
    found = set()
    for path in RULES.rglob("*.yaml"):
        rule = read(path)
        if isinstance(rule, dict) and "holds" in rule:
            name = path.relative_to(RULES).with_suffix("").as_posix()
            found |= {(name, days[fact]) for fact in bounded(rule["holds"]) if fact in days}
    return found


SITE = """\
site: Every day stated
rigs: [{file: days.yaml, under_permit: one}]
permits: [{name: one, valid_from: 2025-01-01, valid_until: 2025-03-31}]
"""


def read_rig(pack: Pack, text: str) -> Rig:
    """Return a rig, or the premises of a site as one."""
    data, vocabulary = text.encode(), pack.vocabulary
    if text.startswith("site:"):
        return load_premises(data, "days.yaml", vocabulary, lambda path: ({}, Place(path, 1, 1)))
    return load_rig(data, "days.yaml", vocabulary)


def dues_of(pack: Pack, text: str, day: int = DAY) -> tuple[Due, ...]:
    return due_dates(read_rig(pack, text), pack, day=day).dues


def test_the_pack_bounds_days_of_many_kinds() -> None:
    assert len({fact for _, fact in due_rules()}) >= 8
    assert {"retest until", "certificate until", "made", "tested", "inspected"} <= {fact for _, fact in due_rules()}


OVERHAULED = "tested: 2026-01-15, test_result: passed, tested_by: maker"
RIGS = (
    SITE,
    RIG,
    RIG.replace("{made: 2024-02-29", f"{{made: 2024-02-29, {OVERHAULED}"),
    RIG.replace("{made: 2024-02-29", f"{{made: 2018-02-28, {OVERHAULED}"),  # so old that only the overhaul counts
)


@pytest.mark.parametrize(("rule", "fact"), sorted(due_rules()))
def test_every_rule_that_bounds_the_time_since_a_day_makes_it_due(pack: Pack, rule: str, fact: str) -> None:
    assert (rule, fact) in {(due.rule, due.fact) for text in RIGS for due in dues_of(pack, text)}


def test_nothing_else_is_due(pack: Pack) -> None:
    assert {(due.rule, due.fact) for due in dues_of(pack, RIG)} <= due_rules()


@pytest.mark.parametrize("text", sampled([*RIGS, *(path.read_text(encoding="utf-8") for path in SITES)], 8))
def test_an_inspection_blames_a_date_from_the_day_after_it_fell_due(pack: Pack, text: str) -> None:
    dues = [due for due in dues_of(pack, text) if not due.later_by and not due.presumes]
    assert dues
    for due in dues:
        told = f"{due.rule} of {due.thing}, {due.fact} {due.stated}"
        assert not blamed(pack, text, due, due.first), told
        assert blamed(pack, text, due, due.last + 1), told


def blamed(pack: Pack, text: str, due: Due, day: int) -> bool:
    """Whether a rule is broken on a day by the time since the day that it counts from."""
    times = {name.replace("_", " ") for name, fact in day_facts().items() if fact == due.fact}
    broken = (finding for finding in inspected(pack, text, day).findings if finding.rule == due.rule)
    return any(found.thing == due.thing and found.fact in times for finding in broken for found in finding.found)


@cache
def inspected(pack: Pack, text: str, day: int) -> Inspection:
    return inspect_rig(read_rig(pack, text), pack, day=day)


def test_limits_of_another_code_move_the_day(pack: Pack) -> None:
    rig = load_rig(RIG.encode(), "days.yaml", pack.vocabulary)
    codes = {code: due_dates(rig, pack, day=DAY, local_code=code) for code in ("general", "uk", "us", "za")}
    for code, found in codes.items():
        assert found.local_code == code
        own = {limit.name.replace("_", " ") for limit in pack.limits if limit.local_code == code}
        assert all(due.local_code == code for due in found.dues if due.limit_name in own)
