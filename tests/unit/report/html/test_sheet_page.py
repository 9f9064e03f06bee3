"""The page of a sheet: read aloud in order, stacked on a phone, large in print, first things first.

Outside it: html5lib, a strict parser of the WHATWG HTML standard; success criteria of WCAG 2.2 are named beside the
checks. `tests/pages` has the same pages looked at in a browser.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from support.in_full import sites_in_full
from support.pages_read import HTML, headings, names, parsed, words_of
from support.sampling import sampled
from support.small_sheets import DAY

from rigcheck.procedure.sheet import Sheet, make_sheet
from rigcheck.report.html.page import on_page, style_of
from rigcheck.report.html.running_foot import running_foot
from rigcheck.report.html.sheet_page import sheet_page, step_rows
from rigcheck.rig.loader import load_rig
from rigcheck.rules.folders import configs_folder
from rigcheck.rules.pack import Pack
from rigcheck.rules.procedures import procedures_of

_RIGS = sorted(path for folder in (configs_folder() / "templates", sites_in_full()) for path in folder.glob("*.yaml"))
_PRINT = style_of("base", "steps", "sheet").rpartition("@media print")[2]


def sheets_of(path: Path, pack: Pack) -> list[Sheet]:
    rig = load_rig(path.read_bytes(), path.name, pack.vocabulary)
    return [make_sheet(rig, one, pack, day=DAY) for one in procedures_of(pack).values()]


@pytest.fixture(scope="module")
def wharf(pack: Pack) -> dict[str, Sheet]:
    path = sites_in_full() / "wharf-crane-rail.yaml"
    return {sheet.procedure: sheet for sheet in sheets_of(path, pack)}


@pytest.mark.parametrize("path", sampled(_RIGS, 8), ids=lambda path: path.stem)
def test_every_sheet_of_every_rig_has_landmarks_and_tells_every_step(path: Path, pack: Pack) -> None:
    """WCAG 2.2: 1.3.1 structure, 1.4.10 reflow (the viewport), 2.4.6 headings, 3.1.1 language."""
    for sheet in sheets_of(path, pack):
        page = sheet_page(sheet)
        tree = parsed(page)
        count = {tag: len(list(tree.iter(HTML + tag))) for tag in ("main", "header", "footer", "h1")}
        assert count == dict.fromkeys(("main", "header", "footer", "h1"), 1)
        assert '<meta name="viewport" content="width=device-width, initial-scale=1">' in page
        assert tree.attrib["lang"] == "en" and headings(tree)[0] == 1
        assert len(names(tree)) == len(set(names(tree)))
        assert all(one.attrib.get("scope") in ("col", "row") for one in tree.iter(HTML + "th"))
        steps = {int(one.attrib["value"]): words_of(one) for one in tree.iter(HTML + "li") if "value" in one.attrib}
        assert list(steps) == [row.number for row in sheet.rows]
        assert [row.do for row in sheet.rows if row.do not in steps[row.number]] == []
        assert "such that" not in words_of(tree), "the words of a rule are no sentence for people"


def test_where_to_stand_comes_before_the_act(wharf: dict[str, Sheet]) -> None:
    told = [words_of(one) for one in parsed(sheet_page(wharf["start-up"])).iter(HTML + "li") if "value" in one.attrib]
    stood = [one for one in told if "Stand:" in one]
    assert stood and all(one.startswith("Stand:") for one in stood)
    row = next(row for row in wharf["start-up"].rows if row.stand)
    assert told[row.number - 1].index(row.stand) < told[row.number - 1].index(row.do)


def test_a_limit_is_told_with_the_act_and_never_beside_its_blank(wharf: dict[str, Sheet]) -> None:
    for sheet in wharf.values():
        for row, shown in zip(sheet.rows, step_rows(sheet), strict=True):
            for value in row.values:
                if value.required and not value.choices:
                    number = value.required.removeprefix("at most ").removeprefix("at least ")
                    assert number in " ".join((shown.do, *shown.must))
    for one in parsed(sheet_page(wharf["leak-test"])).iter(HTML + "p"):
        if one.attrib.get("class") == "value":
            assert not re.search(r"\d", words_of(one))


def test_no_word_that_may_be_ticked_is_marked_as_the_right_one(wharf: dict[str, Sheet]) -> None:
    made = [one for one in parsed(sheet_page(wharf["start-up"])).iter(HTML + "span") if one.get("class") == "choice"]
    assert made and [one for one in made if list(one.iter(HTML + "b"))] == []


def test_the_sheet_of_an_emergency_begins_with_the_steps_and_ends_with_the_state(wharf: dict[str, Sheet]) -> None:
    hasty = {name for name, sheet in wharf.items() if sheet.emergency}
    assert hasty == {name for name in wharf if name.startswith("emergency-")}
    told = words_of(parsed(sheet_page(wharf["emergency-flashback"])).find(f"{HTML}body/{HTML}main"))
    assert told.startswith("Do this Close the oxygen valve of the torch")
    assert told.index("ON HOLD") > told.index(wharf["emergency-flashback"].rows[-1].do)
    calm = words_of(parsed(sheet_page(wharf["start-up"])))
    assert calm.index("DO NOT BEGIN") < calm.index(wharf["start-up"].rows[0].do)


def test_the_hold_is_told_in_one_line_with_its_counts(wharf: dict[str, Sheet]) -> None:
    told = re.findall(r'<p class="hold">(.*)</p>', sheet_page(wharf["start-up"]))
    day = '<span class="whole">2026-11-25</span>'  # no row ends within it
    assert told == [f"DO NOT BEGIN: the rig is ON HOLD by its inspection for {day}: 7 WARNING. See its report."]


def test_every_step_for_some_things_says_in_a_sentence_why_another_rig_has_it_not(pack: Pack) -> None:
    steps = [step for one in procedures_of(pack).values() for step in one.steps.values()]
    assert [step.name for step in steps if (step.concerns is None) != (not step.not_here)] == []
    assert [step.not_here for step in steps if step.not_here and not step.not_here.endswith(".")] == []


@pytest.mark.parametrize(
    ("part", "size"),
    [(".act", 12.0), (".stand, .must", 10.5), (".why, .choices, .value, .if", 9.0), (".emergency .act", 15.0)],
)
def test_a_printed_sheet_is_read_at_the_length_of_an_arm(part: str, size: float) -> None:
    found = re.search(rf"^  {re.escape(part)} \{{ font-size: ([0-9.]+)pt", _PRINT, re.MULTILINE)
    assert found and float(found[1]) == size


def test_nothing_on_a_screen_is_wider_than_a_narrow_window() -> None:
    """WCAG 2.2, 1.4.10: no fixed width on the screen that a window of 320 CSS px (20 rem) could not hold."""
    screen = style_of("base", "steps", "sheet").replace(_PRINT, "")
    widths = [float(rem) for rem in re.findall(r"\n[^@\n]*[{;] (?:min-)?width: ([0-9.]+)rem", screen)]
    assert widths and max(widths) <= 20 and "min-width" not in screen


def test_the_foot_of_a_page_shows_a_name_and_lets_it_do_nothing() -> None:
    foot = running_foot('a"} </style>\u202e*{}')
    assert (
        foot.count('"') == running_foot("a").count('"') and "<" not in foot and "*" not in foot and "\u202e" not in foot
    )
    assert "\\3c \\2f style\\3e " in foot and "\\5b U\\2b 202E\\5d " in foot


def test_every_sort_of_letter_that_acts_unseen_is_named() -> None:
    assert on_page("a\u202eb\u2066c\x00d\x7fe\ufefff\ud800") == (
        "a[U+202E]b[U+2066]c[U+0000]d[U+007F]e[U+FEFF]f[U+D800]"
    )
    assert on_page(" a \n b ") == "a b" and on_page("1\N{NO-BREAK SPACE}bar") == "1\N{NO-BREAK SPACE}bar"
