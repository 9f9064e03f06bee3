"""What falls due, by rules and limits of the tests' own; days worked by hand on the calendar."""

from __future__ import annotations

from datetime import date

import pytest
from support.small_rules import RulesFolder

from rigcheck.quantity.notation import NotRead
from rigcheck.rig.loader import load_rig
from rigcheck.tasks.due_dates import Due, DueList, days_left, due_dates, horizon, within

DAY = date(2026, 11, 25).toordinal()
RULE = """\
claim: The {kind} is changed in time.
signal: caution
looks_at: {kind}
{holds}
harm: An old one leaks.
put_right: Change it.
drawn_from: [Yard rule s.2]
proven_by: [{{case: not known, verdict: unproven}}]
"""
LIMITS = """\
local_code: general
limits:
  trolley_tilt:
    means: Most lean of a trolley.
    cautious: low
    values: [{since: 2000-01-01, value: 20 deg, drawn_from: Yard rule s.1}]
  hose_life:
    means: Longest life of a hose.
    cautious: low
    values: [{since: 2000-01-01, value: 5 year, drawn_from: Yard rule s.1}]
  test_interval:
    means: Longest time between two tests.
    cautious: low
    values: [{since: 2000-01-01, value: 12 month, drawn_from: Yard rule s.1}]
"""
RIG = """\
rig: Old set
lines:
  - gas: oxygen
    parts: [{{cylinder: {{{cylinder}}}}}, {{hose: {{{hose}}}}}, {{arrester: {{{arrester}}}}}]
torch: {{}}
"""


@pytest.fixture
def yard(folder: RulesFolder) -> RulesFolder:
    folder.write("limits/general.yaml", LIMITS)
    return folder


def listed(yard: RulesFolder, holds: str, *, kind: str = "hose", code: str = "", **facts: str) -> DueList:
    yard.write("due/one.yaml", RULE.format(kind=kind, holds=holds))
    rig = load_rig(
        RIG.format(**{"cylinder": "", "hose": "", "arrester": ""} | facts).encode(), "old.yaml", yard.pack().vocabulary
    )
    return due_dates(rig, yard.pack(), day=DAY, local_code=code)


def only(found: DueList) -> Due:
    (due,) = found.dues
    return due


def iso(day: int) -> str:
    return date.fromordinal(day).isoformat()


LIFE = "holds: {age: {type: number, maximum: {limit: hose_life}}}"
TESTED = """\
holds:
  anyOf:
    - age: {type: number, maximum: {limit: test_interval}}
    - tested_by: {const: maker}
      test_age: {type: number, maximum: {limit: test_interval}}"""
RETEST = "holds: {past_retest: {type: number, maximum: 0 day}}"


@pytest.mark.parametrize(
    ("made", "first", "last", "left"),
    [
        ("2021-11-25", "2026-11-25", "2026-11-25", 0),  # due today, and not yet overdue
        ("2021-11-24", "2026-11-24", "2026-11-24", -1),
        ("2020-02-29", "2025-02-28", "2025-02-28", -635),  # made on a leap day; 2025 has none
        ("2024-03", "2029-03-01", "2029-03-31", 827),  # only a month: counted from its first day
        ("2024", "2029-01-01", "2029-12-31", 768),
        ("2024-08-31", "2029-08-31", "2029-08-31", 1010),
    ],
)
def test_a_life_ends_so_long_after_the_day_of_making(
    yard: RulesFolder, made: str, first: str, last: str, left: int
) -> None:
    due = only(listed(yard, LIFE, hose=f"made: {made}"))
    assert (iso(due.first), iso(due.last), days_left(due, DAY)) == (first, last, left)


