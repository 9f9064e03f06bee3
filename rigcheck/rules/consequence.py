"""What follows from stated facts: when a condition is met, facts of the same thing are known with it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from msgspec import Struct

from rigcheck.condition.tree import FactName
from rigcheck.quantity.notation import NotRead
from rigcheck.rig.fact import Value
from rigcheck.rig.vocabulary import Kind
from rigcheck.rules.rule import Rule
from rigcheck.text.faults import Fault, nearest_word, shown_text, with_article
from rigcheck.text.place import Place
from rigcheck.text.yamlfile import Mapping as MappingNode
from rigcheck.text.yamlfile import Node, Scalar

__all__ = ["FOLLOWS", "Consequence", "Derived", "How", "derived_facts"]

FOLLOWS = "follows"
"""The folder of consequences, and the beginning of their names."""

How = Literal["is", "at_least", "at_most"]
_HOW: Mapping[str, How] = {"fact": "is", "at_least": "at_least", "at_most": "at_most"}


class Derived(Struct, frozen=True):
    """A fact that follows: the value that it is, or the fact (by its path) that it is, or is at least or at most."""

    name: str
    how: How
    value: Value = None
    path: tuple[str, ...] = ()


class Consequence(Struct, frozen=True, eq=False):
    """One consequence: the condition and the cases stand in `rule` (its claim is the sentence), `then` what follows.

    `gives_way`: it says what is so as long as nobody states the fact, and disagrees with nobody who does.
    """

    rule: Rule
    then: tuple[Derived, ...]
    gives_way: bool = False


def derived_facts(node: Node, kind: Kind, file: str) -> tuple[list[Derived], list[Fault]]:
    """Return the facts that a `then:` names, and what is wrong with it."""
    if not isinstance(node, MappingNode) or not node.items:
        return [], [_fault(node, file, "Nothing follows.", "Write 'then:' and facts: '{ceiling_height: none}'.")]
    made: list[Derived] = []
    faults: list[Fault] = []
    for name, written in node.items.items():
        fact = kind.facts.get(name)
        if fact is None or name in ("kind", "name"):
            read = f"{shown_text(name)} is nothing known of {with_article(kind.name)}."
            faults.append(_fault(node.keys[name], file, read, "Write a fact of it.", nearest_word(name, kind.facts)))
        elif isinstance(written, Scalar):
            try:
                made.append(Derived(name, "is", fact.read(written.text)))
            except NotRead as error:
                faults.append(_fault(written, file, f"{name}: {error.wrong}", error.write))
        else:
            found = _led_to(written)
            if found is None:
                write = "Write one value, or '{fact: …}', '{at_least: …}', '{at_most: …}' with the path of a fact."
                faults.append(_fault(written, file, f"{name}: this cannot be read.", write))
            else:
                made.append(Derived(name, found[0], path=found[1]))
    return made, faults


def _led_to(node: Node) -> tuple[How, tuple[str, ...]] | None:
    if not isinstance(node, MappingNode) or len(node.items) != 1:
        return None
    key, value = next(iter(node.items.items()))
    return (
        (_HOW[key], FactName(tuple(value.text.split("."))).path) if key in _HOW and isinstance(value, Scalar) else None
    )


def _fault(node: Node, file: str, read: str, write: str, near: str = "") -> Fault:
    return Fault(Place(file, node.line, node.column), read, write, near)
