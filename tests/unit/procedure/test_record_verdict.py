"""A record is judged by the procedure of its rig: order, presence, repeats, values, times, hold."""

from __future__ import annotations

import pytest
from msgspec.structs import replace
from support.procedure_tools import DAY, FOLDER, judged, pack_with, read_rig
from support.tool_room import text_of, tool_room_but

from rigcheck.judge.inspection import Finding, Inspection
from rigcheck.rig.thing import Rig
from rigcheck.rules.pack import Pack
from rigcheck.text.faults import Refused

_GOOD = (FOLDER / "good.yaml").read_text()
_STEPS = _GOOD.index("  - back")


@pytest.fixture
def rig(own: Pack) -> Rig:
    return read_rig(own, (FOLDER / "rig.yaml").read_text())


def _changed(*changes: tuple[str, str]) -> str:
    text = _GOOD
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    return text


def _only(inspection: Inspection) -> Finding:
    assert len(inspection.findings) == 1, inspection.findings
    return inspection.findings[0]


def test_a_record_that_follows_its_procedure_has_no_finding_and_no_question(own: Pack, rig: Rig) -> None:
    inspection = judged(own, rig, _GOOD)
    assert (inspection.findings, inspection.questions) == ((), ())
    assert (inspection.record, inspection.day, inspection.file) == ("Start-up", DAY, "record.yaml")
    assert inspection.verdicts["holds"] > len(_GOOD.split("  - "))


def test_a_step_done_too_early_is_named_with_the_one_that_comes_first_and_both_lines(own: Pack, rig: Rig) -> None:
    lines = _GOOD.split("\n")
    lines[5], lines[7] = lines[7], lines[5]  # the knob is backed off after the valve was opened
    found = _only(judged(own, rig, "\n".join(lines).replace(', at: "07:30"', "")))
    assert found.signal == "danger"
    assert found.rule == "procedures/start-up/back_off_knobs"
    assert found.required.startswith("each of these 2 (back off knobs, ")
    assert found.required.endswith(" before open fuel cylinder valve, acetylene cylinder")
    assert {one.place.line for one in found.found} == {6}
    assert all("(line 6) came before back off knobs" in one.value for one in found.found)


def test_one_finding_explains_all_that_a_single_late_step_upsets(own: Pack, rig: Rig) -> None:
    moved = "  - back_off_knobs: {thing: oxygen regulator}\n"
    found = _only(judged(own, rig, _changed((moved, "")) + moved))
    assert found.place.line == 12
    assert len(found.found) == 5  # both valves, both pressures and the call depend on it


def test_a_step_that_was_left_out_is_missed(own: Pack, rig: Rig) -> None:
    found = _only(judged(own, rig, _changed(("  - back_off_knobs: {thing: oxygen regulator}\n", ""))))
    assert (found.thing, found.rule) == ("oxygen regulator", "procedures/start-up/back_off_knobs")
    assert found.found[0].value == "back off knobs, oxygen regulator"


def test_a_step_that_was_left_out_for_several_things_is_one_finding(own: Pack, rig: Rig) -> None:
    found = [f for f in judged(own, rig, _GOOD[:_STEPS]).findings if f.rule.endswith("back_off_knobs")]
    assert [f.thing for f in found] == ["acetylene regulator and 1 more"]
    assert "acetylene regulator and oxygen regulator" in found[0].claim
    assert len(found[0].found) == 2


def test_an_optional_step_may_be_left_out_and_may_be_done(own: Pack) -> None:
    rig = read_rig(own, (FOLDER / "rig.yaml").read_text() + "trolley: {}\n")
    assert judged(own, rig, _GOOD).findings == ()
    assert judged(own, rig, _GOOD + "  - look_at_snow\n").findings == ()


def test_a_step_done_twice_is_a_notice(own: Pack, rig: Rig) -> None:
    found = _only(judged(own, rig, _GOOD + '  - say_it_is_ready: {heard: "yes"}\n'))
    assert found.signal == "notice"
    assert "line 12" in found.found[0].value
    assert "line 13" in found.found[0].value


def test_a_value_out_of_its_limit_shows_found_and_required_with_the_limit(own: Pack, rig: Rig) -> None:
    found = _only(judged(own, rig, _changed(("turns: 1 turn", "turns: 3 turn"))))
    assert (found.signal, found.found[0].value) == ("danger", "3 turns")
    assert "at most 1.5 turn" in found.required
    assert [limit.name for limit in found.limits] == ["fuel_valve_turns"]
    assert found.place.line == 8


