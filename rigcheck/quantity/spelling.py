"""Quantities and days as hands and spreadsheets write them, turned into the plain form that is read.

Only what can mean one thing is turned; what can mean two is left to be asked back.
"""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction

__all__ = ["calendar_form", "plain_form", "two_days"]

_ABOUT = re.compile(r"(?:about|approx(?:\.|imately)?|around|circa|ca?\.|~|≈)\s*(?P<rest>[-+−]?[\d.].*)", re.IGNORECASE)
_NUMBER = re.compile(r"(?P<number>\d+(?:\.\d+)?)(?P<rest>\s*[^\d\s./±–-].*|\s*)")
_COMMA = re.compile(r"(?<![\d,.])(?P<whole>\d{1,15}),(?P<part>\d{1,15})(?![\d,.])")
_MIXED = re.compile(r"(?<![\d/])(?P<whole>\d{1,3})-(?P<part>\d{1,3}/[1-9]\d{0,2})(?=\s*[^\d\s])")
_RANGE = re.compile(r"(?P<low>\d[\d./ ]*?)\s*[-—‒]\s*(?P<high>\.?\d.*)")
_MARKS = str.maketrans({"”": '"', "“": '"', "″": '"', "’": "'", "′": "'", "⁄": "/", "\u00a0": " ", "\u202f": " "})
_VULGAR = re.compile("(?<=\\d)(?=[\u00bc-\u00be\u2150-\u215e])")
_THOUSAND = 3  # digits after a comma that may part thousands as well


def plain_form(text: str) -> str:
    """Return a quantity in the form that is read: decimal point, plain fractions, 'to' for a range.

    >>> plain_form("2,5 bar"), plain_form("1¼ in"), plain_form("150-200 bar"), plain_form("1/4”")
    ('2.5 bar', '1 1/4 in', '150 to 200 bar', '1/4 in')
    >>> plain_form("about 150 bar"), plain_form("1,500 L")
    ('140 to 160 bar', '1,500 L')
    """
    told = _VULGAR.sub(" ", text)
    told = unicodedata.normalize("NFKC", told) if _VULGAR.search(text) or "¼" <= told[:1] <= "⅞" else told
    told = " ".join(told.translate(_MARKS).replace('"', " in").split())
    told = _COMMA.sub(_pointed, told)
    told = _MIXED.sub(r"\g<whole> \g<part>", told)
    about = _ABOUT.fullmatch(told)
    if about is not None:
        return _round_about(about["rest"])
    run = _RANGE.fullmatch(told)
    return told if run is None else f"{run['low']} to {run['high']}"


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
