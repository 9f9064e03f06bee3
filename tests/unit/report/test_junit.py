"""An inspection as a JUnit suite: what fails, what is skipped, and what stands beside it."""

from __future__ import annotations

from datetime import date
from xml.etree import ElementTree

import pytest
from msgspec.structs import replace
from support.small_reports import HELD, HOSTILE_FILE

from rigcheck.judge.causes import alike_questions
from rigcheck.judge.inspection import Inspection, inspect_rig
from rigcheck.report.junit import junit_refusal, junit_suite
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.rig.loader import load_rig
from rigcheck.rules.gravity import Signal
from rigcheck.rules.pack import Pack
from rigcheck.text.faults import Fault
from rigcheck.text.place import Place

_DAY = date(2026, 11, 25).toordinal()


@pytest.fixture(scope="module")
def held(pack: Pack) -> Inspection:
    return inspect_rig(load_rig(HELD.encode(), "rigs/held.yaml", pack.vocabulary), pack, day=_DAY, tell_holds=True)


def _suite(inspection: Inspection, *, on_unproven: Signal | None = None) -> ElementTree.Element:
    return ElementTree.fromstring(junit_suite(inspection, hold_at="warning", on_unproven=on_unproven))


def test_the_day_of_the_inspection_is_the_only_time_in_a_suite(held: Inspection) -> None:
    suite = _suite(held)
    assert suite.get("timestamp") == "2026-11-25T00:00:00"
    assert [one.tag for one in suite.iter() if one.get("time") or one.get("hostname")] == []
    assert junit_suite(held, hold_at="warning", on_unproven=None) == junit_suite(
        held, hold_at="warning", on_unproven=None
    )


def test_a_suite_and_a_refusal_carry_the_caution(held: Inspection) -> None:
    fault = Fault(Place("x.yaml", 1, 2), "This is wrong.", "Write it right.")
    for suite in (_suite(held), ElementTree.fromstring(junit_refusal("x.yaml", [fault]))):
        told = {one.get("name"): one.get("value") for one in suite.iter("property")}
        assert told["caution"] == CAUTION


def test_open_questions_fail_only_where_they_hold_the_rig(held: Inspection) -> None:
    plain, strict = _suite(held), _suite(held, on_unproven="warning")
    assert int(strict.get("failures", "0")) > int(plain.get("failures", "0")) > 0
    assert plain.get("tests") == strict.get("tests")


@pytest.mark.parametrize("on_unproven", [None, "warning"])
def test_many_open_questions_are_one_case_unless_they_are_asked_for(
    held: Inspection, on_unproven: Signal | None
) -> None:
    told = junit_suite(held, hold_at="warning", on_unproven=on_unproven, questions="looks")
    (one,) = [case for case in ElementTree.fromstring(told).iter("testcase") if case.get("name") == "open questions"]
    (said,) = one
    assert said.tag == ("failure" if on_unproven else "skipped")
    assert f"{len(alike_questions(held.questions))} open questions" in said.get("message", "")
    assert "--questions all" in said.get("message", "") and CAUTION in said.get("message", "")
    assert len(told) < len(junit_suite(held, hold_at="warning", on_unproven=on_unproven)) / 2


def test_checks_that_held_are_cases_where_they_were_asked_for_and_one_case_else(held: Inspection) -> None:
    every, one = _suite(held), _suite(replace(held, held=()))
    passed = [case for case in every.iter("testcase") if len(case) == 0]
    (summed,) = (case for case in one.iter("testcase") if case.find("system-out") is not None)
    assert len(passed) == len(held.held) == held.verdicts["holds"]
    assert summed.get("name") == f"{len(passed)} checks held"


def test_whoever_reads_one_case_reads_who_decides(held: Inspection) -> None:
    cases = list(_suite(replace(held, held=())).iter("testcase"))
    told = [" ".join([*case.itertext(), *(one.get("message", "") for one in case)]) for case in cases]
    assert len(told) > 10
    assert [one for one in told if CAUTION not in one] == []


def test_a_rig_with_nothing_against_it_is_no_bare_passed_case(held: Inspection) -> None:
    (case,) = _suite(replace(held, held=(), findings=(), questions=())).iter("testcase")
    skipped = case.find("skipped")
    assert skipped is not None
    assert CAUTION in skipped.get("message", "")


def test_two_findings_of_one_rule_on_one_thing_are_two_cases(held: Inspection) -> None:
    twice = replace(held, findings=(held.findings[0], held.findings[0]))
    names = [case.get("name", "") for case in _suite(twice).iter("testcase") if case.find("failure") is not None]
    assert names == [names[0], f"{names[0]} (2)"]


def test_letters_that_xml_cannot_hold_and_marks_that_turn_text_round_are_shown_as_numbers(
    held: Inspection,
) -> None:
    suite = _suite(replace(held, rig="a\x00b\u202ec\ud800d\x85e", file=HOSTILE_FILE))
    assert suite.get("name", "").startswith(
        "a[U+0000]b[U+202E]c[U+D800]d e (1. [U+202E]gnorw[U+0007] [a](b) <i> #1 100% é {0} 🔥.yaml)"
    )