def _graded(pack: Pack) -> Pack:
    """The small start-up, its turns being a caution of their own, and a danger beyond five."""
    must = "        must: {maximum: {limit: fuel_valve_turns}}\n"
    also = "also: [{must: {maximum: 5 turn}, signal: danger}, {must: {minimum: 0.5 turn}}]"
    changed = f"{must}        signal: caution\n        {also}\n"
    return pack_with(pack, {"start-up": (FOLDER / "start-up.yaml").read_text().replace(must, changed)})


@pytest.mark.parametrize(
    ("turns", "word", "required"),
    [
        ("3 turn", "caution", "at most 1.5 turn"),
        ("6 turn", "danger", "at most 5 turn"),
        ("0.25 turn", "caution", "0.5"),
    ],
)
def test_a_value_is_judged_too_high_and_too_low_each_with_its_own_word(
    pack: Pack, turns: str, word: str, required: str
) -> None:
    own = _graded(pack)
    rig = read_rig(own, (FOLDER / "rig.yaml").read_text())
    found = _only(judged(own, rig, _changed(("turns: 1 turn", f"turns: {turns}"))))
    assert (found.signal, found.rule) == (word, "procedures/start-up/open_fuel_cylinder_valve")
    assert required in found.required
    assert judged(own, rig, _GOOD).findings == ()


def test_a_value_that_is_not_stated_waits_with_the_gravest_of_its_words(pack: Pack) -> None:
    own = _graded(pack)
    rig = read_rig(own, (FOLDER / "rig.yaml").read_text())
    assert judged(own, rig, _changed((", turns: 1 turn", ""))).questions[0].signal == "danger"


def test_a_range_over_the_graver_bound_alone_is_too_close_to_call_for_it(pack: Pack) -> None:
    own = _graded(pack)
    rig = read_rig(own, (FOLDER / "rig.yaml").read_text())
    found = _only(judged(own, rig, _changed(("turns: 1 turn", "turns: 5 ± 1 turn"))))
    assert found.signal == "caution"


def test_a_value_exactly_at_its_limit_is_accepted(own: Pack, rig: Rig) -> None:
    assert judged(own, rig, _changed(("turns: 1 turn", "turns: 1.5 turn"))).findings == ()


def test_a_value_is_held_against_a_figure_of_this_rig(own: Pack, rig: Rig) -> None:
    found = _only(judged(own, rig, _changed(("pressure: 0.3 bar", "pressure: 0.4 bar"))))
    assert found.required == "pressure: at most 0.3 bar"
    assert (found.signal, found.thing) == ("caution", "acetylene regulator")


def test_a_value_that_is_not_stated_is_a_question(own: Pack, rig: Rig) -> None:
    inspection = judged(own, rig, _changed((", turns: 1 turn", "")))
    assert inspection.findings == ()
    assert [(q.fact, q.ask, q.thing) for q in inspection.questions] == [
        ("turns", "How many turns was it opened?", "acetylene cylinder")
    ]
    assert inspection.state("warning") == "not yet shown"


def test_a_question_mark_says_that_a_value_is_not_known(own: Pack, rig: Rig) -> None:
    inspection = judged(own, rig, _changed(("turns: 1 turn", 'turns: "?"')))
    assert [q.fact for q in inspection.questions] == ["turns"]


def test_a_value_too_close_to_call_is_a_question(own: Pack, rig: Rig) -> None:
    inspection = judged(own, rig, _changed(("turns: 1 turn", "turns: 1.5 ± 0.1 turn")))
    assert inspection.findings == ()
    assert inspection.questions[0].too_close.startswith("1.5 ± 0.1 turns against: ")


def test_a_value_held_against_a_figure_that_is_not_known_asks_for_it(own: Pack) -> None:
    rig = read_rig(own, (FOLDER / "rig.yaml").read_text().replace("{set_pressure: 3 bar}", "{}"))
    inspection = judged(own, rig, _GOOD)
    assert [(q.thing, q.fact) for q in inspection.questions] == [("oxygen regulator", "set_pressure")]
    assert inspection.questions[0].place.file == "rig.yaml"


def test_a_value_that_need_meet_nothing_may_stay_unsaid(own: Pack, rig: Rig) -> None:
    assert judged(own, rig, _changed((", seen_by: the user", ""))).questions == ()


