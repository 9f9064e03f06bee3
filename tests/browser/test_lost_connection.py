"""The connection is lost for a while, the server is killed and started again, two tabs are open: nothing is lost."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect
from support.served_page import Served

from tests.browser.keyboard import entered

_RIG = "rig: barn set\nlines: [{gas: propane, parts: [cylinder, regulator, hose]}]\ntorch: {form: air-aspirated}\n"


@pytest.fixture
def there(served: Callable[..., Served]) -> Served:
    return served(_RIG)


@pytest.fixture
def page(there: Served, opened: Callable[..., Page]) -> Page:
    made = opened(there.address)
    entered(made)
    with made.expect_response(re.compile("/ahead")):
        made.get_by_role("button", name="what could kill").click()
    expect(made.locator("form[data-answer]")).to_be_visible()
    return made


def _cannot_tell(page: Page, reason: int = 0) -> str:
    """Answer what is shown by "cannot tell"; return the name of its page."""
    name = page.locator("input[name=page]").first.input_value()
    for row in page.locator("form[data-answer] > fieldset > .row > input[value='?']").all():
        row.check()
    for because in page.locator("form[data-answer] > fieldset > .because").all():
        because.locator("input").nth(reason).check()
    page.get_by_role("button", name="Continue").click()
    return name


def test_answers_without_a_connection_are_kept_and_sent_in_order_once(there: Served, page: Page) -> None:
    before = there.look()
    page.context.set_offline(True)
    first = page.locator("h1, legend").all_inner_texts()
    _cannot_tell(page)
    expect(page.locator("#line")).to_contain_text("1 answer is kept in this browser")
    assert page.locator("h1, legend").all_inner_texts() != first, "the next question is asked"
    _cannot_tell(page, reason=1)
    expect(page.locator("#line")).to_contain_text("2 answers are kept in this browser")
    assert there.look() == before
    page.context.set_offline(False)
    expect(page.locator("#line")).to_be_empty(timeout=15_000)
    told = re.findall(r"because: (no \w+)", there.look())
    assert told[0] == "no access"
    assert told[-1] == "no light"
    assert told == sorted(told)
    rows = re.findall(r"- \{thing: .*because.*\}", there.look())
    assert len(rows) == len(set(rows))


def test_an_answer_whose_receipt_was_lost_is_sent_again_and_written_once(there: Served, page: Page) -> None:
    lost = []

    def deliver_and_lose(route) -> None:  # type: ignore[no-untyped-def]
        if not lost:
            route.fetch(max_redirects=0)
            lost.append(True)
            route.abort()
        else:
            route.continue_()

    page.route("**/answer", deliver_and_lose)
    _cannot_tell(page)
    expect(page.locator("#line")).to_contain_text("kept in this browser")
    written = there.look()
    assert written.count("because:") >= 1
    expect(page.locator("#line")).to_be_empty(timeout=15_000)
    assert there.look() == written


def test_killed_and_started_again_it_goes_on_and_sends_what_was_kept(
    there: Served, page: Page, opened: Callable[..., Page]
) -> None:
    _cannot_tell(page)
    expect(page.locator("main")).to_contain_text("Saved ")
    page.wait_for_load_state("networkidle")
    before = there.look()
    there.kill()
    _cannot_tell(page, reason=1)
    expect(page.locator("#line")).to_contain_text("1 answer is kept")
    there.start()
    expect(page.locator("#line")).to_contain_text("open the new address", timeout=15_000)
    assert there.look() == before
    page.goto(there.address)
    entered(page)
    expect(page.locator("main")).to_contain_text("Saved ", timeout=15_000)
    assert "no light" in there.look()
    assert there.look().startswith(before.partition("seen:")[0].rstrip())


def test_of_two_tabs_neither_overwrites_the_other(there: Served, page: Page) -> None:
    other = page.context.new_page()
    other.goto(page.url)
    question = page.locator("legend").first.inner_text()
    assert other.locator("legend").first.inner_text() == question
    _cannot_tell(page)
    expect(page.locator("main")).to_contain_text("Saved ")
    written = there.look()
    other.locator("form[data-answer] > fieldset > .row > input").first.check()
    other.get_by_role("button", name="Continue").click()
    expect(other.locator("#wrong")).to_contain_text("Meanwhile this was answered")
    assert there.look() == written
    other.get_by_role("button", name="Continue").click()
    expect(other.locator("#wrong")).to_have_count(0)
    assert there.look().startswith(written.rstrip())


def test_without_the_script_the_same_forms_do(there: Served, opened: Callable[..., Page]) -> None:
    plain = opened(there.address, java_script_enabled=False)
    plain.get_by_role("button", name="Continue").click()
    plain.get_by_role("button", name="what could kill").click()
    before = there.look()
    _cannot_tell(plain)
    assert there.look() != before
    plain.get_by_role("button", name="Back to the question before").click()
    assert "It was answered." in plain.content()
