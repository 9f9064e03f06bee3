"""The vocabulary for people: what can be written of each kind of thing, in which words or units."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rigcheck.report.text.layout import Line, labelled, wrapped
from rigcheck.rig.fact import Fact
from rigcheck.rig.spelling import what_to_write
from rigcheck.rig.vocabulary import Kind
from rigcheck.rules.rule import Rule

__all__ = ["fact_lines", "kind_lines", "kinds_lines"]

_COLUMN = 12
_LASTS = {
    "": "until the thing is changed",
    "again": "until it is done again",
    "job": "for the job",
    "day": "for the day",
    "deed": "for the day on which it was done",
}
_MOST_RULES = 12


def kinds_lines(kinds: Iterable[Kind], width: int) -> Iterator[Line]:
    """Yield every kind of thing, with what it is."""
    for kind in sorted(kinds, key=lambda kind: kind.key):
        yield from labelled(kind.key, kind.means, width, column=22)


def kind_lines(kind: Kind, width: int) -> Iterator[Line]:
    """Yield the facts that can be written of a kind: key, question, what to write."""
    yield from wrapped(f"{kind.key}: {kind.means}", width, style="head")
    for fact in kind.facts.values():
        if not fact.computed:
            yield Line()
            yield from labelled(fact.name, fact.entry.ask, width, column=max(_COLUMN, len(fact.name) + 2))
            yield from labelled("  write", what_to_write(fact), width, column=_COLUMN, label_style="quiet")
    held = list(kind.holds)
    if held:
        yield Line()
        yield from labelled("inside it", ", ".join(held), width, column=_COLUMN, label_style="quiet")


def fact_lines(kind: Kind, fact: Fact, rules: Iterable[Rule], width: int) -> Iterator[Line]:
    """Yield one fact: its question, each word with its meaning, how long it lasts, the rules that read it."""
    yield from wrapped(f"{kind.key}, {fact.name}: {fact.entry.means}", width, style="head")
    rows = [("asked", fact.entry.ask), ("write", what_to_write(fact))]
    rows += [("", f"{word}: {means}") for word, means in fact.words.items() if means]
    spellings = [f"{other} for {word}" for other, word in fact.entry.also_written.items()]
    rows += [("read too", ", ".join(spellings))] if spellings else []
    rows += [("", "unknown: nobody knows, and it stays asked for")]
    rows += [("counts", f"{_LASTS[fact.entry.lasts]}, from the day on which it was seen")]
    listed = list(rules)
    rows += [("read by", f"{rule.name} ({rule.signal.upper()})") for rule in listed[:_MOST_RULES]]
    rows += [("", f"and {len(listed) - _MOST_RULES} more")] if len(listed) > _MOST_RULES else []
    before = ""
    for label, text in rows:
        yield from labelled("" if label == before else label, text, width, column=_COLUMN, label_style="quiet")
        before = label
