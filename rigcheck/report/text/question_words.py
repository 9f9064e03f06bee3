"""The questions of an inspection, put together as a person would ask them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from typing import Literal

from msgspec import Struct

from rigcheck.judge.causes import alike_questions
from rigcheck.judge.inspection import Question
from rigcheck.quantity.wording import counted
from rigcheck.rules.rule import GRAVITY, SIGNALS, Signal
from rigcheck.text.place import Place

__all__ = [
    "LookRow",
    "Told",
    "asked_words",
    "lines_words",
    "many_told",
    "open_words",
    "sorted_out",
    "told_rows",
    "unsaid_words",
    "untold_words",
    "waiting_words",
    "where_words",
    "whose_words",
    "write_words",
]

_MOST_RULES = 4  # named beside a question; the JSON report names them all
_MANY = 15  # questions; more are told look by look
_MOST_LOOKS = 12
_FIRST_LOOKS = 3
_MOST_WORDS = 12  # of a choice that are told; `rigcheck words` tells them all
_FEW_WORDS = 4
_MOST_KEYS = 6
_MOST_PLACES = 2
_MOST_THINGS = 3

Told = Signal | Literal["looks", "all", "none"]
"""Which questions are told to people: those that hold up a rule of this signal word or a graver one.

`looks`: all while they are few, or else the gravest acts of looking in their place, a row for each.
"""

_Group = list[Question]


class LookRow(Struct, frozen=True):
    """One act of looking with what it would answer: the things, the gravest question, the keys that are asked for."""

    title: str
    signal: Signal
    things: _Group
    asked: str
    write: str


def many_told(groups: Sequence[_Group], told: Told) -> bool:
    """Whether so many questions are told that what holds the rig is told before them."""
    return sum(_is_told(group[0].signal, told) for group in groups) > _MANY


def told_rows(groups: Sequence[_Group], told: Told) -> tuple[list[LookRow], list[_Group]]:
    """Return the acts of looking that are told in place of their questions, and the questions that are told."""
    if told != "looks" or len(groups) <= _MANY:
        return [], [group for group in groups if _is_told(group[0].signal, told)]
    close = [group for group in groups if group[0].too_close]  # something is known: what, is told in full
    by_look: dict[str, _Group] = {}
    for one in (one for group in groups if not group[0].too_close for one in group):
        by_look.setdefault(one.look or one.thing, []).append(one)
    return [_row(title, asked) for title, asked in by_look.items()][:_MOST_LOOKS], close


def _row(title: str, questions: _Group) -> LookRow:
    asked = alike_questions(questions)
    things = list({one.at.path or one.thing: one for one in questions}.values())
    keys = list(dict.fromkeys(one.fact for one in questions))
    more = f" and {len(keys) - _MOST_KEYS} more" if len(keys) > _MOST_KEYS else ""
    told = f"{counted(len(asked), 'question')}: {', '.join(keys[:_MOST_KEYS])}{more}"
    written = f"{write_words(asked[0][0], _FEW_WORDS)}{where_words(asked[0], 1)}"
    return LookRow(title, questions[0].signal, things, told, written)


def _is_told(signal: Signal, told: Told) -> bool:
    if told == "all" or told == "looks":
        return True
    return told != "none" and GRAVITY[signal] >= GRAVITY[told]


def open_words(groups: Sequence[Sequence[Question]]) -> str:
    """Return how many questions are open, and about how many facts: one question may be asked of several things."""
    facts = sum(map(len, groups))
    return f"{counted(len(groups), 'question')} about {counted(facts, 'fact')}"


def untold_words(groups: Iterable[_Group], told: Iterable[_Group], looks: Iterable[LookRow] = ()) -> str:
    """Return how many questions are not told, by signal word; empty where all are."""
    listed, titles = {id(group) for group in told}, {row.title for row in looks}
    left = [group for group in groups if id(group) not in listed]
    count = Counter(group[0].signal for group in left if not {one.look or one.thing for one in group} <= titles)
    if not count:
        return ""
    by_word = ", ".join(f"{count[signal]} {signal.upper()}" for signal in SIGNALS if count[signal])
    return f"{counted(count.total(), 'open question')} not listed here ({by_word}): --questions all lists them."


def sorted_out(questions: Sequence[Question], told: Told) -> tuple[_Group, _Group, str]:
    """Return the questions that a form for programs lists, all others, and what it says, once, of these."""
    groups = alike_questions(questions)
    rows, kept = told_rows(groups, told)
    listed = {id(question) for group in kept for question in group}
    first = f" Where to look first: {'; '.join(row.title for row in rows[:_FIRST_LOOKS])}." if rows else ""
    return (
        [one for one in questions if id(one) in listed],
        [one for one in questions if id(one) not in listed],
        f"{untold_words(groups, kept)}{first}",
    )


def asked_words(group: list[Question]) -> str:
    """Return what is asked."""
    first = group[0]
    close = f"too close to call, {first.too_close}. Measure more closely."
    left = " (left open for the site)" if first.left_open else ""
    return f"{close if first.too_close else first.ask}{left}"


def unsaid_words(questions: Iterable[Question]) -> list[str]:
    """Return what a record and its rig leave open, a sentence each; what is asked alike of several things is one."""
    return [f"{group[0].ask} {_unsaid(group[0])} ({_things(group)})." for group in alike_questions(questions)]


def _unsaid(question: Question) -> str:
    return question.too_close.rstrip(".") or "It was not said"


def _things(group: _Group) -> str:
    names = list(dict.fromkeys(question.thing for question in group))
    more = f"and {len(names) - _MOST_THINGS} more" if len(names) > _MOST_THINGS else ""
    return "; ".join([*names[:_MOST_THINGS], *filter(None, [more])])


def write_words(question: Question, most: int = _MOST_WORDS) -> str:
    """Return the key and what may be written for it; of a long choice the first words, and how many more.

    >>> from rigcheck.text.place import Place
    >>> write_words(Question("hose", "bore", "", Place("", 1, 1), (), write="15 mm (in mm, in)"))
    'bore: 15 mm (in mm, in)'
    """
    words = question.write.split(" | ")
    more = f" | and {len(words) - most} more (rigcheck words {question.kind.replace(' ', '_')} {question.fact})"
    shown = " | ".join(words[:most]) + (more if len(words) > most else "")
    return f"{question.fact}: {shown}" if shown else question.fact


def where_words(group: _Group, most: int = _MOST_PLACES) -> str:
    """Return where in the rig it is written, as looks name it; nothing for a step of a procedure."""
    paths = [one.at.path for one in group if one.at.path and ":" not in one.at.path]  # a withdrawal stands in no rig
    more = f" and {len(paths) - most} more" if len(paths) > most else ""
    return f", at {', '.join(paths[:most])}{more}" if paths else ""


def waiting_words(group: list[Question]) -> str:
    """Return the rules that wait for the answer, the gravest first, and how many more."""
    rules = dict.fromkeys(waiting.rule for question in group for waiting in question.waiting)
    names = [*rules][:_MOST_RULES] + [f"{len(rules) - _MOST_RULES} more"] * (len(rules) > _MOST_RULES)
    return ", ".join(names)


def whose_words(group: list[Question], file: str) -> str:
    """Return the things that are asked after, with their lines, and the file of those that stand in another."""
    lines = lines_words([question.place for question in group], file)
    if len(group) > 2:
        return f"{group[0].thing} and {len(group) - 1} more ({lines})"
    return f"{', '.join(question.thing for question in group)} ({lines})"


def lines_words(places: Iterable[Place], file: str, most: int | None = None) -> str:
    """Return on which lines things are written: 'line 4', 'lines 4, 19 and 7 more', 'line 61 of a-standard-rig.yaml'.

    `most`: how many lines of a file are named.
    """
    by_file: dict[str, dict[int, None]] = {}
    for place in places:
        by_file.setdefault(place.file, {})[place.line] = None
    told = []
    for other, found in by_file.items():
        lines = list(map(str, found))
        if most is not None and len(lines) > most:
            words = f"{', '.join(lines[:most])} and {len(lines) - most} more"
        else:
            words = (" and " if len(lines) == 2 else ", ").join(lines)
        told.append(f"{'line' if len(lines) == 1 else 'lines'} {words}{'' if other == file else f' of {other}'}")
    return ", ".join(told)
