"""Rules and steps of procedures as the rule descriptors of a SARIF log (SARIF 2.1.0, 3.49).

A source is told in words: a descriptor has no `helpUri`, as none is published for a rule.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from rigcheck.procedure.steps import Procedure, Step
from rigcheck.report.sarif.parts import message
from rigcheck.report.text.inspection_text import CAUTION, source_words
from rigcheck.rules.rule import Rule, Signal

__all__ = ["LEVELS", "notice_descriptors", "rule_descriptors"]

LEVELS: Mapping[Signal, str] = {"danger": "error", "warning": "error", "caution": "warning", "notice": "note"}
"""The level that each signal word becomes."""
_NOTICED = (
    ("file-not-read", "A file could not be read, so nothing in it was judged.", "Write it as the message says."),
    ("laid-on-top", "A folder of your own changes what ships.", "See whether the reason given still stands."),
)
_INSPECT_AGAIN = "Put right what the inspection of the rig found, and inspect it again."
_BRACES = re.compile(r"\{(\w+)\}")


def notice_descriptors() -> Iterator[dict[str, Any]]:
    """Yield a descriptor for everything that can be noticed about a run, not about a rig."""
    for name, told, help_text in _NOTICED:
        described = {"shortDescription": message(told), "fullDescription": message(told), "help": message(help_text)}
        yield {"id": name, **described}


def rule_descriptors(rules: Iterable[Rule], procedures: Iterable[Procedure]) -> Iterator[dict[str, Any]]:
    """Yield a descriptor for every rule that a result can name."""
    for rule in rules:
        told = f"{rule.put_right} Drawn from: {source_words(rule.sources)} {CAUTION}"
        yield _descriptor(rule.name, rule.claim, rule.harm, told, rule.signal)
    for procedure in procedures:
        yield {
            "id": f"procedures/{procedure.name}",
            "shortDescription": message(f"Nothing holds the rig when this begins: {procedure.title}."),
            "fullDescription": message(procedure.means),
            "help": message(f"{_INSPECT_AGAIN} {CAUTION}"),
        }
        for step in procedure.steps.values():
            told = f"{step.put_right} Drawn from: {source_words(step.sources)} {CAUTION}"
            yield _descriptor(f"procedures/{procedure.name}/{step.name}", _done(step), step.hazard, told, step.signal)


def _descriptor(name: str, claim: str, harm: str, told: str, signal: Signal) -> dict[str, Any]:
    return {
        "id": name,
        "shortDescription": message(claim),
        "fullDescription": message(f"{claim} {harm}"),
        "help": message(told),
        "defaultConfiguration": {"level": LEVELS[signal]},
        "properties": {"signal": signal.upper()},
    }


def _done(step: Step) -> str:
    """Return what a step asks for, of any rig: each rig has things and values of its own."""
    named = {"thing": step.about.name if step.about else "rig"}
    named |= {value.name: f"the stated {value.fact.label}" for value in step.values.values()}
    return _BRACES.sub(lambda found: named.get(found[1], found[1].replace("_", " ")), step.do)
