"""Findings that are told as one, in words for people."""

from __future__ import annotations

from collections.abc import Iterator

from rigcheck.judge.breach_wording import found_words as words_of
from rigcheck.judge.breach_wording import without_owners
from rigcheck.judge.causes import Alike, Cause, measured
from rigcheck.judge.finding import Finding
from rigcheck.quantity.wording import counted

__all__ = ["adds_bounds", "also_words", "count_words", "found_words", "group_words", "things_words"]


def found_words(finding: Finding) -> str:
    """Return the facts that broke a rule with their values, and whose they are where it is another thing's."""
    return f"{finding.found_words}."


def adds_bounds(finding: Finding) -> bool:
    """Whether what is required says a number that neither what was found nor what must be says.

    A limit that a company's folder set is said with the folder.
    """
    said = any(found.bound for found in finding.found)
    return bool(finding.limits) and (not said or any(limit.layer for limit in finding.limits))


def group_words(group: Alike) -> str:
    """Return what broke the rule on every thing of findings that are told as one."""
    if len(group.findings) == 1:
        return found_words(group.first)
    own = [_measured(one) for one in group.findings]
    return f"{own[0] if _differ_by_more(group) or len(set(own)) == 1 else without_owners(measured(group.first))}."


def things_words(group: Alike) -> str:
    """Return every thing of findings that are told as one, each with what was found of it alone."""
    common = _measured(group.first)
    differ = _differ_by_more(group)
    things = (
        finding.thing if not differ or (own := _measured(finding)) == common else f"{finding.thing} ({own})"
        for finding in group.findings
    )
    return "; ".join(dict.fromkeys(things))


def _differ_by_more(group: Alike) -> bool:
    """Whether more was found to be otherwise than whose the facts are."""
    return len({without_owners(measured(one)) for one in group.findings}) > 1


def _measured(finding: Finding) -> str:
    return words_of(finding.thing, measured(finding))


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
