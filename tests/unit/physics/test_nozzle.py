"""Nozzle tables: reading, looking up, and saying nothing where the tables say nothing."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from rigcheck.physics.nozzle import (
    COLUMNS,
    bore_suits,
    published_span,
    read_tables,
    rows_for_size,
    rows_for_thickness,
)

SHIPPED = Path(__file__).parents[3] / "rules" / "tables" / "nozzles.yaml"


def table(**changes: Any) -> dict[str, Any]:
    """Return a document of one small table."""
    one = {
        "name": "small table",
        "drawn_from": "a text",
        "standing": "published",
        "process": "cutting",
        "gases": ["acetylene"],
        "units": {"thickness": "mm", "bore": "mm"},
        "rows": [{"thickness": [3, 6], "bore": [1, 1]}, {"thickness": [6, 12], "bore": [2, 2]}],
    }
    return {"tables": [{**one, **changes}]}


POINTS = table(
    between_rows=True,
    rows=[{"thickness": [5, 5], "bore": [1.0, 1.2]}, {"thickness": [10, 10], "bore": [1.1, 2.0]}],
)
PLATE = {"gas": "acetylene", "process": "cutting"}


def test_a_thickness_where_two_rows_meet_has_both() -> None:
    found = rows_for_thickness(rows=read_tables(table()), thickness=0.006, **PLATE)
    assert found is not None and len(found) == 2


@pytest.mark.parametrize("thickness", [0.0029, 0.0121])
def test_a_thickness_beyond_the_table_is_unknown(thickness: float) -> None:
    rows = read_tables(table())
    assert rows_for_thickness(rows=rows, thickness=thickness, **PLATE) is None
    assert bore_suits(rows=rows, bore=0.001, thickness=thickness, **PLATE) is None


def test_another_gas_or_process_is_unknown_not_unsuitable() -> None:
    rows = read_tables(table())
    assert bore_suits(rows=rows, bore=0.001, thickness=0.005, gas="hydrogen", process="cutting") is None
    assert bore_suits(rows=rows, bore=0.001, thickness=0.005, gas="acetylene", process="welding") is None


def test_a_thickness_that_a_table_gives_is_answered_by_its_own_row() -> None:
    found = rows_for_thickness(rows=read_tables(POINTS), thickness=0.005, **PLATE)
    assert found is not None and [row.bore for row in found] == [pytest.approx((0.001, 0.0012))]


def test_between_two_given_thicknesses_both_rows_count() -> None:
    found = rows_for_thickness(rows=read_tables(POINTS), thickness=0.007, **PLATE)
    assert found is not None and published_span(rows=found, column="bore") == pytest.approx((0.001, 0.002))


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"units": {"thickness": "mm", "bore": "furlong"}}, "unit furlong is not known"),
        ({"units": {"thickness": "mm"}}, "column bore"),
        ({"rows": [{"thickness": [6, 3], "bore": [1, 1]}]}, "runs backwards"),
        ({"units": {"thickness": "mm", "bore": "mm", "hue": "mm"},
          "rows": [{"thickness": [3, 6], "hue": [1, 1]}]}, "column hue"),
    ],
)  # fmt: skip
def test_a_wrong_table_is_refused_by_name(changes: dict[str, Any], words: str) -> None:
    with pytest.raises(ValueError, match=f"small table: .*{words}"):
        read_tables(table(**changes))


def test_every_shipped_row_says_where_it_is_from_and_how_well_it_is_known() -> None:
    rows = read_tables(yaml.safe_load(SHIPPED.read_text(encoding="utf-8")))
    assert {row.standing for row in rows} == {"published", "from memory"}
    assert all(row.drawn_from and row.gases and row.process in ("cutting", "welding") for row in rows)


def test_shipped_rows_grow_with_thickness_table_by_table() -> None:
    rows = read_tables(yaml.safe_load(SHIPPED.read_text(encoding="utf-8")))
    for name in {row.table for row in rows}:
        for column in ("bore", "fuel_flow", "cutting_oxygen_flow"):
            lows = [span[0] for row in rows if row.table == name and (span := getattr(row, column))]
            assert lows == sorted(lows), (name, column)


def test_a_welding_number_gives_its_cubic_feet_an_hour() -> None:
    """The number of a British welding nozzle is its acetylene flow in ft3/h (common practice)."""
    rows = read_tables(yaml.safe_load(SHIPPED.read_text(encoding="utf-8")))
    for number in (1, 5, 10, 25, 70):
        found = rows_for_size(rows=rows, size=str(number), gas="acetylene", process="welding")
        assert found is not None
        flow = published_span(rows=found, column="fuel_flow")
        assert flow is not None
        assert flow[0] * 3600 / 0.3048**3 == pytest.approx(number, rel=0.02)
    assert rows_for_size(rows=rows, size="4", gas="acetylene", process="welding") is None


def test_columns_are_the_spans_of_a_row() -> None:
    row = read_tables(table())[0]
    assert all(hasattr(row, name) for name in COLUMNS)
