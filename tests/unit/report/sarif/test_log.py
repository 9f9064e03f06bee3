"""An inspection as SARIF results: levels, kinds, places, fingerprints, and text in which nothing acts."""

from __future__ import annotations

import json
import os
from collections.abc import Iterable
from datetime import date
from typing import Any
from urllib.parse import unquote

import pytest
from msgspec.structs import replace
from support.small_reports import HELD, HOSTILE, HOSTILE_FILE, hostile_rig

from rigcheck.judge.causes import alike_questions
from rigcheck.judge.inspection import Inspection, inspect_rig
from rigcheck.procedure.record_reader import read_record
from rigcheck.procedure.record_verdict import judge_record
from rigcheck.report.sarif.log import sarif_end, sarif_refusals, sarif_results, sarif_start
from rigcheck.report.sarif.parts import FINGERPRINT, Bases, message
from rigcheck.report.sarif.results_met import ResultsMet
from rigcheck.report.sarif.rule_descriptors import OPEN_QUESTIONS, rule_descriptors
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.rig.loader import load_rig
from rigcheck.rules.folders import configs_folder
from rigcheck.rules.pack import Pack
from rigcheck.rules.procedures import procedures_of
from rigcheck.rules.rule import SIGNALS
from rigcheck.text.faults import Fault
from rigcheck.text.place import Place

_DAY = date(2026, 11, 25).toordinal()
_BASES = Bases(os.sep + "build")


def _inspected(text: str, pack: Pack, file: str = "rigs/held.yaml", *, tell_holds: bool = False) -> Inspection:
    rig = load_rig(text.encode(), file, pack.vocabulary)
    return inspect_rig(rig, pack, day=_DAY, tell_holds=tell_holds)


def _results(inspection: Inspection, bases: Bases = _BASES) -> list[dict[str, Any]]:
    return [json.loads(one) for one in sarif_results(inspection, bases)]


def _run(pack: Pack, results: Iterable[str] = (), refused: Iterable[str] = ()) -> dict[str, Any]:
    met = ResultsMet()
    told = met.told(",\n".join(results))
    end = sarif_end(pack, procedures_of(pack).values(), "1.2.3", met, list(refused))
    (run,) = json.loads(f"{sarif_start(_BASES, '', 'use')}{told}{end}")["runs"]
    return dict(run)


class _Everything:
    def __contains__(self, _: object) -> bool:
        return True


def _described(pack: Pack) -> dict[str, dict[str, Any]]:
    """Return the descriptors of every rule and step that a result can name."""
    return {one["id"]: one for one in rule_descriptors(pack.rules, procedures_of(pack).values(), _Everything())}


def _prints(results: Iterable[dict[str, Any]]) -> list[str]:
    return [one["partialFingerprints"][FINGERPRINT] for one in results]


# --- what stands in a result ---


def test_each_signal_word_has_its_level_and_stands_in_the_properties(pack: Pack) -> None:
    inspection = _inspected(HELD, pack)
    each = tuple(replace(inspection.findings[0], signal=signal) for signal in SIGNALS)
    told = [(one["level"], one["properties"]["signal"]) for one in _results(replace(inspection, findings=each))[:4]]
    assert told == [("error", "DANGER"), ("error", "WARNING"), ("warning", "CAUTION"), ("note", "NOTICE")]
    levels = _run(pack)["tool"]["driver"]["properties"]["levels"]
    assert levels == {word: level for level, word in told}


def test_an_open_question_is_a_result_of_kind_open_for_each_rule_that_waits(pack: Pack) -> None:
    inspection = _inspected(HELD, pack)
    asked = [one for one in _results(inspection) if one.get("kind") == "open"]
    assert len(asked) == sum(len(question.waiting) for question in inspection.questions)
    assert {one["level"] for one in asked} == {"none"}


def test_what_held_is_a_result_of_kind_pass_only_where_that_was_asked_for(pack: Pack) -> None:
    told = _inspected(HELD, pack, tell_holds=True)
    passed = [one for one in _results(told) if one.get("kind") == "pass"]
    assert len(passed) == told.verdicts["holds"] > 10
    assert {one["level"] for one in passed} == {"none"}
    plain = _inspected(HELD, pack)
    assert [one for one in _results(plain) if one.get("kind") == "pass"] == []
    assert replace(told, held=()) == plain


