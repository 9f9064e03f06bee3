"""The whole pack over the standard rigs: they hold, silence never helps, and every rule can bite."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from functools import cache
from pathlib import Path

import pytest
from support.in_full import sites_in_full
from support.sampling import sampled

from rigcheck.facts.known import Known
from rigcheck.judge.compiled_rules import CompiledRules, compiled_for
from rigcheck.judge.inspection import Inspection, inspect_rig, judge_thing
from rigcheck.rig.loader import load_rig
from rigcheck.rig.thing import Rig, Thing
from rigcheck.rules.cases import Case, read_cases
from rigcheck.rules.folders import configs_folder, rules_folder
from rigcheck.rules.load import load_pack
from rigcheck.rules.pack import Pack
from rigcheck.rules.rule import Rule

DAY = date(2026, 11, 25).toordinal()
TEMPLATES = sorted((configs_folder() / "templates").glob("*.yaml"))
SITES = sorted(sites_in_full().glob("*.yaml"))


def named(path: Path) -> str:
    return path.stem


@cache
def shipped_pack() -> Pack:
    return load_pack(rules_folder())


def loaded(path: Path) -> Rig:
    return load_rig(path.read_bytes(), path.name, shipped_pack().vocabulary)


def inspected(path: Path) -> Inspection:
    return inspect_rig(loaded(path), shipped_pack(), day=DAY)


# --- the standard rigs ---


def test_there_are_standard_rigs_and_sites() -> None:
    assert len(TEMPLATES) >= 9
    assert len(SITES) >= 6


@pytest.mark.parametrize("path", TEMPLATES, ids=named)
def test_a_standard_rig_breaks_no_rule(path: Path) -> None:
    assert [(f.rule, f.thing) for f in inspected(path).findings] == []


@pytest.mark.parametrize("path", TEMPLATES, ids=named)
def test_every_open_question_of_a_standard_rig_is_named_as_one_for_the_site(path: Path) -> None:
    questions = inspected(path).questions
    assert [(q.thing, q.fact) for q in questions if not q.left_open] == []
    assert questions, "a standard rig leaves the site's own facts open"


@pytest.mark.parametrize("path", TEMPLATES, ids=named)
def test_nothing_that_is_left_for_the_site_is_stated(path: Path) -> None:
    rig = loaded(path)
    stated = {f"{kind}.{fact}" for thing in rig.things for fact in thing.places for kind in thing.kind.lineage}
    never_stated = {name for name in rig.on_site if name not in stated}
    assert never_stated, "on_site names facts that the template leaves open"


def test_one_site_is_right_and_the_others_are_on_hold() -> None:
    states = [inspected(path).state("warning") for path in SITES]
    assert states.count("nothing found against it") >= 1
    assert states.count("on hold") >= 5


# --- silence never helps ---

Verdicts = dict[tuple[str, int], str]


def verdicts(rig: Rig, bench: CompiledRules, without: Mapping[Thing, list[str]] | None = None) -> Verdicts:
    return {
        (rule.name, number): judge_thing(concerns, holds, thing)
        for number, thing in enumerate(Known(rig, bench.plan, DAY, without).things)
        for rule, concerns, holds in bench.rules_for(thing)
    }


def left_out(path: Path, every: int) -> list[tuple[str, str, str]]:
    """Return what helps when one fact of a rig is left out, every so-manieth of them tried: rule, thing, fact."""
    rig, bench = loaded(path), compiled_for(shipped_pack(), "general", DAY)
    before, worse = verdicts(rig, bench), ("broken", "unproven")
    stated = [(thing, fact) for thing in rig.things for fact in thing.places]
    helped = []
    for thing, fact in stated[len(path.stem) % every :: every]:
        after = verdicts(rig, bench, {thing: [fact]})
        helped += [(k[0], thing.label, fact) for k, v in before.items() if v in worse and after[k] == "holds"]
    return helped


@pytest.mark.parametrize("path", sampled([*TEMPLATES, *SITES], 8), ids=named)
def test_a_fact_left_out_never_turns_a_broken_or_unproven_rule_into_one_that_holds(path: Path) -> None:
    assert left_out(path, every=23) == []


@pytest.mark.whole
@pytest.mark.parametrize("path", [*TEMPLATES, *SITES], ids=named)
def test_whichever_fact_is_left_out_none_turns_a_rule_into_one_that_holds(path: Path) -> None:
    assert left_out(path, every=1) == []


# --- every rule can bite ---


def merged(thing: Thing, case: Thing) -> Thing:
    """Return a copy of a rig's thing with what a case says of it laid over, neighbours too."""
    kind = case.kind if "kind" in case.facts else thing.kind
    copy = Thing(kind, thing.key, thing.parent, thing.line, thing.column)
    copy.facts = dict(thing.facts)
    for name, value in case.facts.items():
        mine = copy.facts.get(name)
        both = isinstance(value, Thing) and isinstance(mine, Thing)
        copy.facts[name] = merged(mine, value) if both else value  # type: ignore[arg-type]
    return copy


