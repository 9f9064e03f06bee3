"""A rig is begun in a real browser, by the keyboard alone, and its first question is asked."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import Page

from tests.browser.keyboard import come, press_on
from tests.browser.test_whole_walk import complaints_of
from tests.support.served_page import Served


def _entered(page: Page) -> None:
    press_on(page, lambda at: at["tag"] == "BUTTON" and at["text"] == "Continue")
    page.keyboard.press("Enter")
    come(page, ".pictures")


def _onward(page: Page, text: str) -> None:
    press_on(page, lambda at: text in at["text"])
    page.keyboard.press("Enter")


@pytest.mark.parametrize(("width", "height"), [(360, 740), (1280, 800)])
def test_from_nothing_to_the_first_question_by_the_keyboard(
    served: Callable[..., Served], opened: Callable[..., Page], width: int, height: int
) -> None:
    there = served("")
    page = opened(there.address, width, height)
    _entered(page)
    assert complaints_of(page, engine=width < 1000) == []
    _onward(page, "Brazing")
    page.wait_for_url("**/begin?is=brazing")
    assert complaints_of(page, engine=width < 1000) == []
    assert page.locator(".pictures img").evaluate_all("all => all.every((one) => one.src.includes('/begin/picture/'))")
    press_on(
        page, lambda at: at["tag"] == "A" and page.evaluate("document.activeElement.closest('.pictures') !== null")
    )
    page.keyboard.press("Enter")
    page.wait_for_url("**/begin/named*")
    press_on(page, lambda at: at["name"] == "called")
    page.keyboard.type("Barn set")
    press_on(page, lambda at: at["name"] == "code")
    page.keyboard.press("ArrowDown")
    assert complaints_of(page, engine=width < 1000) == []
    _onward(page, "Show its description")
    come(page, "pre")
    assert complaints_of(page, engine=width < 1000) == []
    assert not there.rig.exists()
    _onward(page, "Write it, and look")
    come(page, "h1:has-text('Overview')")
    assert "Barn set" in there.rig.read_text()
    _onward(page, "what could kill")
    come(page, "form[data-answer]")
    assert complaints_of(page, engine=width < 1000) == []


def test_the_pictures_are_drawn(served: Callable[..., Served], opened: Callable[..., Page]) -> None:
    page = opened(served("").address)
    _entered(page)
    first = page.locator(".pictures img").first
    first.scroll_into_view_if_needed()
    assert first.evaluate("async (img) => { img.loading = 'eager'; await img.decode(); return img.complete; }")
