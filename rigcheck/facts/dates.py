"""Time since a day, and the day on which a time is over: calendar months for ages, seconds for shorter spans."""

from __future__ import annotations

import calendar
import math
from collections.abc import Callable
from datetime import date
from functools import lru_cache
from typing import Any

from rigcheck.facts.figure import Look, Wants
from rigcheck.quantity.interval import worked_out
from rigcheck.rig.thing import MISSING, Thing

__all__ = ["elapsed", "is_slip", "last_day", "months_after", "time_since"]

_DAY_SECONDS = 86_400


def time_since(day_fact: str, measure: str) -> Callable[[Thing, Look], Any]:
    """Return a function that works out how long ago the day in `day_fact` was; none stays none.

    What `is_slip` counts as not stated.
    """

    def work_out(thing: Thing, look: Look) -> Any:
        stated = thing.facts.get(day_fact, MISSING)
        if stated is MISSING:
            return Wants(((thing, day_fact),))
        if stated is None:
            return None
        if is_slip(day_fact, stated.lo, look.day):
            return Wants(((thing, day_fact),))
        return worked_out(elapsed(stated.hi, look.day, measure), elapsed(stated.lo, look.day, measure), measure)

    return work_out


def is_slip(day_fact: str, stated: float, day: int) -> bool:
    """Whether a stated day cannot be meant on a day: one of the past that lies ahead, as of a part made next year."""
    return stated > day and not day_fact.endswith("_until")


def elapsed(start: float, day: int, measure: str) -> float:
    """Return the time from one day number to another: in months for an age, else in seconds."""
    return _months_between(start, day) if measure == "age" else _seconds_between(start, day)


def last_day(start: int, most: float, measure: str, *, strict: bool = False) -> int:
    """Return the last day on which no more than `most` (months for an age, else seconds) is over since `start`.

    `strict`: on which less than that is over. No later day than the calendar has is returned.
    """
    day = min(max(_near_end(start, most, measure), date.min.toordinal()), _LAST)
    while day > date.min.toordinal() and not _within(start, day, most, measure, strict):
        day -= 1
    while day < _LAST and _within(start, day + 1, most, measure, strict):
        day += 1
    return day


_LAST = date.max.toordinal()


def _within(start: int, day: int, most: float, measure: str, strict: bool) -> bool:
    over = elapsed(start, day, measure)
    return over < most if strict else over <= most


def _near_end(start: int, most: float, measure: str) -> int:
    if measure == "age":
        return months_after(date.fromordinal(start), math.ceil(most)).toordinal()
    return start + math.floor(most / _DAY_SECONDS)


def _seconds_between(start: float, day: int) -> float:
    return (day - start) * _DAY_SECONDS


@lru_cache(maxsize=4096)  # the parts of a rig share a few dates
def _months_between(start: float, day: int) -> float:
    """Return calendar months: whole ones, and the rest as a share of the month that runs."""
    if day < start:
        return -_months_between(day, int(start))
    first, last = date.fromordinal(int(start)), date.fromordinal(day)
    months = (last.year - first.year) * 12 + last.month - first.month
    if months_after(first, months) > last:
        months -= 1
    begin, end = months_after(first, months), months_after(first, months + 1)
    return months + (last - begin).days / max((end - begin).days, 1)


def months_after(first: date, months: int) -> date:
    """Return the same day of a later month, or its last day where it has no such day; within the calendar."""
    years, month = divmod(first.month - 1 + months, 12)
    year = first.year + years
    if year > date.max.year:  # the calendar ends there
        return date.max
    if year < date.min.year:
        return date.min
    last_day = calendar.monthrange(year, month + 1)[1]
    return date(year, month + 1, min(first.day, last_day))
