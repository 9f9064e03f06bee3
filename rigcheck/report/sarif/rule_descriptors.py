"""Rules and steps of procedures as the rule descriptors of a SARIF log (SARIF 2.1.0, 3.49).

A source is told in words: a descriptor has no `helpUri`, as none is published for a rule.
"""

from __future__ import annotations

import re
from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from typing import Any

from rigcheck.report.markdown import plain_words
from rigcheck.report.sarif.parts import BRACES, message
from rigcheck.report.text.inspection_text import CAUTION, source_words
from rigcheck.rules.documents import Source
from rigcheck.rules.rule import Rule, Signal
from rigcheck.rules.steps import Procedure, Step

__all__ = [
    "LEFT_OUT",
    "LEVELS",
    "NOTHING_FOUND",
    "NO_LEAVE",
    "OPEN_QUESTIONS",
    "notice_descriptors",
    "rule_descriptors",
]

NOTHING_FOUND = "nothing-found"
"""The id of the result of a rig with nothing against it."""
NO_LEAVE = f"Nothing was found against it, and that alone is no leave. {CAUTION}"
"""What is said of such a rig: a report without an entry would read as a rig that passed."""

OPEN_QUESTIONS, LEFT_OUT = "open-questions", "left-out"
"""The ids of the results that stand for what is not listed one by one."""
_OPEN = "Questions are open: what nobody has looked at or written down is not shown."
_MORE = "The report would be too long: there is more than it tells."

LEVELS: Mapping[Signal, str] = {"danger": "error", "warning": "error", "caution": "warning", "notice": "note"}
"""The level that each signal word becomes."""
_NOTICED = (
    ("file-not-read", "A file could not be read, so nothing in it was judged.", "Write it as the message says."),
    (
        "since-an-earlier-report",
        "Findings are compared with an earlier report; what stands in it still holds its rig, and not the run.",
        "See whether what was known is put right.",
    ),
    ("laid-on-top", "A folder of your own changes what ships.", "See whether the reason given still stands."),
)
_INSPECT_AGAIN = "Put right what the inspection of the rig found, and inspect it again."
_NAMED = re.compile(r"\{(\w+)\}")


def notice_descriptors() -> Iterator[dict[str, Any]]:
    """Yield a descriptor for everything that can be noticed about a run, not about a rig."""
    for name, told, help_text in _NOTICED:
        described = {"shortDescription": message(told), "fullDescription": message(told), "help": message(help_text)}
        yield {"id": name, **described}


def rule_descriptors(
    rules: Mapping[str, Rule], procedures: Iterable[Procedure], met: Container[str]
) -> Iterator[dict[str, Any]]:
    """Yield a descriptor for every rule that some result names: `met` has their ids; those of all are never wanted."""
    for name, told in ((NOTHING_FOUND, NO_LEAVE), (OPEN_QUESTIONS, _OPEN), (LEFT_OUT, _MORE)):
        yield {"id": name, "shortDescription": message(told), "help": message(CAUTION)}
    for rule in (rule for name, rule in rules.items() if name in met):
        yield _descriptor(rule.name, rule.claim, rule.harm, rule.put_right, rule.sources, rule.signal)
    for procedure in procedures:
        yield {
            "id": f"procedures/{procedure.name}",
            "shortDescription": message(f"Nothing holds the rig when this begins: {procedure.title}."),
            "fullDescription": message(procedure.means),
            "help": message(f"{_INSPECT_AGAIN} {CAUTION}"),
        }
        for step in procedure.steps.values():
            name = f"procedures/{procedure.name}/{step.name}"
            if name in met:
                yield _descriptor(name, _done(step), step.hazard, step.put_right, step.sources, step.signal)


def _descriptor(
    name: str, claim: str, harm: str, put_right: str, sources: Sequence[Source], signal: Signal
) -> dict[str, Any]:
    drawn = source_words(sources)
    help_text = message(f"{put_right} Drawn from: {drawn} {CAUTION}")
    told = {"Must be": claim, "Why": harm, "Do": put_right, "Drawn from": drawn}
    said = (*(f"**{what}:** {plain_words(text)}" for what, text in told.items()), CAUTION)
    return {
        "id": name,
        "shortDescription": message(f"Must be: {claim}"),  # a list of alerts is headed by it
        "fullDescription": message(f"Must be: {claim} {harm}"),
        "help": help_text | {"markdown": "\n\n".join(said).translate(BRACES)},
        "defaultConfiguration": {"level": LEVELS[signal]},
        "properties": {"signal": signal.upper()},
    }


def _done(step: Step) -> str:
    """Return what a step asks for, of any rig: each rig has things and values of its own."""
    named = {"thing": step.about.name if step.about else "rig"}
    named |= {value.name: f"the stated {value.fact.label}" for value in step.values.values()}
    return _NAMED.sub(lambda found: named.get(found[1], found[1].replace("_", " ")), step.do)
