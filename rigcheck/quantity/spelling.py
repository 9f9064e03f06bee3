"""Quantities and days as hands and spreadsheets write them, turned into the plain form that is read.

Only what can mean one thing is turned; what can mean two is left to be asked back.
"""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction

__all__ = ["TWO_UNITS", "calendar_form", "plain_form", "two_days"]

TWO_UNITS = (
    (("ft", "feet", "foot", "'"), ("in", "inch", "inches"), 12),
    (("h", "hr", "hrs", "hour", "hours"), ("min", "mins", "minute", "minutes"), 60),
    (("min", "mins", "minute", "minutes"), ("s", "sec", "second", "seconds"), 60),
    (("year", "years", "yr", "yrs"), ("month", "months"), 12),
    (("m", "metre", "metres", "meter", "meters"), ("cm",), 100),
)
"""Units that are written one after the other, as 5 ft 6 in: the greater, the lesser, how many of it make one."""

_ABOUT = re.compile(r"(?:about|approx(?:\.|imately)?|around|circa|ca?\.|~|≈)\s*(?P<rest>[-+−]?[\d.].*)", re.IGNORECASE)
_NUMBER = re.compile(r"(?P<number>\d+(?:\.\d+)?)(?P<rest>\s*[^\d\s./±–-].*|\s*)")
_COMMA = re.compile(r"(?<![\d,.])(?P<whole>\d{1,15}),(?P<part>\d{1,15})(?![\d,.])")
_MIXED = re.compile(r"(?<![\d/])(?P<whole>\d{1,3})-(?P<part>\d{1,3}/[1-9]\d{0,2})(?=\s*[^\d\s])")
_RANGE = re.compile(r"(?P<low>\d[\d./ ]*?)\s*[-—‒]\s*(?P<high>\.?\d.*)")
_MARKS = str.maketrans({"”": '"', "“": '"', "″": '"', "’": "'", "′": "'", "⁄": "/", "\u00a0": " ", "\u202f": " "})
_FEET = re.compile(r"(?<![\d/])(?P<feet>\d{1,4}(?:\.\d+)?)\s*'(?!')")
_PART = r"(?:\d{1,4} )?\d{1,4}/[1-9]\d{0,2}|\d{1,4}(?:\.\d{1,4})?"
_AFTER = re.compile(r"(?P<rest>[-+−]?[\d.].*?)\s*,?\s*(?:approx\.?|approximately|or so)", re.IGNORECASE)
_OFF = re.compile(
    r"(?P<number>\d+(?:\.\d+)?)\s*(?P<unit>[^\d\s±+][^±+]*?)\s*(?:±|\+/-|\+-)\s*(?P<off>\d+(?:\.\d+)?)\s*(?P<share>%?)"
)
_VULGAR = re.compile("(?<=\\d)(?=[\u00bc-\u00be\u2150-\u215e])")
_THOUSAND = 3  # digits after a comma that may part thousands as well


def plain_form(text: str) -> str:
    """Return a quantity in the form that is read: decimal point, plain fractions, 'to' for a range.

    >>> plain_form("2,5 bar"), plain_form("1¼ in"), plain_form("150-200 bar"), plain_form("1/4”")
    ('2.5 bar', '1 1/4 in', '150 to 200 bar', '1/4 in')
    >>> plain_form("about 150 bar"), plain_form("1,500 L")
    ('140 to 160 bar', '1,500 L')
    >>> plain_form("5 ft 6 in"), plain_form("5'6½”"), plain_form("1 min 30 s"), plain_form("150 bar ± 10 %")
    ('66 in', '66 1/2 in', '90 s', '150 ± 15 bar')
    """
    told = _VULGAR.sub(" ", text)
    told = unicodedata.normalize("NFKC", told) if _VULGAR.search(text) or "¼" <= told[:1] <= "⅞" else told
    told = " ".join(told.translate(_MARKS).replace("''", '"').replace('"', " in").split())
    told = re.sub(r"(?<=[a-zA-Z])\.$", "", _FEET.sub(r"\g<feet> ft ", told).strip())
    told = _COMMA.sub(_pointed, told)
    told = _MIXED.sub(r"\g<whole> \g<part>", told)
    told = _one_unit(told)
    off = _OFF.fullmatch(told)
    if off is not None and not (off["share"] and off["unit"] == "%"):
        apart = Fraction(off["off"]) * (Fraction(off["number"]) / 100 if off["share"] else 1)
        return f"{off['number']} ± {_decimal(apart)} {off['unit']}"
    about = _ABOUT.fullmatch(told) or _AFTER.fullmatch(told)
    if about is not None:
        return _round_about(about["rest"])
    run = _RANGE.fullmatch(told)
    return told if run is None else f"{run['low']} to {run['high']}"


def _one_unit(told: str) -> str:
    """Return '66 in' for '5 ft 6 in'; what is no such pair as it is."""
    for greater, lesser, ratio in _PAIRS:
        if (match := greater.fullmatch(told)) is not None and (rest := lesser.fullmatch(match["rest"])) is not None:
            whole, _, part = rest["part"].rpartition(" ")
            total = Fraction(match["number"]) * ratio + Fraction(part) + (Fraction(whole) if whole else 0)
            return f"{_mixed(total)} {rest['unit']}" if Fraction(part) + Fraction(whole or 0) < ratio else told
    return told


