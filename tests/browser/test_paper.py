"""The walk on paper as Chromium prints it: the daily look at a rig on record is one sheet of A4, both sides."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Browser
from support.simulated_people import Round, seen_whole, sound

import rigcheck
from rigcheck.report.html.walk_page import walk_page
from rigcheck.report.walk.walk_rows import walk_rows
from rigcheck.rules.pack import Pack

_A4 = (595, 842)  # points: 210 mm by 297 mm, ISO 216


@pytest.fixture
def printed(browser: Browser, tmp_path: Path) -> Callable[[str], bytes]:
    def print_(text: str) -> bytes:
        path = tmp_path / "walk.html"
        path.write_text(text, encoding="utf-8")
        page = browser.new_page()
        page.goto(path.as_uri())
        made = page.pdf(prefer_css_page_size=True)
        page.close()
        return made

    return print_


@pytest.mark.parametrize("name", ["oxy-acetylene-welding", "oxy-propane-cutting"])
def test_the_daily_look_at_a_rig_on_record_is_one_sheet(pack: Pack, printed: Callable[[str], bytes], name: str) -> None:
    text = (rigcheck.configs_folder() / "templates" / f"{name}.yaml").read_bytes()
    truth = Round(text, pack, text=sound(text, pack)).judged().known.filled
    daily = Round(text, pack, purpose="use", only="danger", record=seen_whole(truth, "2026-11-24"))
    rows = walk_rows(daily.walk().stops, daily=True)
    made = printed(walk_page(rows, name, "2026-11-25", pack.digest))
    assert len(re.findall(rb"/Type\s*/Page\b", made)) == 2, "before gas is let on, and when the work is over"
    boxes = {
        tuple(round(float(one)) for one in box.split()[2:]) for box in re.findall(rb"/MediaBox\s*\[([^\]]*)\]", made)
    }
    assert boxes == {_A4}
