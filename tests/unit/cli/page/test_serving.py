"""Where the page is served, and how a phone is told of it."""

from __future__ import annotations

import ipaddress
import re
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from rigcheck.cli.page.gate import Keys
from rigcheck.cli.page.page_app import page_app
from rigcheck.cli.page.round import Round
from rigcheck.cli.page.serving import HERE, network_address, qr_lines
from rigcheck.cli.page.visit import Visit
from rigcheck.rules.pack import Pack
from tests.support.local_page import local_page
from tests.support.simulated_people import DAY

_LAN = "192.0.2.2:8765"  # RFC 5737: an address that is kept for documents
_RIG = "rig: one\nlines: [{gas: propane, parts: [cylinder, regulator, hose]}]\ntorch: {form: air-aspirated}\n"


@pytest.fixture
def rig(tmp_path: Path) -> Path:
    made = tmp_path / "one.yaml"
    made.write_text(_RIG)
    return made


def test_unless_told_otherwise_this_machine_alone_is_served() -> None:
    assert ipaddress.ip_address(HERE).is_loopback


def test_the_address_in_the_network_is_one_of_this_machine() -> None:
    address = ipaddress.ip_address(network_address())
    assert not address.is_unspecified
    assert not address.is_multicast


def test_the_code_on_the_terminal_is_a_square_with_its_quiet_zone() -> None:
    rows = qr_lines("http://192.0.2.2:8765/?key=AbCdEf").splitlines()
    assert len({len(row) for row in rows}) == 1
    assert abs(len(rows) * 2 - len(rows[0])) <= 1
    assert set("".join(rows)) <= set(" █▄▀")


@pytest.mark.parametrize("text", ["http://192.0.2.2:8765/?key=AbCdEf"])
def test_the_code_on_the_page_bears_no_style_that_the_policy_would_drop(text: str) -> None:
    import segno

    drawn = segno.make(text, error="m", micro=False).svg_inline(scale=6)
    assert "style=" not in drawn
    assert "<script" not in drawn


def test_on_the_network_one_more_browser_gets_a_code_with_a_key_of_its_own(rig: Path, pack: Pack) -> None:
    keys: Keys[Visit] = Keys(8765)
    app = page_app(Round(str(rig), pack, DAY), keys, [_LAN], lambda key: f"http://{_LAN}/?key={key}")
    client, origin = TestClient(app, base_url=f"http://{_LAN}"), {"origin": f"http://{_LAN}"}
    client.post("/enter", data={"key": keys.new_key(), "by": "fitter"}, headers=origin)
    told = client.post("/phone", headers=origin).text
    assert '<div class="code"><svg' in told
    key = re.search(r"\?key=([\w-]+)", told)
    assert key is not None
    assert keys.fits(key[1])
    assert client.get("/", headers={"host": "127.0.0.1:8765"}).status_code == 400


def test_where_this_machine_alone_is_served_a_phone_is_told_how_it_could_be(rig: Path, pack: Pack) -> None:
    told = local_page(rig, pack).post("/phone", {}).text
    assert "--on-network" in told
    assert 'class="code"' not in told
