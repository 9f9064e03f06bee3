"""Things that a register says were taken out of use or went missing, and the rigs that have them all the same."""

from __future__ import annotations

from datetime import date

import pytest

from rigcheck.judge.inspection import Inspection, explain
from rigcheck.judge.judged import judge
from rigcheck.report.text.inspection_text import inspection_lines
from rigcheck.report.text.layout import plain_text
from rigcheck.rig.around import Around
from rigcheck.rig.loader import load_rig
from rigcheck.rig.register import Register
from rigcheck.rig.register_reader import load_register
from rigcheck.rules.pack import Pack
from rigcheck.tasks.due_dates import due_dates
from rigcheck.text.faults import Refused

DAY = date(2026, 11, 25).toordinal()
RIG = """
rig: gate repair
lines:
  - gas: acetylene
    parts: [cylinder, regulator: {tag: R-1}, hose: {tag: H-1}]
torch: {form: cutting}
"""
IN_USE = "register: s\nthings:\n  H-1: {hose: {cover: cut, made: 2019-01}}\n  R-1: {regulator: {}}\n"
SAID = ", withdrawn: damaged, withdrawn_since: 2026-10-02}"
OUT = IN_USE.replace("2019-01}", f"2019-01{SAID}")
REASONS = ("rig/withdrawn_thing_is_not_used", "rig/missing_thing_is_looked_over", "rig/withdrawal_says_why")


def register(pack: Pack, text: str) -> Register:
    return load_register([(text.encode(), "s.yaml")], pack.vocabulary, "s.yaml")


def inspected(pack: Pack, text: str) -> Inspection:
    around = Around(register_of=lambda _: register(pack, text))
    return explain(judge(load_rig(RIG.encode(), "gate.yaml", pack.vocabulary, around), pack, day=DAY))


@pytest.mark.parametrize(
    ("why", "told"),
    [
        ("damaged", [("rig/withdrawn_thing_is_not_used", "danger")]),
        ("recall", [("rig/withdrawn_thing_is_not_used", "danger")]),
        ("lost", [("rig/missing_thing_is_looked_over", "warning")]),
        ("sold", [("rig/missing_thing_is_looked_over", "warning")]),
        ("no", []),
    ],
)
def test_a_rig_that_has_a_withdrawn_thing_is_told_by_the_reason(pack: Pack, why: str, told: list[object]) -> None:
    text = OUT.replace("damaged", why) if why != "no" else IN_USE.replace("2019-01}", "2019-01, withdrawn: no}")
    found = [one for one in inspected(pack, text).findings if one.rule in REASONS]
    assert [(one.rule, one.signal) for one in found] == told
    for one in found:
        assert one.thing.startswith("acetylene hose, H-1 withdrawn since 2026-10-02")
        assert str(one.place).startswith("s.yaml:3:")


def test_of_what_no_register_speaks_nothing_is_asked_and_no_check_is_counted(pack: Pack) -> None:
    plain = explain(judge(load_rig(RIG.encode(), "gate.yaml", pack.vocabulary), pack, day=DAY))
    assert not [one for one in plain.questions if "withdraw" in one.fact]
    kept = inspected(pack, IN_USE)
    assert not [one for one in kept.questions if "withdraw" in one.fact]
    more = sum(inspected(pack, OUT).verdicts.values()) - sum(kept.verdicts.values())
    assert more == len(REASONS)  # three checks, on the one thing that was withdrawn


def test_a_withdrawn_thing_silences_nothing_in_the_rig_that_has_it(pack: Pack) -> None:
    before, after = ({(f.rule, f.thing) for f in inspected(pack, text).findings} for text in (IN_USE, OUT))
    assert before <= after
    assert ("hoses/hose_cover_is_sound", "acetylene hose") in before


def test_a_withdrawn_thing_is_named_in_its_register_and_not_judged_there(pack: Pack) -> None:
    found = explain(judge(register(pack, OUT).rig, pack, day=DAY))
    assert found.withdrawn == ("H-1 withdrawn since 2026-10-02: damaged",)
    assert not [one for one in found.findings if "H-1" in one.thing]
    assert [one for one in explain(judge(register(pack, IN_USE).rig, pack, day=DAY)).findings if "H-1" in one.thing]


