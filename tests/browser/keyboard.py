"""Somebody who has a keyboard and no mouse, and goes through forms by the Tab key."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from playwright.sync_api import Page

__all__ = ["answer_by_keyboard", "come", "entered", "press_on"]

_FOCUSED = """() => { const at = document.activeElement;
  return { tag: at.tagName, type: at.type || "", name: at.name || "", value: at.value || "", text: at.innerText || "",
    shown: at.checkVisibility(), form: at.form ? at.form.getAttribute("action") : "" }; }"""
_MOST = 400  # presses until something must have come


def come(page: Page, selector: str) -> None:
    """Wait until a page with this has come whole: on a slow machine its words are there before its style is."""
    page.wait_for_selector(selector)
    page.wait_for_load_state("load")


def press_on(page: Page, wanted: Callable[[dict[str, Any]], bool]) -> dict[str, Any]:
    """Press Tab until what is wanted has the focus; return it."""
    for _ in range(_MOST):
        page.keyboard.press("Tab")
        at: dict[str, Any] = page.evaluate(_FOCUSED)
        if wanted(at):
            return at
    raise AssertionError(f"nothing of the sort can be reached by the keyboard on {page.title()!r}")


def entered(page: Page) -> None:
    """Go in as who is named in the form, by the keyboard."""
    press_on(page, lambda at: at["tag"] == "BUTTON" and at["text"] == "Continue")
    page.keyboard.press("Enter")
    come(page, "h1:has-text('Overview'), h1:has-text('End of this walk')")


def answer_by_keyboard(page: Page, first: bool) -> None:
    """Answer the question that is shown: the first word of each choice, or (also of what is written) "cannot tell"."""
    title, done, words = page.locator("input[name=page]").first.input_value(), set(), set()
    for _ in range(_MOST):
        page.keyboard.press("Tab")
        at = page.evaluate(_FOCUSED)
        if at["tag"] == "BUTTON" and at["form"] == "/answer":
            page.keyboard.press("Enter")
            page.wait_for_function(
                """(was) => (document.querySelector('input[name=page]') || {}).value !== was
                || document.querySelector('#wrong')""",
                arg=title,
            )
            return
        if at["tag"] != "INPUT" or at["name"] in done:
            continue
        if at["name"].endswith("-count"):
            if at["name"].removesuffix("-count") in words:
                page.keyboard.type(str(page.locator(f"ul:has(~ label input[name='{at['name']}']) li").count()))
        elif at["name"].endswith("-because"):
            page.keyboard.press("Space")
        elif at["type"] == "radio":
            page.keyboard.press("Space" if first else "ArrowUp")  # upwards from the first comes the last
            words |= {at["name"]} if first else set()
        elif at["type"] == "checkbox" and at["value"] == "?":
            page.keyboard.press("Space")
        else:
            continue
        done.add(at["name"])
    raise AssertionError("the form cannot be sent by the keyboard")
