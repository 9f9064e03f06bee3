"""What is handed on from the local page: the commissioning file and the emergencies of the rig."""

from __future__ import annotations

import re
from pathlib import Path

import html5lib
from support.local_page import local_page

from rigcheck.rules.pack import Pack
from rigcheck.rules.procedures import procedures_of

_RIG = """rig: barn set
local_code: general
lines:
  - {gas: oxygen, parts: [cylinder, regulator, hose]}
  - {gas: acetylene, parts: [cylinder, regulator, hose]}
torch: {form: welding}
"""


def test_the_commissioning_file_is_the_rig_as_it_was_seen_and_loads_nothing(tmp_path: Path, pack: Pack) -> None:
    rig = tmp_path / "barn.yaml"
    rig.write_text(_RIG)
    served = local_page(rig, pack)
    served.post("/walk", {"only": ""})
    shown = served.client.get("/file")
    assert shown.status_code == 200
    assert "Commissioning file: barn set" in shown.text
    assert shown.headers["content-security-policy"].startswith("default-src 'none'; style-src 'unsafe-inline'")
    assert "script-src" not in shown.headers["content-security-policy"]
    assert "<script" not in shown.text


def test_each_emergency_of_the_rig_is_one_tap_away_from_every_page(tmp_path: Path, pack: Pack) -> None:
    rig = tmp_path / "barn.yaml"
    rig.write_text(_RIG)
    served = local_page(rig, pack)
    for path in ("/", "/given", "/file"):
        assert ('href="/emergency"' in served.client.get(path).text) is (path != "/file")
    text = served.client.get("/emergency").text
    html5lib.HTMLParser(strict=True).parse(text)
    known = {name for name, one in procedures_of(pack).items() if one.emergency}
    assert set(re.findall(r'<h2 id="([\w-]+)"', text)) == known
    assert len(known) == 5
