"""Computed values, days and counts as people say them: in the unit of their size, in at most four figures."""

from __future__ import annotations

import re
from datetime import date
from math import ceil, floor, inf, isinf, log10

from rigcheck.quantity.units import find_unit

__all__ = ["counted", "rounded_value", "said_in_full", "shown_day", "shown_number", "spoken_value"]

_SHOWN_IN: dict[str, tuple[tuple[float, str], ...]] = {
    "pressure": ((1e4, "bar"), (0.0, "mbar")),
    "length": ((0.1, "m"), (0.0, "mm")),
    "area": ((0.0, "m2"),),
    "volume": ((1.0, "m3"), (1e-3, "L"), (0.0, "mL")),
    "mass": ((0.0, "kg"),),
    "temperature": ((0.0, "degC"),),
    "flow": ((1.0 / 3600.0, "m3/h"), (1e-3 / 3600.0, "L/h"), (0.0, "mL/h")),
    "time": ((7200.0, "h"), (120.0, "min"), (0.0, "s")),
    "age": ((24.0, "year"), (0.0, "month")),
    "angle": ((0.0, "deg"),),
    "force": ((0.0, "N"),),
    "power": ((1e3, "kW"), (0.0, "W")),
    "speed": ((0.0, "m/s"),),
    "share": ((0.0, "%"),),
    "share_per_hour": ((0.0, "%/h"),),
}
"""Units in which values are said, each with the value (base units) from which on people use it."""

_DAY_SECONDS = 86_400
_SAME = 1e-6  # of a step: an end that stands on one is not moved to the next by the last digit of a float


def spoken_value(lo: float, hi: float, dimension: str) -> str:
    """Return a value from `lo` to `hi`, in base units of its dimension, in the unit that people use for it."""
    if lo == hi == inf:  # gas that no flow draws, a limit that is never reached
        return "without end"
    if isinf(lo) or isinf(hi):
        end, word = (lo, "at least") if isinf(hi) else (hi, "at most")
        return f"{word} {spoken_value(end, end, dimension)}" if not isinf(end) else "anything"
    if dimension == "day":
        ends = [shown_day(int(end)) for end in (lo, hi)]
        return ends[0] if lo == hi else f"{ends[0]} to {ends[1]}"
    name = _shown_in(lo, hi, dimension)
    unit = find_unit(name) if name else None
    factor, offset = (float(unit.factor), float(unit.offset)) if unit else (1.0, 0.0)
    low, high = (shown_number(end / factor - offset) for end in (lo, hi))
    return f"{low if low == high else f'{low} to {high}'} {name}".strip()


def rounded_value(lo: float, hi: float, dimension: str) -> str:
    """Return a computed value as a result is given: its ends rounded outward to two figures of half its width.

    A half width of 0.39 m3 is known to 0.01 m3, and more figures of either end say nothing (JCGM 100:2008, 7.2.6).
    In all else as `spoken_value`, also where that says fewer figures.

    >>> rounded_value(0.7887, 2.8304, "volume")
    '0.7 to 2.9 m3'
    """
    if isinf(lo) or isinf(hi) or dimension in ("day", "count") or not hi > lo:
        return spoken_value(lo, hi, dimension)
    name = _shown_in(lo, hi, dimension)
    unit = find_unit(name) if name else None
    factor, offset = (float(unit.factor), float(unit.offset)) if unit else (1.0, 0.0)
    low, high = lo / factor - offset, hi / factor - offset
    digit = floor(log10((high - low) / 2.0)) - 1
    if digit <= floor(log10(max(abs(low), abs(high)))) - 3:
        return spoken_value(lo, hi, dimension)
    step, places = 10.0**digit, max(0, -digit)
    ends = floor(low / step + _SAME) * step + 0.0, ceil(high / step - _SAME) * step + 0.0
    low_words, high_words = (f"{end:.{places}f}" if end else "0" for end in ends)
    return f"{low_words} to {high_words} {name}".strip()


def _shown_in(lo: float, hi: float, dimension: str) -> str:
    """Return the unit in which people say a value of this size; zero takes the largest."""
    largest = max(abs(lo), abs(hi)) * (1.0 + 1e-9)
    if dimension == "time" and largest >= 2 * _DAY_SECONDS and lo % _DAY_SECONDS == hi % _DAY_SECONDS == 0:
        return "day"  # counted from days; a time of work is said in hours, however long it is
    units = _SHOWN_IN.get(dimension, ((0.0, ""),))
    return next(name for least, name in units if largest >= least or largest == 0.0)


_NAMED = re.compile(r"(.*[\d.]) ?(turn|day|week|month|year)")
_ONE_OR_LESS = re.compile(r"-?(?:1(?:\.0*)?|0?\.\d*[1-9]\d*|1/\d+|[23]/[4-9])")


def said_in_full(text: str) -> str:
    """Return a written value with the plural where its unit is a word, not a symbol.

    >>> said_in_full("1.5 turn"), said_in_full("1 day"), said_in_full("61 month"), said_in_full("3/4 turn")
    ('1.5 turns', '1 day', '61 months', '3/4 turn')
    """
    found = _NAMED.fullmatch(text)
    return f"{text}s" if found and not _ONE_OR_LESS.fullmatch(found[1]) else text


def shown_number(number: float) -> str:
    """Return a number in at most four figures, without exponent where it is readable."""
    number += 0.0  # nought has no sign: -up(-0.9) is 0, not -0
    return f"{float(f'{number:.4g}'):.0f}" if 1e4 <= abs(number) < 1e7 else f"{number:.4g}"


def shown_day(day: int) -> str:
    """Return a day number as YYYY-MM-DD."""
    return date.fromordinal(day).isoformat()


def counted(number: int, noun: str) -> str:
    """Return a number with its noun; the noun takes a plain s where there is not just one.

    >>> counted(1, "finding"), counted(2, "finding")
    ('1 finding', '2 findings')
    """
    return f"{number} {noun}{'' if number == 1 else 's'}"
