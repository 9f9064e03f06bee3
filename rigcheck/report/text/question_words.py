"""The questions of an inspection, put together as a person would ask them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from typing import Literal

from rigcheck.judge.inspection import Question
from rigcheck.quantity.wording import counted
from rigcheck.rules.rule import GRAVITY, SIGNALS, Signal

__all__ = ["Told", "asked_words", "is_told", "open_words", "untold_words", "waiting_words", "whose_words"]

_MOST_RULES = 4  # named beside a question; the JSON report names them all


Told = Signal | Literal["all", "none"]
"""Which questions are told to people: those that hold up a rule of this signal word or a graver one."""


def is_told(signal: Signal, told: Told) -> bool:
    """Return whether a question is told that holds up rules of a signal word at the most."""
    return told == "all" or (told != "none" and GRAVITY[signal] >= GRAVITY[told])


def open_words(groups: Sequence[Sequence[Question]]) -> str:
    """Return how many questions are open, and about how many facts: one question may be asked of several things."""
    facts = sum(map(len, groups))
    return f"{counted(len(groups), 'question')} about {counted(facts, 'fact')}"


def untold_words(groups: Iterable[Sequence[Question]], told: Told) -> str:
    """Return how many questions are not told, by signal word; empty where all are."""
    count = Counter(group[0].signal for group in groups if not is_told(group[0].signal, told))
    if not count:
        return ""
    by_word = ", ".join(f"{count[signal]} {signal.upper()}" for signal in SIGNALS if count[signal])
    return f"{counted(count.total(), 'open question')} not listed here ({by_word}): --questions all lists them."


def asked_words(group: list[Question]) -> str:
    """Return what is asked."""
    first = group[0]
    close = f"too close to call, {first.too_close}. Measure more closely."
    left = " (left open for the site)" if first.left_open else ""
    return f"{close if first.too_close else first.ask}{left}"


def waiting_words(group: list[Question]) -> str:
    """Return the rules that wait for the answer, the gravest first, and how many more."""
    rules = dict.fromkeys(waiting.rule for question in group for waiting in question.waiting)
    names = [*rules][:_MOST_RULES] + [f"{len(rules) - _MOST_RULES} more"] * (len(rules) > _MOST_RULES)
    return ", ".join(names)


def whose_words(group: list[Question], file: str) -> str:
    """Return the things that are asked after, with their lines; a record also asks after its rig's file."""
    lines = [str(question.place.line) for question in group]
    other = "" if group[0].place.file == file else f" of {group[0].place.file}"
    if len(group) == 1:
        return f"{group[0].thing} (line {lines[0]}{other})"
    if len(group) == 2:
        numbered = f"line {lines[0]}" if lines[0] == lines[1] else f"lines {lines[0]} and {lines[1]}"
        return f"{group[0].thing}, {group[1].thing} ({numbered}{other})"
    return f"{group[0].thing} and {len(group) - 1} more (lines {', '.join(dict.fromkeys(lines))}{other})"
