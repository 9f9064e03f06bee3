"""Concessions: leave to go on with one finding for a time, judged by rules of its own."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from datetime import date

import pytest
from support.small_rules import TILT_RULE, RulesFolder

from rigcheck.judge.finding import Finding, Inspection
from rigcheck.judge.inspection import inspect_rig
from rigcheck.rig.concessions import load_beside
from rigcheck.rig.loader import load_rig
from rigcheck.rules.folders import rules_folder
from rigcheck.rules.pack import Pack
from rigcheck.text.place import Place

RIG = """\
rig: Yard set
local_code: general
trolley: {tilt: 25 deg}
lines:
  - {gas: oxygen, parts: [regulator, hose: {kinked: true}, hose: {kinked: %s}]}
torch: {}
"""
HOSE_RULE = """\
claim: A hose is not kinked.
signal: danger
looks_at: hose
holds: {kinked: {const: false}}
harm: A kinked hose bursts.
put_right: Lay the hose out straight.
drawn_from: [common practice]
%sproven_by:
  - {case: nothing known, verdict: unproven}
"""
TILT = "trolley/leans"
HOSE = "hoses/kinked"
DAY = date(2026, 11, 25)
REMINDER = "concessions/concession_is_looked_at_before_it_ends"

Inspect = Callable[..., Inspection]


@pytest.fixture
def conceding(folder: RulesFolder) -> RulesFolder:
    """The small folder with the rules and limits of concessions that ship, a WARNING and a DANGER."""
    shutil.copytree(rules_folder() / "concessions", folder.path / "concessions")
    limits = folder.path / "limits" / "general.yaml"
    added = (
        "  concession_length:\n    means: Longest.\n    cautious: low\n"
        "    values: [{since: 2000-01-01, value: 12 month, drawn_from: common practice}]\n"
        "  concession_reminder:\n    means: Reminder.\n    cautious: high\n"
        "    values: [{since: 2000-01-01, value: 30 day, drawn_from: common practice}]\n"
    )
    limits.write_text(limits.read_text(encoding="utf-8") + added, encoding="utf-8")
    folder.write("hoses/kinked.yaml", HOSE_RULE % "")
    return folder


def _inspect(pack: Pack, *entries: str, second: str = "false", day: date = DAY, beside: str = "") -> Inspection:
    listed = "".join(f"  - {{{entry}}}\n" for entry in entries)
    text = RIG % second + (f"concessions:\n{listed}" if entries else "")
    rig = load_rig(text.encode(), "yard.yaml", pack.vocabulary)
    if beside:
        rig = load_beside(beside.encode(), "beside.yaml", pack.vocabulary).given_to(rig)
    return inspect_rig(rig, pack, day=day.toordinal())


def _entry(rule: str = TILT, thing: str = "trolley", until: str = "2027-03-31") -> str:
    named = f"thing: {thing}, " if thing else ""
    return f"rule: {rule}, {named}reason: It is chained to the wall., who: yard foreman, until: {until}"


def _broken(inspection: Inspection) -> list[str]:
    return [f.rule.removeprefix("concessions/") for f in inspection.findings if f.rule.startswith("concessions/")]


def _of(inspection: Inspection, rule: str) -> Finding:
    return next(finding for finding in inspection.findings if finding.rule == rule)


def test_a_conceded_finding_stays_with_reason_role_day_and_place_and_comes_last(conceding: RulesFolder) -> None:
    inspection = _inspect(conceding.pack(), _entry())
    last = inspection.findings[-1]
    assert (last.rule, last.signal) == (TILT, "warning")
    assert last.conceded is not None
    assert (last.conceded.reason, last.conceded.who) == ("It is chained to the wall.", "yard foreman")
    assert date.fromordinal(last.conceded.until) == date(2027, 3, 31)
    assert last.conceded.place == Place("yard.yaml", 8, 5)
    assert _broken(inspection) == []


def test_a_conceded_finding_does_not_hold_the_rig_but_is_not_nothing(conceding: RulesFolder) -> None:
    conceding.write("hoses/kinked.yaml", (HOSE_RULE % "").replace("signal: danger", "signal: caution"))
    pack = conceding.pack()
    assert _inspect(pack).state("warning") == "on hold"
    inspection = _inspect(pack, _entry())
    assert inspection.state("warning") == "lesser findings only"
    both = _inspect(pack, _entry(), _entry(HOSE, "lines.0.parts.1"))
    assert [f.conceded is not None for f in both.findings] == [True, True]
    assert both.state("notice") != "nothing found against it"


def test_things_are_named_as_the_report_calls_them_whatever_the_case(conceding: RulesFolder) -> None:
    assert _of(_inspect(conceding.pack(), _entry(thing="  Trolley ")), TILT).conceded is not None


def test_without_a_thing_a_concession_covers_a_single_breach(conceding: RulesFolder) -> None:
    assert _of(_inspect(conceding.pack(), _entry(thing="")), TILT).conceded is not None


def test_a_concession_holds_on_its_last_day_and_not_on_the_day_after(conceding: RulesFolder) -> None:
    pack = conceding.pack()
    last = _inspect(pack, _entry(until="2026-11-25"))
    assert _of(last, TILT).conceded is not None
    after = _inspect(pack, _entry(until="2026-11-24"))
    assert _of(after, TILT).conceded is None
    assert _broken(after) == ["concession_is_not_over"]
    assert after.state("warning") == "on hold"


@pytest.mark.parametrize(
    ("entry", "rule", "signal"),
    [
        (_entry("trolley/leens"), "conceded_rule_is_known", "notice"),
        (_entry(thing="troley"), "conceded_thing_is_there", "notice"),
        (_entry(HOSE, "oxygen hose 2"), "danger_is_not_conceded", "warning"),
        (_entry(until="2027-11-26"), "concession_is_for_a_short_time", "caution"),
    ],
)
def test_a_concession_that_leads_nowhere_or_too_far_is_a_finding_in_its_place(
    conceding: RulesFolder, entry: str, rule: str, signal: str
) -> None:
    inspection = _inspect(conceding.pack(), entry)
    finding = _of(inspection, f"concessions/{rule}")
    assert finding.signal == signal
    assert (finding.place.file, finding.place.line) == ("yard.yaml", 8)
    assert finding.harm and finding.put_right
    assert all(f.conceded is None for f in inspection.findings)


def test_an_unknown_word_is_told_with_the_nearest_known_one(conceding: RulesFolder) -> None:
    pack = conceding.pack()
    rule = _of(_inspect(pack, _entry("trolley/leens")), "concessions/conceded_rule_is_known")
    thing = _of(_inspect(pack, _entry(thing="troley")), "concessions/conceded_thing_is_there")
    assert ("nearest known rule", TILT) in [(one.fact, one.value) for one in rule.found]
    assert ("nearest known thing", "trolley") in [(one.fact, one.value) for one in thing.found]


def test_a_concession_of_what_is_not_broken_is_not_needed(conceding: RulesFolder) -> None:
    conceding.write("hoses/kinked.yaml", (HOSE_RULE % "").replace("signal: danger", "signal: caution"))
    assert _broken(_inspect(conceding.pack(), _entry(HOSE, "lines.0.parts.2"))) == ["concession_is_needed"]


def test_a_concession_of_what_waits_for_an_answer_is_kept(conceding: RulesFolder) -> None:
    conceding.write("hoses/kinked.yaml", (HOSE_RULE % "").replace("signal: danger", "signal: caution"))
    assert _broken(_inspect(conceding.pack(), _entry(HOSE, "lines.0.parts.2"), second="unknown")) == []


def test_a_concession_of_several_breaches_concedes_none_of_them(conceding: RulesFolder) -> None:
    conceding.write("hoses/kinked.yaml", (HOSE_RULE % "").replace("signal: danger", "signal: caution"))
    inspection = _inspect(conceding.pack(), _entry(HOSE, ""), second="true")
    assert _broken(inspection) == ["concession_covers_one_thing"]
    assert [f.conceded for f in inspection.findings if f.rule == HOSE] == [None, None]


def test_a_danger_is_conceded_only_where_its_rule_says_so(conceding: RulesFolder) -> None:
    assert _of(_inspect(conceding.pack(), _entry(HOSE, "lines.0.parts.1")), HOSE).conceded is None
    conceding.write("hoses/kinked.yaml", HOSE_RULE % "may_be_conceded: true\n")
    inspection = _inspect(conceding.pack(), _entry(HOSE, "lines.0.parts.1"))
    assert _of(inspection, HOSE).conceded is not None
    assert _broken(inspection) == []


def test_a_rule_may_say_that_it_is_never_conceded(conceding: RulesFolder) -> None:
    conceding.write("trolley/leans.yaml", TILT_RULE.replace("proven_by", "may_be_conceded: false\nproven_by"))
    inspection = _inspect(conceding.pack(), _entry())
    assert _of(inspection, TILT).conceded is None
    assert _broken(inspection) == ["danger_is_not_conceded"]


def test_a_concession_near_its_end_is_called_to_mind_and_still_concedes(conceding: RulesFolder) -> None:
    pack = conceding.pack()
    near, far = _inspect(pack, _entry(until="2026-12-24")), _inspect(pack, _entry(until="2026-12-25"))
    assert _of(near, REMINDER).signal == "notice"
    assert _of(near, TILT).conceded is not None
    assert _broken(far) == []


def test_a_concession_cannot_concede_what_is_found_of_a_concession(conceding: RulesFolder) -> None:
    unknown = _entry("trolley/leens")
    own = _entry("concessions/conceded_rule_is_known", "concession of trolley/leens on trolley")
    inspection = _inspect(conceding.pack(), unknown, own)
    assert all(f.conceded is None for f in inspection.findings)


def test_rules_of_ones_own_judge_concessions_too(conceding: RulesFolder, overlay: RulesFolder) -> None:
    overlay.write(
        "concessions/given_by_the_engineer.yaml",
        """\
        claim: Leave is given by the site engineer.
        signal: caution
        looks_at: concession
        holds: {who: {const: site engineer}}
        harm: Somebody gives leave who may not.
        put_right: Ask the site engineer.
        drawn_from: [common practice]
        proven_by:
          - {case: nothing known, verdict: unproven}
        """,
    )
    inspection = _inspect(conceding.pack(overlay), _entry())
    assert _broken(inspection) == ["given_by_the_engineer"]
    assert _of(inspection, TILT).conceded is None


@pytest.mark.parametrize(("whose", "given"), [("Yard set", True), ("y*.yaml", True), ("Quay set", False)])
def test_a_file_beside_names_the_rig_or_its_file(conceding: RulesFolder, whose: str, given: bool) -> None:
    beside = f"concessions:\n- {{rig: '{whose}', {_entry()}}}\n"
    finding = _of(_inspect(conceding.pack(), beside=beside), TILT)
    assert (finding.conceded is not None) is given
    if finding.conceded is not None:
        assert finding.conceded.place == Place("beside.yaml", 2, 3)


def test_a_file_beside_does_not_carry_one_rig_over_to_the_next(conceding: RulesFolder) -> None:
    pack = conceding.pack()
    beside = load_beside(f"concessions:\n- {{rig: '*', {_entry()}}}\n".encode(), "beside.yaml", pack.vocabulary)
    leaning = (RIG % "false").encode()
    upright = leaning.replace(b"25 deg", b"5 deg")
    judged = []
    for data in (leaning, upright, leaning):
        rig = beside.given_to(load_rig(data, "yard.yaml", pack.vocabulary))
        judged.append(_broken(inspect_rig(rig, pack, day=DAY.toordinal())))
    assert judged == [[], ["concession_is_needed"], []]


def test_the_same_rig_without_concessions_is_judged_as_before(conceding: RulesFolder) -> None:
    pack = conceding.pack()
    without = _inspect(pack)
    with_none = load_rig(f"{RIG % 'false'}concessions: none\n".encode(), "yard.yaml", pack.vocabulary)
    assert with_none.concessions == ()
    assert inspect_rig(with_none, pack, day=DAY.toordinal()) == without


@pytest.mark.parametrize(
    ("entry", "second"),
    [
        (_entry(until="2026-11-24"), "false"),
        (_entry(HOSE, "oxygen hose 1"), "false"),
        (_entry(HOSE, ""), "true"),
    ],
)
def test_what_has_ended_is_a_danger_or_is_too_wide_concedes_nothing_whatever_the_rules(
    folder: RulesFolder, entry: str, second: str
) -> None:
    signal = "signal: danger" if second == "false" else "signal: caution"
    folder.write("hoses/kinked.yaml", (HOSE_RULE % "").replace("signal: danger", signal))
    inspection = _inspect(folder.pack(), entry, second=second)
    assert len(inspection.findings) >= 2
    assert all(finding.conceded is None for finding in inspection.findings)
