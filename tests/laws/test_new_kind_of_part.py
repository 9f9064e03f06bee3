"""A kind of part that a company writes as data alone is rated, loses pressure, is asked about, drawn, leak tested."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from rigcheck.judge.inspection import Inspection, inspect_rig
from rigcheck.judge.judged import judge
from rigcheck.report.drawing.drawing import drawing_document
from rigcheck.rig.loader import load_rig
from rigcheck.rig.thing import Rig
from rigcheck.rules.folders import rules_folder
from rigcheck.rules.load import load_pack
from rigcheck.rules.pack import Pack
from rigcheck.tasks.calculation_sheet import Calculated, Calculation, calculate_rig

DAY = date(2026, 11, 25).toordinal()
KIND = "{kind: strainer, is_a: part, traits: [marked for gas], means: A sieve that keeps grit out of the torch., "
KIND += "facts: {mesh: {measure: length, "
KIND += "least: 1/100 mm, greatest: 10 mm, means: Width of its mesh., ask: How wide is its mesh?}}}"
SUPPLY = """\
kind: oxygen maker
is_a: part
traits: [supplies]
means: A machine that takes oxygen from the air.
facts:
  delivery_pressure: {measure: pressure, means: Pressure at which it gives off., ask: At which pressure?}
"""
RIG = """\
rig: One with a strainer
site: {ambient_temperature: 20 degC}
lines:
  - gas: oxygen
    consumption: 5 m3/h
    parts:
      - cylinder: {working_pressure: 200 bar, pressure: 150 bar}
      - regulator: {set_pressure: 6 bar}
      - strainer: {mesh: 0.1 mm, STRAINER}
      - hose: {bore: 8 mm, length: 10 m, joiners: 0}
torch:
  nozzle: {oxygen_pressure: 5 bar}