def test_a_step_that_failed_and_was_done_again_well_is_a_notice(own: Pack, rig: Rig) -> None:
    failed = '  - open_fuel_cylinder_valve: {at: "07:31", turns: 3 turn}\n'
    good = '  - open_fuel_cylinder_valve: {at: "07:31", turns: 1 turn}\n'
    found = _only(judged(own, rig, _changed((good, failed + good))))
    assert (found.signal, found.found[0].value) == ("notice", "3 turns")
    assert "line 9" in found.put_right


def test_what_comes_after_a_step_waits_for_the_try_that_did_not_fail(own: Pack, rig: Rig) -> None:
    good = '  - open_fuel_cylinder_valve: {at: "07:31", turns: 1 turn}\n'
    failed = good.replace("1 turn", "3 turns")
    late = _GOOD.replace(good, failed).replace('at: "07:3', 'note: "07:3') + good
    orders = [f for f in judged(own, rig, late).findings if f.found[0].fact == "order"]
    assert [f.place.line for f in orders] == [13]


def test_times_that_run_backwards_are_found_and_are_grave_where_the_order_matters(own: Pack, rig: Rig) -> None:
    found = _only(judged(own, rig, _changed(('at: "07:31:30"', 'at: "07:29"'))))
    assert (found.signal, found.found[0].value) == ("warning", "07:29, after 07:31 in line 8")
    swapped = _changed((', at: "07:30"}', "}"), ("{thing: oxygen regulator}", '{thing: oxygen regulator, at: "07:30"}'))
    early = swapped.replace("{thing: acetylene regulator}", '{thing: acetylene regulator, at: "07:45"}')
    assert _only(judged(own, rig, early)).signal == "notice"  # the two knobs may be turned in any order


def test_a_time_of_the_next_day_is_written_with_it(own: Pack, rig: Rig) -> None:
    assert judged(own, rig, _changed(('at: "07:33"', 'at: "2026-11-25 00:10"'))).findings == ()


def test_the_days_limits_of_the_local_code_are_those_of_the_record(own: Pack, rig: Rig) -> None:
    assert judged(own, rig, _GOOD, "uk").local_code == "uk"


def _with_rules(own: Pack, pack: Pack) -> Pack:
    return replace(own, rules=pack.rules)


def test_work_with_a_rig_that_its_inspection_holds_is_found_and_names_the_hold(own: Pack, pack: Pack) -> None:
    text = (FOLDER / "rig.yaml").read_text() + "hose_pair: {held_by: cable-tie}\n"
    inspection = judged(_with_rules(own, pack), read_rig(own, text), _GOOD)
    held = [f for f in inspection.findings if f.rule == "procedures/start-up"]
    assert len(held) == 1
    assert any("Twin hoses" in one.value for one in held[0].found)
    assert inspection.state("warning") == "on hold"


def test_a_procedure_that_may_be_done_despite_a_hold_is_not_found(own: Pack, pack: Pack) -> None:
    text = (FOLDER / "start-up.yaml").read_text().replace("cautions:", "despite_hold: true\ncautions:")
    rules = replace(pack_with(pack, {"start-up": text}), rules=pack.rules)
    rig = read_rig(own, (FOLDER / "rig.yaml").read_text() + "hose_pair: {held_by: cable-tie}\n")
    assert judged(rules, rig, _GOOD).findings == ()


def test_a_record_of_an_unknown_procedure_is_refused_with_the_nearest(own: Pack, rig: Rig) -> None:
    with pytest.raises(Refused, match=r"record.yaml:1:9: 'startup' is no procedure.*Nearest known word: start-up"):
        judged(own, rig, _changed(("record: start-up", "record: startup")))


def test_a_step_of_which_it_is_not_known_whether_it_applies_asks_instead_of_accusing(pack: Pack) -> None:
    text = (FOLDER / "start-up.yaml").read_text().replace("{line.fuel: {const: false}}", "{upright: {const: true}}")
    own = pack_with(pack, {"start-up": text})
    rig = read_rig(own, (FOLDER / "rig.yaml").read_text())
    inspection = judged(own, rig, _GOOD.replace('  - open_oxygen_cylinder_valve: {at: "07:31:30"}\n', ""))
    assert inspection.findings == ()
    assert {q.fact for q in inspection.questions} == {"upright"}


# --- several tries, and what the clock leaves no time for ---


def _trying(pack: Pack) -> Pack:
    """The small start-up, in which the call that it is ready is shouted again only after a look at the snow."""
    written = (FOLDER / "start-up.yaml").read_text()
    step = "  - step: say_it_is_ready\n"
    assert step in written
    return pack_with(pack, {"start-up": written.replace(step, f"{step}    between_tries: [look_at_snow]\n")})


