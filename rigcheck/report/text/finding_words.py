"""Findings that are told as one, in words for people."""

from __future__ import annotations

from collections.abc import Iterator

from rigcheck.judge.causes import Alike, Cause
from rigcheck.judge.finding import Finding
from rigcheck.judge.finding import found_words as words_of
from rigcheck.quantity.wording import counted

__all__ = ["also_words", "count_words", "found_words", "group_words", "things_words"]


def found_words(finding: Finding) -> str:
    """Return the facts that broke a rule with their values, and whose they are where it is another thing's."""
    return f"{finding.found_words}."


def group_words(group: Alike) -> str:
    """Return what broke the rule on every thing of findings that are told as one."""
    return found_words(group.first) if len(group.findings) == 1 else f"{_measured(group.first)}."


def things_words(group: Alike) -> str:
    """Return every thing of findings that are told as one, each with what was found of it alone."""
    common = _measured(group.first)
    alone = [one if _measured(one) != common else None for one in group.findings]
    things = (
        finding.thing if own is None else f"{finding.thing} ({_measured(own)})"
        for finding, own in zip(group.findings, alone, strict=True)
    )
    return "; ".join(things)


def _measured(finding: Finding) -> str:
    """Return what was found, without the neighbours: a joint is named by them."""
    return words_of(finding.thing, (one for one in finding.found if one.sort != "neighbour"))


def also_words(cause: Cause) -> Iterator[str]:
    """Yield what the same value breaks besides, in short: where, what must be, what was found, what to do.

    A cure that is told above is not told again.
    """
    told = {cause.told.first.put_right}
    for group in cause.also:
        cure = group.first.put_right
        yield _also(group, "" if cure in told else f" Do: {cure}")
        told.add(cure)


def _also(group: Alike, cure: str) -> str:
    first = group.first
    found = "" if len({_measured(one) for one in group.findings}) > 1 else f"found {group_words(group)} "
    return f"{first.signal.upper()}, {things_words(group)}: {found}Must be: {first.claim}{cure} <- {first.rule}"


def count_words(causes: tuple[Cause, ...]) -> str:
    """Return how findings that are told together are counted; empty where each is told by itself."""
    findings = sum(len(cause.findings) for cause in causes)
    return "" if findings == len(causes) else f"{counted(findings, 'finding')} told as {len(causes)}"