def _mixed(value: Fraction) -> str:
    """Return a number as a decimal, or with a plain fraction where it has halves, quarters, sixteenths."""
    whole, rest = divmod(value, 1)
    if rest and rest.denominator & (rest.denominator - 1) == 0:
        return f"{whole} {rest.numerator}/{rest.denominator}"
    return _decimal(value)


_PAIRS = tuple(
    (
        re.compile(rf"(?i)(?P<number>\d{{1,4}})\s*(?:{'|'.join(greater)})\.?,?[\s-]*(?P<rest>\d.*)"),
        re.compile(rf"(?i)(?P<part>{_PART})\s*(?P<unit>{'|'.join(lesser)})"),
        ratio,
    )
    for greater, lesser, ratio in TWO_UNITS
)


def _pointed(match: re.Match[str]) -> str:
    """Return a number with a decimal comma with a point; with three digits behind it may part thousands as well."""
    whole, part = match["whole"], match["part"]
    doubtful = len(part) == _THOUSAND and whole.strip("0") and len(whole) <= _THOUSAND
    return match[0] if doubtful else f"{whole}.{part}"


def _round_about(rest: str) -> str:
    """Return the range that 'about' a number gives: one step of its last digit that is not a nought, each way."""
    match = _NUMBER.fullmatch(rest)
    if match is None:
        return rest
    number, value = match["number"], Fraction(match["number"])
    whole, _, part = number.partition(".")
    step = Fraction(1, 10 ** len(part)) if part else Fraction(10 ** (len(whole) - len(whole.rstrip("0") or "0")))
    low, high = max(value - step, Fraction(0)), value + step
    return f"{_decimal(low)} to {_decimal(high)}{match['rest']}"


def _decimal(value: Fraction) -> str:
    return f"{float(value):.12f}".rstrip("0").rstrip(".")


# --- days ---

_MONTHS = "jan feb mar apr may jun jul aug sep oct nov dec".split()
_NAMED = re.compile(r"(?:(\d{1,2})(?:st|nd|rd|th)?[\s.-]+)?([a-z]{3,9})\.?[\s.,-]+(\d{4})", re.IGNORECASE)
_NAMED_FIRST = re.compile(r"([a-z]{3,9})\.?\s+(\d{1,2})(?:st|nd|rd|th)?,?\s+(\d{4})", re.IGNORECASE)
_NUMBERED = re.compile(r"(\d{1,2})([./-])(\d{1,2})\2(\d{4})")
_MONTH_YEAR = re.compile(r"(\d{1,2})[./-](\d{4})")
_YEAR_FIRST = re.compile(r"(\d{4})[./](\d{1,2})(?:[./](\d{1,2}))?")
_MOST_MONTHS = 12


def calendar_form(text: str) -> str:
    """Return a day as 2026-11-20 (or a month as 2026-11), where what is written can mean only one.

    >>> calendar_form("20 Nov 2026"), calendar_form("20/11/2026"), calendar_form("11/2026"), calendar_form("3/4/2026")
    ('2026-11-20', '2026-11-20', '2026-11', '3/4/2026')
    """
    told = " ".join(text.split())
    if (match := _NAMED.fullmatch(told)) and (month := _month(match[2])):
        return f"{match[3]}-{month:02}" + (f"-{int(match[1]):02}" if match[1] else "")
    if (match := _NAMED_FIRST.fullmatch(told)) and (month := _month(match[1])):
        return f"{match[3]}-{month:02}-{int(match[2]):02}"
    if match := _NUMBERED.fullmatch(told):
        return _one_day(int(match[1]), int(match[3]), match[4]) or told
    if (match := _MONTH_YEAR.fullmatch(told)) and 1 <= int(match[1]) <= _MOST_MONTHS:
        return f"{match[2]}-{int(match[1]):02}"
    if match := _YEAR_FIRST.fullmatch(told):
        return f"{match[1]}-{int(match[2]):02}" + (f"-{int(match[3]):02}" if match[3] else "")
    return told


def two_days(text: str) -> str:
    """Return the two days that a text can mean, as '2026-03-04 or 2026-04-03'; nothing where it cannot mean two."""
    match = _NUMBERED.fullmatch(" ".join(text.split()))
    if match is None or _one_day(int(match[1]), int(match[3]), match[4]):
        return ""
    one, other = int(match[1]), int(match[3])
    if not (1 <= one <= _MOST_MONTHS and 1 <= other <= _MOST_MONTHS):
        return ""
    return f"{match[4]}-{other:02}-{one:02} or {match[4]}-{one:02}-{other:02}"


def _month(word: str) -> int:
    short = word[:3].casefold()
    return _MONTHS.index(short) + 1 if short in _MONTHS else 0


def _one_day(one: int, other: int, year: str) -> str:
    """Return the day that two numbers give: one of them is too high for a month, or both are the same."""
    if other > _MOST_MONTHS >= one >= 1:
        one, other = other, one
    return f"{year}-{other:02}-{one:02}" if one > _MOST_MONTHS >= other >= 1 or one == other <= _MOST_MONTHS else ""
