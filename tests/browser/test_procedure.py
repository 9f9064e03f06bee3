"""A procedure by the hand in a real browser: by the keyboard, with its clock, and with the connection lost."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect
from support.in_full import sites_in_full

from tests.browser.keyboard import come, entered, press_on
from tests.browser.test_whole_walk import complaints_of
from tests.support.served_page import Served

_RIG = (sites_in_full() / "tool-room-welding.yaml").read_text(encoding="utf-8")
_DAY = ("--day", "2026-11-25")  # on which nothing holds that rig
SHARED = (_RIG, *_DAY)
_MOST = 40


@pytest.fixture
def there(served: Callable[..., Served]) -> Served:
    return served(_RIG, *_DAY)


def _record(there: Served, name: str = "start-up") -> str:
    return "".join(path.read_text(encoding="utf-8") for path in there.rig.parent.glob(f"*-{name}-2026-11-25.yaml"))


def _count(page: Page) -> str:
    return page.locator("input[name=count]").first.input_value() if page.locator("input[name=count]").count() else ""


def _do_by_keyboard(page: Page) -> None:
    """Record the step that is shown: the first word of each choice, and of what is written "cannot tell"."""
    before, done = _count(page), set()
    for _ in range(_MOST):
        at = press_on(page, lambda at: at["tag"] in ("INPUT", "BUTTON"))
        if at["tag"] == "BUTTON" and at["text"] == "It is done":
            page.keyboard.press("Enter")
            break
        if at["tag"] == "INPUT" and at["name"] not in done and (at["type"] == "radio" or at["value"] == "?"):
            page.keyboard.press("Space")
            done.add(at["name"])
    page.wait_for_function(
        """(was) => (document.querySelector('input[name=count]') || {}).value !== was
        || document.querySelector('#wrong')""",
        arg=before,
    )
    assert page.locator("#wrong").count() == 0


@pytest.mark.parametrize(("width", "height"), [(360, 740), pytest.param(1280, 800, marks=pytest.mark.whole)])
def test_start_up_by_the_keyboard_ends_as_a_record(
    there: Served, opened: Callable[..., Page], width: int, height: int
) -> None:
    page = opened(there.address, width, height)
    entered(page)
    press_on(page, lambda at: at["text"] == "Procedures")
    page.keyboard.press("Enter")
    come(page, "h1:has-text('Procedures')")
    assert complaints_of(page, engine=width < 1000) == []
    page.locator("a[href='/work/start-up']").focus()
    page.keyboard.press("Enter")
    for number in range(_MOST):
        come(page, "form[data-step], h1:has-text('Every step is recorded')")
        if not page.locator("form[data-step]").count():
            break
        if number % 8 == 0:
            assert complaints_of(page, engine=width < 1000) == []
            assert page.locator("form[data-step] input:checked").count() == 0
        assert page.get_by_role("link", name="Emergency").is_visible()
        assert page.get_by_role("button", name="Stop here").is_visible()
        _do_by_keyboard(page)
    assert page.locator("h1").inner_text() == "Every step is recorded"
    assert complaints_of(page, engine=width < 1000) == []
    assert len(re.findall(r"^  - ", _record(there), re.MULTILINE)) > 10
    assert "stopped:" not in _record(there)


def test_a_step_without_a_connection_is_sent_when_it_is_back_and_the_emergency_is_there_meanwhile(
    there: Served, opened: Callable[..., Page]
) -> None:
    page = opened(f"{there.address}")
    entered(page)
    page.goto(f"{there.origin}/work/start-up")
    page.wait_for_function("() => sessionStorage.getItem('rigcheck emergency')")
    page.context.set_offline(True)
    page.get_by_role("button", name="It is done", exact=True).last.click()
    expect(page.locator("#line")).to_contain_text("this step is not recorded yet")
    assert _record(there) == ""
    page.get_by_role("link", name="Emergency").click()
    expect(page.locator("h1")).to_have_text("Emergency")
    page.context.set_offline(False)
    page.wait_for_function("() => document.querySelector('input[name=count]')?.value === '1'", timeout=15_000)
    assert _record(there).count("weigh_the_risks") == 1


def test_a_step_that_waits_for_a_connection_outlives_the_page_and_is_recorded_once(
    there: Served, opened: Callable[..., Page]
) -> None:
    page = opened(there.address)
    entered(page)
    page.goto(f"{there.origin}/work/start-up")
    page.context.set_offline(True)
    page.get_by_role("button", name="It is done", exact=True).last.click()
    expect(page.locator("#line")).to_contain_text("It is kept in this browser")
    later, lost = page.context.new_page(), []
    page.close()  # as a phone does that is put away
    assert _record(there) == ""

    def deliver_and_lose(route) -> None:  # type: ignore[no-untyped-def]
        if not lost:
            route.fetch(max_redirects=0)
            lost.append(True)
            route.abort()
        else:
            route.continue_()

    later.route("**/done", deliver_and_lose)
    later.context.set_offline(False)
    later.goto(there.origin)
    later.wait_for_function("() => document.querySelector('input[name=count]')?.value === '1'", timeout=15_000)
    assert lost
    assert _record(there).count("weigh_the_risks") == 1
    assert later.evaluate("Object.keys(localStorage).filter((one) => one.includes('steps')).length") == 0


def test_the_clock_runs_on_the_page_and_is_read_off_into_the_field(shared: Served, opened: Callable[..., Page]) -> None:
    page = opened(shared.one_more())
    entered(page)
    page.goto(f"{shared.origin}/work/leak-test")
    page.get_by_text("Another step").click()
    page.get_by_role("link", name=re.compile("^(Hold|Watch)")).first.click()
    page.get_by_role("button", name="It begins now").first.click()
    clock = page.get_by_role("timer").first
    expect(clock).to_have_text(re.compile(r"0 min [1-9]\d* s"))
    assert complaints_of(page) == []
    page.get_by_role("button", name="It ends now").first.click()
    name = page.get_by_role("button", name="It begins now").first.get_attribute("value")
    expect(page.locator(f"input[type=text][name={name}]")).to_have_value(re.compile(r"^\d+ s$"))


@pytest.mark.parametrize("scheme", [{"color_scheme": "dark"}, {"forced_colors": "active"}])
def test_in_the_dark_and_in_forced_colours_a_step_can_be_read(
    shared: Served, opened: Callable[..., Page], scheme: dict[str, str]
) -> None:
    page = opened(shared.one_more(), **scheme)
    entered(page)
    page.goto(f"{shared.origin}/work/start-up")
    assert complaints_of(page) == []
    page.goto(f"{shared.origin}/emergency")
    assert complaints_of(page) == []


def test_the_emergency_stays_in_sight_and_hides_nothing_that_has_the_focus(
    shared: Served, opened: Callable[..., Page]
) -> None:
    page = opened(shared.one_more())
    entered(page)
    page.goto(f"{shared.origin}/work/start-up")
    page.get_by_text("Another step").click()
    page.evaluate("window.scrollTo(0, document.body.scrollHeight)")
    assert page.evaluate("window.scrollY") > 300
    alarm = page.get_by_role("link", name="Emergency").bounding_box()
    assert alarm is not None
    assert 0 <= alarm["y"] < 60, "in one row, at the top, however far one scrolled"
    for _ in range(6):  # upwards, where what stays on top could lie over it
        page.keyboard.press("Shift+Tab")
        top = page.evaluate("document.activeElement.getBoundingClientRect().top")
        inside = page.evaluate("document.activeElement.closest('nav, header') !== null")
        assert inside or top >= alarm["y"] + alarm["height"], "WCAG 2.2, 2.4.11 (from memory)"
