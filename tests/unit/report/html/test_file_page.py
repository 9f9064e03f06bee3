"""The commissioning file: valid HTML that loads nothing, read by screen readers, with all that it must tell.

Outside it: html5lib, a strict parser of the WHATWG HTML standard; the contrast formula of WCAG 2.2, whose
success criteria are named beside the checks. `tests/pages` has the same pages looked at in a browser.
"""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path
from typing import Any
from xml.etree.ElementTree import Element

import pytest
from html5lib.html5parser import ParseError
from msgspec.structs import replace
from support.in_full import sites_in_full
from support.pages_read import HTML, SVG, contrast, headings, names, parsed, pointed_at, schemes, words_of
from support.sampling import sampled
from support.small_sheets import DAY, rig_text

from rigcheck.judge.finding import Conceded
from rigcheck.procedure.sheet import holding
from rigcheck.quantity.wording import shown_day
from rigcheck.report.html.file_page import file_page
from rigcheck.report.html.heads import FILE_HEAD
from rigcheck.report.html.page import style_of
from rigcheck.report.safety_colours import GREEN, RED, SIGNAL_COLOURS
from rigcheck.report.text.citations import MOST
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.rig.concessions import load_beside
from rigcheck.rig.loader import load_rig
from rigcheck.rules.folders import configs_folder
from rigcheck.rules.overlay import Laid
from rigcheck.rules.pack import Pack
from rigcheck.rules.rule import SIGNALS
from rigcheck.tasks.commissioning_file import Origin, RigFile, compile_file
from rigcheck.text.place import Place

_RIGS = sorted(path for folder in (configs_folder() / "templates", sites_in_full()) for path in folder.glob("*.yaml"))
STYLE = str(style_of("base", "steps", "file"))
_HOSTILE = "<script>alert(1)</script> & \"'\u202etxt.exe\u200b{}"


def compiled(path: Path, pack: Pack, **more: Any) -> RigFile:
    rig = load_rig(path.read_bytes(), path.name, pack.vocabulary)
    return compile_file(rig, pack, day=DAY, **more)


def written(text: str, pack: Pack, name: str = "small.yaml") -> RigFile:
    rig = load_rig(text.encode(), name, pack.vocabulary)
    return compile_file(rig, pack, day=DAY, origins=[Origin("rig", name, "ab" * 32)])


@pytest.fixture(scope="module")
def site(pack: Pack) -> RigFile:
    return compiled(sites_in_full() / "plate-shop-cutting.yaml", pack)


_BAD = """rig: small
local_code: general
trolley: {tilt: 30 deg}
lines:
  - gas: acetylene
    parts: [{cylinder: {water_capacity: 40 L, lay_flat: true}}, {regulator: {set_pressure: 2 bar}}, hose]
  - gas: oxygen
    parts: [cylinder, regulator, hose]
torch: {}
"""
_LEAVE = """concessions:
  - {rig: small, rule: trolley/trolley_stands_upright, thing: trolley, reason: soft ground, who: works manager,
     until: 2026-12-31}
"""


# --- every template and every site ---


@pytest.fixture(scope="module")
def page(site: RigFile) -> str:
    """The page of the site, made once."""
    return file_page(site)


@pytest.mark.parametrize("path", sampled(_RIGS, 9), ids=lambda path: path.stem)
def test_every_page_is_whole_and_tells_everything(path: Path, pack: Pack) -> None:
    file = compiled(path, pack)
    page = file_page(file)
    tree = parsed(page)
    _is_read_aloud_in_order(tree)
    _loads_nothing(page)
    told = words_of(tree)
    found = [part for one in file.inspection.findings for part in (one.claim, one.harm, one.put_right, one.required)]
    asked = [one.ask for one in file.inspection.questions if not one.too_close]
    steps = [row.do for sheet in file.sheets for row in sheet.rows]
    assert [one for one in (*found, *asked, *steps, CAUTION) if " ".join(one.split()) not in told] == []
    figures = {f"figure-{figure.number}" for figure in file.calculation.figures}
    assert figures <= set(names(tree))


