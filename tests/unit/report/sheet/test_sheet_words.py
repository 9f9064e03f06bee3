"""A conceded finding stays told on the sheet: it may be graver than the hold level."""

from __future__ import annotations

import pytest
from msgspec.structs import replace
from support.small_sheets import DAY

from rigcheck.procedure.sheet import make_sheet
from rigcheck.report.sheet.sheet_words import state_words
from rigcheck.rig.loader import load_rig
from rigcheck.rules.pack import Pack
from rigcheck.rules.procedures import procedures_of

_RIG = """\
rig: Yard
hose_pair: {held_by: cable-tie}
lines:
  - {gas: oxygen, parts: [regulator, hose]}
  - {gas: acetylene, parts: [regulator, hose]}
torch: {}
concessions:
  - {rule: hoses/twin_hoses_part_freely, reason: clips are on order, who: works manager, until: 2026-12-31}
"""


@pytest.mark.parametrize("state", ["lesser findings only", "not yet shown", "on hold"])
def test_what_is_conceded_is_told_whatever_the_state(pack: Pack, state: str) -> None:
    rig = load_rig(_RIG.encode(), "rig.yaml", pack.vocabulary)
    made = make_sheet(rig, procedures_of(pack)["start-up"], pack, day=DAY)
    assert made.conceded == 1
    told = state_words(replace(made, state=state))  # type: ignore[arg-type]
    assert "1 finding is conceded, and may be graver" in told
    assert "conceded" not in state_words(replace(made, conceded=0))