def test_a_column_counts_code_points_from_one(pack: Pack) -> None:
    text = HELD.replace("{tilt: 30 deg}", '{name: "🔥🔥 é", tilt: 30 deg}')
    (finding,) = (one for one in _results(_inspected(text, pack)) if one["ruleId"] == "trolley/trolley_stands_upright")
    region = finding["locations"][0]["physicalLocation"]["region"]
    line = text.split("\n")[region["startLine"] - 1]
    assert line[region["startColumn"] - 1 :] == "30 deg}"
    assert _run(pack)["columnKind"] == "unicodeCodePoints"


def test_a_finding_leads_to_every_fact_that_was_found_and_to_its_rule(pack: Pack) -> None:
    inspection = _inspected(HELD, pack)
    for finding, result in zip(inspection.findings, _results(inspection), strict=False):
        related = result["relatedLocations"]
        assert [one["id"] for one in related] == list(range(1, len(finding.found) + 2))
        assert related[-1]["message"]["text"] == f"the rule {finding.rule}"
        assert related[0]["physicalLocation"]["region"]["startLine"] == finding.found[0].place.line


# --- places ---


@pytest.mark.parametrize(
    ("file", "wanted"),
    [
        ("rigs/a.yaml", {"uri": "rigs/a.yaml", "uriBaseId": "ROOT"}),
        ("./rigs/../a.yaml", {"uri": "a.yaml", "uriBaseId": "ROOT"}),
        ("/build/rigs/a.yaml", {"uri": "rigs/a.yaml", "uriBaseId": "ROOT"}),
        ("rules/hoses/x.yaml", {"uri": "hoses/x.yaml", "uriBaseId": "RULES"}),
        ("../other/a.yaml", {"uri": "file:///other/a.yaml"}),
        ("/build-two/a.yaml", {"uri": "file:///build-two/a.yaml"}),
        ("a: b#c?d%.yaml", {"uri": "a%3A%20b%23c%3Fd%25.yaml", "uriBaseId": "ROOT"}),
        ("é🔥.yaml", {"uri": "%C3%A9%F0%9F%94%A5.yaml", "uriBaseId": "ROOT"}),
    ],
)
def test_a_file_is_told_from_the_folder_that_it_lies_under(file: str, wanted: dict[str, str]) -> None:
    assert _BASES.artifact(file) == wanted


def test_a_hostile_file_name_comes_back_from_its_reference() -> None:
    assert unquote(_BASES.artifact(HOSTILE_FILE)["uri"]) == HOSTILE_FILE
    assert _BASES.artifact(HOSTILE_FILE)["uri"].isascii()


def test_the_bases_are_declared_in_words_without_a_path_of_the_machine(pack: Pack) -> None:
    declared = _run(pack)["originalUriBaseIds"]
    assert [(name, [*told]) for name, told in declared.items()] == [
        ("ROOT", ["description"]),
        ("RULES", ["description"]),
    ]
    assert "/build" not in json.dumps(declared)


# --- fingerprints ---


def test_a_line_that_moved_gives_the_same_fingerprints(pack: Pack) -> None:
    moved = HELD.replace("trolley:", "# a note\n\n# and another\ntrolley:  ")
    before, after = (_results(_inspected(text, pack)) for text in (HELD, moved))
    assert sorted(_prints(before)) == sorted(_prints(after))
    assert [one["locations"] for one in before] != [one["locations"] for one in after]


def test_a_tagged_part_keeps_its_fingerprint_when_another_is_fitted_before_it(pack: Pack) -> None:
    tagged = HELD.replace(
        "parts: [cylinder, regulator, hose]", "parts: [cylinder, regulator, hose: {tag: H-1, cover: cut}]", 1
    )
    fitted = tagged.replace("hose: {tag", "hose, hose: {tag", 1)
    of_the_hose = [
        [
            one["partialFingerprints"][FINGERPRINT]
            for one in _results(_inspected(text, pack))
            if one["ruleId"] == "hoses/hose_cover_is_sound" and one.get("kind") != "open"
        ]
        for text in (tagged, fitted)
    ]
    assert of_the_hose[0] == of_the_hose[1] != []


@pytest.mark.parametrize("file", ["held.yaml", "../held.yaml", "/home/build/rigs/held.yaml", "moved/on/held.yaml"])
def test_the_folder_that_a_file_lies_in_or_is_named_from_makes_no_other_fingerprints(file: str, pack: Pack) -> None:
    assert _prints(_results(_inspected(HELD, pack))) == _prints(_results(_inspected(HELD, pack, file)))