def _is_read_aloud_in_order(tree: Element) -> None:
    """WCAG 2.2: 1.3.1 structure, 2.4.1 skip, 2.4.6 headings, 3.1.1 language, 4.1.2 names."""
    assert tree.attrib["lang"] == "en"
    levels = headings(tree)
    assert levels.count(1) == 1 and levels[0] == 1
    assert [(a, b) for a, b in pairwise(levels) if b > a + 1] == []
    ids = names(tree)
    assert len(ids) == len(set(ids))
    assert [one for one in pointed_at(tree) if one not in ids] == []
    count = {tag: len(list(tree.iter(HTML + tag))) for tag in ("main", "header", "nav", "footer")}
    assert count == dict.fromkeys(("main", "header", "nav", "footer"), 1)
    first = next(tree.find(HTML + "body").iter(HTML + "a"))
    assert first.attrib["class"] == "skip"
    for one in tree.iter(HTML + "table"):
        assert words_of(one.find(HTML + "caption"))
        assert {head.attrib.get("scope") for head in one.iter(HTML + "th")} <= {"col", "row"}
    for one in tree.iter(SVG + "svg"):
        assert words_of(one.find(SVG + "title"))
        assert one.attrib["aria-labelledby"] and one.attrib["aria-describedby"]


def _loads_nothing(page: str) -> None:
    """No script, no address, nothing that a browser would fetch."""
    assert not re.search(r"<(?:script|link|img|iframe|object|embed|form|base)\b|\son\w+=|url\(|@import", page)
    assert re.findall(r"\b(?:src|href|action)=\"(?!#)", page) == []
    assert "default-src 'none'" in page.replace("&#x27;", "'")


# --- findings and drawing ---


def test_pins_and_findings_lead_to_each_other(site: RigFile, page: str) -> None:
    tree = parsed(page)
    pins = {one.attrib["id"]: one.attrib["href"] for one in tree.iter(SVG + "a")}
    count = len(site.inspection.findings)
    assert pins == {f"pin-{n}": f"#finding-{n}" for n in range(1, count + 1)}
    for number, article in enumerate(tree.iter(HTML + "article"), start=1):
        assert article.attrib["id"] == f"finding-{number}"
        assert f"#pin-{number}" in [one.attrib["href"] for one in article.iter(HTML + "a")]


def test_a_finding_has_both_addresses_its_sources_with_standing_and_its_working(site: RigFile, page: str) -> None:
    articles = {one.attrib["id"]: words_of(one) for one in parsed(page).iter(HTML + "article")}
    for number, finding in enumerate(site.inspection.findings, start=1):
        told = articles[f"finding-{number}"]
        assert f"line {finding.place.line}; rule {finding.rule}" in told
        for source in finding.sources[:MOST]:
            assert source.words in told
        workings = [found.working for found in finding.found if found.working is not None]
        assert [one.formula for one in workings if one.formula not in told] == []
    assert sum(found.working is not None for one in site.inspection.findings for found in one.found)


def test_findings_stand_under_their_signal_words_gravest_first(site: RigFile, page: str) -> None:
    tree = parsed(page)
    words = [words_of(one.find(HTML + "h4")).split()[0].lower() for one in tree.iter(HTML + "article")]
    assert words == [one.signal for one in site.inspection.findings]
    assert words == sorted(words, key=lambda word: SIGNALS.index(word))


def test_the_state_names_what_holds_the_rig(site: RigFile, page: str) -> None:
    state = next(one for one in parsed(page).iter(HTML + "section") if one.attrib["id"] == "state")
    told = words_of(state)
    assert "On hold Do not use the rig." in told
    counts = {word: sum(one.signal == word for one in site.inspection.findings) for word in SIGNALS}
    counted = next(one for one in state.iter(HTML + "table") if one.attrib["class"] == "counts")
    rows = [[words_of(cell) for cell in row] for row in counted.iter(HTML + "tr")][1:]
    assert {row[0].lower(): int(row[1]) for row in rows} == counts
    calm = file_page(replace(site, inspection=replace(site.inspection, findings=(), questions=())))
    assert "Nothing found against it" in calm and "no leave to use the rig" in calm


