"""What a page is called: what was shown is what is answered."""

from __future__ import annotations

import pytest
from support.simulated_people import Round

from rigcheck.asking.page_name import name_of, page_named, read_page_name
from rigcheck.asking.walk import Page
from rigcheck.report.html.asked_page import questions_of
from rigcheck.rules.looks import looks_of
from rigcheck.rules.pack import Pack
from rigcheck.rules.standard_rigs import standard_rig_files


def _fields(page: Page) -> list[tuple[str, str, str]]:
    """Return what a form asks in each of its fields: the field, the thing and the fact."""
    return [(blank.name, blank.path, one.fact) for one in questions_of(page) for blank in one.blanks]


@pytest.mark.parametrize("code", ["uk", "general"])
@pytest.mark.parametrize("name", ["oxy-propane-cutting", "two-torches-headers", "acetylene-bank-of-three"])
def test_each_field_of_a_form_is_read_as_the_thing_that_it_was_shown_for(name: str, code: str, pack: Pack) -> None:
    assert name in standard_rig_files(pack)
    went = Round(f"rig: a set\nlocal_code: {code}\nstandard_rig: {name}\n".encode(), pack)
    walk = went.walk()
    assert went.came is not None
    judged, looks = went.came[0], looks_of(pack)
    told = went.told(judged.rig)
    unlike = []
    for page in (page for stop in walk.stops for page in stop.pages):
        sent = read_page_name(name_of(page, told, judged.rig).written())
        if _fields(page_named(sent, judged, looks, walk)) != _fields(page):
            unlike.append(page.key)
    assert not unlike
