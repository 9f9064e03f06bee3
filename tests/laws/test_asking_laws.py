"""What holds of every walk, whoever is asked and in whatever order.

The laws are ours; that more knowledge never turns a settled verdict is the law of the three values (Kleene).
"""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from support.simulated_people import (
    DAY,
    DISAGREEMENT_RULE,
    Round,
    answers_anyhow,
    cannot_tell,
    knows_all,
    knows_half,
    seen_whole,
    sound,
    ticked_right,
    walked,
)

import rigcheck
from rigcheck.asking.answers import Answer, with_answer
from rigcheck.asking.open_facts import NOT_SHOWN, open_rig
from rigcheck.asking.state import Walk
from rigcheck.asking.walk import Page
from rigcheck.facts.known import Purpose
from rigcheck.judge.inspection import explain
from rigcheck.judge.judged import Judged, judge
from rigcheck.rules.pack import Pack

_SMALL = b"""
rig: small torch
lines: [{gas: propane, parts: [cylinder, hose]}]
torch: {form: air-aspirated}
people: none
workpiece: none
breaks: none
overnight: none
store: none
tools: none
job: none
"""
_few = settings(  # a walk takes seconds, and a second one shows no more
    max_examples=1, deadline=None, suppress_health_check=list(HealthCheck), phases=[Phase.explicit, Phase.generate]
)
_seeds = st.integers(0, 10_000)


def _shuffled(seed: int):  # type: ignore[no-untyped-def]
    dice = random.Random(seed)

    def choose(walk: Walk) -> Page:
        return dice.choice([page for stop in walk.stops for page in stop.pages])

    return choose


def _verdicts(went: Round) -> dict[tuple[str, str], str]:
    judged = went.judged()
    return {(thing.path, rule.name): verdict for thing, rule, verdict, _ in judged.judgements()}


@_few
@given(seed=_seeds)
def test_what_is_left_of_dangers_only_falls(pack: Pack, seed: int) -> None:
    went = Round(_SMALL, pack, only="danger")
    walked(went, answers_anyhow(seed))
    assert went.lefts[-1].get("danger", 0) < went.lefts[0]["danger"]
    moments = list(zip(went.lefts, went.disputed, strict=True))
    for (before, agreed), (after, disputed) in pairwise(moments):
        if disputed <= agreed:  # two statements that do not agree unsettle what they settled
            assert after.get("danger", 0) <= before.get("danger", 0)


@_few
@given(seed=_seeds, order=_seeds)
def test_in_whatever_order_it_is_answered_the_dangers_are_the_same(pack: Pack, seed: int, order: int) -> None:
    straight, shuffled = Round(_SMALL, pack, only="danger"), Round(_SMALL, pack, only="danger")
    walked(straight, answers_anyhow(seed), finds=False)
    walked(shuffled, answers_anyhow(seed), choose=_shuffled(order), finds=False)
    one, other = _verdicts(straight), _verdicts(shuffled)
    differ = {key: {verdict, other[key]} for key, verdict in one.items() if other[key] != verdict}
    if not (straight.disputed[-1] or shuffled.disputed[-1]):  # in one order a fact follows that the other one asks for
        assert {key: found for key, found in differ.items() if pack.rules[key[1]].signal == "danger"} == {}
    contrary = {"holds", "broken"}  # a lesser rule, of which this walk does not ask, may be settled by the way
    assert {key: found for key, found in differ.items() if found >= contrary} == {}


@_few
@given(seed=_seeds, stop=st.integers(1, 20))
def test_stopping_and_going_on_changes_nothing(pack: Pack, seed: int, stop: int) -> None:
    went = Round(_SMALL, pack, only="danger")
    person = answers_anyhow(seed)
    for _ in range(stop):
        page = went.walk().next_page
        if page is None:
            break
        went.answer(page, person(page))
    resumed = Round(_SMALL, pack, only="danger", text=went.text)
    assert _keys(resumed.walk()) == _keys(went.walk())


def _keys(walk: Walk) -> list[object]:
    return [page.key for stop in walk.stops for page in stop.pages]


