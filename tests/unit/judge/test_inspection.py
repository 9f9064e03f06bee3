"""An inspection: findings with two addresses, questions about what is not known, and the plain state."""

from __future__ import annotations

from datetime import date

import pytest
from support.small_rules import RulesFolder

from rigcheck.judge.inspection import Inspection, inspect_rig
from rigcheck.rig.loader import load_rig
from rigcheck.rules.pack import Pack
from rigcheck.rules.rule import Signal
from rigcheck.text.place import Place

DAY = date(2026, 11, 25).toordinal()

RIG = """\
rig: One of two
%s
lines:
  - {gas: oxygen, parts: [regulator, hose: {%s}]}
torch: {}
trolley: {%s}
"""
HOSE_RULE = """\
claim: A hose is marked with the standard for gas hoses and is not kinked.
signal: %s
looks_at: hose
concerns:
  line.gas: {const: oxygen}
  grade: {not: {const: T}}
holds:
  standard: {enum: [ISO 3821, AS/NZS 1335]}
  kinked: {const: false}
  age: {type: number, maximum: 5 year}
harm: A hose that is made for other media bursts or burns.
put_right: Fit a gas hose.
drawn_from: [Yard rule s.1, common practice]
proven_by:
  - {case: nothing known, verdict: unproven}
"""
SOUND = "grade: RM, standard: ISO 3821, kinked: false, made: 2024-01-01"


def _inspect(
    folder: RulesFolder,
    hose: str = SOUND,
    trolley: str = "tilt: 10 deg",
    *,
    rig: str = "",
    code: str = "",
    signal: str = "danger",
) -> Inspection:
    folder.write("hoses/marked.yaml", HOSE_RULE % signal)
    pack = folder.pack()
    read = load_rig((RIG % (rig or "local_code: general", hose, trolley)).encode(), "rig.yaml", pack.vocabulary)
    return inspect_rig(read, pack, day=date(2026, 11, 25).toordinal(), local_code=code)


def _counts(inspection: Inspection) -> dict[str, int]:
    return {verdict: count for verdict, count in inspection.verdicts.items() if count}


def test_a_rig_that_holds_has_no_finding_and_no_question(folder: RulesFolder) -> None:
    inspection = _inspect(folder)
    assert (_counts(inspection), inspection.findings, inspection.questions) == ({"holds": 2}, (), ())


def test_a_finding_says_what_was_found_where_and_what_is_required(folder: RulesFolder) -> None:
    (finding,) = _inspect(folder, trolley="tilt: 21 deg").findings
    assert (finding.rule, finding.signal, finding.thing) == ("trolley/leans", "warning", "trolley")
    assert finding.place == Place("rig.yaml", 6, 17)
    assert finding.rule_place.file.endswith("trolley/leans.yaml")
    assert [(one.fact, one.value) for one in finding.found] == [("tilt", "21 deg")]
    assert "20 deg (limit trolley tilt, general)" in finding.required
    assert finding.harm and finding.put_right
    assert [limit.name for limit in finding.limits] == ["trolley_tilt"]


def test_a_finding_names_each_fact_that_broke_the_rule_and_no_other(folder: RulesFolder) -> None:
    hose = "grade: RM, standard: none, kinked: true, made: 2020-01-01"
    (finding,) = _inspect(folder, hose).findings
    assert {one.fact: one.value for one in finding.found} == {"standard": "none", "kinked": "yes", "age": "6.9 years"}
    assert [source.standing for source in finding.sources] == ["published", "common practice"]


def test_a_finding_also_names_what_the_fact_was_held_against(folder: RulesFolder) -> None:
    body = HOSE_RULE % "danger"
    against = body.replace("  kinked: {const: false}\n", "  made: {type: number, exclusiveMinimum: {fact: tested}}\n")
    folder.write("hoses/marked.yaml", against)
    rig = RIG % ("local_code: general", f"{SOUND}, tested: 2025-02-01", "tilt: 10 deg")
    pack = folder.pack()
    read = load_rig(rig.encode(), "rig.yaml", pack.vocabulary)
    (finding,) = inspect_rig(read, pack, day=date(2026, 11, 25).toordinal()).findings
    assert [(one.fact, one.value) for one in finding.found] == [("made", "2024-01-01"), ("tested", "2025-02-01")]


