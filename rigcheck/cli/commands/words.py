"""`rigcheck words`: what can be written of each kind of thing, for people."""

from __future__ import annotations

import sys
from argparse import Namespace
from collections.abc import Iterator

from rigcheck.cli.console import Console, ProblemFound
from rigcheck.cli.pack_option import chosen_pack
from rigcheck.report.text.layout import Line
from rigcheck.report.text.overlay_lines import overlay_lines
from rigcheck.report.text.word_list import fact_lines, kind_lines, kinds_lines
from rigcheck.rig.fact import Fact
from rigcheck.rig.vocabulary import Kind
from rigcheck.rules.by_fact import touching
from rigcheck.rules.limits import LOCAL_CODES
from rigcheck.rules.pack import Pack
from rigcheck.rules.rule import GRAVITY, Rule
from rigcheck.text.faults import nearest_word

__all__ = ["run"]

_COLUMN = 12


def run(parsed: Namespace) -> int:
    """List the kinds, the facts of one kind, or one fact. Raises `ProblemFound`."""
    pack, console = chosen_pack(parsed), Console(sys.stdout)
    lines = _lines(pack, parsed.kind, parsed.fact, console.width)
    console.show(overlay_lines(pack.laid, console.width, _COLUMN))
    console.show(lines)
    return 0


def _lines(pack: Pack, kind_key: str | None, fact_name: str | None, width: int) -> Iterator[Line]:
    if kind_key is None:
        return kinds_lines(pack.vocabulary.kinds.values(), width)
    kind = _kind(pack, kind_key)
    if fact_name is None:
        return kind_lines(kind, width)
    fact = _fact(kind, fact_name)
    return fact_lines(kind, fact, _rules_on(pack, kind, fact), width)


def _kind(pack: Pack, key: str) -> Kind:
    by_key = pack.vocabulary.by_key
    found = by_key.get(key) or pack.vocabulary.kinds.get(key)
    if found is None:
        near = nearest_word(key, by_key)
        raise ProblemFound(f"no kind of thing is called {key!r}.{f' Nearest: {near}.' if near else ''}")
    return found


def _fact(kind: Kind, name: str) -> Fact:
    stated = {key: fact for key, fact in kind.facts.items() if not fact.computed}
    found = stated.get(name.replace(" ", "_"))
    if found is None:
        near = nearest_word(name, stated)
        hint = f" Nearest: {near}." if near else f" 'rigcheck words {kind.key}' lists what can."
        raise ProblemFound(f"{name!r} cannot be written of a {kind.name}.{hint}")
    return found


def _rules_on(pack: Pack, kind: Kind, fact: Fact) -> list[Rule]:
    found = {rule.name: rule for rule in touching(pack, LOCAL_CODES).of_fact(kind, fact.name)}
    return sorted(found.values(), key=lambda rule: (-GRAVITY[rule.signal], rule.name))
