"""A real browser, by whatever is installed, and the page served to it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright
from support.served_page import Served, chromium

_ARGUMENTS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"]


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark all tests of this folder, so that a machine without a browser can leave them out by name."""
    for item in items:
        if Path(__file__).parent in item.path.parents:
            item.add_marker(pytest.mark.browser)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """A headless Chromium of this machine; where there is none, the test fails and says what to install."""
    try:
        path = chromium()
    except LookupError as error:
        pytest.fail(str(error), pytrace=False)
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=path, args=_ARGUMENTS)
        yield started
        started.close()


@pytest.fixture
def served(tmp_path: Path) -> Iterator[Callable[..., Served]]:
    """Serve a rig of this text; it is ended after the test."""
    running: list[Served] = []

    def serve(text: str, *options: str, by: str = "fitter") -> Served:
        rig = tmp_path / "barn.yaml"
        if text:
            rig.write_text(text, encoding="utf-8")
        made = Served(rig, ("--by", by, *options))
        made.start()
        running.append(made)
        return made

    yield serve
    for one in running:
        one.kill()


@pytest.fixture(scope="module")
def shared(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """One rig served to all tests of a module that write nothing of it: the module says which, in `SHARED`."""
    text, *options = request.module.SHARED
    rig = tmp_path_factory.mktemp("shared") / "barn.yaml"
    rig.write_text(text, encoding="utf-8")
    made = Served(rig, ("--by", "fitter", *options))
    made.start()
    yield made
    made.kill()


@pytest.fixture
def opened(browser: Browser) -> Iterator[Callable[..., Page]]:
    """Open pages, each in a browser of its own, that complain of what a script or a policy objects to."""
    contexts, complaints = [], []

    def open_(address: str, width: int = 360, height: int = 740, **options: object) -> Page:
        context = browser.new_context(viewport={"width": width, "height": height}, **options)  # type: ignore[arg-type]
        contexts.append(context)
        page = context.new_page()
        page.on("pageerror", lambda error: complaints.append(str(error)))
        page.on("console", lambda said: "Policy" in said.text and complaints.append(said.text))
        page.set_default_timeout(15_000)
        page.goto(address)
        return page

    yield open_
    for one in contexts:
        one.close()
    assert not complaints
