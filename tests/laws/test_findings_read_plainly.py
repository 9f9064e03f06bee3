"""What a finding says can be read by somebody tired: what was found, in plain words, once."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from datetime import date

import pytest
from support.faulted_rigs import faulted, inspected_sites

from rigcheck.judge.causes import causes_of
from rigcheck.judge.finding import Finding
from rigcheck.judge.inspection import Inspection, inspect_rig
from rigcheck.report.text.finding_words import group_words, things_words
from rigcheck.rig.loader import load_rig
from rigcheck.rules.pack import Pack

_DAY = date(2026, 11, 25).toordinal()
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


_SMALL = """\
rig: small
trolley: {fuel_side: left}
lines:
  - gas: acetylene
    stands: right
    parts:
      - cylinder: {valve_spindle: key, valve_key: not-needed, pressure: 14 bar}
      - joint: {sealing: grease, leak_test: tight, leak_test_pressure: 1 bar}
      - regulator
      - hose: {cover: sticky}
      - joiner
      - hose
      - joiner
      - hose
  - {gas: oxygen, stands: right, parts: [cylinder, regulator, hose]}
torch: {form: heating}
"""


@pytest.mark.parametrize(
    ("rule", "told"),
    [
        ("trolley/fuel_stands_left_and_oxygen_right", "stands: right; fuel: yes; fuel side: left (trolley)"),
        ("hoses/line_has_few_joiners", "parts: acetylene joiner 1, acetylene joiner 2"),
        ("joints/joint_sealed_as_made", "sealing: grease"),
        ("cylinders/valve_key_is_on_the_spindle", "valve spindle: key; valve key: not needed"),
        ("hoses/hose_cover_is_sound", "cover: sticky"),
        (
            "joints/leak_test_at_cylinder_pressure",
            "leak test: tight, leak test pressure: 1 bar (acetylene joint, cylinder to regulator); pressure: 14 bar",
        ),
    ],
)
def test_of_several_ways_to_be_right_the_nearest_that_is_missed_is_told_alone(rule: str, told: str, pack: Pack) -> None:
    rig = load_rig(_SMALL.encode(), "small.yaml", pack.vocabulary)
    found = [one for one in inspect_rig(rig, pack, day=_DAY).findings if one.rule == rule]
    assert [one.found_words for one in found] == [told]


def test_of_a_torch_without_one_gas_both_ways_are_told(pack: Pack) -> None:
    text = "rig: small\nlines: [{gas: propane, parts: [cylinder, regulator, hose]}]\ntorch: {form: heating}\n"
    found = inspect_rig(load_rig(text.encode(), "small.yaml", pack.vocabulary), pack, day=_DAY).findings
    lacks = next(one for one in found if one.rule == "rig/torch_has_fuel_and_oxygen")
    assert lacks.found_words == "form: heating; gas: propane (line)"


def test_what_several_things_lack_beside_them_is_told_of_them_all(pack: Pack) -> None:
    parts = "parts: [cylinder, regulator, hose]"
    text = f"rig: small\nlines: [{{gas: propane, {parts}}}, {{gas: oxygen, {parts}}}]\ntorch: {{form: heating}}\n"
    found = inspect_rig(load_rig(text.encode(), "small.yaml", pack.vocabulary), pack, day=_DAY).findings
    told = [one.told for one in causes_of(found) if one.told.first.rule == "arresters/arrester_at_every_regulator"]
    assert [things_words(one) for one in told] == ["propane regulator; oxygen regulator"]
    assert "part after it: no arrester or header" in group_words(told[0])