def test_an_entry_says_what_when_how_long_and_by_whom(yard: RulesFolder) -> None:
    due = only(listed(yard, LIFE, hose="made: 2024-03"))
    assert (due.thing, due.fact, due.stated, due.limit, due.limit_name) == (
        "oxygen hose",
        "made",
        "2024-03",
        "5 year",
        "hose life",
    )
    assert (due.local_code, due.judged_under, [source.text for source in due.sources]) == (
        "general",
        "general",
        ["Yard rule s.1"],
    )
    assert (due.rule, due.signal, str(due.place)) == ("due/one", "caution", "old.yaml:4:43")


def test_the_limit_of_the_local_code_counts(yard: RulesFolder) -> None:
    yard.write(
        "limits/uk.yaml",
        """\
        local_code: uk
        limits: {hose_life: {values: [{since: 2000-01-01, value: 3 year, drawn_from: Yard rule s.2}]}}
        """,
    )
    due = only(listed(yard, LIFE, hose="made: 2024-03-31", code="uk"))
    assert (iso(due.first), due.local_code, due.judged_under) == ("2027-03-31", "uk", "uk")


def test_the_last_day_of_a_test_is_the_day_itself_and_the_rule_its_source(yard: RulesFolder) -> None:
    due = only(listed(yard, RETEST, kind="cylinder", cylinder="retest_until: 2024-02-29"))
    assert (iso(due.first), due.limit_name, [s.text for s in due.sources]) == ("2024-02-29", "", ["Yard rule s.2"])


def test_a_lower_bound_that_is_refused_is_an_upper_bound(yard: RulesFolder) -> None:
    holds = "holds: {age: {not: {type: number, exclusiveMinimum: {limit: hose_life}}}}"
    assert iso(only(listed(yard, holds, hose="made: 2021-11-25")).first) == "2026-11-25"
    holds = "holds: {age: {not: {type: number, minimum: {limit: hose_life}}}}"
    assert iso(only(listed(yard, holds, hose="made: 2021-11-25")).first) == "2026-11-24"


def test_a_lower_bound_and_an_equal_make_nothing_due(yard: RulesFolder) -> None:
    found = listed(yard, "holds: {age: {type: number, minimum: 1 month}}", hose="made: 2021-11-25")
    assert not found.dues and not found.undated


# --- alternatives ---


def test_of_two_alternatives_the_later_day_counts(yard: RulesFolder) -> None:
    due = only(listed(yard, TESTED, hose="made: 2023-05-10, tested: 2026-02-28, tested_by: maker"))
    assert (due.fact, iso(due.first), due.later_by) == ("tested", "2027-02-28", ())


def test_an_alternative_that_is_not_met_does_not_put_a_day_off(yard: RulesFolder) -> None:
    due = only(listed(yard, TESTED, hose="made: 2023-05-10, tested: 2026-02-28, tested_by: user"))
    assert (due.fact, iso(due.first), due.later_by) == ("made", "2024-05-10", ())


def test_what_is_not_stated_and_could_put_a_day_off_is_named(yard: RulesFolder) -> None:
    due = only(listed(yard, TESTED, hose="made: 2023-05-10"))
    assert (iso(due.first), due.later_by) == ("2024-05-10", ("tested", "tested by"))


def test_what_a_day_presumes_is_named(yard: RulesFolder) -> None:
    due = only(listed(yard, TESTED, hose="tested: 2026-02-28"))
    assert (due.fact, iso(due.first), due.presumes) == ("tested", "2027-02-28", ("tested by",))


def test_an_alternative_that_lasts_for_ever_leaves_nothing_due(yard: RulesFolder) -> None:
    holds = "holds: {anyOf: [{condition: {const: sound}}, {age: {type: number, maximum: {limit: hose_life}}}]}"
    found = listed(yard, holds.replace("condition: {const: sound}", "kinked: {const: false}"), hose="kinked: no")
    assert not found.dues and not found.undated


def test_a_rule_that_does_not_concern_the_thing_makes_nothing_due(yard: RulesFolder) -> None:
    holds = f"concerns: {{colour: {{const: red}}}}\n{LIFE}"
    assert not listed(yard, holds, hose="made: 2021-11-25, colour: blue").dues
    assert len(listed(yard, holds, hose="made: 2021-11-25").dues) == 1  # not known: listed all the same


