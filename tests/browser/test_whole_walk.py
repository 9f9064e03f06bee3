"""A whole self-assessment in a real browser, by the keyboard alone, from blank to verdict.

Accessibility is judged by axe-core, an engine of its own, and by the tree that Chromium hands to screen readers.
Sizes are those of WCAG 2.2 and of published work on gloved hands (12 mm: 72 CSS px on a phone).
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page
from support.served_page import Served

from tests.browser.keyboard import answer_by_keyboard, come, entered, press_on

_RIG = """rig: barn set
lines: [{gas: propane, parts: [cylinder, regulator, hose]}]
torch: {form: air-aspirated}
people: none
workpiece: none
"""
_NAMELESS = ("button", "link", "radio", "checkbox", "textbox", "combobox", "DisclosureTriangle", "img", "group")


def complaints_of(page: Page) -> list[str]:
    """Return what is wrong with a page for somebody who hears it read or cannot see it well."""
    found = Axe().run(page, options={"resultTypes": ["violations"]}).response["violations"]
    told = [f"{one['id']}: {[node['target'] for node in one['nodes']][:3]} {one['help']}" for one in found]
    tree = page.context.new_cdp_session(page).send("Accessibility.getFullAXTree")["nodes"]
    for node in tree:
        role, name = node.get("role", {}).get("value"), node.get("name", {}).get("value", "")
        if not node.get("ignored") and role in _NAMELESS[:6] and not name.strip():
            told.append(f"a {role} has no name")
    across = page.evaluate("document.scrollingElement.scrollWidth - window.innerWidth")
    if across > 0:
        told.append(f"{across} px wider than the screen")
    return told


@pytest.mark.parametrize(("width", "height"), [(360, 740), (1280, 800)])
def test_from_blank_to_verdict_by_the_keyboard(
    served: Callable[..., Served], opened: Callable[..., Page], width: int, height: int
) -> None:
    there = served(_RIG)
    page = opened(there.address, width, height)
    assert complaints_of(page) == []
    entered(page)
    assert complaints_of(page) == []
    press_on(page, lambda at: at["text"].endswith("what could kill"))
    page.keyboard.press("Enter")
    come(page, "form[data-answer]")
    for number in range(200):
        if not page.locator("form[data-answer]").count():
            break
        if number % 12 == 0:
            assert complaints_of(page) == []
            assert not page.locator("form[data-answer] input:checked").count()
        answer_by_keyboard(page, first=number % 3 == 0)
    assert page.locator("h1").inner_text() == "End of this walk"
    assert "decide whether this rig may be used" in page.locator("main").inner_text()
    assert complaints_of(page) == []
    page.goto(f"{there.origin}/given")
    assert complaints_of(page) == []
    assert there.look().count("because:") > 20


@pytest.mark.parametrize("scheme", [{"color_scheme": "dark"}, {"forced_colors": "active"}])
def test_in_the_dark_and_in_forced_colours_all_can_be_read(
    served: Callable[..., Served], opened: Callable[..., Page], scheme: dict[str, str]
) -> None:
    page = opened(served(_RIG).address, **scheme)
    entered(page)
    assert complaints_of(page) == []
    page.get_by_role("button", name="all that is open").click()
    come(page, "form[data-answer]")
    page.locator("form[data-answer] input[value='?']").first.check()
    page.locator(".because input").first.check()
    assert complaints_of(page) == []
    marked = page.locator(".row:has(> input:checked)").first
    other = page.locator("form[data-answer] .row:not(:has(> input:checked))").first
    edge = "(row) => getComputedStyle(row).borderTopWidth"
    assert marked.evaluate(edge) != other.evaluate(edge), "what is marked is told by more than its colour"


def test_targets_are_large_cannot_tell_is_as_large_and_nothing_is_green(
    served: Callable[..., Served], opened: Callable[..., Page]
) -> None:
    page = opened(served(_RIG).address)
    entered(page)
    page.get_by_role("button", name="what could kill").click()
    come(page, "form[data-answer]")
    heights = [one.bounding_box() for one in page.locator("form[data-answer] > fieldset > .row").all()]
    assert all(box is not None and box["height"] >= 72 for box in heights)
    words, cannot = heights[:-1], heights[-1]
    assert cannot is not None
    assert all(box is not None and abs(box["width"] - cannot["width"]) < 1 for box in words)
    gaps = [(b["y"] - a["y"] - a["height"]) for a, b in pairwise(heights) if a and b]
    assert min(gaps) >= 11
    page.locator("form[data-answer] .row input").first.check()
    colours = page.evaluate(
        """() => [...document.querySelectorAll("body, body *")].flatMap((one) => {
          const style = getComputedStyle(one);
          return [style.color, style.backgroundColor, style.borderTopColor, style.outlineColor]; })"""
    )
    assert not [one for one in set(colours) if _is_green(one)]
    assert "\N{CHECK MARK}" not in page.content()
    assert "\N{HEAVY CHECK MARK}" not in page.content()


def _is_green(colour: str) -> bool:
    red, green, blue = (float(part) for part in colour[colour.index("(") + 1 : -1].split(",")[:3])
    return green > red * 1.25 and green > blue * 1.25
