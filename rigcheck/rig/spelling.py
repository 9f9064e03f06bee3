"""What may be written for a fact, in words: its words, or a quantity in its units with an example."""

from __future__ import annotations

from rigcheck.quantity.notation import NotRead, example_of
from rigcheck.quantity.units import units_of
from rigcheck.rig.fact import Fact

__all__ = ["what_to_write"]


def what_to_write(fact: Fact) -> str:
    """Return what may be written for a fact: its words, or a quantity in its units with an example."""
    none = ", or none" if fact.entry.may_be_none and "none" not in fact.words else ""
    if fact.measure == "words":
        return " | ".join(fact.words) + none
    if fact.measure == "several_words":
        return f"one or more of: {', '.join(fact.words)}"
    if fact.measure == "yes_no":
        return f"yes | no{none}"
    if fact.measure == "text":
        return f"{fact.entry.example or 'text'}{none}"
    units = units_of(fact.measure)
    inside = f" (in {', '.join(units)})" if units else ""
    return f"{_example(fact)}{inside}{none}"


def _example(fact: Fact) -> str:
    """Return a number that could be meant: 15 m is none of a bore."""
    if fact.entry.example:
        return fact.entry.example
    example = example_of(fact.measure)
    ends = (*fact.entry.likely, fact.entry.greatest, fact.entry.least)
    return next((one for one in (example, *ends) if one and _could_be_meant(fact, one)), example)


def _could_be_meant(fact: Fact, text: str) -> bool:
    try:
        return fact.is_usual(fact.read(text))
    except NotRead:
        return False
