"""What a finding says can be read by somebody tired: what was found, in plain words, once."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

import pytest
from support.faulted_rigs import faulted, inspected_sites

from rigcheck.judge.causes import causes_of
from rigcheck.judge.finding import Finding
from rigcheck.judge.inspection import Inspection
from rigcheck.report.text.finding_words import group_words, things_words
from rigcheck.rules.pack import Pack

_LONGEST = 420
_WRITTEN_WORD = re.compile(r": [a-z]+(?:-[a-z]+)+\b")
_OWNER_IN_A_NAME = re.compile(r"\bof the [^;:(]*:")
_FACT = re.compile(r"(?:^|; )([^;:(]+): ")


@pytest.fixture(scope="module")
def inspections(pack: Pack) -> list[Inspection]:
    return [*inspected_sites(pack), *faulted(pack, 40, seed=1)]


def test_findings_of_sites_and_of_made_up_faults_read_plainly(inspections: list[Inspection]) -> None:
    assert _unplain(inspections) == []


@pytest.mark.whole
def test_findings_of_many_made_up_faults_read_plainly(pack: Pack) -> None:
    assert _unplain(faulted(pack, 600, seed=2)) == []


def _unplain(inspections: object) -> list[tuple[str, str, str]]:
    findings = [one for inspection in inspections for one in inspection.findings]  # type: ignore[attr-defined]
    assert len({one.rule for one in findings}) > 150
    return [(why, one.rule, one.told) for one in findings for why in _faults(one)][:20]


def _faults(finding: Finding) -> Iterator[str]:
    """Yield what is odd in the sentence of a finding."""
    found = finding.found_words
    if not finding.told.startswith((found or "Not so: ", "Not so: ")) or finding.claim not in finding.told:
        yield "what was found does not come first, or what must be is left out"
    if finding.told.startswith(finding.claim):
        yield "reads as fulfilled"
    if _OWNER_IN_A_NAME.search(found.replace("of the line: ", ": ")):
        yield "whose it is stands in the name of the fact"
    if _WRITTEN_WORD.search(found) and any(one.sort == "word" for one in finding.found):
        spoken = {one.value for one in finding.found if one.sort != "word"}
        if not any(one in found for one in spoken):
            yield "a word as it is typed, not as it is said"
    if len(found) > _LONGEST:
        yield "too long"
    pieces = Counter(re.split(r"; ", re.sub(r"\([^)]*\)", "", found)))
    if any(count > 1 and "…" not in piece for piece, count in pieces.items() if "(" not in found):
        yield "the same twice"
    if "fulfilled" in found or re.search(r"\bno (?:of|the)\b", found):
        yield "odd grammar"
    if finding.limits and len(finding.found) == 1 and (only := finding.found[0]).sort == "quantity":
        plain = re.fullmatch(r"[^;]+ (?:is|:) (?:at least|at most|more than|less than) .+", finding.required)
        if plain and not only.bound and "(limit" in finding.required and " or " not in finding.required:
            yield "a number without the limit that it misses"


def test_findings_of_one_rule_that_read_the_same_are_told_once_with_all_things(inspections: list[Inspection]) -> None:
    for inspection in inspections:
        causes = causes_of(inspection.findings)
        told = Counter(
            (one.told.first.rule, one.told.first.put_right, group_words(one.told))
            for one in causes
            if one.told.first.conceded is None and any(found.sort != "neighbour" for found in one.told.first.found)
        )
        assert [key for key, count in told.items() if count > 1] == []
        for cause in causes:
            assert all(finding.thing in things_words(cause.told) for finding in cause.told.findings)
        assert sorted(id(f) for cause in causes for f in cause.findings) == sorted(map(id, inspection.findings))