def test_a_breach_settles_a_rule_though_other_facts_are_not_known(folder: RulesFolder) -> None:
    inspection = _inspect(folder, "grade: RM, kinked: true")
    assert len(inspection.findings) == 1
    assert inspection.questions == ()


def test_the_gravest_finding_comes_first(folder: RulesFolder) -> None:
    inspection = _inspect(folder, SOUND.replace("false", "true"), "tilt: 21 deg")
    assert [finding.signal for finding in inspection.findings] == ["danger", "warning"]


def test_a_fact_that_is_not_known_becomes_a_question_with_the_rules_that_wait(folder: RulesFolder) -> None:
    inspection = _inspect(folder, SOUND, trolley="")
    (question,) = inspection.questions
    assert (question.thing, question.fact, question.signal) == ("trolley", "tilt", "warning")
    assert question.ask.endswith("?")
    assert [waiting.rule for waiting in question.waiting] == ["trolley/leans"]
    assert question.place == Place("rig.yaml", 6, 10)


def test_an_age_that_is_not_known_asks_for_the_day_it_is_counted_from(folder: RulesFolder) -> None:
    (question,) = _inspect(folder, SOUND.replace(", made: 2024-01-01", "")).questions
    assert question.fact == "made"


def test_whether_a_rule_concerns_a_thing_is_asked_before_what_it_requires(folder: RulesFolder) -> None:
    inspection = _inspect(folder, "kinked: false")
    assert [question.fact for question in inspection.questions] == ["grade"]
    assert _counts(inspection) == {"holds": 1, "unproven": 1}


def test_a_rule_that_does_not_concern_a_thing_asks_nothing_of_it(folder: RulesFolder) -> None:
    inspection = _inspect(folder, "grade: T")
    assert (_counts(inspection), inspection.questions) == ({"holds": 1, "not concerned": 1}, ())


def test_a_measurement_too_close_to_its_limit_is_asked_for_again(folder: RulesFolder) -> None:
    (question,) = _inspect(folder, trolley="tilt: 19.5 ± 1 deg").questions
    assert question.fact == "tilt"
    assert "19.5 ± 1 deg" in question.too_close
    assert "20 deg" in question.too_close


def test_a_month_of_manufacture_too_close_to_the_limit_asks_for_the_day(folder: RulesFolder) -> None:
    (question,) = _inspect(folder, SOUND.replace("2024-01-01", "2021-11")).questions
    assert question.fact == "made"
    assert question.too_close


def test_the_questions_come_gravest_first(folder: RulesFolder) -> None:
    inspection = _inspect(folder, "grade: RM, standard: ISO 3821, made: 2024-01-01", trolley="")
    assert [(q.fact, q.signal) for q in inspection.questions] == [("kinked", "danger"), ("tilt", "warning")]


def test_a_fact_left_open_for_the_site_is_marked_among_the_questions(folder: RulesFolder) -> None:
    (question,) = _inspect(folder, trolley="", rig="on_site: [trolley.tilt]").questions
    assert question.left_open


@pytest.mark.parametrize(
    ("rig", "code", "used", "stated"),
    [
        ("local_code: uk", "", "uk", True),
        ("local_code: uk", "us", "us", True),
        ("inspected: 2026", "", "general", False),
    ],
)
def test_the_code_is_the_callers_or_the_rigs_or_general(
    folder: RulesFolder, rig: str, code: str, used: str, stated: bool
) -> None:
    inspection = _inspect(folder, rig=rig, code=code)
    assert (inspection.local_code, inspection.code_stated) == (used, stated)


