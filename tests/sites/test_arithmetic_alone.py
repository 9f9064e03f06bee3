"""Sites whose every part is right: what is wrong with them, only a calculation shows."""

from __future__ import annotations

from datetime import date

import pytest
from support.in_full import sites_in_full

from rigcheck.judge.inspection import Inspection, inspect_rig
from rigcheck.rig.loader import load_rig
from rigcheck.rules.pack import Pack

DAY = date(2026, 11, 25).toordinal()
LONG_HOSE = "outer-quay-long-hose"
PURGE = "pump-chamber-purge"


def inspected(name: str, pack: Pack, *changes: tuple[str, str]) -> Inspection:
    """Return the inspection of a site, with changes of its text."""
    text = (sites_in_full() / f"{name}.yaml").read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return inspect_rig(load_rig(text.encode(), f"{name}.yaml", pack.vocabulary), pack, day=DAY)


@pytest.mark.parametrize(
    ("name", "rule", "gas"),
    [
        (LONG_HOSE, "hoses/pressure_set_reaches_the_torch", "oxygen"),
        (PURGE, "air/purge_leaves_little_fuel_in_the_room", "acetylene"),
    ],
)
def test_the_calculation_is_all_that_holds_the_site(name: str, rule: str, gas: str, pack: Pack) -> None:
    inspection = inspected(name, pack)
    assert [(finding.rule, finding.thing) for finding in inspection.findings] == [(rule, f"{gas} line")]
    assert inspection.questions == ()
    assert inspection.findings[0].found[0].working is not None


@pytest.mark.parametrize(
    ("name", "change"),
    [
        (LONG_HOSE, ("bore: 6.3 mm", "bore: 10 mm")),
        (PURGE, ("room_volume: 5 m3", "room_volume: 50 m3")),
        (PURGE, ("purged_into: aired-room", "purged_into: open-air")),
    ],
)
def test_what_the_cure_says_mends_it(name: str, change: tuple[str, str], pack: Pack) -> None:
    rules = [finding.rule for finding in inspected(name, pack, change).findings]
    assert not [rule for rule in rules if rule.startswith(("air/", "hoses/pressure"))]
