"""A record is read against the steps of its rig; whatever cannot be read is refused with what to write."""

from __future__ import annotations

import re

import pytest
from support.procedure_tools import DAY, FOLDER, expanded, marked, pack_with, read_rig

from rigcheck.procedure.clock import clock_words, read_clock
from rigcheck.procedure.record_reader import Done, read_record, read_steps
from rigcheck.quantity.notation import NotRead
from rigcheck.rules.pack import Pack
from rigcheck.text.faults import Refused

_GOOD = (FOLDER / "good.yaml").read_text()

_FAULTS = {
    "no day": (("done: 2026-11-24", "done: «yesterday"), r"'yesterday' is no day"),
    "a whole month": (("done: 2026-11-24", "done: «2026-11"), r"'2026-11' is more than one day\."),
    "no rig": (("record: start-up\nrig: rig.yaml\n", "«record: start-up\n"), r"'rig' is not written\."),
    "nobody": (("by: the user who works with it", "by: «''"), r"'by' cannot be read\."),
    "an unknown key": (("by:", "«who: me\nby:"), r"'who' is nothing known of a record\."),
    "an unknown step": (
        ("- say_it_is_ready", "- «say_its_ready"),
        r"'say_its_ready' is no step of start-up\..*word: say_it_is_ready\.",
    ),
    "a thing that it is not done to": (
        ("thing: oxygen regulator}", "thing: «oxygen regulators}"),
        r"'oxygen regulators' is nothing that back_off_knobs is done to.*word: oxygen regulator\.",
    ),
    "a thing that is not named": (
        ("back_off_knobs: {thing: oxygen regulator}", "«back_off_knobs: {}"),
        r'It is not said of which thing .*"acetylene regulator" \| "oxygen regulator"',
    ),
    "a thing where the step is done once": (
        ('{heard: "yes"}', '{heard: "yes", «thing: torch}'),
        r"The step say_it_is_ready is done once for the rig\.",
    ),
    "a step for what the rig does not have": (
        ("- say_it_is_ready", "- «look_at_snow\n  - say_it_is_ready"),
        r"The step look_at_snow does not apply to this rig\. This rig has no trolley\.",
    ),
    "a value that is not known": (("turns: 1 turn", "«turned: 1 turn"), r"'turned' is nothing known.*word: turns"),
    "a value without a unit": (("turns: 1 turn", "turns: «1"), r"turns: '1' has no unit\."),
    "a word that is not one of them": (('heard: "yes"', "heard: «maybe"), r"heard: 'maybe' is not one of its"),
    "a value that is a mapping": (("turns: 1 turn", "turns: «{a: b}"), r"turns: Nothing that can be read"),
    "no time of day": (('at: "07:33"', 'at: «"25:33"'), r"'25:33' is no time of day\."),
    "a step that is a list": (
        ("- say_it_is_ready: {", "- «[say_it_is_ready]\n  - say_it_is_ready: {"),
        r"This is not one step\.",
    ),
}


def _read(pack: Pack, text: str) -> tuple[Done, ...]:
    own = pack_with(pack, {"start-up": (FOLDER / "start-up.yaml").read_text()})
    expansion = expanded(own, read_rig(own, (FOLDER / "rig.yaml").read_text()), "start-up")
    return read_steps(read_record(text.encode(), "record.yaml"), expansion)


@pytest.mark.parametrize("case", _FAULTS)
def test_a_faulty_record_is_refused_at_the_place_of_its_fault(case: str, pack: Pack) -> None:
    (old, new), wanted = _FAULTS[case]
    assert old in _GOOD
    text, place = marked(_GOOD.replace(old, new, 1))
    with pytest.raises(Refused) as caught:
        _read(pack, text)
    (told,) = map(str, caught.value.faults)
    assert told.startswith(f"record.yaml:{place}: ")
    assert re.search(wanted, told)


def test_all_faults_of_a_record_are_told_at_once(pack: Pack) -> None:
    text = _GOOD
    for case in ("an unknown step", "a value without a unit", "no time of day"):
        text = text.replace(*_FAULTS[case][0], 1).replace("«", "")
    with pytest.raises(Refused) as caught:
        _read(pack, text)
    assert len(caught.value.faults) == 3


def test_a_step_may_be_a_bare_word_and_a_thing_may_be_written_in_capitals(pack: Pack) -> None:
    text = _GOOD.replace('say_it_is_ready: {heard: "yes"}', "say_it_is_ready").replace(
        "oxygen regulator}", "OXYGEN  Regulator}"
    )
    done = _read(pack, text)
    assert [one.instance.step.name for one in done][-1] == "say_it_is_ready"
    assert done[1].instance.called == "oxygen regulator"


def test_a_record_without_steps_is_read(pack: Pack) -> None:
    head = _GOOD[: _GOOD.index("steps:")]
    assert _read(pack, f"{head}steps:\n# nothing yet\n") == ()
    assert _read(pack, f"{head}steps: []\n") == ()


@pytest.mark.parametrize(
    ("text", "seconds"),
    [("07:31", 27_060), ("7:31:05", 27_065), ("00:00", 0), ("2026-11-25 00:10", 87_000), ("2026-11-23T23:59", -60)],
)
def test_a_time_of_day_is_counted_from_the_start_of_the_records_day(text: str, seconds: int) -> None:
    assert read_clock(text, DAY) == seconds


@pytest.mark.parametrize("text", ["24:00", "7.31", "07:60", "27060", "", "07:31 o'clock", "2026-02-30 07:00"])
def test_what_is_no_time_of_day_is_refused(text: str) -> None:
    with pytest.raises(NotRead):
        read_clock(text, DAY)


def test_a_time_of_day_is_shown_as_it_is_written() -> None:
    assert [clock_words(one) for one in (27_060, 27_065, 87_000)] == ["07:31", "07:31:05", "00:10"]
