"""The commissioning file in a real browser: on A4 short and whole, on a phone without scrolling sideways."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page
from support.every_form import DAY, told

from rigcheck.rules.folders import configs_folder

_LONGEST = 14  # pages of A4, with the short working
_RIGS = [configs_folder() / "sites" / f"{name}.yaml" for name in ("wharf-crane-rail", "van-pipe-repair")]


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """The commissioning files of two rigs, by the name of the rig's file."""
    folder = tmp_path_factory.mktemp("files")
    made = {path.stem: folder / f"{path.stem}.html" for path in _RIGS}
    for path in _RIGS:
        told("file", path, "--day", DAY, "--output", made[path.stem])
    return made


def test_the_file_of_the_wharf_takes_fourteen_pages_and_is_tagged(browser: Browser, files: dict[str, Path]) -> None:
    page = browser.new_page()
    page.goto(files["wharf-crane-rail"].as_uri())
    printed = page.pdf(prefer_css_page_size=True, print_background=True, tagged=True)
    page.close()
    assert 8 < len(re.findall(rb"/Type\s*/Page\b", printed)) <= _LONGEST
    assert b"/StructTreeRoot" in printed


def test_a_table_for_signatures_stands_with_the_last_step(browser: Browser, files: dict[str, Path]) -> None:
    page = browser.new_page()
    page.goto(files["wharf-crane-rail"].as_uri())
    page.emulate_media(media="print")
    for sheet in page.locator(".sheet").all():
        last = sheet.evaluate("one => one.querySelector('.steps').nextElementSibling.className")
        assert last == "signed"
        assert sheet.locator(".signed").evaluate("one => getComputedStyle(one).breakInside") == "avoid"
    page.close()


@pytest.mark.parametrize("name", [path.stem for path in _RIGS])
@pytest.mark.parametrize(("width", "scheme"), [(320, "light"), (360, "dark"), (1280, "light")])
def test_no_page_scrolls_sideways(
    name: str, width: int, scheme: str, files: dict[str, Path], opened: Callable[..., Page]
) -> None:
    page = opened(files[name].as_uri(), width=width, color_scheme=scheme)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    drawn = page.locator(".paper svg").first.bounding_box()
    assert drawn is not None and drawn["width"] <= width
    assert drawn["height"] > 300


def test_a_drawing_and_plots_by_themselves_fit_a_phone(tmp_path: Path, opened: Callable[..., Page]) -> None:
    for command, name in (("draw", "drawing.svg"), ("figures", "plots.svg")):
        told(command, _RIGS[0], "--day", DAY, "--output", tmp_path / name)
        page = opened((tmp_path / name).as_uri(), width=320, color_scheme="light")
        assert page.evaluate("document.scrollingElement.scrollWidth") <= 320, name


def test_no_row_ends_within_a_tag_or_a_day(files: dict[str, Path], opened: Callable[..., Page]) -> None:
    page = opened(files["wharf-crane-rail"].as_uri(), width=320, color_scheme="light")
    rows = page.evaluate(
        "[...document.querySelectorAll('.parts .whole, .dues .whole')]"
        ".map(one => [one.textContent, one.getClientRects().length])"
    )
    assert {"H-1101", "2031-06-01"} <= {text for text, _ in rows}
    assert [text for text, count in rows if count > 1] == []
