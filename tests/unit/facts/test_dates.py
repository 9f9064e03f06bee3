"""Time since a day: calendar months for ages, whole days for shorter spans, intervals for months."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.small_rigs import known

from rigcheck.facts.figure import Wants
from rigcheck.quantity.interval import at_most
from rigcheck.quantity.notation import read_quantity
from rigcheck.quantity.truth import FALSE, TRUE, UNKNOWN
from rigcheck.rig.loader import load_rig
from rigcheck.rig.thing import Thing
from rigcheck.rules.pack import Pack

RIG = """\
rig: A hose of some age
inspected: {inspected}
lines:
  - gas: oxygen
    parts: [regulator, hose: {{{made}}}]
torch: {{}}
"""


def _thing(pack: Pack, day: date, made: str = "", inspected: str = "2026-11-25", kind: str = "hose") -> Thing:
    rig = load_rig(RIG.format(made=made, inspected=inspected).encode(), "rig.yaml", pack.vocabulary)
    return next(known(rig, day.toordinal(), {}, pack).of_kind(kind))


def _age(pack: Pack, made: str, day: date) -> tuple[float, float]:
    age = _thing(pack, day, f"made: {made}").facts["age"]
    return age.lo, age.hi


@pytest.mark.parametrize(
    ("made", "day", "months"),
    [
        ("2021-11-25", date(2026, 11, 25), 60),  # the birthday itself
        ("2021-11-25", date(2026, 11, 24), 60 - 1 / 31),  # one day short in a month of 31 days
        ("2021-11-25", date(2026, 11, 26), 60 + 1 / 30),
        ("2020-02-29", date(2025, 2, 28), 60),  # a leap day has its birthday on the last day of February
        ("2020-02-29", date(2024, 2, 29), 48),
        ("2026-01-31", date(2026, 2, 28), 1),
        ("2026-01-31", date(2026, 3, 31), 2),
        ("2026-11-25", date(2026, 11, 25), 0),
    ],
)
def test_an_age_is_counted_in_calendar_months(pack: Pack, made: str, day: date, months: float) -> None:
    assert _age(pack, made, day) == pytest.approx((months, months))


def test_five_years_to_the_day_are_at_a_limit_of_five_years_and_a_day_more_is_beyond(pack: Pack) -> None:
    limit = read_quantity("5 year", "age")
    ages = [_thing(pack, date(2026, 11, day), "made: 2021-11-25").facts["age"] for day in (24, 25, 26)]
    assert [at_most(age, limit) for age in ages] == [TRUE, TRUE, FALSE]


def test_a_month_of_manufacture_makes_an_age_between_two_days(pack: Pack) -> None:
    assert _age(pack, "2021-11", date(2026, 11, 30)) == pytest.approx((60, 60 + 29 / 30))
    limit = read_quantity("5 year", "age")
    days = (date(2026, 11, 1), date(2026, 11, 2), date(2026, 11, 30), date(2026, 12, 1))
    ages = [_thing(pack, day, "made: 2021-11").facts["age"] for day in days]
    assert [at_most(age, limit) for age in ages] == [TRUE, UNKNOWN, UNKNOWN, FALSE]


def test_a_year_of_manufacture_makes_an_age_of_up_to_a_year_more(pack: Pack) -> None:
    low, high = _age(pack, "2021", date(2026, 12, 31))
    assert (low, round(high, 2)) == (60, 71.97)


def test_the_ends_of_the_calendar_can_be_reckoned_with(pack: Pack) -> None:
    low, high = _age(pack, "1900-01-01", date.max)
    assert 90_000 < low <= high
    past = _thing(pack, date.min, "service_until: 2099-12").facts["past_service"]
    assert past.lo <= past.hi < -700_000 * 86_400


@pytest.mark.parametrize("made", ["2026-11-26", "2026-12", "2029"])
def test_a_part_made_after_the_day_has_no_age_and_its_day_is_asked_for(pack: Pack, made: str) -> None:
    hose = _thing(pack, date(2026, 11, 25), f"made: {made}")
    assert "age" not in hose.facts
    assert hose.wanting["age"] == Wants(((hose, "made"),))


def test_a_part_made_this_month_has_an_age(pack: Pack) -> None:
    low, high = _age(pack, "2026-11", date(2026, 11, 25))
    assert low < 0 < high


def test_the_age_of_an_inspection_is_counted_in_days(pack: Pack) -> None:
    age = _thing(pack, date(2026, 11, 27), inspected="2026-11-25", kind="rig").facts["inspection_age"]
    assert (age.lo, age.hi, age.dimension, age.text) == (172_800, 172_800, "time", "2 day")


def test_a_day_that_is_not_known_is_what_the_age_waits_for(pack: Pack) -> None:
    hose = _thing(pack, date(2026, 11, 25))
    assert "age" not in hose.facts
    assert hose.wanting["age"] == Wants(((hose, "made"),))


def test_a_day_stated_as_none_leaves_no_age(pack: Pack) -> None:
    hose = _thing(pack, date(2026, 11, 25), "tested: none")
    assert hose.facts["test_age"] is None


def test_a_rig_can_be_known_on_several_days(pack: Pack) -> None:
    rig = load_rig(RIG.format(made="made: 2021-11-25", inspected="2026-11-25").encode(), "rig.yaml", pack.vocabulary)
    for day, months in ((date(2026, 11, 25), 60), (date(2025, 11, 25), 48)):
        hose = next(known(rig, day.toordinal(), {}, pack).of_kind("hose"))
        assert hose.facts["age"].lo == months


DAYS = st.dates(date(1990, 1, 1), date(2060, 1, 1))


@given(made=DAYS, since=st.integers(800, 20_000), later=st.integers(0, 800))
def test_an_age_never_falls_as_days_go_by_and_never_rises_with_a_later_make(
    pack: Pack, made: date, since: int, later: int
) -> None:
    day = made + timedelta(since)
    (first, _), (second, _) = (_age(pack, made.isoformat(), one) for one in (day, day + timedelta(later)))
    (younger, _) = _age(pack, (made + timedelta(later)).isoformat(), day)
    assert second >= first >= younger