_AGAIN = '  - say_it_is_ready: {heard: "yes"}\n'


def test_a_second_try_without_what_comes_between_is_as_grave_as_that(pack: Pack) -> None:
    own = _trying(pack)
    rig = read_rig(own, (FOLDER / "rig.yaml").read_text() + "trolley: {}\n")
    found = _only(judged(own, rig, _GOOD + _AGAIN))
    assert found.rule == "procedures/start-up/look_at_snow"
    assert found.found[0].fact == "tried again"
    assert "line 12" in found.found[0].value
    assert "line 13" in found.found[0].value
    assert judged(own, rig, _GOOD + "  - look_at_snow\n" + _AGAIN).findings == ()


_LIGHTING = """record: lighting
rig: rig.yaml
done: 2026-11-24
by: the user
steps:
  - dress
  - clear_the_place: {distance: 20 m}
"""
_TRY = "  - light_the_fuel: {torch: T1, lighter: friction-lighter}\n"


@pytest.mark.parametrize(
    ("tries", "signals"),
    [
        (_TRY, []),
        (_TRY * 3, ["danger", "danger"]),
        (_TRY + "  - shut_and_air\n" + _TRY, []),
        (_TRY + _TRY.replace("T1", "T2"), []),
        (_TRY.replace("friction-lighter", "match") + _TRY, ["danger", "notice"]),
    ],
)
def test_a_torch_is_tried_again_only_after_it_was_shut_and_aired(tries: str, signals: list[str], pack: Pack) -> None:
    rig = read_rig(pack, text_of(tool_room_but({})), "rig.yaml")
    told = _LIGHTING + tries + "  - clear_the_soot\n  - add_oxygen\n  - read_the_gauges_again\n"
    assert [one.signal for one in judged(pack, rig, told).findings] == signals


_PURGE = """record: purge
rig: rig.yaml
done: 2026-11-24
by: the user
steps:
  - find_open_air: {{at: "{0}", into: open-air}}
  - purge_fuel: {{thing: torch, {1}}}
  - purge_oxygen: {{thing: torch, at: "{2}", time: 90 s}}
  - see_torch_shut: {{thing: torch, at: "{3}"}}
"""


@pytest.mark.parametrize(
    ("times", "told"),
    [
        (("07:31", "time: 90 s", "07:32", "07:35"), ""),  # to the end of that minute there may be 120 s
        (("07:31:00", "time: 90 s", "07:32:29", "07:35"), ""),
        (("07:31:00", "time: 90 s", "07:32:10", "07:35"), "90 s, but all of it between 07:31 (line 6)"),
        (("07:31:01", "time: 90 s", "07:31:05", "07:35"), "90 s, but all of it between 07:31:01"),
        (("07:31:01", 'at: "07:31:02"', "07:31:05", "07:35"), "all of it between 07:31:01"),
        (("07:31", "time: 90 s", "07:35", "07:35"), ""),
    ],
)
def test_a_step_that_the_clock_leaves_no_time_for_is_found(times: tuple[str, ...], told: str, pack: Pack) -> None:
    rig = read_rig(pack, text_of(tool_room_but({})), "rig.yaml")
    found = [
        one for one in judged(pack, rig, _PURGE.format(*times)).findings if one.rule == "procedures/purge/purge_fuel"
    ]
    assert [one.found[0].value[: len(told)] for one in found] == ([told] if told else [])
    assert {one.signal for one in found} <= {"warning"}


# --- what comes before the procedure ---


def test_a_torch_is_not_shown_to_be_lit_right_until_it_is_known_that_the_lines_were_purged(pack: Pack) -> None:
    told = _LIGHTING + _TRY + "  - clear_the_soot\n  - add_oxygen\n  - read_the_gauges_again\n"
    for purged, state, asked in (
        ("true", "nothing found against it", []),
        ("", "not yet shown", ["purged", "purged_alone"]),
    ):
        known = {"purged": purged} | ({} if purged else {"purged_alone": "", "purge_time": ""})
        rig = read_rig(pack, text_of(tool_room_but({"fuel line": known})), "rig.yaml")
        inspection = judged(pack, rig, told)
        assert (inspection.state("warning"), [one.fact for one in inspection.questions]) == (state, asked)
    rig = read_rig(pack, text_of(tool_room_but({"fuel line": {"purged": "false"}})), "rig.yaml")
    assert _only(judged(pack, rig, told)).found[0].fact == "on hold"