@_few
@given(seed=_seeds)
def test_an_answer_turns_no_verdict_that_was_settled(pack: Pack, seed: int) -> None:
    went = Round(_SMALL, pack, only="danger")
    for _ in range(3):
        page = went.walk().next_page
        assert page is not None
        before = _verdicts(went)
        went.answer(page, answers_anyhow(seed)(page))
        after = _verdicts(went)
        turned = {key for key, verdict in before.items() if after[key] != verdict}
        assert {before[key] for key in turned} <= {"unproven", "presumed"}


# --- what is wrong is found ---

_TEMPLATES = rigcheck.configs_folder() / "templates"
_TEMPLATE = _TEMPLATES / "oxy-acetylene-welding.yaml"
_SMALLER = _TEMPLATES / "air-aspirated-propane-brazing.yaml"
each_seed = pytest.mark.parametrize(
    ("seed", "template"), [(1, _SMALLER), *(pytest.param(n, _TEMPLATE, marks=pytest.mark.whole) for n in range(2, 9))]
)


def _by_standard(template: Path) -> bytes:
    return f"rig: a set\nstandard_rig: {template}\n".encode()


_STANDARD = _by_standard(_TEMPLATE)


def _right(pack: Pack, template: Path = _TEMPLATE) -> Round:
    text = template.read_bytes()
    truth = Round(text, pack, text=sound(text, pack)).judged().known.filled
    return Round(_by_standard(template), pack, text=seen_whole(truth, "2026-11-25"))


def _dangers(judged: Judged) -> set[tuple[str, str]]:
    """What is wrong with a rig and can kill; that a made-up one contradicts itself is nothing to be seen of it."""
    found = (one for one in explain(judged).findings if one.signal == "danger" and one.rule != DISAGREEMENT_RULE)
    return {(one.rule, one.at.path) for one in found}


def _with_faults(right: Round, dice: random.Random, count: int, lasts: tuple[str, ...] = ()) -> Round:
    """Return a rig that is right but for some choices, each of which breaks a DANGER rule.

    `lasts`: only facts of which a sight counts so long.
    """
    judged = right.judged()
    held = [(thing, rule) for thing, rule, verdict, _ in judged.judgements() if verdict == "holds"]
    wrong, found = replace(right), _dangers(judged)
    deadly = [(thing, name) for thing, rule in held if rule.signal == "danger" for name in rule.facts]
    for thing, name in dice.sample(deadly, len(deadly)):
        fact = thing.kind.facts.get(name)
        if fact is None or fact.computed or fact.measure not in ("words", "yes_no"):
            continue
        if lasts and fact.entry.lasts not in lasts:
            continue
        if (thing.kind.name, name) == ("line", "gas"):  # that makes it the line that it is, and no walk asks after it
            continue
        words = [word for word in (*fact.words, *(() if fact.words else ("yes", "no"))) if word != "none"]
        tried = replace(wrong, text=with_answer(wrong.text, Answer({(thing.path, name): dice.choice(words)})))
        if len(_dangers(tried.judged())) > len(found):
            wrong, found, count = tried, _dangers(tried.judged()), count - 1
        if not count:
            return wrong
    raise AssertionError("there are not so many ways of being wrong")


@each_seed
def test_every_fault_that_is_seeded_into_a_standard_rig_is_found_by_the_walk_for_dangers(
    pack: Pack, seed: int, template: Path
) -> None:
    wrong = _with_faults(_right(pack, template), random.Random(seed), 6)
    judged = wrong.judged()
    went = Round(_by_standard(template), pack, only="danger")
    end = walked(went, knows_all(judged.known.filled), finds=False)
    assert _dangers(judged) - {(one.rule, one.at.path) for one in end.findings} == set()


