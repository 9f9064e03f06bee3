"""What holds of every walk, whoever is asked and in whatever order.

The laws are ours; that more knowledge never turns a settled verdict is the law of the three values (Kleene).
"""

from __future__ import annotations

import random
from itertools import pairwise

from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from rigcheck.asking.state import Walk
from rigcheck.asking.walk import Page
from rigcheck.rules.pack import Pack
from tests.support.simulated_people import Round, answers_anyhow, walked

_SMALL = b"""
rig: small torch
lines: [{gas: propane, parts: [cylinder, regulator, hose]}]
torch: {form: air-aspirated}
people: none
workpiece: none
breaks: none
overnight: none
store: none
tools: none
job: none
"""
_few = settings(  # a walk takes seconds, and a shorter one shows no more
    max_examples=2, deadline=None, suppress_health_check=list(HealthCheck), phases=[Phase.explicit, Phase.generate]
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
def test_in_whatever_order_it_is_answered_the_verdicts_are_the_same(pack: Pack, seed: int, order: int) -> None:
    straight, shuffled = Round(_SMALL, pack, only="danger"), Round(_SMALL, pack, only="danger")
    walked(straight, answers_anyhow(seed), finds=False)
    walked(shuffled, answers_anyhow(seed), choose=_shuffled(order), finds=False)
    one, other = _verdicts(straight), _verdicts(shuffled)
    assert {key: verdict for key, verdict in one.items() if other[key] != verdict} == {}


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
