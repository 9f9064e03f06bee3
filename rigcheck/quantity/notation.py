"""Quantities and days as people write them: text to an interval in base units.

Numbers are converted exactly (fractions) and rounded once, so one value written in two units
is one number.
"""

from __future__ import annotations

import re
from calendar import monthrange
from datetime import date
from fractions import Fraction
from functools import lru_cache

from rigcheck.quantity.interval import Interval
from rigcheck.quantity.spelling import calendar_form, plain_form, two_days
from rigcheck.quantity.units import ATMOSPHERE, Unit, find_unit, units_of
from rigcheck.text.faults import shown_text, with_article

__all__ = ["NotRead", "example_of", "half_last_digit", "read_day", "read_quantity"]

_COARSEST = 1e-6  # relative; digits that are rounder than this never make two values equal
_LONGEST = 100  # letters; the patterns below take a time that grows with the cube of the length


class NotRead(ValueError):
    """Text that is no value of the wanted kind: what is wrong, and what to write instead."""

    def __init__(self, wrong: str, write: str) -> None:
        super().__init__(wrong, write)
        self.wrong, self.write = wrong, write


# --- quantities ---

_NUMBER = r"(?:\d{1,15}(?:\.\d{1,15})?(?:[eE][+-]?\d{1,2})?|\.\d{1,15})"
_FRACTION = rf"(?:\d{{1,4}} +)?\d{{1,4}}/[1-9]\d{{0,3}}|{_NUMBER}"
_QUANTITY = re.compile(
    rf"(?P<sign>[-+−])?(?P<number>{_FRACTION})"
    rf"(?:\s*(?P<joint>±|\+/-|\+-|to|–|\.\.)\s*(?P<sign2>[-+−])?(?P<second>{_FRACTION}))?"
    r"\s*(?P<unit>.*)",
    re.DOTALL,
)
_UNIT_TWICE = re.compile(rf"([-+−]?{_NUMBER})\s*(\D+?)\s*(±|\+/-|\+-|to|–|-)\s*({_NUMBER})\s*\2")
_GAUGE_WORD = re.compile(r"(?P<unit>.*?)\s*(?:\(\s*(?P<short>[ag])\s*\)|\b(?P<word>abs|absolute|gauge|g))", re.DOTALL)
_GLUED = {
    "bara": ("bar", True),
    "barg": ("bar", False),
    "psia": ("psi", True),
    "psig": ("psi", False),
}
_TRAPS = (
    (re.compile(r"[-+]?0\d"), "a leading zero, which some readers take for octal", "without it"),
    (re.compile(r"[-+]?\d+_"), "an underscore in a number", "the digits without it"),
    (
        re.compile(r"[-+]?\d+,\d"),
        "a comma that may be a decimal or a thousands mark",
        "a decimal point, or no mark at all",
    ),
    (re.compile(r"[-+]?\d+:\d"), "a colon in a number", "a number and a unit, such as '90 min'"),
    (
        re.compile(r"(?i:min|max|up to|at least|at most|over|under|above|below|less than|more than)\b|[<>≤≥]"),
        "one end only",
        "both ends, as '10 to 15 m', or the value itself",
    ),
)


@lru_cache(maxsize=65_536)
def read_quantity(text: str, dimension: str) -> Interval:
    """Return the interval that `text` states, in base units of `dimension`.

    Pressures are gauge unless the text says absolute (one standard atmosphere is taken off).
    Raises `NotRead` where the text is no quantity of that dimension.
    """
    if len(text) > _LONGEST:
        raise NotRead(f"{shown_text(text)} is too long for {_spoken(dimension)}.", _wanted(dimension))
    stripped = _unit_once(text.strip())
    match, taken = _QUANTITY.fullmatch(stripped), text.strip()
    if match is None or not _is_plain(match):
        plain = _unit_once(plain_form(text.strip()))
        meant = _QUANTITY.fullmatch(plain)
        if match is None or _trapped(stripped) or (meant is not None and _is_plain(meant)):
            match, taken = meant, _said_back(text.strip(), plain)
        if match is None or _trapped(match.string):
            raise _not_a_number(stripped, dimension)
    unit, absolute = _unit_of(match["unit"].strip(), taken, dimension)
    return _interval(match, unit, absolute, taken)


