"""What the local page asks, what it writes, and that nothing is written twice or over another."""

from __future__ import annotations

import re
from html import unescape
from pathlib import Path

import html5lib
import pytest
from support.local_page import LocalPage, local_page, page_name

from rigcheck.rules.pack import Pack

_RIG = """rig: barn set
lines: [{gas: propane, parts: [cylinder, regulator, hose]}]
torch: {form: air-aspirated}
people: none
workpiece: none
"""


def _cannot_tell(text: str) -> dict[str, str]:
    """What is sent by somebody who cannot tell anything, of all things at once where they are asked so."""
    names = set(re.findall(r'name="(q\d+(?:t\d+)?)" value="\?"', text))
    names = {one for one in names if "t" not in one or one.partition("t")[0] not in names}
    told = dict.fromkeys(names, "?") | {f"{name}-because": "no light" for name in names}
    return {"page": page_name(text), **told}


@pytest.fixture
def served(tmp_path: Path, pack: Pack) -> LocalPage:
    rig = tmp_path / "barn.yaml"
    rig.write_text(_RIG)
    return local_page(rig, pack)


@pytest.fixture
def first(served: LocalPage) -> str:
    return served.post("/walk", {"only": "danger"}).text


def test_nothing_is_written_before_somebody_begins(served: LocalPage) -> None:
    assert "State: " in served.client.get("/").text
    assert not served.looks()
    assert "by: fitter" in (served.post("/walk", {"only": "danger"}), served.looks())[1]


@pytest.mark.parametrize("path", ["/", "/ask", "/given"])
def test_pages_are_well_formed(served: LocalPage, first: str, path: str) -> None:
    served.answer(first, q0t0="open-air")
    html5lib.HTMLParser(strict=True).parse(served.client.get(path).text)


def test_nothing_is_chosen_beforehand_and_cannot_tell_is_a_row_as_the_others(first: str) -> None:
    assert not re.search(r"\bchecked\b|\bselected\b", first)
    rows = re.findall(r'<label class="row[^"]*"><input type="(\w+)" name="q0t0"', first)
    assert len(set(rows)) == 1


def test_an_answer_is_on_the_disk_before_the_next_question(served: LocalPage, first: str) -> None:
    after = served.answer(first, q0t0="open-air")
    assert after.status_code == 200
    assert "  - {thing: site, place: open-air}\n" in served.looks()
    assert "Where is the work done?" not in after.text
    assert "Saved " in after.text


def test_what_is_no_answer_is_told_beside_it_and_what_was_typed_is_kept(served: LocalPage, first: str) -> None:
    before = served.looks()
    empty = served.answer(first)
    assert empty.status_code == 422
    assert "Answer this, or mark that you cannot tell." in empty.text
    assert "Choose why you cannot tell." in served.answer(first, q0t0="?").text
    assert "Choose why you cannot tell." in served.answer(first, q0t0="?", q0t0_because="just so").text
    assert "is not one of its words" in unescape(served.answer(first, q0t0="moon").text)
    both = served.post("/answer", {"page": page_name(first), "q0t0": ["open-air", "?"], "q0t0-because": "no light"})  # type: ignore[dict-item]
    assert "Both an answer and" in both.text
    assert re.search(r'value="open-air" checked', both.text)
    assert served.looks() == before


def test_cannot_tell_is_put_down_with_why_and_does_not_come_again(served: LocalPage, first: str) -> None:
    after = served.answer(first, q0t0="?", q0t0_because="no light")
    assert "{thing: site, fact: place, because: no light}" in served.looks()
    assert "Where is the work done?" not in after.text


def test_an_answer_that_is_sent_twice_is_written_once(served: LocalPage, first: str) -> None:
    served.answer(first, q0t0="open-air")
    once = served.looks()
    assert served.answer(first, q0t0="open-air").status_code == 200
    assert served.looks() == once
    told = served.client.get("/ask").text
    served.answer(told, q0t0="?", q0t0_because="no light")
    once = served.looks()
    assert served.answer(told, q0t0="?", q0t0_because="no light").status_code == 200
    assert served.looks() == once


def test_of_two_tabs_the_second_is_told_what_the_first_wrote_and_may_still_write_below(
    served: LocalPage, first: str
) -> None:
    served.answer(first, q0t0="open-air")
    before = served.looks()
    late = served.answer(first, q0t0="workshop")
    assert late.status_code == 409
    assert "Meanwhile this was answered" in late.text
    assert ": open-air</li>" in late.text
    assert re.search(r'value="workshop" checked', late.text)
    assert served.looks() == before
    assert served.answer(late.text, q0t0="workshop").status_code == 200
    assert served.looks().index("place: open-air") < served.looks().index("place: workshop")


