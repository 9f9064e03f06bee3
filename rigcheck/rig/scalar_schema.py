"""The JSON Schema of one fact: what the reader takes, with units, examples, and words in one spelling to offer."""

from __future__ import annotations

import re
from typing import Any

from rigcheck.quantity.interval import Interval
from rigcheck.quantity.notation import example_of
from rigcheck.quantity.units import UNITS, units_of
from rigcheck.rig.fact import NEVER_WORD, NONE_WORD, Fact
from rigcheck.rig.scalar_patterns import DAY, UNKNOWN, YES_NO, quantity_pattern, words_pattern

__all__ = ["fact_schema", "scalar_definitions", "text_schema"]

_NEVER_NEGATIVE = frozenset(("length", "area", "volume", "mass", "flow", "speed", "force", "power"))
_LONGEST = 400
_PLAIN = re.compile(r"[-+]?[0-9]+")


def text_schema(means: str) -> dict[str, Any]:
    """Return the schema of a text of one's own; a number or a yes is one too."""
    return {"type": ["string", "number", "boolean"], "pattern": r"\S", "maxLength": _LONGEST, "description": means}


def fact_schema(fact: Fact) -> dict[str, Any]:
    """Return the schema of a fact."""
    described = _described(fact)
    if fact.measure == "words":
        return described | {"anyOf": _words(fact)}
    if fact.measure == "several_words":
        return described | {"anyOf": [{"type": "array", "items": {"anyOf": _words(fact)[:-1]}}, *_words(fact)]}
    ways = _ways(fact)
    if fact.entry.may_be_none:
        ways.append({"const": NONE_WORD, "description": "It is stated that there is none."})
        none_words = [NONE_WORD, NEVER_WORD] if fact.measure == "day" else [NONE_WORD]
        ways.append({"type": "string", "pattern": words_pattern(none_words)})
    return described | {"anyOf": [*ways, {"type": "string", "pattern": UNKNOWN}]}


def _described(fact: Fact) -> dict[str, Any]:
    """Return what an editor shows: what it means, what is asked, the units, each on a line of its own."""
    entry, told = fact.entry, []
    told.append(entry.means)
    if entry.ask.rstrip("?. ").casefold() != entry.means.rstrip("?. ").casefold():
        told.append(entry.ask)
    if units := units_of(fact.measure):
        told.append(f"Units: {', '.join(units)}.")
    told = [one for one in told if one]
    return {"description": " ".join(told), "markdownDescription": "\n\n".join(told)}


def _ways(fact: Fact) -> list[dict[str, Any]]:
    ways: list[dict[str, Any]]
    if fact.measure == "yes_no":
        ways = [{"enum": ["yes", "no"]}, {"type": "boolean"}, {"type": "string", "pattern": YES_NO}]
        spelt = [{"type": "string", "pattern": words_pattern(fact.also_written)}] if fact.also_written else []
        return [*ways, *spelt]
    if fact.measure == "text":
        return [text_schema("")]
    below = "" if fact.measure == "day" or not _may_be_below_nothing(fact) else "_of_either_sign"
    ways = [{"$ref": f"#/$defs/a_{fact.measure}{below}"}]
    return [*ways, _number(fact)] if fact.measure in _PLAIN_NUMBERS else ways


def scalar_definitions() -> dict[str, Any]:
    """Return what `fact_schema` refers to: each measure once, with an example."""
    made: dict[str, Any] = {"a_day": {"anyOf": [_written("day", DAY), {"type": "integer", **_YEARS}]}}
    for dimension in dict.fromkeys((*(unit.dimension for unit in UNITS.values()), *_PLAIN_NUMBERS)):
        made[f"a_{dimension}"] = _written(dimension, quantity_pattern(dimension, below_nothing=False))
        either = quantity_pattern(dimension, below_nothing=True)
        made[f"a_{dimension}_of_either_sign"] = _written(dimension, either)
    return made


def _written(measure: str, pattern: str) -> dict[str, Any]:
    return {"type": "string", "pattern": pattern, "examples": [example_of(measure)]}


_PLAIN_NUMBERS = ("count", "share", "share_per_hour")
"""Measures of which a number without a unit may be written."""
_YEARS = {"minimum": 1000, "maximum": 9999}


def _may_be_below_nothing(fact: Fact) -> bool:
    if fact.measure == "temperature":  # its ends are kelvin, where even frost is above nought
        return True
    least = fact.range.least if fact.range is not None else None
    return fact.entry.by_size or not (fact.measure in _NEVER_NEGATIVE or (least is not None and least.lo >= 0))


def _number(fact: Fact) -> dict[str, Any]:
    """Return what a number without a unit may be: these have their ends in the same measure."""
    ends = fact.range
    told: dict[str, Any] = {"type": "integer" if ends is not None and ends.whole else "number"}
    for key, end in (("minimum", ends and ends.least), ("maximum", ends and ends.greatest)):
        told |= {key: end.lo} if isinstance(end, Interval) else {}
    return told


def _words(fact: Fact) -> list[dict[str, Any]]:
    """The words, each with its meaning; then other spellings, by patterns, which an editor does not offer."""
    offered = [{"const": w, "description": m} if m else {"const": w} for w, m in fact.words.items()]
    spelt = [*fact.words, *fact.also_written]
    as_read = [_as_read(word) for word in spelt if _as_read(word) is not None]
    typed = [{"enum": list(dict.fromkeys(as_read))}] if as_read else []
    spelling = {"type": "string", "pattern": words_pattern(dict.fromkeys(spelt))}
    return [*offered, *typed, spelling, {"type": "string", "pattern": UNKNOWN}]


def _as_read(word: str) -> int | bool | None:
    """Return what a reader of YAML makes of a word that looks like a number or a yes."""
    return int(word) if _PLAIN.fullmatch(word) else {"true": True, "false": False}.get(word.casefold())
