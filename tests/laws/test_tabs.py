"""Two tabs and a second browser at one walk, in any order: nothing is lost or overwritten, and each is told."""

from __future__ import annotations

import random
import re
from html import unescape
from json import loads
from pathlib import Path
from threading import Thread
from time import sleep
from typing import Any

import pytest
from starlette.testclient import TestClient
from support.local_page import LocalPage, local_page, page_name
from support.simulated_people import DAY

from rigcheck.asking.answers import Answer
from rigcheck.cli import draft, walk_on_disk
from rigcheck.cli.console import ProblemFound
from rigcheck.cli.walk_on_disk import WalkOnDisk, look_for
from rigcheck.rig.thing import Rig
from rigcheck.rules.pack import Pack

_RIG = """rig: barn set
lines: [{gas: propane, parts: [cylinder, regulator, hose]}]
torch: {form: air-aspirated}
people: none
workpiece: none
"""
_REASONS = ("no light", "no access")


class _Tabs:
    """What each tab shows, and what was taken of each fact, in order: what must come out is worked out from that."""

    def __init__(self, served: LocalPage, seed: int) -> None:
        self.served, self.random = served, random.Random(seed)
        other = served.browser()
        served.enter(other)  # by the same role: the same look
        self.clients: list[TestClient] = [served.client, served.client, other]
        served.post("/walk", {"only": "danger"})
        served.post("/walk", {"only": "danger"}, other)
        self.taken: dict[tuple[str, str], list[str]] = {}
        self.shown: list[tuple[str, dict[tuple[str, str], int]]] = [("", {})] * 3
        self.outcomes: set[str] = set()
        for tab in range(3):
            self.show(tab, served.client.get("/ask").text)

    def show(self, tab: int, text: str) -> None:
        """Keep what a tab shows, and how much was taken of its facts by then."""
        if 'name="page"' in text and "data-answer" in text:
            self.shown[tab] = text, {key: len(self.taken.get(key, ())) for key in _keys(text)}

    def turn(self) -> None:
        """Have one tab do something."""
        tab = self.random.randrange(3)
        client = self.clients[tab]
        match self.random.randrange(6):
            case 0:
                self.show(tab, client.get("/ask").text)
            case 1:
                self.show(tab, self.served.post("/back", {}, client).text)
            case 2:
                named = re.findall(r'name="page" value="([^"]+)"', client.get("/given").text)
                if named:
                    chosen = unescape(self.random.choice(named))
                    self.show(tab, client.get("/ask", params={"page": chosen}).text)
            case _:
                self.answer(tab)

    def answer(self, tab: int) -> None:
        """Send an answer to what a tab shows, however old that is."""
        text, counts = self.shown[tab]
        told, fields = self._chosen(text)
        before = self.served.looks()
        sent = self.served.post("/answer", {"page": page_name(text), **fields}, self.clients[tab])
        after = self.served.looks()
        if all(len(self.taken.get(key, ())) == count for key, count in counts.items()):
            self.outcomes.add("written")
            assert sent.status_code == 200 and after != before, "an answer to what nobody changed is written"
            assert _are_among(before.splitlines(), after.splitlines()), "no line that stood there is lost"
            for key in counts:
                self.taken.setdefault(key, []).append(told)
        elif all(self.taken.get(key, [""])[-1] == told for key in counts):
            self.outcomes.add("stands there")
            assert (sent.status_code, after) == (200, before), "what stands there already is not written again"
        else:
            self.outcomes.add("told")
            assert (sent.status_code, after) == (409, before), "whoever comes behind another one is told"
            assert "Meanwhile this was answered" in sent.text
        self.show(tab, sent.text)

    def _chosen(self, text: str) -> tuple[str, dict[str, str]]:
        """Return an answer to a page, the same for all that it asks, and the fields that it is sent in."""
        names = set(re.findall(r'name="(q\d+(?:t\d+)?)" value="\?"', text))
        names = {one for one in names if "t" not in one or one.partition("t")[0] not in names}
        words = [one for one in re.findall(r'name="q0t0" value="([^"?]+)"', text) if one != "none"]
        if len(_keys(text)) == 1 and words and self.random.random() < 0.6:
            word = unescape(self.random.choice(words[:2]))
            return word, {"q0t0": word}
        because = self.random.choice(_REASONS)
        return f"? {because}", dict.fromkeys(names, "?") | {f"{name}-because": because for name in names}


def _keys(text: str) -> list[tuple[str, str]]:
    asked: list[Any] = loads(page_name(text))[3]
    return [(path, name) for path, name, _ in asked]


def _are_among(lines: list[str], others: list[str]) -> bool:
    rest = iter(others)
    return all(line in rest for line in lines)


@pytest.mark.parametrize(
    "seed", [1, pytest.param(2, marks=pytest.mark.whole), pytest.param(3, marks=pytest.mark.whole)]
)
def test_whatever_tabs_do_nothing_is_lost_or_overwritten_and_each_is_told(
    seed: int, tmp_path: Path, pack: Pack
) -> None:
    rig = tmp_path / "barn.yaml"
    rig.write_text(_RIG)
    tabs = _Tabs(local_page(rig, pack), seed)
    for _ in range(60):
        tabs.turn()
    assert tabs.outcomes == {"written", "stands there", "told"}


def test_two_programs_that_write_one_look_at_once_lose_nothing(
    tmp_path: Path, pack: Pack, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The page and the terminal, say: each reads the look and writes it whole with its answer added."""
    rig = tmp_path / "barn.yaml"
    rig.write_text(_RIG)
    look, _ = look_for(str(rig), DAY, "fitter", pack)
    walks = [WalkOnDisk(str(rig), look, pack, DAY) for _ in range(2)]
    added = walk_on_disk.with_answer

    def slowly(text: str, answer: Answer, described: Rig) -> str:
        sleep(0.2)
        return added(text, answer, described)

    monkeypatch.setattr(walk_on_disk, "with_answer", slowly)
    answers = [Answer({("site", "place"): "pit"}), Answer({("torch", "form"): "cutting"})]
    writing = [Thread(target=one.take_in, args=(answer,)) for one, answer in zip(walks, answers, strict=True)]
    for one in writing:
        one.start()
    for one in writing:
        one.join()
    assert "{thing: site, place: pit}" in look.read_text() and "{thing: torch, form: cutting}" in look.read_text()


def test_a_program_that_keeps_a_folder_for_itself_is_told_of_and_not_waited_for_without_end(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(draft, "_PATIENCE", 0.1)
    with (
        draft.alone_in(tmp_path),
        pytest.raises(ProblemFound, match="another rigcheck writes"),
        draft.alone_in(tmp_path),
    ):
        raise AssertionError("it was let in")
    with draft.alone_in(tmp_path):
        pass
