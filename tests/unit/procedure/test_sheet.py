"""A sheet in each of its forms holds every step, and shows what a user wrote as text and nothing else."""

from __future__ import annotations

import json
import re
from html.parser import HTMLParser

import pytest
import yaml
from jsonschema_rs import Draft202012Validator
from markdown_it import MarkdownIt  # CommonMark, as published on commonmark.org
from msgspec.structs import replace
from support.procedure_tools import DAY, FOLDER, judged, read_rig

from rigcheck.procedure.sheet import Sheet, make_sheet
from rigcheck.procedure.skeleton import record_skeleton
from rigcheck.report.html.sheet_page import sheet_page
from rigcheck.report.json.sheet_json import SheetOut, sheet_json
from rigcheck.report.sheet.sheet_markdown import sheet_markdown
from rigcheck.report.sheet.sheet_text import sheet_lines
from rigcheck.report.sheet.sheet_words import SHEET_CAUTION, SIGN_OFF
from rigcheck.report.text.layout import plain_text
from rigcheck.rules.pack import Pack
from rigcheck.rules.procedures import procedures_of

_HOSTILE = "<script>alert(1)</script> \"'&amp; *b* _i_ [l](x) `c` | # {thing} <!-- x --> $x$ ~~s~~"


@pytest.fixture
def sheet(own: Pack) -> Sheet:
    return _sheet(own, (FOLDER / "rig.yaml").read_text())


@pytest.fixture
def hostile(own: Pack) -> Sheet:
    """The sheet of a rig whose names try to be more than names."""
    text = (FOLDER / "rig.yaml").read_text().replace("rig: Two cylinders for the tests", f"rig: {json.dumps(_HOSTILE)}")
    return _sheet(own, text.replace("{valve_spindle: key}", f"{{name: {json.dumps(_HOSTILE)}}}"))


def _sheet(own: Pack, text: str) -> Sheet:
    return make_sheet(read_rig(own, text), procedures_of(own)["start-up"], own, day=DAY)


class _Page(HTMLParser):
    """The elements of a page and the text that a reader sees."""

    def __init__(self, html: str) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.text = ""
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_data(self, data: str) -> None:
        self.text += data


def _spoken(text: str) -> str:
    return " ".join(text.split())


def test_the_sheet_has_each_step_in_order_with_its_limit_in_the_sentence(sheet: Sheet) -> None:
    assert [row.number for row in sheet.rows] == [1, 2, 3, 4, 5, 6, 7]
    assert sheet.rows[2].do == "Open the valve of the acetylene cylinder slowly, no more than 1.5 turns."
    assert sheet.rows[4].do.endswith("until the gauge shows 0.3 bar.")
    assert [(value.name, value.required) for value in sheet.rows[4].values] == [
        ("pressure", "at most 0.3 bar"),
        ("seen_by", ""),
    ]


def test_the_steps_right_before_one_are_named_and_no_others(sheet: Sheet) -> None:
    assert [row.after for row in sheet.rows] == [(), (), (1, 2), (3,), (3,), (4,), (5, 6)]


def test_the_page_has_a_box_for_each_step_and_loads_and_runs_nothing(sheet: Sheet) -> None:
    page = _Page(sheet_page(sheet))
    boxes = sum(attrs.get("class") == "tick" for _, attrs in page.tags)
    assert boxes == len(sheet.rows) + sum(len(value.choices) for row in sheet.rows for value in row.values)
    assert {tag for tag, _ in page.tags} & {"script", "img", "link", "iframe", "object", "form", "a"} == set()
    assert [attrs for _, attrs in page.tags if {"src", "href", "style"} & attrs.keys()] == []
    assert "url(" not in sheet_page(sheet)
    assert "@import" not in sheet_page(sheet)
    assert (
        "meta",
        {
            "http-equiv": "Content-Security-Policy",
            "content": "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'",
        },
    ) in page.tags


def test_the_page_says_every_sentence_of_the_sheet(sheet: Sheet) -> None:
    told = _spoken(_Page(sheet_page(sheet)).text)
    wanted = [row.do for row in sheet.rows] + [row.hazard for row in sheet.rows] + [*sheet.cautions, SHEET_CAUTION]
    assert [one for one in wanted if one not in told] == []
    assert "Stand: Beside the trolley." in told
    assert "look at snow: this rig has no trolley." in told
    assert [role for role in SIGN_OFF if role not in told] == []