def test_a_page_that_was_shown_before_a_new_start_is_still_answered(
    served: LocalPage, first: str, tmp_path: Path, pack: Pack
) -> None:
    again = local_page(served.rig, pack)
    assert again.answer(first, q0t0="open-air").status_code == 200
    assert again.answer(first, q0t0="open-air").status_code == 200
    assert again.looks().count("place: open-air") == 1


def test_a_page_of_a_rig_that_was_described_otherwise_meanwhile_writes_nothing(served: LocalPage, first: str) -> None:
    served.rig.write_text(_RIG.replace("regulator, hose", "regulator, hose, hose"))
    before = served.looks()
    assert served.answer(first, q0t0="open-air").status_code == 410
    assert served.looks() == before


def test_back_asks_again_with_what_was_answered_and_the_new_answer_stands_below(served: LocalPage, first: str) -> None:
    served.answer(first, q0t0="open-air")
    again = served.post("/back", {}).text
    assert "It was answered." in again
    assert ": open-air</li>" in again
    assert "checked" not in again
    served.answer(again, q0t0="workshop")
    text = served.looks()
    assert text.index("place: open-air") < text.index("place: workshop")
    assert "workshop (before that: open-air)" in served.client.get("/given").text


def test_any_answer_can_be_changed_later(served: LocalPage, first: str) -> None:
    second = served.answer(first, q0t0="open-air").text
    served.answer(second, q0t0="?", q0t0_because="no light")
    listed = served.client.get("/given").text
    names = [unescape(one) for one in re.findall(r'name="page" value="([^"]+)"', listed)]
    name = next(one for one in names if '"place"' in one)
    shown = served.client.get("/ask", params={"page": name}).text
    assert "Where is the work done?" in shown
    assert served.answer(shown, q0t0="pit").status_code == 200
    assert "place: pit" in served.looks()


def test_what_was_seen_is_taken_back_where_it_now_cannot_be_told(served: LocalPage, first: str) -> None:
    served.answer(first, q0t0="confined-space")
    held = served.client.get("/").text
    again = served.post("/back", {}).text
    served.answer(again, q0t0="?", q0t0_because="no light")
    assert "place: unknown" in served.looks()
    assert held != served.client.get("/").text
    assert "Where is the work done?" in re.sub(r".*not known", "", served.client.get("/").text, flags=re.S)


def test_two_people_have_a_look_each_and_do_not_overwrite_each_other(served: LocalPage, first: str) -> None:
    other = served.browser()
    served.enter(other, "welder")
    theirs = served.post("/walk", {"only": "danger"}, other).text
    served.answer(first, q0t0="open-air")
    served.answer(theirs, other, q0t0="workshop")
    looks = {path.read_text() for path in served.rig.parent.glob("*-look-*.yaml")}
    assert len(looks) == 2
    assert sum("place: open-air" in one and "by: fitter" in one for one in looks) == 1
    assert sum("place: workshop" in one and "by: welder" in one for one in looks) == 1


def test_a_station_can_be_gone_to_and_is_stayed_at(served: LocalPage, first: str) -> None:
    shown = served.post("/walk", {"at": "Regulator"}).text
    assert "Regulator ·" in shown
    after = served.post("/answer", _cannot_tell(shown)).text
    assert page_name(after) != page_name(shown)
    assert "Regulator ·" in after


def test_what_is_found_is_told_at_once_with_what_to_do_first(served: LocalPage, first: str) -> None:
    shown = served.post("/walk", {"at": "Line", "only": ""}).text
    while '"cover"' not in page_name(shown):
        shown = served.post("/answer", _cannot_tell(shown)).text
    found = served.answer(shown, q0t0="cut").text
    assert "Found just now" in found
    assert "What else is wrong here (propane hose)?" in found
    told = re.search(r"<p>(Found: .*?)</p>", found)
    assert told is not None and told[1].count("Must be: ") == 1 and ".." not in told[1], "told once, and whole"


def test_ahead_are_the_next_questions_of_the_station(served: LocalPage, first: str) -> None:
    ahead = served.client.get("/ahead").text.split("<!DOCTYPE html>")[1:]
    assert ahead
    names = [page_name(one) for one in ahead]
    assert page_name(first) not in names
    assert served.answer(
        ahead[-1], q0t0="?", q0t0_because="no light", q1t0="?", q1t0_because="no light"
    ).status_code in (200, 422)


def test_a_walk_comes_to_its_end_and_says_who_decides(served: LocalPage, first: str) -> None:
    text = first
    for _ in range(300):
        if "End of this walk" in text:
            break
        text = served.post("/answer", _cannot_tell(text)).text
    assert "End of this walk" in text
    assert "decide whether this rig may be used. This report does not." in unescape(text)
