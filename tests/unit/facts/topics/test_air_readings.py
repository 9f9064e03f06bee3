"""What a detector shows, as a share of the lower explosive limit."""

from __future__ import annotations

import pytest
from support.small_rigs import one, point, worked

from rigcheck.rules.pack import Pack

LOWER = {"acetylene": 0.023, "propane": 0.017}  # volume shares, IEC 60079-20-1 (2010), by the chemicals library 1.5.2


@pytest.mark.parametrize("gas", sorted(LOWER))
def test_a_content_is_told_as_a_share_of_the_lower_limit(gas: str, pack: Pack) -> None:
    site = one(
        worked(f"rig: small\nsite: {{{gas}_content: 0.4 %}}\nlines: [{{gas: oxygen, parts: [cylinder]}}]\n", pack),
        "site",
    )
    assert point(site, "flammable_share") == pytest.approx(0.004 / LOWER[gas])


def test_a_share_that_was_read_is_taken_as_read(pack: Pack) -> None:
    site = one(
        worked("rig: small\nsite: {explosive_share: 12 %}\nlines: [{gas: oxygen, parts: [cylinder]}]\n", pack), "site"
    )
    assert point(site, "flammable_share") == pytest.approx(0.12)