def test_rigs_of_one_name_in_files_of_one_name_are_told_apart_in_one_log(pack: Pack) -> None:
    one, other = ([*sarif_results(_inspected(HELD, pack, f"{folder}/a.yaml"), _BASES)] for folder in "ab")
    met = ResultsMet()
    told = [met.told(",\n".join(results)) for results in (one, other)]
    prints = [_prints(json.loads(f"[{results}]")) for results in told]
    assert prints[0] == _prints(map(json.loads, one))
    assert len({*prints[0], *prints[1]}) == len(prints[0]) * 2


def test_another_value_that_breaks_the_same_rule_is_no_new_result(pack: Pack) -> None:
    before, after = (_results(_inspected(HELD.replace("30 deg", tilt), pack)) for tilt in ("30 deg", "40 deg"))
    assert sorted(_prints(before)) == sorted(_prints(after))


def test_the_same_rig_in_two_files_gives_other_fingerprints(pack: Pack) -> None:
    one, other = (_prints(_results(_inspected(HELD, pack, file))) for file in ("a.yaml", "b.yaml"))
    assert not set(one) & set(other)


def test_two_findings_of_one_rule_on_one_thing_do_not_collide(pack: Pack) -> None:
    inspection = _inspected(HELD, pack, tell_holds=True)
    twice = replace(inspection, findings=inspection.findings * 2, questions=inspection.questions * 2)
    found = _prints(_results(twice))
    assert len(set(found)) == len(found) > 2 * len(inspection.findings)
    assert set(_prints(_results(inspection))) < set(found)


# --- rules, records, and what could not be read ---


def test_every_step_of_a_record_that_is_told_of_has_its_descriptor(pack: Pack) -> None:
    path = configs_folder() / "records" / "tool-room-hurried-start-up.yaml"
    record = read_record(path.read_bytes(), str(path))
    site = (path.parent / record.rig).resolve()
    rig = load_rig(site.read_bytes(), str(site), pack.vocabulary)
    results = _results(judge_record(record, rig, pack, tell_holds=True))
    described = _described(pack).keys()
    kinds = {one.get("kind", "fail") for one in results}
    assert {one["ruleId"] for one in results} <= described
    assert {"fail", "pass"} <= kinds
    held, open_rules = (
        {one["ruleId"] for one in results if (one.get("kind") == "pass") is passed} for passed in (True, False)
    )
    assert not held & open_rules


def test_no_descriptor_names_an_address_that_nobody_published(pack: Pack) -> None:
    driver = _run(pack)["tool"]["driver"]
    assert [name for name, one in _described(pack).items() if "helpUri" in one] == []
    assert "informationUri" not in driver
    assert driver["fullDescription"] == message(CAUTION)


def test_the_descriptor_of_a_step_names_kinds_of_things_where_a_sheet_names_the_things(pack: Pack) -> None:
    described = {name: one["shortDescription"]["text"] for name, one in _described(pack).items()}
    steps = [text for name, text in described.items() if name.startswith("procedures/")]
    assert len(steps) > 100
    assert [text for text in steps if "{" in text] == []


def test_a_file_that_could_not_be_read_is_a_notification_at_its_place(pack: Pack) -> None:
    faults = [Fault(Place("rigs/x.yaml", 3, 10), "This is wrong.", "Write it right.", near="right")]
    run = _run(pack, refused=sarif_refusals(faults, _BASES))
    (invocation,) = run["invocations"]
    (notice,) = invocation["toolExecutionNotifications"]
    assert not invocation["executionSuccessful"]
    assert notice["message"]["text"] == "This is wrong. Write it right. Nearest known word: right."
    assert notice["locations"][0]["physicalLocation"]["region"] == {"startLine": 3, "startColumn": 10}
    assert notice["descriptor"]["id"] in {one["id"] for one in run["tool"]["driver"]["notifications"]}
    assert _run(pack)["invocations"][0]["executionSuccessful"]


def test_a_log_without_results_still_carries_the_caution(pack: Pack) -> None:
    run = _run(pack)
    assert (run["results"], run["properties"]["caution"]) == ([], CAUTION)


# --- text ---


def test_hostile_text_holds_no_placeholder_no_link_and_no_control_character(pack: Pack) -> None:
    results = _results(_inspected(hostile_rig(), pack))
    texts = [one["message"]["text"] for one in results]
    assert any("[take this] (https://example.com)" in text for text in texts)
    assert [text for text in texts if "](" in text or "{0}" in text.replace("{{0}}", "")] == []
    assert message(HOSTILE_FILE) == {"text": "1. [U+202E]gnorw[U+0007] [a] (b) <i> #1 100% é {{0}} 🔥.yaml"}
    assert message(HOSTILE)["text"].count("{{") == 3


