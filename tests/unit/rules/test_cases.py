"""Cases of a rule: facts of one thing as they stand in a rig, and the verdict that is wanted."""

from __future__ import annotations

import pytest
from support.small_rules import RulesFolder

from rigcheck.rig.thing import Thing
from rigcheck.rules.cases import Case, read_cases
from rigcheck.text.faults import Fault, Refused

HOSE_RULE = """\
claim: A hose is marked with the standard for gas hoses.
signal: warning
looks_at: hose
under: [us, ca]
holds:
  standard: {const: ISO 3821}
harm: A hose that is made for other media bursts or burns.
put_right: Fit a gas hose.
drawn_from: [common practice]
proven_by:
  - %s
"""


def _read(folder: RulesFolder, case: str) -> Case:
    folder.write("hoses/marked.yaml", HOSE_RULE % case)
    pack = folder.pack()
    (read,) = read_cases(pack.rules["hoses/marked"], pack.vocabulary)
    return read


def _faults(folder: RulesFolder, case: str) -> list[Fault]:
    with pytest.raises(Refused) as refused:
        _read(folder, case)
    return list(refused.value.faults)


def test_a_case_states_facts_as_a_rig_does(folder: RulesFolder) -> None:
    case = _read(folder, "{case: short, length: 500 mm, standard: EN 559, kinked: no, verdict: holds}")
    facts = case.thing.facts
    assert (case.name, case.verdict, case.place.line) == ("short", "holds", 11)
    assert (facts["length"].lo, facts["standard"], facts["kinked"]) == (0.5, "ISO 3821", False)


def test_a_case_stands_under_the_first_code_of_its_rule_unless_it_says_one(folder: RulesFolder) -> None:
    assert _read(folder, "{case: a, verdict: unproven}").under == "us"
    assert _read(folder, "{case: a, under: uk, verdict: unproven}").under == "uk"


def test_a_dotted_fact_makes_the_thing_that_it_follows(folder: RulesFolder) -> None:
    case = _read(folder, "{case: a, line.gas: oxygen, line.source.kind: cylinder, verdict: unproven}")
    line = case.thing.facts["line"]
    assert isinstance(line, Thing)
    assert (line.facts["gas"], line.facts["source"].kind.name) == ("oxygen", "cylinder")


def test_of_which_sort_a_thing_is_stays_unknown_until_the_case_says_it(folder: RulesFolder) -> None:
    unsaid = _read(folder, "{case: a, downstream.approved: true, verdict: unproven}").thing.facts["downstream"]
    assert "kind" not in unsaid.facts
    said = _read(folder, "{case: a, downstream.kind: torch, verdict: unproven}").thing.facts["downstream"]
    assert said.facts["kind"] == "torch"


def test_a_thing_may_be_stated_as_none_and_a_computed_fact_may_be_stated(folder: RulesFolder) -> None:
    case = _read(folder, "{case: a, downstream: none, age: 61 month, verdict: unproven}")
    assert case.thing.facts["downstream"] is None
    assert case.thing.facts["age"].lo == 61


def test_things_of_a_list_are_written_as_mappings_with_their_kind(folder: RulesFolder) -> None:
    case = _read(folder, "{case: a, line.parts: [{kind: hose, bore: 8 mm}, {kind: torch}], verdict: unproven}")
    parts = case.thing.facts["line"].facts["parts"]
    assert [part.kind.name for part in parts] == ["hose", "torch"]
    assert parts[0].facts["bore"].lo == 0.008


def test_a_list_of_things_may_be_stated_as_none(folder: RulesFolder) -> None:
    case = _read(folder, "{case: a, line.parts: none, verdict: unproven}")
    assert case.thing.facts["line"].facts["parts"] == ()


@pytest.mark.parametrize(
    ("case", "said"),
    [
        ("{case: a, verdict: perhaps}", "'perhaps' is no verdict"),
        ("{case: a}", "'' is no verdict"),
        ("{case: a, under: mars, verdict: holds}", "'mars' is no local code"),
        ("{case: a, lenght: 1 m, verdict: holds}", "'lenght' is nothing known of a hose"),
        ("{case: a, length: 1 bar, verdict: holds}", "length: '1 bar' is a pressure"),
        ("{case: a, line.gass: oxygen, verdict: holds}", "'gass' is nothing known of a line"),
        ("{case: a, kind: hosse, verdict: holds}", "'hosse' is no kind"),
        ("{case: a, length: [1 m, 2 m], verdict: holds}", "length is no list of words"),
        ("{case: a, length: {most: 2 m}, verdict: holds}", "length is no thing"),
        ("{case: a, marked_with: [bore, [standard]], verdict: holds}", "marked_with: '' is not one of its words"),
        ("{case: a, line: oxygen, verdict: holds}", "Here must stand a thing"),
        ("a case", "This is no case"),
    ],
)
def test_a_slip_in_a_case_is_told_at_its_place(folder: RulesFolder, case: str, said: str) -> None:
    (fault,) = _faults(folder, case)
    assert said in fault.read
    assert fault.place.line == 11


def test_a_rule_without_cases_is_refused(folder: RulesFolder) -> None:
    folder.write("hoses/marked.yaml", HOSE_RULE.replace("proven_by:\n  - %s\n", "proven_by: []\n"))
    pack = folder.pack()
    with pytest.raises(Refused, match="no cases"):
        read_cases(pack.rules["hoses/marked"], pack.vocabulary)
