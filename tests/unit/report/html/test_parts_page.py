"""The parts of a commissioning file: each with its own due day, whether it bears a tag or not."""

from __future__ import annotations

from datetime import date

from rigcheck.report.html.parts_page import part_rows
from rigcheck.rig.loader import load_rig
from rigcheck.rules.pack import Pack
from rigcheck.tasks.commissioning_file import compile_file

_RIG = b"""\
rig: Yard
lines:
  - gas: oxygen
    parts:
      - cylinder: {tag: C-1, retest_until: 2027-03}
      - regulator: {tested: 2026-01-12}
      - arrester: {tag: A-1, tested: 2024-01-12}
      - hose: {tag: H-1}
"""


def test_a_part_has_its_next_due_day_with_a_tag_and_without(pack: Pack) -> None:
    rig = load_rig(_RIG, "yard.yaml", pack.vocabulary)
    rows = part_rows(compile_file(rig, pack, day=date(2026, 11, 25).toordinal()))
    told = {row.tag or row.name: (row.due.partition(" (")[0], row.overdue) for row in rows}
    assert told["C-1"] == ("2027-03-01", False)  # any day of the month may be meant
    assert told["oxygen regulator"] == ("2027-01-12", False)
    assert told["A-1"] == ("2025-01-12", True)
    assert told["H-1"][0].startswith("day not stated: ")
