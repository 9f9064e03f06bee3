"""Figures that are data: a folder of one's own adds one without Python."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.small_rigs import one, span, worked

from rigcheck.judge.figure_proof import prove_figure
from rigcheck.rig.loader import load_rig
from rigcheck.rules.folders import rules_folder
from rigcheck.rules.load import load_pack
from rigcheck.rules.pack import Pack
from rigcheck.tasks.calculation_sheet import calculate_rig

OWN = """
figure: content_each
of: line
measure: volume
means: Gas for each of the cylinders that feed this line.
ways:
  - formula: e = V/n
    letters: {V: content, n: feeding_cylinders}
    source: arithmetic
    proven_by: [{case: two cylinders, V: 12 m3, n: 2, e: 6 m3, answer_from: worked by hand}]
"""
RIG = """
rig: two cylinders
lines:
  - gas: acetylene
    supply_content: 10 to 12 m3
    parts: [manifold: {cylinder_count: 2}]
"""


@pytest.fixture
def own(tmp_path: Path) -> Pack:
    (tmp_path / "figures").mkdir()
    (tmp_path / "figures/content_each.yaml").write_text(OWN)
    return load_pack(rules_folder(), tmp_path)


def test_a_folder_of_ones_own_adds_a_figure_without_python(own: Pack) -> None:
    assert span(one(worked(RIG, own), "line"), "content_each") == pytest.approx((5.0, 6.0))
    sheet = calculate_rig(load_rig(RIG.encode(), "rig.yaml", own.vocabulary), own, day=740_000)
    shown = next(figure for figure in sheet.figures if figure.name == "content each")
    assert shown.working is not None
    assert shown.working.formula == "e = V/n"
    assert [one.symbol for one in shown.working.inputs] == ["V", "n"]


def test_a_case_that_does_not_come_out_is_told(own: Pack, tmp_path: Path) -> None:
    path = tmp_path / "figures/content_each.yaml"
    path.write_text(OWN.replace("e: 6 m3", "e: 7 m3"))
    proof = prove_figure("figures/content_each", load_pack(rules_folder(), tmp_path))
    assert [(failed.case, failed.wanted, failed.got) for failed in proof.failed] == [("two cylinders", "7 m3", "6 m3")]


def test_a_letter_that_no_case_notices_is_told(tmp_path: Path) -> None:
    (tmp_path / "figures").mkdir()
    path = tmp_path / "figures/content_each.yaml"
    path.write_text(OWN.replace("e = V/n", "e = V/min(n, 1)"))
    path.write_text(path.read_text().replace("e: 6 m3", "e: 12 m3"))
    proof = prove_figure("figures/content_each", load_pack(rules_folder(), tmp_path))
    assert [idle.change for idle in proof.idle] == ["n nudged by a twentieth"]