def harmful_changes(rule: Rule, rig: Rig) -> Iterator[tuple[Case, Thing]]:
    for case in read_cases(rule, shipped_pack().vocabulary):
        if case.verdict == "broken":
            for thing in rig.of_kind(rule.kind.name):
                yield case, merged(thing, case.thing)


def bites(rule: Rule, rig: Rig) -> bool:
    for case, changed in harmful_changes(rule, rig):
        judge = compiled_for(shipped_pack(), case.under, DAY).judge
        concerns = judge.check(rule.concerns) if rule.concerns else None
        if judge_thing(concerns, judge.check(rule.holds), changed) == "broken":
            return True
    return False


@pytest.mark.parametrize("path", TEMPLATES, ids=named)
def test_every_rule_about_a_thing_of_a_standard_rig_is_broken_by_some_harmful_change(path: Path) -> None:
    rig = Known(loaded(path), compiled_for(shipped_pack(), "general", DAY).plan, DAY).filled
    kinds = {kind for thing in rig.things for kind in thing.kind.lineage}
    about = [rule for rule in shipped_pack().rules.values() if rule.kind.name in kinds]
    assert len(about) > 200
    assert [rule.name for rule in about if not bites(rule, rig)] == []


# --- what nobody stated does not pass ---

BARE = b"""rig: bare
lines:
  - {gas: acetylene, parts: [cylinder, regulator, arrester, hose, arrester]}
  - {gas: oxygen, parts: [cylinder, regulator, arrester, hose, arrester]}
torch: {}
"""


def test_of_a_rig_that_only_lists_its_parts_nothing_holds_but_what_the_list_itself_shows() -> None:
    rig, bench = load_rig(BARE, "bare.yaml", shipped_pack().vocabulary), compiled_for(shipped_pack(), "general", DAY)
    assert {name for (name, _), verdict in verdicts(rig, bench).items() if verdict == "holds"} == {
        "arresters/arrester_at_every_regulator",
        "arresters/arrester_at_every_torch_inlet",
        "cylinders/acetylene_is_never_drawn_as_a_liquid",  # by its nature, unless somebody says otherwise
        "cylinders/valve_is_guarded_when_nothing_is_connected",  # its regulator is listed, so something is
        "hoses/gas_reaches_the_torch_through_a_hose",
        "hoses/line_has_few_joiners",
        "regulators/gas_comes_through_a_regulator",
        "regulators/no_hose_before_the_regulator",
        "rig/every_line_carries_a_flame_gas",
        "rig/line_begins_at_its_supply",
        "rig/nothing_that_every_rig_has_is_denied",  # each is asked after
        "rig/lines_end_in_a_torch",
        "rig/tools_and_work_are_told",  # nobody denied that there are some; what they are is asked
        "rig/torch_has_fuel_and_oxygen",
    }
