"""A walk on paper: every open question, nothing ticked, and a way back into a look."""

from __future__ import annotations

import re

import html5lib
import pytest
from support.simulated_people import Round

from rigcheck.report.html.walk_page import walk_page
from rigcheck.report.walk.walk_rows import ActRows, walk_rows
from rigcheck.report.walk.walk_text import walk_lines
from rigcheck.report.walk.walk_yaml import walk_yaml
from rigcheck.rules.pack import Pack

_TEXT = b"rig: one\nlines: [{gas: propane, parts: [cylinder, regulator, hose]}]\ntorch: {form: air-aspirated}\n"


@pytest.fixture(scope="module")
def rows(pack: Pack) -> tuple[ActRows, ...]:
    return walk_rows(Round(_TEXT, pack).walk().stops)


def _yaml(rows: tuple[ActRows, ...]) -> str:
    return "".join(walk_yaml(rows, "rig.yaml", "2026-11-25", "fitter"))


def test_every_open_fact_is_on_the_sheet_once(rows: tuple[ActRows, ...], pack: Pack) -> None:
    asked = [key for stop in Round(_TEXT, pack).walk().stops for page in stop.pages for key in page.open]
    blanks = [(blank.path, blank.fact) for act in rows for one in act.asked for blank in one.blanks]
    assert sorted(blanks) == sorted(asked)


def test_questions_are_numbered_through(rows: tuple[ActRows, ...]) -> None:
    numbers = [one.number for act in rows for one in act.asked]
    assert numbers == list(range(1, len(numbers) + 1))


def test_no_box_is_ticked_and_a_box_stays_with_its_word(rows: tuple[ActRows, ...]) -> None:
    text = "\n".join(line.text for line in walk_lines(rows, "one", "2026-11-25", 80))
    assert "[ ] cannot tell, because" in text
    assert "[x]" not in text.casefold()
    assert not re.search(r"\[ \]$", text, re.MULTILINE)
    assert max(map(len, text.splitlines())) <= 80


def test_the_page_is_html_without_boxes_ticked_and_shows_names_as_text(rows: tuple[ActRows, ...]) -> None:
    text = walk_page(rows, "<b>one</b>", "2026-11-25", "0" * 64)
    html5lib.HTMLParser(strict=True).parse(text)
    assert "&lt;b&gt;one&lt;/b&gt;" in text
    assert "checked" not in text
    assert "<script" not in text


def test_things_of_one_line_that_are_asked_after_at_once_share_their_boxes_and_are_counted(pack: Pack) -> None:
    parts = "[cylinder, {regulator: {inlet_gauge: {}, outlet_gauge: {}}}, arrester, hose, arrester]"
    two_lines = f"rig: one\nlines: [{{gas: propane, parts: {parts}}}, {{gas: oxygen, parts: {parts}}}]\ntorch: {{}}\n"
    rows = walk_rows(Round(two_lines.encode(), pack).walk().stops)
    groups = [group for act in rows for one in act.asked if not one.ticks for group in one.groups if len(group) > 1]
    assert {("gases", "lines[0]"), ("gases", "lines[1]")} <= {(g[0].fact, g[0].path.split(".")[0]) for g in groups}
    assert all(len({blank.path.split(".")[0] for blank in group}) == 1 for group in groups)
    assert "full_scale" not in {group[0].fact for group in groups}, "a reading is one of one thing"
    text = "\n".join(line.text for line in walk_lines(rows, "one", "2026-11-25", 80))
    assert text.count("All of them, counted: ___") == text.count("Not so (which, and what): ___") == len(groups)


def test_no_example_stands_where_a_reading_is_written(rows: tuple[ActRows, ...]) -> None:
    writes = {blank.write for act in rows for one in act.asked for blank in one.blanks if not blank.words}
    assert "bar" in writes
    assert not [one for one in writes - {"as 2026-11-25"} if re.match("[0-9]", one)]


def test_each_line_of_the_typed_sheet_is_one_answer_to_be(rows: tuple[ActRows, ...]) -> None:
    lines = [line for line in _yaml(rows).splitlines() if re.match("  [0-9]+ ", line)]
    lists = [one for act in rows for one in act.asked if one.ticks]
    single = sum(len(one.blanks) for act in rows for one in act.asked if not one.ticks)
    assert len(lines) == single + sum(len({blank.path for blank in one.blanks}) for one in lists)
    assert all(re.search(":    # ", line) for line in lines), "nothing is written there beforehand"


def test_a_part_that_only_the_standard_rig_has_is_asked_after_what_its_kind_has(pack: Pack) -> None:
    # Whether it is there is presumed, and with it its kind; a rule for another kind then waits for a fact of that one.
    begun = b"rig: one\nlocal_code: uk\nstandard_rig: oxy-propane-cutting\n"
    stops = Round(begun, pack).walk().stops
    asked = [(page.open[key].thing, key[1]) for stop in stops for page in stop.pages for key in page.open]
    assert {f"{thing.kind.name}: {fact}" for thing, fact in asked if fact not in thing.kind.facts} == set()
    assert sum(len(one.blanks) for act in walk_rows(stops) for one in act.asked) == len(asked)
