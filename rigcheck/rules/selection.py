"""Rules of a pack chosen by what they are about: by kind of thing, fact, local code and signal word."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator

from msgspec import Struct

from rigcheck.condition.named_facts import Named, named_facts
from rigcheck.rig.vocabulary import Kind
from rigcheck.rules.pack import Pack
from rigcheck.rules.rule import Rule
from rigcheck.text.faults import nearest_word

__all__ = ["Selection", "UnknownWord", "choose_rules"]


class UnknownWord(LookupError):
    """A kind or a fact that nobody knows; `near` is the nearest that is known, or empty."""

    def __init__(self, read: str, near: str) -> None:
        super().__init__(read)
        self.near = near


class Selection(Struct, frozen=True):
    """What rules are chosen by; what is empty chooses all."""

    about: str = ""
    fact: str = ""
    local_code: str = ""
    signals: Collection[str] = ()


def choose_rules(rules: Iterable[Rule], selection: Selection, pack: Pack) -> list[Rule]:
    """Return the rules that a selection takes, in their order. Raises `UnknownWord`."""
    kind = _kind(selection.about, pack) if selection.about else None
    fact = selection.fact.replace(" ", "_")
    if fact:
        _check_fact(fact, kind, pack)
    return [rule for rule in rules if _taken(rule, selection, pack) and _speaks_of(rule, kind, fact, pack)]


def _kind(name: str, pack: Pack) -> Kind:
    found = pack.vocabulary.looked_at.get(name) or pack.vocabulary.by_key.get(name)
    if found is None:
        raise UnknownWord(f"no kind of thing is called {name!r}", nearest_word(name, pack.vocabulary.looked_at))
    return found


def _check_fact(name: str, kind: Kind | None, pack: Pack) -> None:
    kinds = [kind] if kind is not None else [*pack.vocabulary.kinds.values()]
    known = {one for each in kinds for one in (*each.facts, *each.related, *each.holds)}
    if name not in known:
        of = f" of {kind.name}" if kind is not None else ""
        raise UnknownWord(f"no fact{of} is called {name!r}", nearest_word(name, known))


def _taken(rule: Rule, selection: Selection, pack: Pack) -> bool:
    under = not selection.local_code or not rule.under or selection.local_code in rule.under
    return under and (not selection.signals or rule.signal in selection.signals)


def _speaks_of(rule: Rule, kind: Kind | None, fact: str, pack: Pack) -> bool:
    """Whether a rule looks at a kind of thing, or names a fact of it on its way over other things."""
    if kind is None and not fact:
        return True
    named = [*_named(rule, pack)]
    if fact:
        counted = {fact} | _counted_from(fact, kind, pack)
        return any(name in counted and (kind is None or owner in kind.lineage) for owner, name in named)
    assert kind is not None
    return rule.kind.name in kind.lineage or any(owner in kind.lineage for owner, _ in named)


def _counted_from(day: str, kind: Kind | None, pack: Pack) -> set[str]:
    """Return the facts that are counted from a day: rules speak of an age where somebody writes `made`."""
    kinds = [kind] if kind is not None else [*pack.vocabulary.kinds.values()]
    return {name for each in kinds for name, fact in each.facts.items() if fact.entry.from_day == day}


def _named(rule: Rule, pack: Pack) -> Iterator[Named]:
    for schema in (rule.concerns, rule.holds):
        if schema is not None:
            yield from named_facts(schema, rule.kind, pack.vocabulary)