def _is_plain(match: re.Match[str]) -> bool:
    """Whether a text has the plain form: a number or a range, and behind it nothing but a unit that is known."""
    if _trapped(match.string):
        return False
    spelling = match["unit"].strip()
    return not spelling or find_unit(spelling) is not None or _pressure_unit(spelling)[0] is not None


_DASHES = frozenset("-—‒–")


def _said_back(text: str, plain: str) -> str:
    """Return what was written, with the range that it was read as where it says only 'about'."""
    about = " to " in plain and "to" not in text and not _DASHES & {*text}
    return f"{text}, read as {plain}" if about else text


def half_last_digit(value: Interval) -> float:
    """Return half a unit of the last digit in which a stated value was written, in base units; 0 for any other.

    Who writes 180 kg does not say 180.0 kg: as far as the digits go, the value may be anything that rounds to it.
    """
    return 0.0 if not value.unit or value.dimension == "day" else _half_last_digit(value.text, value.unit)


@lru_cache(maxsize=16_384)  # the same few values are held against what is worked out on every rig of a yard
def _half_last_digit(text: str, called: str) -> float:
    unit = find_unit(called.removesuffix(" abs"))
    match = _QUANTITY.fullmatch(_unit_once(plain_form(text.partition(", read as ")[0]))) if unit is not None else None
    return float(_last_digit(match["number"]) * unit.factor / 2) if match is not None and unit is not None else 0.0


def _unit_once(text: str) -> str:
    """Return '2.5 ± 0.1 bar' for '2.5 bar ± 0.1 bar'."""
    match = _UNIT_TWICE.fullmatch(text)
    return text if match is None else f"{match[1]} {match[3]} {match[4]} {match[2]}"


def _interval(match: re.Match[str], unit: Unit, absolute: bool, text: str) -> Interval:
    first = _signed(match["sign"], match["number"])
    low = high = first
    if match["second"]:
        second = _signed(match["sign2"], match["second"])
        between = match["joint"] not in ("±", "+/-", "+-")
        low, high = (first, second) if between else (first - second, first + second)
    if low > high:
        raise NotRead(f"{text!r} runs backwards.", "Write the smaller number first.")
    _refuse_below_nothing((high + unit.offset) * unit.factor, unit, absolute, text)
    shift = ATMOSPHERE if absolute else 0
    lo, hi = (float((end + unit.offset) * unit.factor - shift) for end in (low, high))
    grain = float(_last_digit(match["number"]) * unit.factor / 2)
    largest = max(abs(lo), abs(hi))
    written = unit.name + (" abs" if absolute else "")
    return Interval(lo, hi, unit.dimension, text, written, min(grain, _COARSEST * largest))


_NEVER_NEGATIVE = frozenset({"length", "area", "volume", "mass", "flow", "speed", "force", "power"})


def _refuse_below_nothing(high: Fraction, unit: Unit, absolute: bool, text: str) -> None:
    if unit.dimension == "temperature" and high < 0:
        raise NotRead(f"{text!r} is colder than anything can be.", "Nothing is below -273.15 degC.")
    if unit.dimension == "pressure" and high < (0 if absolute else -ATMOSPHERE):
        raise NotRead(f"{text!r} is less than no pressure at all.", "Nothing is below 0 bar abs.")
    if unit.dimension in _NEVER_NEGATIVE and high < 0:
        raise NotRead(f"{text!r} is {_spoken(unit.dimension)} below nothing.", "Write it without a minus sign.")


def _signed(sign: str | None, number: str) -> Fraction:
    whole, _, part = number.rpartition(" ")
    value = Fraction(part) + (Fraction(whole) if whole.strip() else 0) if part else Fraction(number)
    return -value if sign in ("-", "−") else value


def _last_digit(number: str) -> Fraction:
    if "/" in number:
        return Fraction(0)
    mantissa, _, exponent = number.lower().partition("e")
    places = len(mantissa.partition(".")[2])
    return Fraction(10) ** (int(exponent or 0) - places)


