"""A condition that only asks whether a value is one of some words: the commonest of all.

Such a one is judged where the fact is looked up, without a call of its own.
"""

from __future__ import annotations

from typing import Any, NamedTuple

from rigcheck.condition.tree import Clause, Literal, Schema
from rigcheck.quantity.truth import FALSE, TRUE, Truth

__all__ = ["WORD_TYPES", "Word", "WordChoice", "word_choice"]

Word = str | bool | None
WORD_TYPES = frozenset((str, bool, type(None)))
"""A value of another type is none of the words: 1 is not true, though Python finds them equal."""


class WordChoice(NamedTuple):
    """What comes out for a value that is among the words, and for one that is not."""

    words: frozenset[Word]
    inside: Truth
    outside: Truth


def word_choice(schema: Schema) -> WordChoice | None:
    """Return the test that a schema comes to, if it is no more than one of words."""
    if len(schema.clauses) != 1:
        return None
    clause = schema.clauses[0]
    if clause.keyword == "not":
        inner = word_choice(clause.operand)
        return None if inner is None else WordChoice(inner.words, inner.outside, inner.inside)
    words = _words_of(clause)
    return None if words is None else WordChoice(words, TRUE, FALSE)


def _words_of(clause: Clause) -> frozenset[Word] | None:
    choices = {"const": (clause.operand,), "enum": clause.operand}.get(clause.keyword, ())
    values: list[Any] = [choice.value for choice in choices if isinstance(choice, Literal)]
    plain = values and len(values) == len(choices) and all(type(value) in WORD_TYPES for value in values)
    return frozenset(values) if plain else None
