"""The parts of a commissioning file: each with its own due day, whether it bears a tag or not."""

from __future__ import annotations

from datetime import date

from rigcheck.report.html.parts_page import part_rows, settings
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


def test_what_stands_in_no_line_is_listed_where_its_kind_says_so(pack: Pack) -> None:
    text = _RIG + b"torch: {form: cutting, nozzle: {size: '3'}}\ntrolley: {tag: T-1}\ntools: {}\n"
    rig = load_rig(text, "yard.yaml", pack.vocabulary)
    file = compile_file(rig, pack, day=date(2026, 11, 25).toordinal())
    names = {row.tag or row.name for row in part_rows(file)}
    assert {"T-1", "torch, nozzle", "torch"} <= names and "tools" not in names


def test_every_part_that_sets_a_pressure_has_its_row_of_settings(pack: Pack) -> None:
    text = b"""\
rig: Bench
lines:
  - {gas: natural-gas, parts: [outlet_point: {pipe_pressure: 20 mbar}, hose]}
  - {gas: oxygen, parts: [cylinder, regulator: {set_pressure: 3 bar}, hose]}
torch: {form: welding}
"""
    rig = load_rig(text, "bench.yaml", pack.vocabulary)
    file = compile_file(rig, pack, day=date(2026, 11, 25).toordinal())
    told = {one.regulator: one.stated for one in settings(file.rig)}
    assert told == {"natural-gas outlet point": "20 mbar", "oxygen regulator": "3 bar"}
