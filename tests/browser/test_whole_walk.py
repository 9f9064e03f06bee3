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
from support.who_knows_all import WhoKnowsAll

import rigcheck
from rigcheck.rules.pack import Pack
from tests.browser.keyboard import Hand, answer_by_keyboard, come, entered, marks_anything, press_on, tells

_RIG = """rig: barn set
lines: [{gas: propane, parts: [cylinder, regulator, hose]}]
torch: {form: air-aspirated}
people: none
workpiece: none
breaks: none
overnight: none
store: none
tools: none
"""
SHARED = (_RIG,)
_TEMPLATE = rigcheck.configs_folder() / "templates" / "air-aspirated-propane-brazing.yaml"
_NAMELESS = ("button", "link", "radio", "checkbox", "textbox", "combobox", "DisclosureTriangle", "img", "group")


def complaints_of(page: Page, *, engine: bool = True) -> list[str]:
    """Return what is wrong with a page for somebody who hears it read or cannot see it well.

    `engine`: by axe too, which takes a second and finds the same at every width.
    """
    options = {"resultTypes": ["violations"]}
    found = Axe().run(page, options=options).response["violations"] if engine else []
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


def _sent_to_the_end(page: Page, begin: str, hand: Callable[[int], Hand], *, looked_at: int) -> int:
    """Begin, and answer until nothing is left; return how many questions there were."""
    press_on(page, lambda at: at["text"].endswith(begin))
    page.keyboard.press("Enter")
    come(page, "form[data-answer]")
    for number in range(200):
        if not page.locator("form[data-answer]").count():
            return number
        if number % looked_at == 0:
            assert complaints_of(page) == []
            assert not page.locator("form[data-answer] input:checked").count()
        answer_by_keyboard(page, hand(number))
        assert not page.locator("#wrong").count()
    raise AssertionError("there is no end to it")


def test_from_blank_to_verdict_by_the_keyboard(served: Callable[..., Served], opened: Callable[..., Page]) -> None:
    there = served(_RIG)
    page = opened(there.address, 1280, 800)
    assert complaints_of(page) == []
    entered(page)
    assert complaints_of(page) == []
    assert (
        _sent_to_the_end(page, "what could kill", lambda number: marks_anything(first=number % 3 == 0), looked_at=20)
        > 20
    )
    assert page.locator("h1").inner_text() == "End of this walk"
    assert "decide whether this rig may be used" in page.locator("main").inner_text()
    assert complaints_of(page) == []
    page.goto(f"{there.origin}/given")
    assert complaints_of(page) == []
    assert there.look().count("because:") > 20


def test_who_knows_all_settles_a_whole_small_rig_by_the_keyboard_on_a_phone(
    served: Callable[..., Served], opened: Callable[..., Page], pack: Pack
) -> None:
    known = WhoKnowsAll(_TEMPLATE, "barn.yaml", pack)
    there = served(known.description, "--day", "2026-11-25")
    there.rig.with_name("barn-look-foreman.yaml").write_text(known.on_record)
    page = opened(there.address, 360, 740)
    entered(page)
    assert _sent_to_the_end(page, "all that is open", lambda _: tells(known.fields(page)), looked_at=20) > 20
    assert page.locator("h1").inner_text() == "End of this walk"
    assert page.locator(".state").inner_text().startswith("State: nothing found against it; every check is shown")
    assert there.look().count("because:") == 0
    assert complaints_of(page) == []
    press_on(page, lambda at: at["text"] == "What was seen, into the description")
    page.keyboard.press("Enter")
    come(page, "h1:has-text('Into the description')")
    assert complaints_of(page) == []
    press_on(page, lambda at: at["text"] == "Write into the description")
    page.keyboard.press("Enter")
    come(page, "h1:has-text('End of this walk')")
    assert "sights:" in there.rig.read_text()
    assert page.locator(".state").inner_text().startswith("State: nothing found against it; every check is shown")


@pytest.mark.parametrize("scheme", [{"color_scheme": "dark"}, {"forced_colors": "active"}])
def test_in_the_dark_and_in_forced_colours_all_can_be_read(
    shared: Served, opened: Callable[..., Page], scheme: dict[str, str]
) -> None:
    page = opened(shared.one_more(), **scheme)
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
    shared: Served, opened: Callable[..., Page]
) -> None:
    page = opened(shared.one_more())
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
