"""Where a procedure stands that is being done: by the partial order, judged at once, gone on with from its record."""

from __future__ import annotations

import pytest
from support.procedure_tools import DAY, FOLDER, judged, read_rig

from rigcheck.judge.judged import judge
from rigcheck.procedure.progress import Progress, entry_values, progress_of, timed_for
from rigcheck.procedure.record_lines import begun_record, gone_on, stopped_at, with_step
from rigcheck.procedure.record_reader import read_record
from rigcheck.rig.thing import Rig
from rigcheck.rules.pack import Pack
from rigcheck.rules.procedures import procedures_of, ways_out


@pytest.fixture
def rig(own: Pack) -> Rig:
    return read_rig(own, (FOLDER / "rig.yaml").read_text())


def _begun() -> str:
    return begun_record("start-up", "rig.yaml", "2026-11-24", "the user")


def _at(own: Pack, rig: Rig, text: str, passed: tuple[int, ...] = ()) -> Progress:
    procedure = procedures_of(own)["start-up"]
    return progress_of(read_record(text.encode(), "record.yaml"), judge(rig, own, day=DAY), procedure, passed)


def _done(progress: Progress, text: str, label: str, **values: str) -> str:
    return with_step(text, next(one for one in progress.left if one.label == label), "07:30", values)


def _labels(progress: Progress) -> list[str]:
    return [one.label for one in progress.now]


def _whole(own: Pack, rig: Rig) -> str:
    text = _begun()
    for values in ({}, {}, {"turns": "1 turn"}, {}, {"pressure": "0.3 bar", "seen_by": "fitter"}):
        at = _at(own, rig, text)
        text = with_step(text, at.now[0], "07:31", values)
    text = with_step(text, _at(own, rig, text).now[0], "07:32", {"pressure": "3 bar", "seen_by": "fitter"})
    return with_step(text, _at(own, rig, text).now[0], "07:33", {"heard": "yes"})


def test_what_may_be_done_now_is_what_waits_for_nothing_left(own: Pack, rig: Rig) -> None:
    at = _at(own, rig, _begun())
    assert _labels(at) == ["back off knobs, acetylene regulator", "back off knobs, oxygen regulator"]
    text = _done(at, _begun(), "back off knobs, oxygen regulator")
    assert _labels(_at(own, rig, text)) == ["back off knobs, acetylene regulator"]
    text = _done(at, text, "back off knobs, acetylene regulator")
    assert _labels(_at(own, rig, text)) == ["open fuel cylinder valve, acetylene cylinder"]


def test_a_record_made_step_by_step_is_finished_and_nothing_is_found_against_it(own: Pack, rig: Rig) -> None:
    text = _whole(own, rig)
    assert _at(own, rig, text).finished
    assert judged(own, rig, text).findings == ()


def test_a_value_beyond_its_limit_is_told_at_once_and_the_step_comes_again(own: Pack, rig: Rig) -> None:
    text = _begun()
    for _ in range(2):
        text = with_step(text, _at(own, rig, text).now[0], "07:30", {})
    text = with_step(text, _at(own, rig, text).now[0], "07:31", {"turns": "3 turn"})
    at = _at(own, rig, text)
    assert [(one.signal, one.put_right) for one in at.last.findings] == [
        ("danger", "Close the valve and open it slowly.")
    ]
    assert _labels(at) == ["open fuel cylinder valve, acetylene cylinder"]
    again = _at(own, rig, with_step(text, at.now[0], "07:32", {"turns": "1 turn"}))
    assert again.last.findings == ()
    assert _labels(again) == ["open oxygen cylinder valve, oxygen cylinder", "set pressure, acetylene regulator"]


def test_a_step_done_too_early_is_told_with_what_to_do_about_what_was_passed_over(own: Pack, rig: Rig) -> None:
    at = _at(own, rig, _begun())
    last = _at(own, rig, _done(at, _begun(), "open fuel cylinder valve, acetylene cylinder", turns="1 turn")).last
    assert len(last.findings) == 1
    found = last.findings[0]
    assert found.signal == "danger"
    assert found.put_right == "Close the cylinder valve and back the knob off."
    assert [one.value for one in found.found] == [
        "back off knobs, acetylene regulator",
        "back off knobs, oxygen regulator",
    ]


