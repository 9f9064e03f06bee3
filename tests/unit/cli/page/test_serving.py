"""Where the page is served, and how a phone is told of it."""

from __future__ import annotations

import ipaddress

import pytest

from rigcheck.cli.page.serving import HERE, network_address, qr_lines


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
