"""Findings put together by what they come from, and questions by what they ask: people are told of each once.

Nothing is left out: every finding is in exactly one cause, every question in one group.
Reports for programs tell each finding and each question by itself.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from msgspec import Struct
from msgspec.structs import replace

from rigcheck.judge.breach_wording import Found, without_owners
from rigcheck.judge.finding import Finding, Question
from rigcheck.rules.rule import GRAVITY
from rigcheck.text.place import Place

__all__ = ["Alike", "Cause", "alike_questions", "causes_of", "measured"]

_NAMED = 2


class Alike(Struct, frozen=True):
    """Findings of one rule that are told as one, in the order in which they were found."""

    findings: tuple[Finding, ...]

    @property
    def first(self) -> Finding:
        """The one that stands for all."""
        return self.findings[0]

    @property
    def called(self) -> str:
        """The things by name where they are few; or else the first ones, and how many more there are."""
        things = list(dict.fromkeys(finding.thing for finding in self.findings))
        if len(things) > _NAMED + 1:
            return f"{'; '.join(things[:_NAMED])} and {len(things) - _NAMED} more"
        return "; ".join(things)


class Cause(Struct, frozen=True):
    """What is told once: one rule broken by one statement, and `also` what else the same value breaks.

    The rules of `also` are no graver than the told one.
    """

    told: Alike
    also: tuple[Alike, ...] = ()

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Every finding of the cause, the told ones first."""
        return (*self.told.findings, *(finding for one in self.also for finding in one.findings))


def alike_questions(questions: Iterable[Question]) -> list[list[Question]]:
    """Return the questions that read the same of several things as one; eleven joints are asked after once."""
    groups: dict[tuple[str, str, str, bool, str], list[Question]] = {}
    for question in questions:
        key = (question.fact, question.ask, question.too_close, question.left_open, question.place.file)
        groups.setdefault(key, []).append(question)
    return list(groups.values())


_Key = tuple[Place, str, str]


def causes_of(findings: Iterable[Finding]) -> tuple[Cause, ...]:
    """Return findings by their causes; the gravest come first, if the findings do."""
    groups = [Alike(tuple(group)) for group in _same_statement(findings)]
    heads: dict[_Key | None, Alike] = {}
    for group in groups:
        if (found := _only_value(group.first)) is not None:
            heads.setdefault(_key(found), group)
    also: dict[int, list[Alike]] = {}
    for group in groups:
        head = next(_heads_of(group, heads), None)
        if head is not None:
            also.setdefault(id(head), []).append(group)
    folded = {id(group) for under in also.values() for group in under}
    told = (group for group in groups if id(group) not in folded)
    return tuple(_twins_as_one(Cause(group, tuple(also.get(id(group), ()))) for group in told))


def _twins_as_one(causes: Iterable[Cause]) -> Iterator[Cause]:
    """Yield causes, those of one rule that were found the same of several things as one."""
    twins: dict[object, list[Cause]] = {}
    for cause in causes:
        first = cause.told.first
        found = measured(first)
        same = (first.rule, first.required, first.put_right, first.conceded, without_owners(found))
        twins.setdefault(same if found and first.conceded is None else id(cause), []).append(cause)
    for group in twins.values():
        told = tuple(finding for cause in group for finding in cause.told.findings)
        yield Cause(Alike(told), tuple(_by_rule(one for cause in group for one in cause.also)))


def measured(finding: Finding) -> tuple[Found, ...]:
    """Return what was found without the names of neighbours: what is missing at one thing is at its twins."""
    plain = (replace(one, value="") if one.sort == "neighbour" else one for one in finding.found)
    return tuple(one for one in plain if one.value or one.bound)


def _same_statement(findings: Iterable[Finding]) -> Iterable[list[Finding]]:
    """Return findings in groups: of one rule, broken by one value that is written in one place."""
    groups: dict[object, list[Finding]] = {}
    for finding in findings:
        written = next((one for one in finding.found if one.place == finding.place and one.sort != "neighbour"), None)
        same = (finding.claim, finding.required, finding.put_right, finding.conceded)
        key = id(finding) if written is None else (finding.rule, _key(written), same)
        groups.setdefault(key, []).append(finding)
    return groups.values()


def _key(found: Found) -> _Key:
    return found.place, found.fact, found.value


def _only_value(finding: Finding) -> Found | None:
    """Return the value that alone breaks a rule, whatever else the rig says."""
    if len(finding.found) > 1 or finding.conceded is not None:
        return None
    return next((one for one in finding.found if one.sort != "neighbour"), None)


def _heads_of(group: Alike, heads: dict[_Key | None, Alike]) -> Iterator[Alike]:
    """Yield the graver findings that are made by a value which this one too was made by.

    What rests on something else as well is put under a quantity: a pressure set too high is too high for every
    part behind it. It is put under a word where all else are figures of the same thing, which only say how much:
    a joint that leaks, and how fast. A DANGER that rests on something else as well keeps its place.
    What only follows from a statement is made by that: who greased a joint has oil on it by the same deed.
    """
    finding = group.first
    if finding.conceded is not None:
        return
    for found in finding.found:
        head = heads.get(found.follows_from) or heads.get(_key(found))
        if head is None or head is group or GRAVITY[head.first.signal] < GRAVITY[finding.signal]:
            continue
        if len(finding.found) == 1 or (finding.signal != "danger" and (found.sort == "quantity" or _measures(finding))):
            yield head


def _measures(finding: Finding) -> bool:
    """Whether a finding rests on one statement of its thing, and else on figures of it."""
    stated = [found for found in finding.found if found.working is None]
    return len(stated) == 1 and all(found.thing == finding.thing for found in finding.found)


def _by_rule(groups: Iterable[Alike]) -> Iterator[Alike]:
    """Yield groups that stand under one head, those of one rule as one."""
    by_rule: dict[str, list[Finding]] = {}
    for group in groups:
        by_rule.setdefault(group.first.rule, []).extend(group.findings)
    yield from (Alike(tuple(findings)) for findings in by_rule.values())