def test_a_step_that_is_written_once_more_with_what_fails_is_open_again(own: Pack, rig: Rig) -> None:
    text = _begun()
    for values in ({}, {}, {"turns": "1 turn"}):
        text = with_step(text, _at(own, rig, text).now[0], "07:30", values)
    opened = _at(own, rig, text).done[-1].instance
    corrected = _at(own, rig, with_step(text, opened, "07:31", {"turns": "3 turn"}))
    assert _labels(corrected) == [opened.label]
    assert [one.signal for one in corrected.last.findings] == ["danger"]
    assert entry_values(corrected.done[-2]) == "turns: 1 turn, at 07:30."


def test_what_was_not_stated_is_asked_at_once(own: Pack, rig: Rig) -> None:
    text = _begun()
    for _ in range(3):
        text = with_step(text, _at(own, rig, text).now[0], "07:30", {})
    assert [one.fact for one in _at(own, rig, text).last.questions] == ["turns"]


def test_a_record_that_was_stopped_is_told_once_and_goes_on_where_it_stood(own: Pack, rig: Rig) -> None:
    at = _at(own, rig, _begun())
    text = _done(at, _begun(), "back off knobs, oxygen regulator")
    stopped = stopped_at(text, "07:41")
    found = judged(own, rig, stopped).findings
    assert [one.rule for one in found] == ["procedures/start-up"]
    assert "It was stopped at 07:41." in found[0].claim
    assert len(found[0].found) == 6
    assert found[0].signal == "danger"
    assert gone_on(stopped) == text
    assert _labels(_at(own, rig, stopped)) == _labels(_at(own, rig, text))


def test_a_stopped_record_still_tells_what_was_passed_over(own: Pack, rig: Rig) -> None:
    at = _at(own, rig, _begun())
    text = _done(at, _begun(), "open fuel cylinder valve, acetylene cylinder", turns="1 turn")
    found = judged(own, rig, stopped_at(text, "07:41")).findings
    assert [one.rule for one in found if one.rule.endswith("back_off_knobs")] == ["procedures/start-up/back_off_knobs"]


@pytest.mark.parametrize(
    ("hose", "least", "most"), [("hose: {}", 10, 10), ("hose: {bore: 10 mm, length: 100 m}", 60, 600)]
)
def test_a_purge_is_timed_for_what_the_hoses_of_this_rig_need(pack: Pack, hose: str, least: float, most: float) -> None:
    lines = "[{gas: acetylene, consumption: 500 L/h, parts: [cylinder, {regulator: {set_pressure: 0.3 bar}}, HOSE]}]"
    rig = read_rig(pack, f"rig: a set\nlines: {lines}\ntorch: {{form: combined}}\n".replace("HOSE", f"{{{hose}}}"))
    record = read_record(begun_record("purge", "rig.yaml", "2026-11-24", "the user").encode(), "record.yaml")
    at = progress_of(record, judge(rig, pack, day=DAY), procedures_of(pack)["purge"])
    step = next(one for one in at.left if one.step.name == "purge_fuel")
    timed = timed_for(step.step.values["time"], step, at.speaker)
    assert timed is not None
    assert least <= timed <= most  # by common practice 10 s, and longer where the hose holds more


@pytest.mark.parametrize(("ends", "told"), [("07:30:09", ["time"]), ("07:30:21", [])])
def test_a_time_longer_than_the_clock_went_on_is_told_at_once(pack: Pack, ends: str, told: list[str]) -> None:
    lines = "[{gas: acetylene, parts: [cylinder, regulator, hose]}]"
    rig = read_rig(pack, f"rig: a set\nlines: {lines}\ntorch: {{form: combined}}\n")
    text = begun_record("purge", "rig.yaml", "2026-11-24", "the user")
    for name, at, values in (("find_open_air", "07:30:00", {}), ("purge_fuel", ends, {"time": "20 s"})):
        record = read_record(text.encode(), "record.yaml")
        going = progress_of(record, judge(rig, pack, day=DAY), procedures_of(pack)["purge"])
        text = with_step(text, next(one for one in going.left if one.step.name == name), at, values)
    record = read_record(text.encode(), "record.yaml")
    last = progress_of(record, judge(rig, pack, day=DAY), procedures_of(pack)["purge"]).last
    assert [one.found[0].fact for one in last.findings if "all of it between" in one.found_words] == told


def test_without_gas_a_rig_is_left_by_what_comes_after_no_other_such_procedure(pack: Pack) -> None:
    assert [one.name for one in ways_out(procedures_of(pack).values())] == ["shut-down", "break"]