@pytest.mark.parametrize(
    ("signal", "hold_at", "state"),
    [
        ("danger", "warning", "on hold"),
        ("warning", "warning", "on hold"),
        ("caution", "warning", "lesser findings only"),
        ("caution", "caution", "on hold"),
        ("notice", "caution", "lesser findings only"),
        ("notice", "notice", "on hold"),
        ("warning", "danger", "lesser findings only"),
    ],
)
def test_a_breach_holds_the_rig_at_its_signal_word_and_below(
    folder: RulesFolder, signal: str, hold_at: Signal, state: str
) -> None:
    inspection = _inspect(folder, SOUND.replace("false", "true"), signal=signal)
    assert len(inspection.findings) == 1
    assert inspection.state(hold_at) == state


def test_what_is_not_known_leaves_a_rig_not_yet_shown_and_may_hold_it(folder: RulesFolder) -> None:
    inspection = _inspect(folder, trolley="")
    assert inspection.state("warning") == "not yet shown"
    assert inspection.state("warning", on_unproven="warning") == "on hold"
    assert inspection.state("danger", on_unproven="danger") == "not yet shown"


def test_a_day_that_lies_ahead_is_asked_for_and_the_question_says_why(folder: RulesFolder) -> None:
    asked = _inspect(folder, hose=SOUND.replace("2024-01-01", "2029-01")).questions
    assert [(one.fact, one.ask) for one in asked if "2029" in one.ask] == [
        ("made", "What date of manufacture is marked? 2029-01 lies after the day of this judgement.")
    ]


def test_no_finding_and_no_question_is_told_as_nothing_found_against_it(folder: RulesFolder) -> None:
    assert _inspect(folder).state("notice", on_unproven="notice") == "nothing found against it"


def test_a_loosened_limit_and_a_replaced_rule_are_told_with_the_inspection(
    folder: RulesFolder, overlay: RulesFolder
) -> None:
    rule = (folder.path / "trolley/leans.yaml").read_text(encoding="utf-8")
    overlay.write("trolley/leans.yaml", rule.replace("falls over", "topples") + "because: Said so here\n")
    overlay.write(
        "limits/general.yaml",
        """\
        local_code: general
        limits:
          trolley_tilt:
            values: [{since: 2020-01-01, value: 25 deg, drawn_from: common practice, because: Wider wheels}]
        """,
    )
    pack = folder.pack(overlay)
    read = load_rig((RIG % ("", SOUND, "tilt: 24 deg")).encode(), "rig.yaml", pack.vocabulary)
    inspection = inspect_rig(read, pack, day=date(2026, 11, 25).toordinal())
    assert {one.sort: one.because for one in inspection.laid} == {"limit": "Wider wheels", "rule": "Said so here"}
    assert inspection.findings == ()
    earlier = inspect_rig(read, pack, day=date(2019, 12, 31).toordinal())
    assert len(earlier.findings) == 1


def test_the_same_rig_is_judged_alike_after_another_day_was_judged(folder: RulesFolder) -> None:
    pack = folder.pack()
    read = load_rig((RIG % ("", SOUND, "tilt: 21 deg")).encode(), "rig.yaml", pack.vocabulary)
    days = [date(2026, 11, 25), date(1999, 1, 1), date(2026, 11, 25)]
    first, other, again = (inspect_rig(read, pack, day=day.toordinal()) for day in days)
    assert first == again
    assert other.findings == ()  # the limit was not in force then


def test_a_neighbour_that_should_be_another_part_is_named_by_what_it_is_to_the_thing(pack: Pack) -> None:
    text = "rig: r\nlines:\n  - {gas: oxygen, parts: [cylinder, regulator, hose]}\ntorch: {form: cutting}\n"
    inspection = inspect_rig(load_rig(text.encode(), "r.yaml", pack.vocabulary), pack, day=DAY)
    found = {f.rule: [(one.fact, one.thing, one.value) for one in f.found] for f in inspection.findings}
    regulator = "oxygen regulator"
    assert ("part after it", regulator, "oxygen hose") in found["arresters/arrester_at_every_regulator"]
    assert ("inlets", "torch", "oxygen hose") in found["arresters/arrester_at_every_torch_inlet"]