@pytest.mark.parametrize("purpose", ["commissioning", "use"])
def test_a_defect_stands_until_it_is_seen_put_right_and_is_asked_after(pack: Pack, purpose: Purpose) -> None:
    right = _right(pack)
    wrong = _with_faults(right, random.Random(3), 5, lasts=("day", "job"))
    found = {one for one in _dangers(wrong.judged()) if one[0] != DISAGREEMENT_RULE}
    late = judge(wrong.rig(), pack, day=DAY + 40, purpose=purpose)
    assert len(found) >= 5
    assert found - _dangers(late) == set(), "a sight of what is sound passes, a defect does not pass with it"
    asked = {(waits.rule, path) for (path, _), one in open_rig(late).facts.items() for waits in one.waiting}
    assert {rule for rule, _ in found} <= {rule for rule, _ in asked}
    mended = replace(wrong, record=right.text.replace("2026-11-25", "2026-12-20"))
    assert found & _dangers(judge(mended.rig(), pack, day=DAY + 40, purpose=purpose)) == set()


def test_what_was_done_wrong_on_a_day_is_over_with_it_and_is_asked_anew(pack: Pack) -> None:
    # A valve that was opened too fast last month is opened anew today: common practice.
    wrong = _with_faults(_right(pack), random.Random(3), 2, lasts=("deed",))
    found = {one for one in _dangers(wrong.judged()) if one[0] != DISAGREEMENT_RULE}
    late = judge(wrong.rig(), pack, day=DAY + 40)
    assert len(found) >= 2
    assert found & _dangers(late) == set()
    asked = {(waits.rule, path) for (path, _), one in open_rig(late).facts.items() for waits in one.waiting}
    assert {rule for rule, _ in found} <= {rule for rule, _ in asked}


@pytest.mark.parametrize("written", ["", "trolley: {tilt: 5 deg}\n"])
def test_a_defect_that_was_worked_out_of_what_was_seen_is_asked_after_too(pack: Pack, written: str) -> None:
    right = _right(pack)
    leaned = with_answer(right.text, Answer({("trolley[0]", "tilt"): "45 deg"}))
    rig = replace(right, description=_STANDARD + written.encode(), text=leaned).rig()
    tips = "trolley/knock_does_not_tip_the_trolley"
    late = judge(rig, pack, day=DAY + 40)
    found = explain(late)
    assert tips in {one.rule for one in found.findings}
    assert tips in {w.rule for w in open_rig(late).facts["trolley[0]", "tilt"].waiting}
    assert tips in {w.rule for one in found.questions if one.fact == "tilt" for w in one.waiting}


def test_nothing_is_found_on_a_rig_that_is_right(pack: Pack) -> None:
    assert _dangers(_right(pack).judged()) == set()


@each_seed
def test_every_fault_that_came_since_yesterday_is_found_by_the_daily_look(
    pack: Pack, seed: int, template: Path
) -> None:
    right = _right(pack, template)
    before = seen_whole(right.judged().known.filled, "2026-11-24")
    wrong = _with_faults(right, random.Random(seed), 6, lasts=("day",))
    judged = wrong.judged()
    went = Round(template.read_bytes(), pack, purpose="use", only="danger", record=before)
    end = walked(went, knows_all(judged.known.filled), finds=False)
    found = {(one.rule, one.at.path) for one in end.findings}
    faults = {one for one in _dangers(judged) if one[0] != DISAGREEMENT_RULE}  # what two say is no fault of the rig
    assert len(faults) >= 4
    assert faults - found == set()


def test_the_daily_look_asks_how_the_rig_was_used_last_and_may_end_before_it(pack: Pack) -> None:
    right = _right(pack, _SMALLER)
    truth = right.judged().known.filled
    went = Round(_SMALLER.read_bytes(), pack, purpose="use", only="danger", record=seen_whole(truth, "2026-11-24"))
    moments = []

    def person(page: Page) -> Answer:
        assert went.came is not None
        moments.append(went.came[1].after_work)
        return knows_all(truth)(page)

    walked(went, person, finds=False)
    known = [page.after_work for page in went.pages]
    assert any(known)
    assert known == sorted(known) == moments
    assert not any(page.after_work and page.again for page in went.pages)


