"""Regular expressions for what can be written as one value: quantities, days, words in any spelling.

They are what the reader takes, as far as a pattern can say it: ECMA-262 without flags, for JSON Schema. What needs
arithmetic (a number beyond what can be meant, a range that runs backwards, 29 February) is the reader's alone.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from rigcheck.quantity.spelling import TWO_UNITS
from rigcheck.quantity.units import UNITS, find_unit

__all__ = ["DAY", "ONE_DAY", "UNKNOWN", "YES_NO", "blind", "quantity_pattern", "words_pattern"]


def blind(word: str) -> str:
    """Return a pattern of a word in letters of either case, with blanks, hyphens and underscores alike.

    >>> blind("on-hooks")
    '[oO][nN][\\\\s_-]+[hH][oO][oO][kK][sS]'
    """
    return r"[\s_-]+".join("".join(map(_letter, piece)) for piece in re.split(r"[\s_-]+", word))


def _letter(letter: str) -> str:
    low, high = letter.lower(), letter.upper()
    if low != high and len(low + high) == len("aA"):
        return f"[{low}{high}]"
    return re.sub(r"([.*+?^${}()|\[\]\\/])", r"\\\1", letter)


def words_pattern(words: Iterable[str]) -> str:
    """Return a pattern of any of some words, in whatever spelling."""
    return rf"^\s*(?:{'|'.join(map(blind, words))})\s*$"


YES_NO = words_pattern(("yes", "no", "true", "false", "y", "n"))
UNKNOWN = r"^(?:unknown|not known|\?)$"
"""That it is not known; these have one spelling each."""

# --- quantities ---

_DECIMALS = r"(?:\.[0-9]{1,15}|,(?:[0-9]{1,2}|[0-9]{4,15}))"  # three digits behind a comma may part thousands
_NUMBER = rf"(?:(?!0[0-9])[0-9]{{1,15}}{_DECIMALS}?(?:[eE][+-]?[0-9]{{1,2}})?|\.[0-9]{{1,15}})"
_FRACTION = r"(?:(?:[0-9]{1,4}(?: +|-))?[0-9]{1,4}[/⁄][1-9][0-9]{0,3}|[0-9]{0,4} ?[¼-¾⅐-⅞])"
_PART = r"(?:[0-9]{1,4} )?[0-9]{1,4}/[1-9][0-9]{0,2}|[0-9]{1,4}(?:\.[0-9]{1,4})?"
_JOINT = r"\s*(?:±|\+/-|\+-|to|–|—|‒|-|\.\.)\s*"
_SOME = "|".join(map(blind, ("about", "approximately", "approx", "around", "circa", "ca", "c")))
_ABOUT = rf"(?:(?:(?:{_SOME})\.?|~|≈)\s*)?"
_GAUGE = r"\s*(?:\(\s*[ag]\s*\)|\b(?:abs|absolute|gauge|g))?"
_GLUED = ("bara", "barg", "psia", "psig")
_WITHOUT_UNIT = ("count", "share", "share_per_hour")


def quantity_pattern(dimension: str, *, below_nothing: bool) -> str:
    """Return a pattern of a quantity in any of its units; `below_nothing`: whether it may have a minus sign."""
    sign = "[-+−]?" if below_nothing else r"\+?"
    number, unit = f"{sign}(?:{_FRACTION}|{_NUMBER})", _unit(dimension)
    needed = "?" if unit and dimension in _WITHOUT_UNIT else ""
    usual = rf"{_ABOUT}{number}(?:(?:\s*{unit})?{_JOINT}{number})?\s*{unit}{needed}(?:(?<=[a-zA-Z])\.)?"
    off = rf"{number}\s*{unit}\s*(?:±|\+/-|\+-)\s*[0-9]+(?:\.[0-9]+)?\s*%?"
    after = rf"{number}\s*{unit}\s*,?\s*(?:{'|'.join(map(blind, ('approx', 'approximately', 'or so')))})\.?"
    if dimension == "count":
        return rf"^\s*{usual}\s*$"
    return rf"^\s*(?:{'|'.join((usual, off, after, *_two_units(dimension)))})\s*$"


def _two_units(dimension: str) -> Iterator[str]:
    """Yield patterns of two units one after the other, as 5 ft 6 in."""
    for greater, lesser, _ in TWO_UNITS:
        if UNITS[lesser[0]].dimension == dimension:
            is_foot = lesser[0] == "in"
            first = "|".join(map(blind, (*greater, "’", "′") if is_foot else greater))
            second = "|".join(map(blind, (*lesser, '"', "”", "″", "''") if is_foot else lesser))
            yield rf"[0-9]{{1,4}}\s*(?:{first})\.?,?[\s-]*(?:{_PART})\s*(?:{second})\.?"


def _unit(dimension: str) -> str:
    spellings = [spelling for spelling, unit in UNITS.items() if unit.dimension == dimension]
    told = [_spelt(one) for one in (*spellings, *(_GLUED if dimension == "pressure" else ()))]
    told += ["[\"'”“″’′]"] if dimension == "length" else []
    if not any(told):  # no engine need know how to repeat nothing
        return ""
    return f"(?:(?:{'|'.join(told)}){_GAUGE if dimension == 'pressure' else ''})"


def _spelt(spelling: str) -> str:
    """Return a unit in letters of either case where these mean one unit (M and m do not)."""
    folded = find_unit(spelling.upper()), find_unit(spelling.lower()), find_unit(spelling)
    return blind(spelling) if len({one for one in folded if one is not None}) == 1 else re.escape(spelling)


# --- days ---

_M, _MONTHS = "(?:0?[1-9]|1[0-2])", "jan feb mar apr may jun jul aug sep oct nov dec".split()
_MONTH_DAY = (
    r"(?:(?:0?[13578]|1[02])-(?:0?[1-9]|[12][0-9]|3[01])|(?:0?[469]|11)-(?:0?[1-9]|[12][0-9]|30)"
    r"|0?2-(?:0?[1-9]|[12][0-9]))"
)
_YEAR = r"(?!0000)[0-9]{4}"
_NAMED = rf"(?:{'|'.join(map(blind, _MONTHS))})[a-zA-Z]{{0,6}}\.?"
_HIGH = "(?:1[3-9]|2[0-9]|3[01])"  # a number that can be a day of the month and no month
_NTH = "(?:st|nd|rd|th)?"
_WRITTEN = (
    rf"{_YEAR}[./]{_M}(?:[./](?:0?[1-9]|[12][0-9]|3[01]))?",
    rf"{_HIGH}([./-]){_M}\1{_YEAR}",
    rf"{_M}([./-]){_HIGH}\2{_YEAR}",
    rf"(0?[1-9]|1[0-2])([./-])\3\4{_YEAR}",
    rf"{_M}[./-]{_YEAR}",
    rf"(?:[0-3]?[0-9]{_NTH}[\s.-]+)?{_NAMED}[\s.,-]+{_YEAR}",
    rf"{_NAMED}\s+[0-3]?[0-9]{_NTH},?\s+{_YEAR}",
)
DAY = rf"^\s*(?:{_YEAR}(?:-(?:{_MONTH_DAY}|{_M}))?|{'|'.join(_WRITTEN)})\s*$"
"""A day, a month or a year, as it is read."""
ONE_DAY = rf"^\s*{_YEAR}-{_MONTH_DAY}\s*$"
"""One day of the calendar."""
