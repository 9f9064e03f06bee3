"""The calculation sheet: what a colleague needs to follow a figure by hand is on it."""

from __future__ import annotations

import json
import re
from datetime import date

import jsonschema_rs
import pytest
from support.in_full import text_in_full
from support.small_sheets import calculated, inspected, rig_text

from rigcheck.report.json.figures_json import FiguresReport, figures_report
from rigcheck.report.json.inspection_json import RigEntry, rig_entry
from rigcheck.report.text.calculation_text import (
    CYLINDER_GAUGES,
    ESTIMATE,
    SHORT,
    calculation_lines,
    deciding_lines,
)
from rigcheck.report.text.inspection_text import CAUTION, inspection_lines
from rigcheck.report.text.layout import plain_text
from rigcheck.rig.loader import load_rig
from rigcheck.rules.pack import Pack
from rigcheck.tasks.calculation_sheet import calculate_rig

DAY = date(2026, 11, 25).toordinal()

SHARE_RULE = "cylinders/acetylene_draw_is_within_the_supply"


def sheet(text: str, pack: Pack, width: int = 80, local_code: str = "") -> str:
    return plain_text(calculation_lines(calculated(text, pack, local_code), width))


def on_one_line(text: str) -> str:
    return " ".join(text.split())


def test_a_figure_stands_with_its_formula_inputs_and_places(pack: Pack) -> None:
    told = on_one_line(sheet(rig_text(content="2 m3"), pack))
    # By hand: 400 L/h from 2 m3 is 0.4/2 = 20 % an hour (arithmetic).
    assert "hourly share: 20 %/h" in told
    assert "formula s = q/V" in told
    assert "q = 400 L/h: demand of the acetylene line, figure" in told
    assert "stated = 400 L/h: consumption of the acetylene line, stated at small.yaml:6:18" in told


def test_a_range_of_inputs_comes_out_as_a_range(pack: Pack) -> None:
    # By hand: 0.4/2.1 = 19.05 %, 0.4/1.9 = 21.05 % an hour; half of the width is 1.0 %, so tenths are told, outward.
    assert "hourly share: 19.0 to 21.1 %/h" in sheet(rig_text(content="2 ± 0.1 m3"), pack)


def test_an_input_that_is_a_figure_is_named_by_its_number_on_the_sheet(pack: Pack) -> None:
    made = figures_report(calculated(rig_text(), pack))
    figures = {figure.number: figure for thing in made.things for figure in thing.figures}
    share = next(figure for figure in figures.values() if figure.name == "hourly share")
    assert share.working is not None
    named = {one.symbol: figures[one.figure].name for one in share.working.inputs if one.figure is not None}
    assert named == {"q": "demand", "V": "content"}


def test_a_figure_without_its_input_says_which_fact_of_which_thing_and_asks(pack: Pack) -> None:
    told = on_one_line(sheet(rig_text(cylinder=""), pack))
    assert "gas mass: unknown: an input is not stated" in told
    assert "contents mass of the acetylene cylinder: What mass of gas is in the cylinder? (small.yaml:10:" in told


def test_a_figure_outside_its_validity_says_so_with_its_formula(pack: Pack) -> None:
    text = rig_text(cylinder="water_capacity: 50 L, pressure: 500 bar")
    told = on_one_line(sheet(text.replace("gas: acetylene", "gas: oxygen"), pack))
    assert "gas mass: unknown: outside the validity of its formula" in told
    assert "validity 0 to 350 bar" in told


@pytest.mark.parametrize(
    ("code", "limit"),
    [
        ("us", "local code us (CGA G-1 [from memory])"),
        ("", "local code general (CGA G-1 [from memory, taken from the US])"),
    ],
)
def test_a_limit_is_named_with_its_local_code_and_source(pack: Pack, code: str, limit: str) -> None:
    told = on_one_line(sheet(rig_text(content="2 m3"), pack, local_code=code))
    assert f"s = 1/10 per h: limit acetylene draw intermittent of {limit}" in told


@pytest.mark.parametrize("width", [60, 80, 110])
def test_the_sheet_keeps_its_width_and_loses_nothing(pack: Pack, width: int) -> None:
    text = sheet(rig_text(), pack, width)
    assert max(map(len, text.splitlines())) <= width
    assert on_one_line(text) == on_one_line(sheet(rig_text(), pack, 100))


def test_the_sheet_ends_with_its_cautions(pack: Pack) -> None:
    assert on_one_line(sheet(rig_text(), pack)).endswith(f"{ESTIMATE} {CYLINDER_GAUGES} {CAUTION}")


def test_parts_stand_in_the_order_of_the_flow_and_the_line_after_them(pack: Pack) -> None:
    kinds = [one.thing.kind.name for one in calculated(rig_text(), pack).things]
    assert kinds.index("cylinder") < kinds.index("line") < kinds.index("torch")


