"""Values, names of facts and lists of words as a person would say them."""

from __future__ import annotations

from collections.abc import Container, Iterator
from typing import Any

from rigcheck.quantity.alternatives import OneOf
from rigcheck.quantity.interval import Interval
from rigcheck.quantity.wording import said_in_full
from rigcheck.rig.thing import MISSING, Thing

__all__ = ["fact_words", "listed_words", "relation_words", "step_words", "value_words"]


def value_words(value: Any) -> str:
    """Return a value as a person would write it."""
    if value is MISSING:
        return "not stated"
    if value is None:
        return "none"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Interval):
        return said_in_full(value.text)
    if isinstance(value, Thing):
        return value.label
    if isinstance(value, OneOf):
        return listed_words([value_words(one) for one in value.values], "or")
    if isinstance(value, (tuple, list)):
        return ", ".join(dict.fromkeys(map(value_words, value))) or "none"
    return str(value)


def listed_words(words: list[str], joint: str) -> str:
    """Return 'a', 'a or b', 'a, b or c'."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {joint} {words[-1]}"


_SPOKEN = {"downstream": "part after it", "upstream": "part before it"}


def fact_words(name: str) -> str:
    """Return the name of a fact as it is said."""
    return _SPOKEN.get(name, name.replace("_", " "))


def relation_words(thing: Thing, other: Thing, facts: Container[str]) -> str:
    """Return what another thing is to a thing by one of `facts`, as 'part before it', or nothing."""
    return next(_leading(thing, other, facts), "")


def _leading(thing: Thing, other: Thing, facts: Container[str]) -> Iterator[str]:
    """Yield the facts of a thing that lead to another, the nearest first."""
    found = ((name, value) for name, value in thing.facts.items() if name in facts)
    related = [(name, value) for name, value in found if isinstance(value, (Thing, tuple))]
    yield from (fact_words(name) for name, value in related if value is other)
    yield from (fact_words(name) for name, value in related if _holds(value, other))
    for name, value in related:
        if isinstance(value, Thing):
            inner = (key for key, held in value.facts.items() if key in facts and _holds(held, other))
            yield from (step_words(fact_words(name), key) for key in inner)


def step_words(before: str, name: str) -> str:
    """Return a fact of what a fact leads to: 'filter of the inlet', and 'part after that' of the part after it."""
    if fact_words(name) == before and before in _SPOKEN.values():
        return f"{before.removesuffix('it')}that"
    return f"{fact_words(name)} of the {before}"


def _holds(value: Any, other: Thing) -> bool:
    return value is other or (isinstance(value, tuple) and any(one is other for one in value))
