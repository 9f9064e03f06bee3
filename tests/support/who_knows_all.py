"""Somebody who knows all of a small rig, and fills in the forms of the local page as it truly is.

Every part and the work are his to look at. The place, the habits and what is no danger were seen by the foreman.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from playwright.sync_api import Page

from rigcheck.asking.answers import Answer, with_answer
from rigcheck.asking.page_name import page_named, read_page_name
from rigcheck.asking.state import Walk
from rigcheck.asking.walk import Page as Asked
from rigcheck.report.html.asked_page import Blank, Question, questions_of
from rigcheck.rules.looks import looks_of
from rigcheck.rules.pack import Pack
from support.simulated_people import Round, knows_all, seen_whole, sound, walked

__all__ = ["WhoKnowsAll"]

_NOTHING = Walk((), {}, (), ())
_ON_RECORD = ("place", "habits")  # stations that the foreman saw, so that a walk does not take long
_OF_THE_LOOK = ("inspected", "inspected_by", "leak_tested")  # days and roles that his own look tells
_TRUE = {  # what the demo rig has not, of which the rest is taken
    ("workpiece", "filler"): "holds-no-cadmium",
    ("workpiece", "flux"): "without-fluoride",
    ("lines[0].parts[0]", "contents_mass"): "8 kg",
    ("lines[0].parts[1]", "static_pressure"): "2.2 bar",
    ("site", "low_openings"): "no",
    **{(f"lines[0].joints[{number}]", "leak_test_pressure"): "2 bar" for number in range(4)},
}


class WhoKnowsAll:
    """A description, what is on record of its rig, and the answers to whatever else is asked of it."""

    def __init__(self, template: Path, rig: str, pack: Pack) -> None:
        self.description = template.read_text(encoding="utf-8")
        text = self.description.encode()
        self._judged = Round(text, pack).judged()
        self._looks = looks_of(pack)
        truth = Round(text, pack, text=with_answer(sound(text, pack), Answer(_TRUE))).judged().known.filled
        self._person = knows_all(truth)
        asked = Round(text, pack, only="danger")
        walked(asked, self._person, finds=False)
        open_ = {key for page in asked.pages if page.station not in _ON_RECORD for key in page.open}
        seen = seen_whole(
            truth, "2026-11-25", lambda path, name: (path, name) not in open_ and name not in _OF_THE_LOOK
        )
        self.on_record = seen.replace("look: rig.yaml", f"look: {rig}", 1).replace("by: fitter", "by: foreman", 1)

    def fields(self, page: Page) -> Mapping[str, tuple[str, ...]]:
        """Return what belongs into each field of the form that a page shows."""
        name = read_page_name(page.locator("input[name=page]").first.input_value())
        asked = page_named(name, self._judged, self._looks, _NOTHING)
        answer = self._person(asked)
        assert not answer.cannot_tell, answer.cannot_tell
        found: dict[str, tuple[str, ...]] = {}
        for question in questions_of(asked):
            told = {blank.name: _told(asked, question, blank, answer) for blank in question.blanks}
            if question.together is not None and len(set(told.values())) == 1:
                found[question.together.name] = next(iter(told.values()))
                found[f"{question.together.name}-count"] = (str(len(told)),)
            else:
                found |= told
        return found


def _told(asked: Asked, question: Question, blank: Blank, answer: Answer) -> tuple[str, ...]:
    """Return what is marked or written in one blank: words, or the numbers of the defects that are there."""
    of = {name: value for (path, name), value in answer.values.items() if path == blank.path}
    if question.fact:
        value = of[question.fact]
        return (value,) if isinstance(value, str) else value
    assert asked.listed is not None
    seen = [
        str(number)
        for number, tick in enumerate(asked.listed.ticks)
        if any(of.get(k) == v for k, v in tick.tells.items())
    ]
    return tuple(seen) or ("none",)
