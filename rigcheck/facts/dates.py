"""Time since a day: calendar months for ages, seconds for shorter spans."""

from __future__ import annotations

import calendar
from collections.abc import Callable
from datetime import date
from typing import Any

from rigcheck.facts.working import Look, Wants
from rigcheck.quantity import worked_out
from rigcheck.rig.thing import MISSING, Thing

__all__ = ["time_since"]

_DAY_SECONDS = 86_400


def time_since(day_fact: str, measure: str) -> Callable[[Thing, Look], Any]:
    """Return a function that works out how long ago the day in `day_fact` was; none stays none."""
    elapsed = _months_between if measure == "age" else _seconds_between

    def work_out(thing: Thing, look: Look) -> Any:
        stated = thing.facts.get(day_fact, MISSING)
        if stated is MISSING:
            return Wants(((thing, day_fact),))
        if stated is None:
            return None
        return worked_out(elapsed(stated.hi, look.day), elapsed(stated.lo, look.day), measure)

    return work_out


def _seconds_between(start: float, day: int) -> float:
    return (day - start) * _DAY_SECONDS


def _months_between(start: float, day: int) -> float:
    """Return calendar months: whole ones, and the rest as a share of the month that runs."""
    if day < start:
        return -_months_between(day, int(start))
    first, last = date.fromordinal(int(start)), date.fromordinal(day)
    months = (last.year - first.year) * 12 + last.month - first.month
    if _months_after(first, months) > last:
        months -= 1
    begin, end = _months_after(first, months), _months_after(first, months + 1)
    return months + (last - begin).days / max((end - begin).days, 1)


def _months_after(first: date, months: int) -> date:
    years, month = divmod(first.month - 1 + months, 12)
    year = first.year + years
    if year > date.max.year:  # the calendar ends there
        return date.max
    last_day = calendar.monthrange(year, month + 1)[1]
    return date(year, month + 1, min(first.day, last_day))
