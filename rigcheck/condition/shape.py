"""What a condition is about: the shape of the value at each place in it."""

from __future__ import annotations

from msgspec import Struct

from rigcheck.rig.fact import Fact
from rigcheck.rig.vocabulary import Kind, Vocabulary

__all__ = ["ListShape", "Shape", "ThingShape", "ValueShape", "shape_of"]


class ThingShape(Struct, frozen=True):
    """A thing of a kind."""

    kind: Kind


class ValueShape(Struct, frozen=True):
    """One value of a fact; of a fact of several words, one of the words where `item` is set."""

    fact: Fact
    item: bool = False

    @property
    def dimension(self) -> str:
        """The dimension of its numbers, or an empty string."""
        plain = ("words", "several_words", "text", "yes_no")
        return "" if self.fact.measure in plain else self.fact.measure


class ListShape(Struct, frozen=True):
    """A list of things, or the words of a fact of several words."""

    item: ThingShape | ValueShape


Shape = ThingShape | ValueShape | ListShape


def shape_of(kind: Kind, name: str, vocabulary: Vocabulary) -> Shape | None:
    """Return the shape of a fact or a related thing of a kind, or None if there is no such."""
    fact = kind.facts.get(name)
    if fact is not None:
        several = fact.measure == "several_words"
        return ListShape(ValueShape(fact, item=True)) if several else ValueShape(fact)
    entry = kind.related.get(name) or kind.holds.get(name)
    if entry is None:
        return None
    thing = ThingShape(vocabulary.kinds[entry.kind])
    return ListShape(thing) if entry.many else thing