def test_a_conceded_finding_is_marked_and_listed(site: RigFile, page: str) -> None:
    leave = Conceded("Spare is on order", "works manager", DAY + 6, Place("rig.yaml", 9, 5))
    first, *others = site.inspection.findings
    inspection = replace(site.inspection, findings=(replace(first, conceded=leave), *others))
    tree = parsed(file_page(replace(site, inspection=inspection)))
    told = words_of(next(tree.iter(HTML + "article")))
    assert "Spare is on order; leave given by works manager until 2026-12-01 (rig.yaml, line 9)." in told
    limits = next(one for one in tree.iter(HTML + "section") if one.attrib["id"] == "limits")
    assert "works manager" in words_of(limits) and "2026-12-01" in words_of(limits)
    assert "no finding is conceded" in page


def test_loosened_limits_and_replaced_rules_are_told(site: RigFile) -> None:
    told = "25 deg instead of 20 deg"
    limit = Laid("limit", "trolley tilt", "loosened", "own", "own/limits/us.yaml:3", told, "our <yard> is level")
    rule = Laid("rule", "trolley/own_rule", "changed", "own", "own/trolley/own_rule.yaml:1", "", "another yard")
    page = file_page(replace(site, inspection=replace(site.inspection, laid=(limit, rule))))
    assert "Loosened: limit trolley tilt: 25 deg instead of 20 deg, because: our &lt;yard&gt; is level" in page
    assert "trolley/own_rule" in page


# --- what is handed over on two pages, and the appendix ---


def test_the_first_page_tells_state_what_to_do_first_and_who_signs(site: RigFile, page: str) -> None:
    told = words_of(_section(page, "state"))
    held = [one for one in site.inspection.findings if one.signal in ("danger", "warning")]
    assert held[0].put_right in told and "Finding 1, " in told
    order = ("On hold", "What holds it, and what to do first", held[0].put_right, "Sign-off, on paper, by role")
    places = [told.index(one) for one in order]
    assert places == sorted(places)


def test_a_first_page_that_cannot_name_all_says_how_many_more_there_are(pack: Pack) -> None:
    file = compiled(sites_in_full() / "van-pipe-repair.yaml", pack)
    state = _section(file_page(file), "state")
    named = next(one for one in state.iter(HTML + "ol") if one.get("class") == "first")
    assert len(list(named)) == 8
    more = len(holding(file.inspection, "warning")) - 8
    assert more > 0 and f"and {more} more ." in words_of(state)


def test_an_open_question_is_what_to_find_out_first_where_nothing_holds_the_rig(pack: Pack) -> None:
    file = compiled(configs_folder() / "templates" / "oxy-propane-cutting.yaml", pack)
    told = words_of(_section(file_page(file), "state"))
    assert "Not yet shown" in told and "What to find out first" in told
    assert "It would be held for findings of the word WARNING" in told
    assert file.inspection.questions[0].ask in told


def test_the_second_page_has_drawing_parts_with_due_days_and_pressures(site: RigFile, page: str) -> None:
    section = _section(page, "rig")
    assert next(section.iter(SVG + "svg")) is not None
    tables = {one.get("class"): one for one in section.iter(HTML + "table")}
    rows = {words_of(row[0]): [words_of(cell) for cell in row[1:]] for row in tables["parts"].iter(HTML + "tr")}
    parts = [one for line in site.rig.of_kind("line") for one in line.facts["parts"]]
    assert [one.label for one in parts if one.label not in rows] == []
    lasting = [one for one in site.dues.dues if one.interval != 1]
    for part in parts:
        days = [one.first for one in lasting if one.thing == part.label]
        assert not days or shown_day(min(days)) in rows[part.label][1]
    stated = {one.label: one.facts["set_pressure"].text for one in site.rig.of_kind("regulator")}
    shown = {words_of(row[0]): words_of(row[1]) for row in tables["settings"].iter(HTML + "tr")}
    assert stated and stated.items() <= shown.items()


