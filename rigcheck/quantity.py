"""Quantities as people write them: text to an interval in base units, and comparison of intervals.

Numbers are converted exactly (fractions) and rounded once, so one value written in two units
is one number. Where the units differ and the written digits cannot hold the value exactly
(15 psi in kPa), values that agree to the last written digit count as equal.
"""

from __future__ import annotations

import re
from calendar import monthrange
from datetime import date
from fractions import Fraction
from functools import lru_cache

from rigcheck.faults import shown_text
from rigcheck.truth import FALSE, TRUE, UNKNOWN, Truth
from rigcheck.units import ATMOSPHERE, Unit, find_unit, units_of

__all__ = [
    "Interval",
    "NotRead",
    "at_least",
    "at_most",
    "equal_to",
    "read_day",
    "read_quantity",
    "shown_number",
    "worked_out",
]

_COARSEST = 1e-6  # relative; digits that are rounder than this never make two values equal
_LONGEST = 100  # letters; the patterns below take a time that grows with the cube of the length


class Interval:
    """A value known to lie between `lo` and `hi`, in base units of its `dimension`.

    `text` is what was written, `unit` the unit it was written in, `grain` half a unit of
    the last written digit (base units, at most a millionth of the value).
    """

    __slots__ = ("_text", "dimension", "grain", "hi", "lo", "unit")

    def __init__(
        self,
        lo: float,
        hi: float,
        dimension: str,
        text: str = "",
        unit: str = "",
        grain: float = 0.0,
    ) -> None:
        self.lo, self.hi, self.dimension = lo, hi, dimension
        self._text, self.unit, self.grain = text, unit, grain

    @property
    def text(self) -> str:
        """What was written, or for a computed value what people would write; made when it is asked for."""
        if not self._text:
            self._text = _shown(self.lo, self.hi, self.dimension)
        return self._text

    def __repr__(self) -> str:
        return f"Interval({self.lo!r}, {self.hi!r}, {self.dimension!r}, {self.text!r})"

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Interval):
            return NotImplemented
        return (self.lo, self.hi, self.dimension) == (other.lo, other.hi, other.dimension)

    def __hash__(self) -> int:
        return hash((self.lo, self.hi, self.dimension))


class NotRead(ValueError):
    """Text that is no value of the wanted kind: what is wrong, and what to write instead."""

    def __init__(self, wrong: str, write: str) -> None:
        super().__init__(wrong, write)
        self.wrong, self.write = wrong, write


# --- comparison: JCGM 106:2012, simple acceptance where the whole interval lies on one side ---


def at_most(value: Interval, bound: Interval) -> Truth:
    """Return whether `value` is at most `bound`; unknown where their intervals overlap."""
    slack = _slack(value, bound)
    if value.hi <= bound.lo + slack:
        return TRUE
    return FALSE if value.lo > bound.hi + slack else UNKNOWN


def at_least(value: Interval, bound: Interval) -> Truth:
    """Return whether `value` is at least `bound`; unknown where their intervals overlap."""
    slack = _slack(value, bound)
    if value.lo >= bound.hi - slack:
        return TRUE
    return FALSE if value.hi < bound.lo - slack else UNKNOWN


def equal_to(value: Interval, other: Interval) -> Truth:
    """Return whether two values are equal; unknown where wide intervals overlap."""
    slack = _slack(value, other)
    if value.hi < other.lo - slack or value.lo > other.hi + slack:
        return FALSE
    points = value.hi - value.lo <= slack and other.hi - other.lo <= slack
    return TRUE if points else UNKNOWN


def _slack(value: Interval, bound: Interval) -> float:
    return 0.0 if value.unit == bound.unit else max(value.grain, bound.grain)


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
    "speed": ((0.0, "m/s"),),
    "share": ((0.0, "%"),),
    "share_per_hour": ((0.0, "%/h"),),
}
"""Units in which values are said, each with the value (base units) from which on people use it."""

_DAY_SECONDS = 86_400


def worked_out(lo: float, hi: float, dimension: str) -> Interval:
    """Return a computed value; it is shown in the unit that people use for it."""
    return Interval(lo, hi, dimension)


def _shown(lo: float, hi: float, dimension: str) -> str:
    if dimension == "day":
        ends = [date.fromordinal(int(end)).isoformat() for end in (lo, hi)]
        return ends[0] if lo == hi else f"{ends[0]} to {ends[1]}"
    name = _shown_in(lo, hi, dimension)
    unit = find_unit(name) if name else None
    factor, offset = (float(unit.factor), float(unit.offset)) if unit else (1.0, 0.0)
    low, high = (shown_number(end / factor - offset) for end in (lo, hi))
    return f"{low if low == high else f'{low} to {high}'} {name}".strip()