"""


@pytest.fixture(scope="module")
def company(tmp_path_factory: pytest.TempPathFactory) -> Pack:
    folder = tmp_path_factory.mktemp("company")
    (folder / "vocabulary").mkdir()
    (folder / "vocabulary" / "strainer.yaml").write_text(KIND, encoding="utf-8")
    (folder / "vocabulary" / "oxygen_maker.yaml").write_text(SUPPLY, encoding="utf-8")
    return load_pack(rules_folder(), Path(folder))


def _rig(pack: Pack, facts: str = "") -> Rig:
    return load_rig(RIG.replace("STRAINER", facts).encode(), "strainer.yaml", pack.vocabulary)


def _inspected(pack: Pack, facts: str = "") -> Inspection:
    return inspect_rig(_rig(pack, facts), pack, day=DAY)


def _figure(calculation: Calculation, thing: str, name: str) -> Calculated:
    (found,) = [
        one for each in calculation.things if each.thing.label == thing for one in each.figures if one.name == name
    ]
    return found


def _asked(inspection: Inspection) -> set[str]:
    return {one.fact for one in inspection.questions if one.thing == "oxygen strainer"}


def test_what_it_loses_is_asked_for_and_never_taken_for_nothing(company: Pack) -> None:
    arrives = _figure(calculate_rig(_rig(company), company, day=DAY), "oxygen line", "torch pressure")
    assert arrives.value is None
    assert {(lack.thing, lack.fact) for lack in arrives.lacks} == {
        ("oxygen strainer", "rated drop"),
        ("oxygen strainer", "flow rating"),
    }
    assert {"rated_drop", "flow_rating"} <= _asked(_inspected(company))


def test_what_its_table_states_is_taken_off_what_reaches_the_torch(company: Pack) -> None:
    little, much = (
        _figure(calculate_rig(_rig(company, facts), company, day=DAY), "oxygen line", "torch pressure").value
        for facts in ("flow_rating: 6 m3/h, rated_drop: 0.1 bar", "flow_rating: 6 m3/h, rated_drop: 0.6 bar")
    )
    # By hand, in bar abs: (5/6)^2 (7.01^2 - 6.91^2) = 0.97, (5/6)^2 (7.01^2 - 6.41^2) = 5.59, and 0.49 of the hose:
    # sqrt(7.01^2 - 0.97 - 0.49) - sqrt(7.01^2 - 5.59 - 0.49) = 6.91 - 6.57.
    assert little.hi - much.hi == pytest.approx(0.344e5, rel=0.01)


@pytest.mark.parametrize(
    ("facts", "rule"),
    [
        ("rated_pressure: 5.9 bar", "pressure/part_stands_what_is_let_on_it"),
        ("gas: acetylene", "parts/part_is_marked_for_the_gas_of_its_line"),
        ("approved: no", "parts/part_is_approved"),
        ("condition: cracked", "parts/part_is_sound"),
        ("factory_made: no", "parts/part_is_as_its_maker_supplied_it"),
        ("repaired_by: user", "parts/part_was_repaired_by_competent_hands"),
        ("service_until: 2026-11-24", "parts/part_is_within_its_last_day"),
        ("due_tag: no", "parts/part_tells_when_it_is_due"),
        ("tested: 2026-01, test_result: failed", "parts/part_passed_its_last_test"),
        ("tested: 2026-01, tested_by: user", "parts/part_was_tested_by_a_competent_person"),
        ("oil_free: no", "materials/oxygen_part_is_free_of_oil"),
    ],
)
def test_a_defect_that_is_stated_of_it_is_found_by_the_rule_of_its_trait(company: Pack, facts: str, rule: str) -> None:
    findings = _inspected(company, facts).findings
    assert rule in {one.rule for one in findings if one.thing == "oxygen strainer"}


def test_all_that_its_traits_bring_is_asked_of_it(company: Pack) -> None:
    traits = [one for one in company.vocabulary.kinds["strainer"].lineage if one in company.vocabulary.traits]
    brought = {name for trait in traits for name, one in company.vocabulary.traits[trait].facts.items()}
    stated = {name for name in brought if not company.vocabulary.kinds["strainer"].facts[name].computed}
    # what is asked only where the gas or another answer calls for it
    later = {"copper_share", "oxygen_clean", "tested_by", "test_result", "made"}
    assert stated - later - {"name", "tag"} <= _asked(_inspected(company))


def test_it_is_a_word_of_the_kinds_of_part_of_its_line(company: Pack) -> None:
    assert "strainer" in company.vocabulary.kinds["line"].facts["part_kinds"].words
    (line,) = judge(_rig(company), company, day=DAY).known.filled.of_kind("line")
    assert "strainer" in line.facts["part_kinds"]


def test_it_is_drawn_with_its_name(company: Pack) -> None:
    rig = _rig(company)
    drawing = drawing_document(rig, inspect_rig(rig, company, day=DAY))
    assert "strainer" in drawing


def test_it_is_tested_for_leaks_with_its_joints(company: Pack) -> None:
    asked = {(one.thing, one.fact) for one in _inspected(company).questions}
    assert ("oxygen strainer", "tight_against_outside") in asked
    assert ("oxygen joint, strainer to hose", "leak_test") in asked
    assert "joints/part_is_tight_outward" in {
        one.rule for one in _inspected(company, "tight_against_outside: no").findings if one.thing == "oxygen strainer"
    }


def test_a_new_kind_of_supply_presses_on_what_is_behind_it(company: Pack) -> None:
    parts = "[oxygen_maker: {delivery_pressure: 7 bar}, arrester: {rated_pressure: 6 bar}]"
    rig = f"rig: r\nlines:\n- {{gas: oxygen, parts: {parts}}}\n"
    inspection = inspect_rig(load_rig(rig.encode(), "maker.yaml", company.vocabulary), company, day=DAY)
    assert ("pressure/part_stands_the_supply", "oxygen arrester") in {(f.rule, f.thing) for f in inspection.findings}
    assert not {f.rule for f in inspection.findings} & {"rig/line_begins_at_its_supply"}


def test_a_new_kind_of_supply_needs_its_regulator(company: Pack) -> None:
    rig = "rig: r\nlines:\n- {gas: oxygen, parts: [oxygen_maker, hose]}\n"
    inspection = inspect_rig(load_rig(rig.encode(), "maker.yaml", company.vocabulary), company, day=DAY)
    assert "regulators/gas_comes_through_a_regulator" in {finding.rule for finding in inspection.findings}