def test_what_is_built_into_a_withdrawn_thing_is_out_of_use_with_it(pack: Pack) -> None:
    text = IN_USE.replace("regulator: {}", f"regulator: {{inlet_gauge: {{pointer: off-zero}}{SAID}")
    kinds = {one.kind.name for one in register(pack, text).rig.things}
    assert kinds == {"register", "hose"}


def test_a_withdrawn_thing_does_not_fall_due(pack: Pack) -> None:
    due = {text: {one.tag for one in due_dates(register(pack, text).rig, pack, day=DAY).dues} for text in (IN_USE, OUT)}
    assert "H-1" in due[IN_USE]
    assert "H-1" not in due[OUT]


def test_a_whole_kind_can_be_called_back(pack: Pack) -> None:
    text = (
        "register: s\nkinds:\n  hose-20: {hose: {withdrawn: recalled, withdrawn_since: 2026-11}}\n"
        "things:\n  H-1: {as: hose-20}\n  R-1: {regulator: {}}\n"
    )
    assert REASONS[0] in {one.rule for one in inspected(pack, text).findings}


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        (", withdrawn_since: 2026-10-02", "", "it is not said: Since which day is it out of use?"),
        ("withdrawn: damaged, ", "", "it is not said: Why was it taken out of use?"),
        ("withdrawn_since: 2026-10-02", "withdrawn_since: unknown", "it is not said: Since which day"),
        ("withdrawn: damaged", "withdrawn: gone", "'gone' is not one of its words"),
    ],
)
def test_a_withdrawal_says_why_and_since_when(pack: Pack, old: str, new: str, words: str) -> None:
    with pytest.raises(Refused) as refused:
        register(pack, OUT.replace(old, new))
    assert words in str(refused.value)


@pytest.mark.parametrize(
    "said",
    [
        "withdrawn: gone, withdrawn_since: 2026-10-02",
        "withdrawn: unknown, withdrawn_since: 2026-10-02",
        "withdrawn: yes",
        "withdrawn: [damaged]",
        "withdrawn_since: 2026-10-02",
        "withdrawn_since: last week",
        "Withdrawn: gone",
        "out of use: gone",
    ],
)
def test_what_is_withdrawn_for_a_reason_that_nobody_can_read_is_out_of_use(pack: Pack, said: str) -> None:
    text = IN_USE.replace("2019-01}", f"2019-01, {said}}}")
    held = load_register([(text.encode(), "s.yaml")], pack.vocabulary, "s.yaml", what_can_be_read=True)
    assert [words.partition(" ")[0] for words in held.rig.withdrawn] == ["H-1"]
    assert held.rig.unread and "H-1" not in {one.tag for one in held.rig.things}
    around = Around(register_of=lambda _: held)
    rig = load_rig(RIG.encode(), "gate.yaml", pack.vocabulary, around, what_can_be_read=True)
    found = explain(judge(rig, pack, day=DAY))
    assert [(one.rule, one.signal) for one in found.findings if one.rule in REASONS] == [(REASONS[2], "warning")]
    [asked] = [one for one in found.questions if one.kind == "withdrawal"]
    assert asked.signal == "danger" and asked.ask == "Why was it taken out of use?"
    told = " ".join(plain_text(inspection_lines(found, 400, hold_at="warning", questions="danger")).split())
    assert "withdrawn: failed-test" in told and "parts[2].H-1" not in told, "it is written in the register"


def test_a_day_that_nobody_can_read_leaves_the_reason_as_it_is(pack: Pack) -> None:
    text = OUT.replace("2026-10-02", "last week")
    held = load_register([(text.encode(), "s.yaml")], pack.vocabulary, "s.yaml", what_can_be_read=True)
    around = Around(register_of=lambda _: held)
    rig = load_rig(RIG.encode(), "gate.yaml", pack.vocabulary, around, what_can_be_read=True)
    found = explain(judge(rig, pack, day=DAY))
    assert [one.rule for one in found.findings if one.rule in REASONS] == [REASONS[0]]