def test_the_json_form_fits_its_published_schema(pack: Pack) -> None:
    made = json.loads(figures_report(calculated(rig_text(), pack)).model_dump_json())
    jsonschema_rs.validate(FiguresReport.model_json_schema(mode="serialization"), made)
    share = next(f for thing in made["things"] for f in thing["figures"] if f["name"] == "hourly share")
    assert share["range"] == {"least": pytest.approx(0.2), "greatest": pytest.approx(0.2), "unit": "1/h"}


def test_an_endless_figure_has_no_end_in_json(pack: Pack) -> None:
    made = figures_report(calculated(rig_text(), pack)).model_dump_json()
    assert "Infinity" not in made
    assert "NaN" not in made


def test_text_and_json_tell_the_same_figures(pack: Pack) -> None:
    calculation = calculated(rig_text(), pack)
    told = on_one_line(plain_text(calculation_lines(calculation, 80)))
    for thing in figures_report(calculation).things:
        for figure in thing.figures:
            assert f"{figure.number} {figure.name}: {figure.value or 'unknown'}" in told


# --- findings show their working ---


def test_a_finding_on_a_figure_shows_how_it_was_worked_out(pack: Pack) -> None:
    inspection = inspected(rig_text(content="2 m3"), pack)
    finding = next(one for one in inspection.findings if one.rule == SHARE_RULE)
    working = finding.found[0].working
    assert working is not None
    assert (working.formula, working.value) == ("s = q/V", "20 %/h")
    told = on_one_line(plain_text(inspection_lines(inspection, 80, hold_at="warning")))
    assert "found hourly share: 20 %/h, must be at most 1/10 per h = 10 %/h. formula s = q/V with" in told
    assert "formula s = q/V with q = 400 L/h: demand of the acetylene line" in told


def test_a_question_that_is_too_close_to_call_shows_its_working(pack: Pack) -> None:
    # By hand: 0.4/4.2 = 9.52 % and 0.4/3.8 = 10.53 % lie on both sides of a tenth.
    inspection = inspected(rig_text(content="4 ± 0.2 m3"), pack)
    close = [q for q in inspection.questions if q.fact == "hourly_share" and q.too_close]
    assert close[0].working is not None
    assert close[0].working.value == "9.524 to 10.53 %/h"
    told = on_one_line(plain_text(inspection_lines(inspection, 80, hold_at="warning")))
    assert "too close to call" in told
    assert "V = 3.8 to 4.2 m3" in told or "V = 4 ± 0.2 m3" in told


def test_a_working_stands_in_the_json_report(pack: Pack) -> None:
    inspection = inspected(rig_text(content="2 m3"), pack)
    made = json.loads(rig_entry(inspection, hold_at="warning", on_unproven=None).model_dump_json())
    jsonschema_rs.validate(RigEntry.model_json_schema(mode="serialization"), made)
    finding = next(one for one in made["findings"] if one["rule"] == SHARE_RULE)
    assert finding["found"][0]["working"]["formula"] == "s = q/V"


def test_a_long_list_of_what_is_missing_is_told_once(pack: Pack) -> None:
    # Without its masses, pressure and height the cylinder lacks the same facts for several figures.
    calculation = calculated(rig_text(cylinder=""), pack)
    lacks = [figure.lacks for figure in calculation.figures if figure.value is None and len(figure.lacks) > 1]
    repeated = next(one for one in lacks if lacks.count(one) > 1)
    told = on_one_line(plain_text(calculation_lines(calculation, 80)))
    first = next(figure.number for figure in calculation.figures if figure.lacks == repeated)
    assert f"the same as figure {first}" in told
    for lack in repeated:
        assert f"{lack.fact} of the {lack.thing}: {lack.ask} ({lack.at})" in told


def test_the_short_form_has_the_twenty_that_decide_most_under_their_numbers_of_the_whole(pack: Pack) -> None:
    rig = load_rig(text_in_full("wharf-crane-rail").encode(), "rig.yaml", pack.vocabulary)
    made = calculate_rig(rig, pack, day=DAY)
    short, whole = (plain_text(lines(made, 200)) for lines in (deciding_lines, calculation_lines))
    heads = re.findall(r"^ *(\d+)  ([a-z ]+) of the ", short, re.MULTILINE)
    assert len(heads) == SHORT == 20 < len(made.deciding)
    assert short.count("decides ") >= SHORT
    for number, name in heads:
        assert re.search(rf"^ *{number}  {name}: ", whole, re.MULTILINE)
    assert f"The {SHORT} that decide most, of" in on_one_line(short) and "All of them: --all." in on_one_line(short)
