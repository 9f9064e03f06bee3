"""The last day on which a time is not yet over, worked by hand on the calendar."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcheck.facts.dates import elapsed, last_day, months_after

_DAY = 86_400.0


@pytest.mark.parametrize(
    ("start", "months", "last"),
    [
        (date(2021, 11, 25), 60, date(2026, 11, 25)),  # the birthday itself
        (date(2020, 2, 29), 12, date(2021, 2, 28)),  # a leap day, a year on, has the last day of February
        (date(2020, 2, 29), 48, date(2024, 2, 29)),  # and four years on a leap day again
        (date(2019, 2, 28), 12, date(2020, 2, 28)),  # not the 29th: the day of the month stays
        (date(2026, 1, 31), 1, date(2026, 2, 28)),  # a month end in a shorter month
        (date(2023, 12, 31), 2, date(2024, 2, 29)),
        (date(2026, 1, 31), 2, date(2026, 3, 31)),
        (date(2026, 11, 30), 3, date(2027, 2, 28)),
        (date(2026, 11, 25), 0, date(2026, 11, 25)),
        (date(2026, 11, 25), 0.5, date(2026, 12, 10)),  # half of the 30 days that end with 25 December
        (date(2026, 11, 25), -1, date(2026, 10, 25)),
    ],
)
def test_months_end_on_the_same_day_of_the_month_or_on_its_last(start: date, months: float, last: date) -> None:
    assert date.fromordinal(last_day(start.toordinal(), months, "age")) == last


@pytest.mark.parametrize(
    ("start", "days", "last"),
    [
        (date(2024, 2, 28), 1, date(2024, 2, 29)),
        (date(2023, 2, 28), 1, date(2023, 3, 1)),
        (date(2026, 11, 24), 1, date(2026, 11, 25)),
        (date(2026, 11, 24), 1.9, date(2026, 11, 25)),
        (date(2026, 11, 24), 0, date(2026, 11, 24)),  # "until" counts the day itself
    ],
)
def test_a_shorter_time_is_counted_in_days(start: date, days: float, last: date) -> None:
    assert date.fromordinal(last_day(start.toordinal(), days * _DAY, "time")) == last


def test_less_than_a_time_ends_a_day_earlier() -> None:
    start = date(2024, 2, 29).toordinal()
    assert date.fromordinal(last_day(start, 12, "age", strict=True)) == date(2025, 2, 27)
    assert date.fromordinal(last_day(start, _DAY, "time", strict=True)) == date(2024, 2, 29)


def test_the_calendar_ends() -> None:
    assert last_day(date(9990, 1, 1).toordinal(), 6000, "age") == date.max.toordinal()
    assert months_after(date(1, 3, 1), -12) == date.min


@given(
    start=st.integers(date(1950, 1, 1).toordinal(), date(2100, 1, 1).toordinal()),
    most=st.one_of(st.integers(0, 400), st.floats(0, 400)),
    measure=st.sampled_from(["age", "time"]),
    strict=st.booleans(),
)
def test_it_is_the_last_day_by_the_count_of_the_inspection(start: int, most: float, measure: str, strict: bool) -> None:
    bound = most if measure == "age" else most * _DAY
    last = last_day(start, bound, measure, strict=strict)
    over, next_over = (elapsed(start, day, measure) for day in (last, last + 1))
    assert (over < bound) if strict else (over <= bound)
    assert (next_over >= bound) if strict else (next_over > bound)
