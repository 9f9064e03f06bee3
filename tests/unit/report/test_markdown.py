"""An inspection as Markdown, rendered by a general library (`markdown-it-py`, with tables and bare links)."""

from __future__ import annotations

from datetime import date
from html.parser import HTMLParser

import pytest
from markdown_it import MarkdownIt
from msgspec.structs import replace
from support.small_reports import HELD, HOSTILE, HOSTILE_FILE, hostile_rig

from rigcheck.judge.causes import causes_of
from rigcheck.judge.inspection import Inspection, inspect_rig
from rigcheck.report.markdown import markdown_refusal, markdown_rig
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.report.text.question_words import Told
from rigcheck.rig.loader import load_rig
from rigcheck.rules.pack import Pack
from rigcheck.text.faults import Fault
from rigcheck.text.place import Place

_DAY = date(2026, 11, 25).toordinal()
_OWN = {"h2", "p", "strong", "em", "table", "thead", "tbody", "tr", "th", "td", "details", "summary", "ul", "li"}


class _Page(HTMLParser):
    """The tags of a page, and its text by the tag that it stands in."""

    def __init__(self, markdown: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.open: list[str] = []
        self.texts: dict[str, list[str]] = {}
        self.feed(MarkdownIt("gfm-like").render(markdown))

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        assert not attrs, (tag, attrs)
        self.tags.append(tag)
        self.open.append(tag)
        self.texts.setdefault(tag, []).append("")

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        for tag in set(self.open):
            self.texts[tag][-1] += data

    def handle_comment(self, data: str) -> None:
        raise AssertionError(f"text became a comment: {data}")


def _page(inspection: Inspection, questions: Told = "looks") -> _Page:
    return _Page(markdown_rig(inspection, hold_at="warning", on_unproven=None, questions=questions))


def _inspected(text: str, pack: Pack, file: str = "held.yaml") -> Inspection:
    rig = load_rig(text.encode(), file, pack.vocabulary)
    return inspect_rig(rig, pack, day=_DAY, tell_holds=True)


def test_the_table_has_a_row_for_each_finding_with_its_signal_word_first(pack: Pack) -> None:
    held = _inspected(HELD, pack)
    page = _page(held)
    causes = causes_of(held.findings)
    assert page.tags.count("tr") == 1 + len(causes)
    assert page.tags.count("td") == 6 * len(causes)
    assert page.texts["td"][::6] == [cause.told.first.signal.upper() for cause in causes]
    lines = {str(finding.place.line) for finding in held.findings}
    assert set(" ".join(page.texts["td"][5::6]).replace("held.yaml:", "").replace(",", "").split()) == lines


def test_questions_and_what_held_are_folded_lists_with_a_row_each(pack: Pack) -> None:
    held = _inspected(HELD, pack)
    page = _page(held, questions="all")
    asked = len({(one.fact, one.ask, one.too_close, one.left_open) for one in held.questions})
    told = f"{asked} questions about {len(held.questions)} facts not yet shown"
    assert 1 < asked < len(held.questions)
    counted = [told, f"{len(held.held)} checks that held"]
    assert page.texts["summary"] == counted
    assert page.tags.count("li") == asked + len(held.held)


def test_the_state_the_day_and_the_caution_are_told(pack: Pack) -> None:
    held = _inspected(HELD, pack)
    page = _page(held)
    assert page.texts["strong"][0] == "On hold"
    assert page.texts["p"][0] == "On hold under local code general on 2026-11-25 (held.yaml)."
    assert page.texts["em"] == [CAUTION]


def test_hostile_text_stays_text(pack: Pack) -> None:
    page = _page(_inspected(hostile_rig(), pack))
    assert set(page.tags) == _OWN | {"code"}
    assert page.texts["h2"] == [HOSTILE]
    assert f"trolley “{HOSTILE}”" in page.texts["td"]


def test_no_word_that_came_from_a_file_becomes_a_link_or_a_mention(pack: Pack) -> None:
    page = _page(replace(_inspected(HELD, pack), findings=(), questions=(), held=(), rig=HOSTILE))
    assert page.texts["code"] == ["this](https://example.com)", "@someone", "www.example.com", "#12"]
    linked = MarkdownIt("gfm-like").render("www.example.com [take this](https://example.com)")
    assert linked.count("<a ") == 2


def test_a_hostile_file_name_stays_text_in_a_refusal() -> None:
    fault = Fault(Place(HOSTILE_FILE, 3, 10), f"{HOSTILE} is wrong.", "Write it right.", near="1. a|b")
    page = _Page(markdown_refusal(HOSTILE_FILE, [fault]))
    assert set(page.tags) == {"h2", "p", "ul", "li", "code"}
    assert page.texts["h2"] == ["1. [U+202E]gnorw[U+0007] [a](b) <i> #1 100% é {0} 🔥.yaml"]
    assert page.texts["li"] == [f"Line 3: {HOSTILE} is wrong. Write it right. Nearest known word: 1. a|b."]


@pytest.mark.parametrize("text", ["a\nb", "a\r\n\r\n# b", "a\tb", "a\u2028b", "a\u00a0b"])
def test_text_over_several_lines_stays_in_its_cell_and_heading(text: str, pack: Pack) -> None:
    inspection = _inspected(HELD, pack)
    finding = replace(inspection.findings[0], thing=text)
    page = _page(replace(inspection, rig=text, findings=(finding,)))
    assert page.texts["h2"] == page.texts["td"][1:2] == [" ".join(text.split())]
