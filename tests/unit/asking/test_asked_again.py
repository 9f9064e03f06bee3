"""One reading in eight is asked once more, and a second answer that does not agree is told."""

from __future__ import annotations

from datetime import date

import pytest
from support.simulated_people import DAY, Round, knows_all, seen_whole, sound, walked

from rigcheck.asking.answers import Answer
from rigcheck.asking.asked_again import comes_again, differing
from rigcheck.asking.last_page import last_page
from rigcheck.asking.walk import Page
from rigcheck.judge.judged import judge
from rigcheck.rules.looks import looks_of
from rigcheck.rules.pack import Pack

_SET = b"""
rig: small set
lines:
  - gas: acetylene
    parts: [cylinder, regulator, arrester, hose, arrester]
  - gas: oxygen
    parts: [cylinder, regulator, arrester, hose, arrester]
torch: {form: welding}
trolley: {}
"""


def _readings(pack: Pack) -> list[tuple[object, object, str]]:
    rig, looks = Round(_SET, pack).rig(), looks_of(pack)
    return [
        (look, thing, name)
        for thing in rig.things
        for look in looks.for_kind(thing.kind.lineage)
        for name in look.facts
        if name in thing.kind.facts and look in looks.answering(thing.kind.lineage, name)
    ]


def test_over_many_days_one_reading_in_eight_comes_again_and_no_word_does(pack: Pack) -> None:
    readings = _readings(pack)
    days = range(DAY, DAY + 60)
    again = [(one, day) for one in readings for day in days if comes_again(*one, day)]  # type: ignore[arg-type]
    able = {one[1:] for one, _ in again}  # type: ignore[index]
    share = len(again) / (len(able) * len(days))
    assert 0.11 < share < 0.14
    for look, thing, name in readings:
        if thing.kind.facts[name].measure in ("words", "yes_no", "several_words"):  # type: ignore[attr-defined]
            assert not any(comes_again(look, thing, name, day) for day in days)  # type: ignore[arg-type]


def test_what_comes_again_stands_on_the_last_page_until_it_was_answered_twice(pack: Pack) -> None:
    truth = Round(_SET, pack, text=sound(_SET, pack)).judged().known.filled
    read = []
    for day in range(DAY, DAY + 4):
        seen = Round(_SET, pack, text=seen_whole(truth, date.fromordinal(day).isoformat()))
        rig = seen.rig()
        stop = last_page(judge(rig, pack, day=day), looks_of(pack), seen.told(rig))
        pages = stop.pages if stop is not None else ()
        read += [page for page in pages if page.facts[0] not in page.look.again]
    assert read, "of so many readings some come again"
    assert all(page.again and page.look.act in ("read", "measure") for page in read)
    assert "leak_tested" not in {page.facts[0] for page in read}, "the look told that day, and nobody read it off"
    went = Round(_SET, pack, text=seen_whole(truth, "2026-11-25"))
    walked(went, knows_all(truth), finds=False)
    assert last_page(went.judged(), looks_of(pack), went.told(went.rig())) is None


@pytest.fixture(scope="module")
def bore(pack: Pack) -> Page:
    page = next(
        page
        for stop in Round(_SET, pack).walk().stops
        for page in stop.pages
        if "bore" in page.facts and page.things[0].kind.name == "hose"
    )
    return Page(page.look, page.station, page.things[:1], ("bore",), page.open, again=True)


@pytest.mark.parametrize(
    ("first", "second", "told"),
    [("8 mm", "8 mm", 0), ("8 mm", "0.8 cm", 0), ("8 ± 1 mm", "8.5 mm", 0), ("8 mm", "6 mm", 1), ("8 mm", "10 mm", 1)],
)
def test_a_second_reading_that_does_not_agree_is_told_with_both(bore: Page, first: str, second: str, told: int) -> None:
    key = bore.things[0].path, "bore"
    found = list(differing(bore, Answer({key: second}), {key: [first]}))
    assert len(found) == told
    assert all(f"{first} before, {second} now" in one for one in found)


def test_a_correction_on_an_earlier_page_is_no_disagreement(bore: Page) -> None:
    key = bore.things[0].path, "bore"
    page = Page(bore.look, bore.station, bore.things, bore.facts, bore.open)
    assert list(differing(page, Answer({key: "6 mm"}), {key: ["8 mm"]})) == []