def test_the_working_is_folded_has_contents_of_its_own_and_may_be_left_out(site: RigFile, page: str) -> None:
    section = _section(page, "working")
    folded = list(section.iter(HTML + "details"))
    assert len(folded) == len(site.calculation.things) and not any("open" in one.attrib for one in folded)
    contents = next(one for one in section.iter(HTML + "div") if one.get("class") == "figures")
    led = [one.attrib["href"] for one in contents.iter(HTML + "a") if one.attrib["href"].startswith("#figure-")]
    assert led == [f"#figure-{one.number}" for one in site.calculation.figures]
    short = file_page(site, working=False)
    tree = parsed(short)
    assert "working" not in names(tree) and "#working" not in short
    assert [one for one in pointed_at(tree) if one not in names(tree)] == []
    assert len(short) < len(page) / 2


def test_no_folder_of_the_machine_that_made_it_is_named(pack: Pack) -> None:
    rig = load_rig(_BAD.encode(), "/home/quillfeather/rigs/small.yaml", pack.vocabulary)
    beside = load_beside(_LEAVE.encode(), "/home/quillfeather/leave.yaml", pack.vocabulary)
    file = compile_file(beside.given_to(rig), pack, day=DAY, origins=[Origin("rig", rig.file, "ab" * 32)])
    assert file.inspection.findings and file.calculation.figures
    page = file_page(file)
    assert "quillfeather" not in page and str(configs_folder().parent) not in page
    assert "small.yaml" in page and "leave.yaml, line" in page


def _section(page: str, name: str) -> Element:
    return next(one for one in parsed(page).iter(HTML + "section") if one.attrib.get("id") == name)


# --- limits and origins ---


def test_the_limits_of_every_finding_and_figure_are_listed_with_value_and_source(site: RigFile, page: str) -> None:
    listed = {used.limit.name for used in site.limits}
    cited = {limit.name for finding in site.inspection.findings for limit in finding.limits}
    cited |= {
        one.limit.name
        for figure in site.calculation.figures
        if figure.working
        for one in figure.working.inputs
        if one.limit
    }
    assert cited <= listed
    assert all(used.rules + used.figures > 0 for used in site.limits)
    section = next(one for one in parsed(page).iter(HTML + "section") if one.attrib["id"] == "limits")
    rows = {words_of(row[0]): words_of(row) for row in section.iter(HTML + "tr")}
    for used in site.limits:
        head = f"{used.limit.name.replace('_', ' ')} {used.means}".strip()
        assert used.limit.value is None or used.limit.value.text in rows[head]


def test_a_limit_that_only_concerns_other_rigs_is_not_listed(pack: Pack) -> None:
    file = written(rig_text(), pack)
    assert "trolley_tilt" not in {used.limit.name for used in file.limits}
    assert "residual_pressure" in {used.limit.name for used in file.limits}


def test_it_says_what_it_was_made_from_and_names_nobody_who_signs(pack: Pack) -> None:
    file = written(rig_text(), pack)
    tree = parsed(file_page(file))
    told = {one.attrib["id"]: words_of(one) for one in tree.iter(HTML + "section")}
    assert all(part in told["origins"] for part in ("ab" * 32, pack.digest, "2026-11-25", "general"))
    signed = next(one for one in tree.iter(HTML + "table") if one.attrib.get("class") == "signing")
    rows = [[words_of(cell) for cell in row] for row in signed.iter(HTML + "tr")][1:]
    assert len(rows) == 5 and all(role and not any(blanks) for role, *blanks in rows)


def test_the_same_rig_gives_the_same_page(pack: Pack) -> None:
    assert file_page(written(rig_text(), pack)) == file_page(written(rig_text(), pack))


def test_the_sheets_of_every_hand_over_are_in_it(site: RigFile, page: str) -> None:
    tree = parsed(page)
    for sheet in site.sheets:
        section = next(one for one in tree.iter(HTML + "section") if one.attrib["id"] == f"sheet-{sheet.procedure}")
        steps = [int(one.attrib["value"]) for one in section.iter(HTML + "li") if "value" in one.attrib]
        assert steps == [row.number for row in sheet.rows]
        assert [one for one in sheet.cautions if one not in words_of(section)] == []
    assert [sheet.procedure for sheet in site.sheets] == ["start-up", "leak-test", "shut-down"]


# --- hostile input ---


