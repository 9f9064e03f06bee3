"""The nozzle for the plate, by the maker's table and by published rows."""

from __future__ import annotations

import pytest
from support.small_rigs import is_unknown, one, span, wanted, worked

from rigcheck.rules.pack import Pack


def cutting(nozzle: str, thickness: str = "25 mm", gas: str = "acetylene", process: str = "cutting") -> str:
    return (
        f"rig: small\njob: {{process: {process}, thickness: {thickness}}}\nlines:\n"
        f"  - gas: {gas}\n    parts: [hose]\n  - gas: oxygen\n    parts: [hose]\ntorch:\n  nozzle: {{{nozzle}}}\n"
    )


@pytest.mark.parametrize(
    ("thickness", "suits"),
    [("15 mm", True), ("20 mm", True), ("25 mm", True), ("14.8 mm", False), ("25.4 mm", False)],
)
def test_the_makers_range_holds_both_of_its_ends(pack: Pack, thickness: str, suits: bool) -> None:
    text = cutting("thickness_from: 15 mm, thickness_to: 25 mm", thickness)
    assert one(worked(text, pack), "nozzle").facts["suits_plate"] is suits


def test_an_inch_written_in_two_units_is_one_thickness(pack: Pack) -> None:
    text = cutting("thickness_from: 15 mm, thickness_to: 25.4 mm", "1 in")
    assert one(worked(text, pack), "nozzle").facts["suits_plate"] is True


# CITS Welder, Trade Practical (Government of India), p. 24, table 1: 1.6 mm for 19 to 100 mm, 0.8 mm for 3 to 6 mm.
@pytest.mark.parametrize(
    ("nozzle", "thickness", "suits"),
    [
        ("cutting_bore: 1.6 mm", "50 mm", True),
        ("cutting_bore: 0.8 mm", "50 mm", False),
        ("cutting_bore: 0.8 mm", "5 mm", True),
        ("size: 1.6 mm", "30 mm", True),
        ("size: 1/32", "30 mm", False),
    ],
)
def test_without_the_makers_range_published_rows_speak(pack: Pack, nozzle: str, thickness: str, suits: bool) -> None:
    assert one(worked(cutting(nozzle, thickness), pack), "nozzle").facts["suits_plate"] is suits


@pytest.mark.parametrize(
    "text",
    [
        cutting("cutting_bore: 3 mm", "400 mm"),
        cutting("cutting_bore: 1.6 mm", gas="hydrogen"),
        cutting("cutting_bore: 1.6 mm", process="gouging"),
        cutting("cutting_bore: 0.8 mm", "5 to 50 mm"),
    ],
    ids=["thicker than any row", "gas without a table", "process without a table", "rows disagree"],
)
def test_where_no_row_speaks_nothing_is_said(pack: Pack, text: str) -> None:
    nozzle = one(worked(text, pack), "nozzle")
    assert is_unknown(nozzle, "suits_plate")
    assert wanted(nozzle, "suits_plate") == ["nozzle.thickness_from", "nozzle.thickness_to"]


def test_the_rows_for_a_plate_give_bore_and_pressure(pack: Pack) -> None:
    # 200 to 250 mm: 2.8 mm at 4.9 to 5.5 kgf/cm2 (the same table); British rows from 150 to 300 mm: 3/32 to 1/8 in.
    nozzle = one(worked(cutting("cutting_bore: 2.8 mm", "220 mm"), pack), "nozzle")
    assert span(nozzle, "table_bore") == pytest.approx((0.00238125, 0.003175))
    low, high = span(nozzle, "table_pressure")
    assert low <= 4.9 * 98066.5 < 5.5 * 98066.5 <= high


def test_the_pressure_is_that_of_the_rows_with_the_nozzles_bore(pack: Pack) -> None:
    # At 50 mm the CITS table has 1.6 mm at 2.1 to 4.2 kgf/cm2, British trade data (from memory) 1/16 in at 3.2 bar.
    for other in ("3 mm", "0.8 mm"):
        nozzle = one(worked(cutting(f"cutting_bore: {other}", "50 mm"), pack), "nozzle")
        assert is_unknown(nozzle, "table_pressure")
    low, high = span(one(worked(cutting("cutting_bore: 1.6 mm", "50 mm"), pack), "nozzle"), "table_pressure")
    assert (low, high) == pytest.approx((2.1 * 98066.5, 4.2 * 98066.5))


def test_a_thickness_that_may_lie_past_the_last_row_is_unknown(pack: Pack) -> None:
    assert is_unknown(one(worked(cutting("cutting_bore: 3.2 mm", "290 to 310 mm"), pack), "nozzle"), "table_bore")
