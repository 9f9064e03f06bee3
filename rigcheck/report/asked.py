"""The questions of an inspection, put together as a person would ask them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from typing import Literal

from rigcheck.inspection import Question
from rigcheck.rules.rule import GRAVITY, SIGNALS, Signal
from rigcheck.spoken_value import counted

__all__ = ["Told", "alike", "asked_words", "is_told", "untold_words", "waiting_words", "whose_words"]

_MOST_RULES = 4  # named beside a question; the JSON report names them all


def alike(questions: Iterable[Question]) -> list[list[Question]]:
    """Return the questions that read the same of several things as one; eleven joints are asked after once."""
    groups: dict[tuple[str, str, str, bool, str], list[Question]] = {}
    for question in questions:
        key = (question.fact, question.ask, question.too_close, question.left_open, question.place.file)
        groups.setdefault(key, []).append(question)
    return list(groups.values())


Told = Signal | Literal["all", "none"]
"""Which questions are told to people: those that hold up a rule of this signal word or a graver one."""


def is_told(signal: Signal, told: Told) -> bool:
    """Return whether a question is told that holds up rules of a signal word at the most."""
    return told == "all" or (told != "none" and GRAVITY[signal] >= GRAVITY[told])


def untold_words(signals: Iterable[Signal], told: Told, noun: str = "open question") -> str:
    """Return how many questions are not told, by signal word; empty where all are."""
    count = Counter(signal for signal in signals if not is_told(signal, told))
    if not count:
        return ""
    by_word = ", ".join(f"{count[signal]} {signal.upper()}" for signal in SIGNALS if count[signal])
    return f"{counted(count.total(), noun)} not listed here ({by_word}): --questions all lists them."


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