def test_markup_and_unseen_letters_from_a_file_are_shown_and_do_nothing(pack: Pack) -> None:
    # The reader refuses letters that do not show; a file's name is not its to choose.
    rig = load_rig(rig_text().encode(), f"{_HOSTILE}.yaml", pack.vocabulary)
    rig.root.facts = {**rig.root.facts, "name": _HOSTILE}
    page = file_page(compile_file(rig, pack, day=DAY, origins=[Origin("rig", rig.file, "ab" * 32)]))
    tree = parsed(page)
    assert not list(tree.iter(HTML + "script"))
    assert [letter for letter in page if not letter.isprintable() and letter not in "\n\xa0"] == []
    title = words_of(next(tree.iter(HTML + "h1")))
    assert "<script>alert(1)</script> & \"'[U+202E]txt.exe[U+200B]{}" in title


# --- colours ---


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_words_stand_out_from_their_ground_in_both_schemes(scheme: str) -> None:
    colours = schemes(STYLE)[scheme]
    for ground in ("paper", "panel"):
        for ink in ("ink", "soft", "link"):
            assert contrast(colours[ink], colours[ground]) >= 4.5, (ink, ground)  # WCAG 2.2, 1.4.3 (AA)
        for edge in ("edge", "focus"):
            assert contrast(colours[edge], colours[ground]) >= 3.0, (edge, ground)  # WCAG 2.2, 1.4.11 (AA)


def test_signal_words_stand_out_on_their_own_colours() -> None:
    for word, (ground, ink) in SIGNAL_COLOURS.items():
        assert f"--{word}: {ground}; --on-{word}: {ink};" in STYLE
        assert f".{word} {{ background: var(--{word}); color: var(--on-{word}); }}" in STYLE
        assert contrast(ground, ink) >= 4.5  # WCAG 2.2, 1.4.3 (AA)
    assert contrast(RED, "#ffffff") >= 4.5 and f"--hold: {RED}; --on-hold: #ffffff" in STYLE


def test_nothing_that_was_found_or_not_found_is_green() -> None:
    assert GREEN not in STYLE and not re.search(r"green|\N{CHECK MARK}|\N{HEAVY CHECK MARK}", STYLE)


def test_the_contrast_is_reckoned_as_published() -> None:
    # WCAG 2.2: black on white is 21:1. #767676 is the lightest grey that passes 4.5:1 on white (common practice).
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#767676", "#ffffff") >= 4.5 > contrast("#777777", "#ffffff")


def test_the_style_keeps_findings_whole_on_paper_and_shows_the_focus() -> None:
    assert re.search(r"\.finding[^{]*\{[^}]*break-inside: avoid", STYLE)
    assert re.search(r":focus-visible \{ outline: 3px solid", STYLE)
    assert "size: A4" in STYLE and "prefers-color-scheme: dark" in STYLE
    assert not re.search(r"outline: (?:none|0)", STYLE.partition("@media print")[0])


# --- the checks themselves ---


def test_the_strict_parser_refuses_what_is_no_html() -> None:
    with pytest.raises(ParseError):
        parsed(f"{FILE_HEAD}<head><title>x</title></head><body><p></b></p></body></html>")


def test_a_wide_table_scrolls_in_a_named_region_that_the_keyboard_reaches(page: str) -> None:
    """WCAG 2.2, 1.4.10 lets a table scroll, 2.1.1 wants it reached by keys, 4.1.2 wants its name."""
    tree = parsed(page)
    regions = [one for one in tree.iter(HTML + "div") if one.get("class") == "scroll"]
    assert regions and all(one.get("role") == "region" and one.get("tabindex") == "0" for one in regions)
    wide = {table.get("class") for region in regions for table in region.iter(HTML + "table")}
    assert wide == {"settings", "dues", "limits"}


def test_a_finding_of_several_things_names_each_of_them_once_with_its_pin(pack: Pack) -> None:
    parts = "parts: [cylinder, regulator, hose]"
    text = f"rig: small\nlines: [{{gas: propane, {parts}}}, {{gas: oxygen, {parts}}}]\ntorch: {{form: heating}}\n"
    told = " ".join(words_of(parsed(file_page(written(text, pack)))).split())
    rows = re.findall(r"On \d+ ?\..{60}", told)
    assert any(re.match(r"On \d+\. propane regulator ?; ?\d+\. oxygen regulator ?\(", row) for row in rows), rows