def test_what_comes_with_the_work_is_not_open_before_it_and_counts_as_shown_by_nobody(pack: Pack) -> None:
    truth = _right(pack).judged().known.filled
    went = Round(_TEMPLATE.read_bytes(), pack, purpose="use", only="danger", record=seen_whole(truth, "2026-11-24"))
    moments: list[tuple[bool, int, int, int]] = []

    def person(page: Page) -> Answer:
        assert went.came is not None
        judged, walk = went.came
        open_ = [rule for _, rule, verdict, _ in judged.judgements() if verdict in NOT_SHOWN]
        deadly = sum(rule.signal == "danger" for rule in open_)
        moments.append((walk.after_work, walk.left.get("danger", 0), walk.later.get("danger", 0), deadly))
        return knows_all(truth)(page)

    end = walked(went, person, finds=False)
    assert all(left + later == deadly for _, left, later, deadly in moments), "none is lost, none is counted twice"
    before = [(left, later) for after, left, later, _ in moments if not after]
    assert [left for left, _ in before] == sorted((left for left, _ in before), reverse=True)
    gas_on = next((left, later) for after, left, later, _ in moments if after)
    assert gas_on[0] == 0, "before gas is let on nothing that can be shown then is left"
    assert gas_on[1] > 5
    assert end.later.get("danger", 0) == end.left.get("danger", 0) == 0


def test_what_nobody_could_tell_after_the_work_is_open_and_waits_for_no_work(pack: Pack) -> None:
    truth = _right(pack, _SMALLER).judged().known.filled
    went = Round(_SMALLER.read_bytes(), pack, purpose="use", only="danger", record=seen_whole(truth, "2026-11-24"))
    person = knows_all(truth)
    end = walked(went, lambda page: cannot_tell(page) if page.after_work else person(page), finds=False)
    assert end.later.get("danger", 0) == 0
    assert end.left["danger"] > 5


@each_seed
def test_who_knows_half_settles_nothing_that_who_knows_all_would_not(pack: Pack, seed: int, template: Path) -> None:
    truth = _with_faults(_right(pack, template), random.Random(seed), 4).judged().known.filled
    standard = _by_standard(template)
    half, whole = Round(standard, pack, only="danger"), Round(standard, pack, text=seen_whole(truth, "2026-11-25"))
    end = walked(half, knows_half(truth, seed), finds=False)
    known, true = _verdicts(half), _verdicts(whole)
    assert end.left.get("danger", 0) > 0, "what he could not tell stays open"
    assert end.not_told
    held = {key for key, verdict in known.items() if verdict == "holds" and pack.rules[key[1]].signal == "danger"}
    assert len(held) > 20
    assert {key: true[key] for key in held if true.get(key) == "broken"} == {}
    found = {(one.rule, one.at.path) for one in end.findings if one.signal == "danger"}
    assert found <= {(rule, path) for (path, rule), verdict in true.items() if verdict == "broken"} | {
        one for one in found if one[0] == DISAGREEMENT_RULE
    }


def test_who_ticks_everything_right_stands_behind_each_tick_and_is_caught_by_what_must_be_read_off(pack: Pack) -> None:
    truth = _right(pack).judged().known.filled
    ticked = Round(_STANDARD, pack, only="danger", text=ticked_right(truth, "2026-11-25"))
    judged, before = ticked.judged(), Round(_STANDARD, pack, only="danger").judged()
    said = [one for thing in judged.rig.things for named in thing.said.values() for one in named]
    assert len(said) > 300 and {(one.basis, one.by, one.day) for one in said} == {("seen", "fitter", DAY)}
    verdicts = Counter(verdict for _, _, verdict, _ in judged.judgements())
    presumed = Counter(verdict for _, _, verdict, _ in before.judgements())["presumed"]
    assert verdicts["presumed"] < presumed / 20, "what he ticked is seen, and by him"
    found = explain(judged)
    assert found.state("warning") == "on hold", "numbers that nobody read off agree with nothing"
    assert len({one.rule for one in found.findings}) > 3, "not by one of them alone"
    assert explain(_right(pack).judged()).state("warning") != "on hold", "the same ticks with numbers read off"
