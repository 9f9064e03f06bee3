"""Findings put together by their cause: one statement is told once, and nothing is left out."""

from __future__ import annotations

from datetime import date
from typing import Literal

import pytest
from msgspec.structs import replace
from support.in_full import sites_in_full

from rigcheck.judge.causes import Cause, causes_of
from rigcheck.judge.finding import Finding, Found
from rigcheck.judge.inspection import Inspection, inspect_rig
from rigcheck.report.markdown import markdown_rig
from rigcheck.report.text.finding_words import also_words
from rigcheck.report.text.inspection_text import inspection_lines
from rigcheck.report.text.layout import plain_text
from rigcheck.rig.loader import load_rig
from rigcheck.rules.pack import Pack
from rigcheck.rules.rule import GRAVITY, Signal
from rigcheck.text.place import Place

DAY = date(2026, 11, 25).toordinal()
SITES = sorted(sites_in_full().glob("*.yaml"))
SET_FAR_TOO_HIGH = ("set_pressure: 0.3 bar", "set_pressure: 4 bar")


def inspected(text: str, pack: Pack) -> Inspection:
    return inspect_rig(load_rig(text.encode(), "rig.yaml", pack.vocabulary), pack, day=DAY)


def site(name: str, pack: Pack, old: str = "", new: str = "") -> Inspection:
    text = (sites_in_full() / f"{name}.yaml").read_text(encoding="utf-8")
    assert old in text
    return inspected(text.replace(old, new, 1), pack)


def cause_of(inspection: Inspection, rule: str) -> Cause:
    return next(one for one in causes_of(inspection.findings) if one.told.first.rule == rule)


def also(cause: Cause) -> dict[str, int]:
    return {one.first.rule: len(one.findings) for one in cause.also}


def test_what_is_written_once_for_every_joint_is_told_once_with_its_things(pack: Pack) -> None:
    every = "  - {gas: oxygen, every_joint: {sealing: ptfe-tape}, parts: [cylinder, regulator, hose]}\n"
    inspection = inspected(f"rig: r\nlines:\n{every}torch: {{}}\n", pack)
    told = cause_of(inspection, "joints/oxygen_joint_has_no_tape_or_paste").told
    assert [one.thing for one in told.findings] == [
        "oxygen joint, cylinder to regulator",
        "oxygen joint, regulator to hose",
        "oxygen joint, hose to torch",
    ]
    assert told.called == (
        "oxygen joint, cylinder to regulator; oxygen joint, regulator to hose; oxygen joint, hose to torch"
    )


def test_the_same_word_written_of_twins_is_told_once_with_both(pack: Pack) -> None:
    parts = "[cylinder, joint: {sealing: ptfe-tape}, regulator, joint: {sealing: ptfe-tape}, hose]"
    inspection = inspected(f"rig: r\nlines:\n  - {{gas: oxygen, parts: {parts}}}\ntorch: {{}}\n", pack)
    told = cause_of(inspection, "joints/oxygen_joint_has_no_tape_or_paste").told
    assert told.called == "oxygen joint, cylinder to regulator; oxygen joint, regulator to hose"
    assert len({finding.place for finding in told.findings}) == 2


def test_a_pressure_set_far_too_high_is_one_cause_with_all_that_it_breaks(pack: Pack) -> None:
    inspection = site("wharf-crane-rail", pack, *SET_FAR_TOO_HIGH)
    assert also(cause_of(inspection, "regulators/acetylene_stays_under_its_limit")) == {
        "regulators/outlet_rating_covers_the_set_pressure": 1,
        "pressure/part_stands_what_is_let_on_it": 2,
        "joints/leak_test_at_working_pressure": 4,
    }


def test_an_overdrawn_supply_is_told_once_for_the_share_that_it_gives(pack: Pack) -> None:
    cause = cause_of(site("boiler-house-heating", pack), "cylinders/acetylene_draw_is_within_the_supply")
    assert also(cause) == {"cylinders/acetylene_draw_without_pauses_is_smaller": 1}


def test_a_leak_is_told_once_with_its_size(pack: Pack) -> None:
    joint = "joint: {leak_test: leaks, bubble_size: 5 mm, bubble_interval: 2 s}"
    held = "hold_start_pressure: 1 bar, hold_end_pressure: 0.6 bar, hold_time: 10 min, hold_gauge_step: 0.05 bar"
    warmth = "hold_start_temperature: 15 degC, hold_end_temperature: 15 degC"
    parts = f"[cylinder, regulator, {joint}, hose: {{bore: 8 mm, length: 10 m}}]"
    line = f"{{gas: acetylene, {held}, {warmth}, parts: {parts}}}"
    inspection = inspected(f"rig: r\nlines:\n  - {line}\ntorch: {{}}\n", pack)
    leaking = cause_of(inspection, "joints/joint_does_not_leak")
    assert also(leaking) == {"joints/leak_at_a_joint_is_within_the_standard": 1}
    assert "bubble leak: 117.8 mL/h" in next(also_words(leaking))  # by hand: pi/6 x 5^3 mm3 in 2 s
    falling = cause_of(inspection, "joints/leak_of_the_line_is_within_the_standard")
    assert (falling.told.first.signal, also(falling)) == ("danger", {})


