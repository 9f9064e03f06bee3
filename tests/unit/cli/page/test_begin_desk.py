"""A rig is begun on the page: nothing is written before it was shown, and nothing is written over."""

from __future__ import annotations

import re
from html import unescape
from pathlib import Path

import html5lib
import pytest
from support.local_page import LocalPage, local_page

from rigcheck.rules.pack import Pack
from rigcheck.rules.standard_rigs import standard_rig_files


@pytest.fixture
def served(tmp_path: Path, pack: Pack) -> LocalPage:
    return local_page(tmp_path / "new.yaml", pack)


def _answers(text: str) -> list[str]:
    return [unescape(one) for one in re.findall(r'href="(/begin\?[^"]+)"', text)]


def _fields(text: str) -> dict[str, str]:
    found = re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)"', text)
    return {name: unescape(value) for name, value in found}


def test_whoever_comes_in_without_a_rig_is_asked_what_it_is_like(served: LocalPage, pack: Pack) -> None:
    text = served.client.get("/").text
    assert "There is no <bdi>new.yaml</bdi> yet." in text
    assert text.count("/begin/picture/") == len(standard_rig_files(pack))
    html5lib.HTMLParser(strict=True).parse(text)
    assert not served.rig.exists()


def test_at_most_five_answers_leave_one_picture(served: LocalPage) -> None:
    text = served.client.get("/begin").text
    for _ in range(5):
        answers = _answers(text)
        if not answers:
            break
        text = served.client.get(answers[0]).text
    assert text.count("/begin/picture/") == 1


def test_a_picture_is_a_drawing_that_runs_nothing(served: LocalPage) -> None:
    picture = served.client.get("/begin/picture/oxy-propane-cutting")
    assert picture.headers["content-type"] == "image/svg+xml"
    assert picture.text.startswith('<svg xmlns="http://www.w3.org/2000/svg"')
    assert "<script" not in picture.text
    assert served.client.get("/begin/picture/nothing").status_code == 404


def test_a_description_is_shown_then_written_then_looked_at(served: LocalPage) -> None:
    named = served.client.get("/begin/named?name=oxy-propane-cutting").text
    form = _fields(named) | {"called": 'Barn "7"', "code": "uk"}
    shown = served.post("/begin/shown", form)
    assert "standard_rig: oxy-propane-cutting" in shown.text
    assert not served.rig.exists()
    looked = served.post("/begin", form)
    text = 'rig: "Barn \\"7\\""\nlocal_code: uk\nstandard_rig: oxy-propane-cutting\njob: {process: cutting}\n'
    assert served.rig.read_text().endswith(text)
    assert "Begin: what could kill" in looked.text


def test_a_line_is_put_together_in_order_of_the_flow_and_taken_apart(served: LocalPage) -> None:
    text = served.client.get("/begin/parts?line=propane:cylinder,regulator&line=oxygen:cylinder").text
    html5lib.HTMLParser(strict=True).parse(text)
    assert 'value="propane:cylinder,regulator,hose"' in text
    assert 'value="propane:cylinder"' in text, "the last part can be taken away"
    assert "<svg " in text
    form = {"line": "propane:cylinder,regulator,hose", "end": "torch", "called": "set", "code": "general"}
    served.post("/begin", form)
    assert "  - gas: propane\n    parts: [cylinder, regulator, hose]\ntorch: {}\n" in served.rig.read_text()
    assert "State: " in served.client.get("/").text


def test_what_is_no_answer_is_told_and_writes_nothing(served: LocalPage) -> None:
    good = {"name": "oxy-propane-cutting", "called": "set", "code": "uk"}
    for wrong, told in (
        ({"called": " "}, "Write what the rig is called"),
        ({"called": "a\u202eb"}, "Write what the rig is called"),
        ({"code": "xx"}, "Say which country"),
        ({"name": "../../secret"}, "Choose a standard rig again"),
        ({"name": "", "line": "plasma:cylinder"}, "Put at least one part into each line."),
        ({"name": "", "line": "oxygen:bomb"}, "Put at least one part into each line."),
    ):
        shown = served.post("/begin/shown", {**good, **wrong})
        assert shown.status_code == 422
        assert told in shown.text
        served.post("/begin", {**good, **wrong})
    assert list(served.rig.parent.iterdir()) == []


def test_a_rig_that_is_there_is_not_written_over(served: LocalPage) -> None:
    served.rig.write_text("rig: mine\nlines: [{gas: propane, parts: [cylinder, regulator, hose]}]\n")
    before = served.rig.read_text()
    told = served.post("/begin", {"name": "oxy-propane-cutting", "called": "set", "code": "uk"})
    assert "Nothing was written" in told.text
    assert served.rig.read_text() == before
    assert "State: " in served.client.get("/begin").text