def _unit_of(spelling: str, text: str, dimension: str) -> tuple[Unit, bool]:
    if not spelling:
        return _plain_unit(text, dimension), False
    unit, absolute = find_unit(spelling), False
    if unit is None and dimension == "pressure":
        unit, absolute = _pressure_unit(spelling)
    if unit is None:
        raise NotRead(f"{spelling!r} in {text!r} is no unit that is known here.", _wanted(dimension))
    if unit.dimension != dimension:
        raise NotRead(f"{text!r} is {_spoken(unit.dimension)}.", _wanted(dimension))
    return unit, absolute


def _pressure_unit(spelling: str) -> tuple[Unit | None, bool]:
    glued = _GLUED.get(spelling.casefold())
    if glued:
        return find_unit(glued[0]), glued[1]
    match = _GAUGE_WORD.fullmatch(spelling)
    if match is None:
        return None, False
    return find_unit(match["unit"]), match["short"] == "a" or (match["word"] or "").startswith("abs")


def _plain_unit(text: str, dimension: str) -> Unit:
    if dimension not in ("count", "share", "share_per_hour"):
        raise NotRead(f"{text!r} has no unit.", _wanted(dimension))
    return Unit("", dimension, Fraction(1))


def _trapped(text: str) -> bool:
    return any(trap.match(text) for trap, _, _ in _TRAPS)


def _not_a_number(text: str, dimension: str) -> NotRead:
    for trap, wrong, write in _TRAPS:
        if trap.match(text):
            return NotRead(f"{text!r} has {wrong}.", f"Write {write}.")
    return NotRead(f"{text!r} is no {dimension.replace('_', ' ')}.", _wanted(dimension))


_EXAMPLES = {
    "pressure": "2.5 bar",
    "length": "15 m",
    "temperature": "20 degC",
    "angle": "6 ± 1 deg",
    "count": "3",
    "share": "65 %",
    "share_per_hour": "1/7 per h",
    "age": "5 year",
    "time": "30 min",
    "volume": "40 L",
    "mass": "7 kg",
    "flow": "12 L/min",
    "power": "20 kW",
    "speed": "0.5 m/s",
    "force": "150 N",
    "area": "30 m2",
}


def example_of(dimension: str) -> str:
    """Return how a quantity of a dimension, or a day, is written."""
    return "2026-11-20" if dimension == "day" else _EXAMPLES.get(dimension, "1")


def _wanted(dimension: str) -> str:
    units = units_of(dimension)
    listed = f" (units: {', '.join(units)})" if units else ""
    return f"Write {_spoken(dimension)} such as '{_EXAMPLES.get(dimension, '1')}'{listed}."


def _spoken(dimension: str) -> str:
    return with_article(dimension.replace("_", " "))


# --- days ---

_DAY = re.compile(r"(\d{4})(?:-(\d{1,2})(?:-(\d{1,2}))?)?")


@lru_cache(maxsize=16_384)
def read_day(text: str) -> Interval:
    """Return the day that `text` states, as day numbers; a month or a year is an interval.

    Raises `NotRead` where the text is no day of the calendar.
    """
    match = _DAY.fullmatch(text.strip()) or _DAY.fullmatch(calendar_form(text))
    if match is None:
        if both := two_days(text):
            raise NotRead(f"{shown_text(text)} may be one of two days.", f"Write {both}.")
        raise NotRead(f"{shown_text(text)} is no day.", "Write a day as 2026-11-20, or a month as 2026-11.")
    year, month, day = (int(part) if part else None for part in match.groups())
    try:
        first = date(year or 0, 1 if month is None else month, 1 if day is None else day)
        last_month = 12 if month is None else month
        last = date(first.year, last_month, monthrange(first.year, last_month)[1] if day is None else day)
    except ValueError:
        raise NotRead(f"{text!r} is not in the calendar.", "Write year, month, day: 2026-11-20.") from None
    return Interval(first.toordinal(), last.toordinal(), "day", text.strip(), "day")
