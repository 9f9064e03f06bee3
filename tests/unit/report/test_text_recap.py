"""The findings are named once more where many questions have pushed them out of sight."""

from __future__ import annotations

from datetime import date

import pytest

from rigcheck.judge.inspection import inspect_rig
from rigcheck.report.text.inspection_text import inspection_lines
from rigcheck.report.text.layout import plain_text
from rigcheck.rig.loader import load_rig
from rigcheck.rules.pack import Pack

TILTED = b"""rig: small
trolley: {tilt: 30 deg}
lines:
  - {gas: propane, parts: [cylinder, regulator, hose]}
torch: {form: air-aspirated}
"""


@pytest.fixture
def report(pack: Pack) -> str:
    inspection = inspect_rig(load_rig(TILTED, "small.yaml", pack.vocabulary), pack, day=date(2026, 11, 25).toordinal())
    return plain_text(inspection_lines(inspection, 80, hold_at="warning"))


def test_after_many_questions_each_finding_is_named_again_with_its_line(report: str) -> None:
    _, _, again = report.partition("\nThe findings again, in short\n")
    assert "DANGER      trolley (line 2): " in again


def test_the_findings_in_short_stand_between_the_questions_and_the_state(report: str) -> None:
    assert report.index("Not yet shown") < report.index("The findings again") < report.index("State:")
