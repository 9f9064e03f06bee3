"""What is shown on a screen fits its columns, whatever the command."""

from __future__ import annotations

import pytest
from support.every_form import DAY, told
from support.in_full import sites_in_full

from rigcheck.report.text.layout import labelled
from rigcheck.rules.folders import configs_folder

_SITE = sites_in_full() / "plate-shop-cutting.yaml"
_TEMPLATE = configs_folder() / "templates" / "oxy-propane-cutting.yaml"
_SHOWN = {
    "inspect": ("inspect", _SITE, "--day", DAY),
    "template": ("inspect", _TEMPLATE, "--day", DAY),
    "compare": ("compare", _TEMPLATE, _SITE, "--day", DAY),
    "summary": ("summary", _SITE, _TEMPLATE, "--day", DAY),
    "procedures": ("sheet", _SITE, "--day", DAY),
    "sheet": ("sheet", _SITE, "start-up", "--day", DAY),
    "due": ("due", _SITE, "--day", DAY),
    "figures": ("figures", _SITE, "--day", DAY),
    "history": ("history", _SITE, "--day", DAY),
    "templates": ("new",),
    "words": ("words", "hose"),
    "rule": ("rules", "show", "hoses/twin_hoses_part_freely"),
    "walk": ("ask", _SITE, "--paper", "--day", DAY),
}


@pytest.mark.parametrize("width", [60, 80, 120])
@pytest.mark.parametrize("what", _SHOWN)
def test_no_line_is_wider_than_the_screen(what: str, width: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", str(width))
    lines = told(*_SHOWN[what]).splitlines()
    assert lines
    assert [line for line in lines if len(line) > width] == []


def test_a_label_that_is_too_long_stands_on_a_line_of_its_own() -> None:
    short, long = (list(labelled(name, "a b c", 40, column=8)) for name in ("sheet", "emergency-leak"))
    assert [line.text for line in short] == ["sheet   a b c"]
    assert [line.text for line in long] == ["emergency-leak", "        a b c"]