def _shown_in(lo: float, hi: float, dimension: str) -> str:
    """Return the unit in which people say a value of this size; zero takes the largest."""
    largest = max(abs(lo), abs(hi)) * (1.0 + 1e-9)
    if dimension == "time" and largest >= 2 * _DAY_SECONDS and lo % _DAY_SECONDS == hi % _DAY_SECONDS == 0:
        return "day"  # counted from days; a time of work is said in hours, however long it is
    units = _SHOWN_IN.get(dimension, ((0.0, ""),))
    return next(name for least, name in units if largest >= least or largest == 0.0)


def shown_number(number: float) -> str:
    """Return a number in at most four figures, without exponent where it is readable."""
    return f"{float(f'{number:.4g}'):.0f}" if 1e4 <= abs(number) < 1e7 else f"{number:.4g}"


# --- reading ---

_NUMBER = r"(?:\d{1,15}(?:\.\d{1,15})?(?:[eE][+-]?\d{1,2})?|\.\d{1,15})"
_FRACTION = rf"(?:\d{{1,4}} +)?\d{{1,4}}/[1-9]\d{{0,3}}|{_NUMBER}"
_QUANTITY = re.compile(
    rf"(?P<sign>[-+−])?(?P<number>{_FRACTION})"
    rf"(?:\s*(?P<joint>±|\+/-|\+-|to|–|\.\.)\s*(?P<sign2>[-+−])?(?P<second>{_FRACTION}))?"
    r"\s*(?P<unit>.*)",
    re.DOTALL,
)
_UNIT_TWICE = re.compile(rf"([-+−]?{_NUMBER})\s*(\D+?)\s*(±|\+/-|\+-|to|–)\s*({_NUMBER})\s*\2")
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
    (re.compile(r"[-+]?\d+,\d"), "a comma in a number", "a decimal point, and no thousands mark"),
    (re.compile(r"[-+]?\d+:\d"), "a colon in a number", "a number and a unit, such as '90 min'"),
)


@lru_cache(maxsize=65_536)
def read_quantity(text: str, dimension: str) -> Interval:
    """Return the interval that `text` states, in base units of `dimension`.

    Pressures are gauge unless the text says absolute (one standard atmosphere is taken off).
    Raises `NotRead` where the text is no quantity of that dimension.
    """
    if len(text) > _LONGEST:
        raise NotRead(f"{shown_text(text)} is too long for a {_spoken(dimension)}.", _wanted(dimension))
    stripped = _unit_once(text.strip())
    match = _QUANTITY.fullmatch(stripped)
    if match is None or _trapped(stripped):
        raise _not_a_number(stripped, dimension)
    unit, absolute = _unit_of(match["unit"].strip(), stripped, dimension)
    return _interval(match, unit, absolute, text.strip())


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


def _refuse_below_nothing(high: Fraction, unit: Unit, absolute: bool, text: str) -> None:
    if unit.dimension == "temperature" and high < 0:
        raise NotRead(f"{text!r} is colder than anything can be.", "Nothing is below -273.15 degC.")
    if unit.dimension == "pressure" and high < (0 if absolute else -ATMOSPHERE):
        raise NotRead(f"{text!r} is less than no pressure at all.", "Nothing is below 0 bar abs.")


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
        raise NotRead(f"{text!r} is a {_spoken(unit.dimension)}.", _wanted(dimension))
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
    return NotRead(f"{text!r} is no {_spoken(dimension)}.", _wanted(dimension))


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
    "speed": "0.5 m/s",
    "force": "150 N",
    "area": "30 m2",
}


def _wanted(dimension: str) -> str:
    units = units_of(dimension)
    listed = f" (units: {', '.join(units)})" if units else ""
    return f"Write a {_spoken(dimension)} such as '{_EXAMPLES.get(dimension, '1')}'{listed}."


def _spoken(dimension: str) -> str:
    return dimension.replace("_", " ")


# --- days ---

_DAY = re.compile(r"(\d{4})(?:-(\d{1,2})(?:-(\d{1,2}))?)?")


@lru_cache(maxsize=16_384)
def read_day(text: str) -> Interval:
    """Return the day that `text` states, as day numbers; a month or a year is an interval.

    Raises `NotRead` where the text is no day of the calendar.
    """
    match = _DAY.fullmatch(text.strip())
    if match is None:
        raise NotRead(f"{shown_text(text)} is no day.", "Write a day as 2026-11-20, or a month as 2026-11.")
    year, month, day = (int(part) if part else None for part in match.groups())
    try:
        first = date(year or 0, 1 if month is None else month, 1 if day is None else day)
        last_month = 12 if month is None else month
        last = date(first.year, last_month, monthrange(first.year, last_month)[1] if day is None else day)
    except ValueError:
        raise NotRead(f"{text!r} is not in the calendar.", "Write year, month, day: 2026-11-20.") from None
    return Interval(first.toordinal(), last.toordinal(), "day", text.strip(), "day")