def test_a_branch_of_a_choice_counts_where_it_applies(yard: RulesFolder) -> None:
    holds = """\
holds:
  if: {colour: {const: red}}
  then: {age: {type: number, maximum: {limit: test_interval}}}
  else: {age: {type: number, maximum: {limit: hose_life}}}"""
    days = {
        colour: [iso(due.first) for due in listed(yard, holds, hose=f"made: 2025-01-31{colour}").dues]
        for colour in (", colour: red", ", colour: blue", "")
    }
    assert days == {
        ", colour: red": ["2026-01-31"],
        ", colour: blue": ["2030-01-31"],
        "": ["2026-01-31", "2030-01-31"],
    }


def test_every_thing_of_a_list_has_its_own_day(yard: RulesFolder) -> None:
    holds = "holds: {parts: {items: {age: {not: {type: number, exclusiveMinimum: {limit: hose_life}}}}}}"
    found = listed(yard, holds, kind="line", arrester="made: 2024-02-29", hose="made: 2025-06-30")
    assert [(due.thing, iso(due.first)) for due in found.dues] == [
        ("oxygen arrester", "2029-02-28"),
        ("oxygen hose", "2030-06-30"),
    ]


# --- days that are not known ---


def test_a_day_that_is_not_stated_is_listed_with_its_question(yard: RulesFolder) -> None:
    (undated,) = listed(yard, LIFE).undated
    assert (undated.thing, undated.fact, undated.absent, undated.rules) == ("oxygen hose", "made", False, ("due/one",))
    assert undated.ask == "What date of manufacture is marked?"


def test_a_day_of_the_past_that_lies_ahead_puts_nothing_off_and_is_asked_after(yard: RulesFolder) -> None:
    """Typed one digit wrong, a part would be due in ten years: it counts as not stated, as in an inspection."""
    found = listed(yard, LIFE, hose="made: 2031-05")
    assert not found.dues
    (one,) = found.undated
    assert one.fact == "made" and one.ask.endswith("2031-05 lies after the day of this judgement.")


def test_a_day_that_is_stated_to_be_absent_is_told_apart(yard: RulesFolder) -> None:
    assert [one.absent for one in listed(yard, LIFE, hose="made: none").undated] == [True]


def test_a_rule_for_which_none_will_do_asks_for_no_day(yard: RulesFolder) -> None:
    holds = "holds: {age: {not: {type: number, exclusiveMinimum: {limit: hose_life}}}}"
    found = listed(yard, holds, hose="made: none")
    assert not found.dues and not found.undated


# --- until when ---


@pytest.mark.parametrize(
    ("day", "text", "last"),
    [
        ("2026-11-25", "90d", "2027-02-23"),  # 5 days of November, 31, 31, and 23 of February
        ("2026-11-25", "12 week", "2027-02-17"),
        ("2026-11-30", "3 month", "2027-02-28"),
        ("2024-02-29", "1 year", "2025-02-28"),
        ("2026-11-25", "0 d", "2026-11-25"),
    ],
)
def test_a_horizon_is_counted_in_days_or_calendar_months(day: str, text: str, last: str) -> None:
    assert iso(horizon(date.fromisoformat(day).toordinal(), text)) == last


@pytest.mark.parametrize("text", ["soon", "90", "-3 d", "2 to 3 d", "1.5 month", "5 kg", ""])
def test_a_horizon_that_is_no_time_is_refused(text: str) -> None:
    with pytest.raises(NotRead):
        horizon(DAY, text)


def test_the_last_day_of_the_horizon_counts(yard: RulesFolder) -> None:
    due = only(listed(yard, LIFE, hose="made: 2022-02-23"))  # due on 2027-02-23
    assert within(due, horizon(DAY, "90d")) and not within(due, horizon(DAY, "89d"))
    assert within(due, None)