def test_dangers_that_share_one_of_their_facts_are_each_told_in_full(pack: Pack) -> None:
    carried = [f for f in site("van-pipe-repair", pack).findings if any(one.fact == "vehicle" for one in f.found)]
    assert len(carried) > 3
    assert [one.also for one in causes_of(carried)] == [()] * len(carried)


@pytest.mark.parametrize("path", SITES, ids=lambda path: str(path.stem))
def test_every_finding_is_in_one_cause_and_none_stands_under_a_lesser_one(path: object, pack: Pack) -> None:
    inspection = site(getattr(path, "stem", ""), pack)
    causes = causes_of(inspection.findings)
    assert sorted(id(f) for cause in causes for f in cause.findings) == sorted(map(id, inspection.findings))
    for cause in causes:
        head = GRAVITY[cause.told.first.signal]
        assert all(GRAVITY[f.signal] <= head and f.conceded == cause.told.first.conceded for f in cause.findings)


def test_the_reports_for_people_name_every_rule_and_thing_and_say_how_they_count(pack: Pack) -> None:
    inspection = site("wharf-crane-rail", pack, *SET_FAR_TOO_HIGH)
    text = plain_text(inspection_lines(inspection, 10_000, hold_at="warning"))
    table = markdown_rig(inspection, hold_at="warning", on_unproven=None).replace("\\", "")
    for finding in inspection.findings:
        assert finding.rule in text
        assert finding.thing in text
        assert finding.thing in table
        assert finding.claim in table
    told = f"{len(inspection.findings)} findings told as {len(causes_of(inspection.findings))}"
    assert told in text
    assert told in table


def test_a_report_for_people_tells_every_cure_of_a_cause_once(pack: Pack) -> None:
    inspection = site("wharf-crane-rail", pack, *SET_FAR_TOO_HIGH)
    text = plain_text(inspection_lines(inspection, 10_000, hold_at="warning"))
    table = markdown_rig(inspection, hold_at="warning", on_unproven=None).replace("\\", "")
    cause = cause_of(inspection, "regulators/acetylene_stays_under_its_limit")
    cures = {one.first.put_right for one in cause.also}
    assert len(cures) > 1
    for cure in cures:
        assert text.count(f" Do: {cure}") == table.count(f" Do: {cure}") == 1


def test_a_lesser_rule_with_the_same_cure_does_not_tell_it_again() -> None:
    head, same = (replace(finding(f"a/{name}", "danger", PRESSURE), put_right="Turn it down.") for name in "hs")
    other = replace(finding("b/other", "caution", PRESSURE), put_right="Fit a stronger hose.")
    (cause,) = causes_of([head, same, other])
    assert [" Do: " in words for words in also_words(cause)] == [False, True]
    assert "Do: Fit a stronger hose." in [*also_words(cause)][1]


def finding(rule: str, signal: Signal, *found: Found) -> Finding:
    return Finding(rule, signal, f"Claim of {rule}.", "thing", found[0].place, found, "", "", "", (), (), AT)


def value(fact: str, sort: Literal["word", "quantity"]) -> Found:
    return Found("thing", fact, "4", Place("rig.yaml", len(fact), 1), sort=sort)


AT = Place("rule.yaml", 1, 1)
PRESSURE, WORD, OTHER = value("pressure", "quantity"), value("word", "word"), value("other one", "word")


@pytest.mark.parametrize(
    ("head", "signal", "found", "folded"),
    [
        (PRESSURE, "danger", (PRESSURE,), True),  # the same value alone
        (PRESSURE, "warning", (OTHER, PRESSURE), True),  # a lesser rule that a quantity breaks besides
        (PRESSURE, "danger", (OTHER, PRESSURE), False),  # a DANGER with a cure of its own
        (WORD, "warning", (WORD,), True),
        (WORD, "warning", (OTHER, WORD), False),  # a word is one condition among others
    ],
)
def test_what_stands_under_a_graver_finding_is_made_by_its_value(
    head: Found, signal: Signal, found: tuple[Found, ...], folded: bool
) -> None:
    causes = causes_of([finding("a/head", "danger", head), finding("b/other", signal, *found)])
    assert [len(cause.also) for cause in causes] == ([1] if folded else [0, 0])


def test_nothing_stands_under_a_lesser_finding() -> None:
    graver = finding("a/graver", "warning", OTHER, PRESSURE)
    assert len(causes_of([graver, finding("b/lesser", "caution", PRESSURE)])) == 2


def test_what_follows_from_a_statement_is_told_with_it(pack: Pack) -> None:
    every = "  - {gas: oxygen, every_joint: {sealing: grease}, parts: [cylinder, regulator, hose]}\n"
    cause = cause_of(
        inspected(f"rig: r\nlines:\n{every}torch: {{}}\n", pack),
        "joints/oxygen_joint_is_not_greased",
    )
    assert "materials/oxygen_joint_is_free_of_oil" in also(cause)
