"""What was seen goes into the description on the page: shown before it is written, and never over a change."""

from __future__ import annotations

import re
from html import unescape
from pathlib import Path

import html5lib
import pytest
from support.local_page import LocalPage, local_page

from rigcheck.rules.pack import Pack

_RIG = "# ours <b>\nrig: barn set\nlines: [{gas: propane, parts: [cylinder, regulator, {hose: {length: 10 m}}]}]\n"
_LOOK = """look: barn.yaml
day: 2026-11-25
by: fitter
cannot_tell:
seen:
  - {thing: "lines[0].parts[2]", length: 15 m, cover: sound}
"""


@pytest.fixture
def served(tmp_path: Path, pack: Pack) -> LocalPage:
    (tmp_path / "barn.yaml").write_text(_RIG)
    (tmp_path / "barn-look-2026-11-25.yaml").write_text(_LOOK)
    return local_page(tmp_path / "barn.yaml", pack)


def _digest(text: str) -> str:
    found = re.search(r'name="digest" value="(\w+)"', text)
    assert found
    return found[1]


def test_it_is_shown_then_written_and_then_nothing_is_left_to_write(served: LocalPage) -> None:
    shown = served.client.get("/description").text
    html5lib.HTMLParser(strict=True).parse(shown)
    told = unescape(re.sub(r"<[^>]+>", "", shown))
    assert "sights: [" in told
    assert "strike out by hand what is wrong" in told
    assert "<b>" not in re.findall(r"<pre.*?</pre>", shown, re.DOTALL)[0]
    assert "{length: 10 m, sights: [" in told
    assert "\n+     {seen: 2026-11-25" in told, "rows keep the blanks that they begin with"
    assert served.rig.read_text() == _RIG
    written = served.post("/description", {"digest": _digest(shown)})
    assert "The look stays beside it" in written.text
    assert "cover: sound" in served.rig.read_text()
    assert "length: 10 m" in served.rig.read_text()
    assert "Nothing more that was seen" in served.client.get("/description").text


def test_what_was_changed_meanwhile_is_shown_anew_and_not_written_over(served: LocalPage) -> None:
    digest = _digest(served.client.get("/description").text)
    changed = _RIG.replace("10 m", "12 m")
    served.rig.write_text(changed)
    answered = served.post("/description", {"digest": digest})
    assert answered.status_code == 409
    assert "Something was changed since this was shown" in answered.text
    assert served.rig.read_text() == changed
    served.post("/description", {"digest": _digest(answered.text)})
    assert "length: 12 m" in served.rig.read_text()
    assert "cover: sound" in served.rig.read_text()


def test_an_answer_that_came_meanwhile_is_shown_before_it_is_written(served: LocalPage) -> None:
    digest = _digest(served.client.get("/description").text)
    look = served.rig.parent / "barn-look-2026-11-25.yaml"
    look.write_text(_LOOK + '  - {thing: "lines[0].parts[2]", bore: 8 mm}\n')
    assert served.post("/description", {"digest": digest}).status_code == 409
    assert served.rig.read_text() == _RIG


def test_the_overview_leads_there_once_something_was_seen(served: LocalPage) -> None:
    assert 'href="/description"' not in served.client.get("/").text
    served.post("/walk", {"only": "danger"})
    assert 'href="/description"' in served.client.get("/").text