def test_a_log_has_a_line_for_each_result(pack: Pack) -> None:
    told = list(sarif_results(_inspected(hostile_rig(), pack), _BASES))
    assert [one for one in told if "\n" in one] == []
    assert len(told) > 10


def test_a_log_describes_the_rules_that_occur_in_it_and_each_result_has_the_number_of_its_own(pack: Pack) -> None:
    run = _run(pack, sarif_results(_inspected(HELD, pack), _BASES))
    named = [one["id"] for one in run["tool"]["driver"]["rules"]]
    assert named == list(dict.fromkeys(one["ruleId"] for one in run["results"]))
    assert 10 < len(named) < len(_described(pack)) / 2
    assert [named[one["ruleIndex"]] for one in run["results"]] == [one["ruleId"] for one in run["results"]]
    assert _run(pack)["tool"]["driver"]["rules"] == []


def test_every_rule_and_step_has_a_descriptor_that_ends_with_who_decides(pack: Pack) -> None:
    described = _described(pack)
    steps = sum(1 + len(procedure.steps) for procedure in procedures_of(pack).values())
    assert list(described)[3 : len(pack.rules) + 3] == list(pack.rules)
    assert len(described) == 3 + len(pack.rules) + steps  # and nothing found, open questions, what is left out
    assert [name for name, one in described.items() if not one["help"]["text"].endswith(CAUTION)] == []
    marked = {name: one["help"]["markdown"] for name, one in described.items() if name in pack.rules}
    assert [name for name, text in marked.items() if not text.endswith(CAUTION) or "**Do:** " not in text] == []


def test_a_rig_with_nothing_against_it_has_one_result_that_gives_no_leave_and_names_it(pack: Pack) -> None:
    nothing = replace(_inspected(HELD, pack), findings=(), questions=())
    (told,) = _results(nothing)
    assert (told["kind"], told["level"]) == ("review", "none")
    assert nothing.title in told["message"]["text"]
    assert told["message"]["text"].endswith(f"that alone is no leave. {CAUTION}")


def test_many_open_questions_are_one_result_of_the_rig_unless_they_are_asked_for(pack: Pack) -> None:
    inspection = _inspected(HELD, pack)
    results = [json.loads(one) for one in sarif_results(inspection, _BASES, "looks")]
    (told,) = [one for one in results if one.get("kind") == "open"]
    assert (told["ruleId"], told["level"]) == (OPEN_QUESTIONS, "none")
    assert f"{len(alike_questions(inspection.questions))} open questions" in told["message"]["text"]
    assert len(results) == len(inspection.findings) + 1
    asked = [json.loads(one) for one in sarif_results(inspection, _BASES, "danger") if '"kind":"open"' in one]
    assert {one["properties"].get("signal", "") for one in asked} == {"DANGER", "WARNING", "CAUTION", "NOTICE", ""}
    assert [one["ruleId"] for one in asked].count(OPEN_QUESTIONS) == 1


def test_runs_for_another_code_or_purpose_do_not_take_each_others_place() -> None:
    def ids(*of: str) -> str:
        head = f"{sarif_start(_BASES, *of)}]}}]}}"
        return str(json.loads(head)["runs"][0]["automationDetails"]["id"])

    told = [ids(code, purpose) for code in ("", "uk", "us") for purpose in ("use", "standard")]
    assert len(set(told)) == len(told)
    assert ids("uk", "use") == "rigcheck/uk/use/"


@pytest.mark.parametrize(
    ("line", "column", "ends_before"),
    [
        ("  - cylinder: {upright: false, secured: none}", 25, ", secured: none}"),
        ("  - cylinder: {upright: false, secured: none}", 41, "}"),
        ("tilt: 30 deg  # seen from the front", 7, "  # seen from the front"),
        ("rig: 'it''s \"so\"' # yes", 6, " # yes"),
        ("tilt: 30 ± 1 deg", 7, ""),
    ],
)
def test_a_region_ends_where_its_value_does(line: str, column: int, ends_before: str) -> None:
    located = Bases("/build", lambda _place: line).location(Place("a.yaml", 1, column))
    region = located["physicalLocation"]["region"]
    assert line[region["endColumn"] - 1 :] == ends_before
    assert "endColumn" not in _BASES.location(Place("a.yaml", 1, column))["physicalLocation"]["region"]
