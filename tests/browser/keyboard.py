"""Somebody who has a keyboard and no mouse, and goes through forms by the Tab key."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from playwright.sync_api import Page

__all__ = ["answer_by_keyboard", "come", "entered", "press_on"]

_FOCUSED = """() => { const at = document.activeElement;
  return { tag: at.tagName, type: at.type || "", name: at.name || "", value: at.value || "", text: at.innerText || "",
    within: at.parentElement ? at.parentElement.className : "", open: !!(at.parentElement && at.parentElement.open),
    fields: at.tagName === "SUMMARY" ? [...at.parentElement.querySelectorAll("input")].map((one) => one.name) : [],
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


Hand = Callable[[Page, dict[str, Any]], bool]
"""Does what is to be done at what has the focus, by the keyboard; returns whether it was for this hand to do."""


def answer_by_keyboard(page: Page, hand: Hand) -> None:
    """Answer the question that is shown, and send it."""
    title, done = page.locator("input[name=page]").first.input_value(), set[tuple[str, str]]()
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
        key = at["name"], at["value"] if at["type"] == "checkbox" else ""
        if key not in done and hand(page, at):
            done.add(key)
    raise AssertionError("the form cannot be sent by the keyboard")


def marks_anything(*, first: bool) -> Hand:
    """Return who marks the first word of each choice, or the last, "cannot tell", as of all that is written."""
    words: set[str] = set()

    def hand(page: Page, at: dict[str, Any]) -> bool:
        name = at["name"]
        if at["tag"] != "INPUT":
            return False
        if name.endswith("-count"):
            if name.removesuffix("-count") in words:
                page.keyboard.type(str(page.locator(f"ul:has(~ label input[name='{name}']) li").count()))
        elif name.endswith("-because"):
            page.keyboard.press("Space")
        elif at["type"] == "radio":
            page.keyboard.press("Space" if first else "ArrowUp")  # upwards from the first comes the last
            words.update({name} if first else ())
        elif at["type"] == "checkbox" and at["value"] == "?":
            page.keyboard.press("Space")
        else:
            return False
        return True

    return hand


def tells(told: Mapping[str, Sequence[str]]) -> Hand:
    """Return who marks or writes in each field what is told for it, and opens what they are in."""

    def hand(page: Page, at: dict[str, Any]) -> bool:
        if at["tag"] == "SUMMARY" and at["within"] == "others" and not at["open"] and set(at["fields"]) & set(told):
            page.keyboard.press("Enter")
            return False
        if at["tag"] != "INPUT" or at["name"] not in told:
            return False
        values = told[at["name"]]
        if at["type"] == "radio":
            options = page.locator(f"input[name='{at['name']}']").evaluate_all("all => all.map((one) => one.value)")
            for _ in range(options.index(values[0])):
                page.keyboard.press("ArrowDown")
            if not page.locator(f"input[name='{at['name']}']:checked").count():
                page.keyboard.press("Space")
        elif at["type"] == "checkbox":
            if at["value"] in values:
                page.keyboard.press("Space")
        elif values[0] != "?":
            page.keyboard.type(values[0])
        return True

    return hand
