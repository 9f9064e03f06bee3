"""Somebody who looks, in one browser: role, look, and where in the walk. The state is the look on the disk."""

from __future__ import annotations

import os
from collections.abc import Mapping
from datetime import datetime

from rigcheck.asking.answers import Answer, Told
from rigcheck.asking.given_answers import given_answers
from rigcheck.asking.page_name import PageName, answered_stops, name_of
from rigcheck.asking.state import Walk, walk_on
from rigcheck.asking.walk import Page, Stop
from rigcheck.cli.evidence_input import forget_evidence
from rigcheck.cli.inputs import rig_bytes
from rigcheck.cli.page.round import Round
from rigcheck.cli.page.work import Work
from rigcheck.cli.site_input import read_rig
from rigcheck.cli.walk_on_disk import WalkOnDisk, look_for
from rigcheck.judge.finding import Finding
from rigcheck.judge.judged import Judged, judge
from rigcheck.report.html.overview_page import station_key
from rigcheck.rig.fact import UNKNOWN_WORDS
from rigcheck.rules.rule import Signal

__all__ = ["Round", "Visit"]


class Visit:
    """One browser's walk; `at`: the station that is looked at, as it is called; `before`: pages to go back to;
    `works`: the procedures that are being done, by name.

    What `read` finds is not there before it.
    """

    judged: Judged
    walk: Walk
    told: Told
    given: Mapping[tuple[str, str], list[str | tuple[str, ...]]]

    def __init__(self, round: Round, by: str, only: Signal | None = None) -> None:
        self.round, self.by, self.only = round, by, only
        self.at = self.saved = ""
        self.over = False  # the work is over: what was put off until then is asked
        self.found: tuple[Finding, ...] = ()
        self.differing: tuple[str, ...] = ()
        self.before: list[PageName] = []
        self.going: WalkOnDisk | None = None
        self.works: dict[str, Work] = {}

    def begin(self) -> None:
        """Begin a look, or go on with the one of this role and day. Raises `ProblemFound`, `Refused`, OSError."""
        if self.going is None:
            one = self.round
            look, _ = look_for(one.rig, one.day, self.by, one.pack)
            forget_evidence(one.pack)
            self.going = WalkOnDisk(
                one.rig, look, one.pack, one.day, one.purpose, self.only, one.local_code, one.register
            )

    def read(self) -> None:
        """Work out from the files where the walk stands: somebody else may have written. Raises `Refused`, OSError."""
        one, self.given = self.round, {}
        forget_evidence(one.pack)
        if self.going is None:
            rig = read_rig(rig_bytes(one.rig), one.rig, one.pack, one.register)
            self.judged = judge(rig, one.pack, day=one.day, local_code=one.local_code, purpose=one.purpose)
            self.told = Told({}, {})
            self.walk = walk_on(self.judged, one.looks, self.told, only=self.only)
            return
        self.going.only = self.only
        self.walk, self.judged, self.told = self.going.read(), self.going.judged, self.going.told
        self.given = given_answers(self.going.seen, self.judged.rig)

    def answered(self) -> tuple[Stop, ...]:
        """Return what this look has answered, as pages in the order of the walk."""
        return answered_stops(self.judged, self.round.looks, self.told)

    def asked_now(self) -> Page | None:
        """Return the page that is asked now: what else is wrong after a find, else what is left where one stands."""
        hot = self.walk.next_page if self.found else None
        here = next((stop.pages[0] for stop in self.walk.stops if station_key(stop) == self.at), None)
        page = hot or here
        if page is None and (self.over or not self.walk.after_work):
            page = self.walk.next_page
        self.at = self.title_of(page) if page is not None else ""
        return page

    def title_of(self, page: Page) -> str:
        """Return what the station of a page is called."""
        stops = [stop for stop in self.walk.stops if any(one.key == page.key for one in stop.pages)]
        return station_key(stops[0]) if stops else self.at or self.round.looks.stations[page.station].title

    def name_of(self, page: Page) -> str:
        """Return what a page is called in a form."""
        return name_of(page, self.told, self.judged.rig).written()

    def take(self, name: PageName, page: Page, answer: Answer) -> None:
        """Write an answer. Raises `ProblemFound`, `Refused`, OSError: then nothing is written."""
        assert self.going is not None
        self.found = self.going.take(page, self._taking_back(answer))
        self.differing = self.going.differing
        self.before = [*(one for one in self.before if one.asked != name.asked), name][-200:]
        self.saved = f"Saved {datetime.now():%H:%M} in {os.path.basename(self.going.look)}."

    def _taking_back(self, answer: Answer) -> Answer:
        """Return an answer that takes back what was seen where it now cannot be told: the old line stays."""
        back = {key: UNKNOWN_WORDS[0] for key in answer.cannot_tell if self.told.times.get(key)}
        return Answer({**answer.values, **back}, answer.cannot_tell)