def test_hostile_names_stay_text_on_the_page(sheet: Sheet, hostile: Sheet) -> None:
    plain, page = _Page(sheet_page(sheet)), _Page(sheet_page(hostile))
    assert [tag for tag, _ in page.tags] == [tag for tag, _ in plain.tags]
    assert [attrs for _, attrs in page.tags] == [attrs for _, attrs in plain.tags]
    assert page.text.count(_HOSTILE) >= 3  # the title, the heading and the valve


def test_hostile_names_stay_text_in_markdown(sheet: Sheet, hostile: Sheet) -> None:
    render = MarkdownIt("commonmark").render
    plain, page = _Page(render(sheet_markdown(sheet))), _Page(render(sheet_markdown(hostile)))
    assert [tag for tag, _ in page.tags] == [tag for tag, _ in plain.tags]
    assert page.text.count(_HOSTILE) == 2


def test_markdown_has_a_task_for_each_step_and_all_its_words(sheet: Sheet) -> None:
    text = sheet_markdown(sheet)
    assert len(re.findall(r"^- \[ \] \*\*\d+\.\*\* ", text, re.MULTILINE)) == len(sheet.rows)
    told = _spoken(_Page(MarkdownIt("commonmark").render(text)).text)
    assert [row.do for row in sheet.rows if row.do not in told] == []


def test_the_text_has_a_box_for_each_step_and_keeps_to_its_width(sheet: Sheet) -> None:
    text = plain_text(sheet_lines(sheet, 72))
    assert len(re.findall(r"^\[ \] +\d+ ", text, re.MULTILINE)) == len(sheet.rows)
    assert max(map(len, text.split("\n"))) <= 72
    assert "write How many turns was it opened? ________ (at most 1.5 turns)" in _spoken(text)


def test_the_json_is_of_its_published_form_and_complete(sheet: Sheet) -> None:
    made = json.loads(sheet_json(sheet))
    Draft202012Validator(SheetOut.model_json_schema(mode="serialization")).validate(made)
    assert [(step["number"], step["do"]) for step in made["steps"]] == [(row.number, row.do) for row in sheet.rows]
    assert made["day"] == "2026-11-24"
    assert made["left_out"] == [{"step": "look at snow", "why": "This rig has no trolley."}]


@pytest.mark.parametrize(("despite", "words"), [(False, "DO NOT BEGIN"), (True, "Know this first")])
def test_a_rig_on_hold_is_told_above_all_in_every_form(own: Pack, pack: Pack, despite: bool, words: str) -> None:
    ruled = replace(own, rules=pack.rules)
    rig = read_rig(own, (FOLDER / "rig.yaml").read_text() + "hose_pair: {held_by: cable-tie}\n")
    sheet = make_sheet(rig, replace(procedures_of(own)["start-up"], despite_hold=despite), ruled, day=DAY)
    assert sheet.state == "on hold"
    assert "hold" in next(
        str(attrs.get("class")) for tag, attrs in _Page(sheet_page(sheet)).tags if attrs.get("class") == "hold"
    )
    for text in (sheet_page(sheet), sheet_markdown(sheet), plain_text(sheet_lines(sheet, 80))):
        assert words in text
        assert "ON HOLD" in text


def test_no_form_of_a_sheet_says_that_a_rig_is_safe(sheet: Sheet) -> None:
    for text in (sheet_page(sheet), sheet_markdown(sheet), plain_text(sheet_lines(sheet, 80)), sheet_json(sheet)):
        assert not re.search(r"\bsafe\b", text)


def test_a_new_record_counts_nothing_as_done_and_every_step_once_its_sign_is_taken_away(own: Pack) -> None:
    rig = read_rig(own, (FOLDER / "rig.yaml").read_text())
    text = record_skeleton(
        make_sheet(rig, procedures_of(own)["start-up"], own, day=DAY), "rig.yaml", ["Know this first."]
    )
    assert {f.found[0].fact for f in judged(own, rig, text).findings} == {"not in the record"}
    done = judged(own, rig, re.sub(r"^#  - ", "  - ", text, flags=re.MULTILINE))
    assert done.findings == ()
    assert {question.fact for question in done.questions} == {"turns", "pressure", "heard"}


def test_a_new_record_for_hostile_names_is_read_back(own: Pack, hostile: Sheet) -> None:
    text = record_skeleton(hostile, 'odd "name".yaml', ["Two\nlines: [a"])
    read = yaml.safe_load(re.sub(r"^#  - ", "  - ", text, flags=re.MULTILINE))
    assert read["rig"] == 'odd "name".yaml'
    assert read["steps"][2]["open_fuel_cylinder_valve"]["thing"] == hostile.rows[2].thing
    assert len(read["steps"]) == len(hostile.rows)
