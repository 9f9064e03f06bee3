"""Published tables in a pack: read with the rules, and laid on each other by a house's folder."""

from __future__ import annotations

from pathlib import Path

import pytest

from rigcheck.rules.folders import rules_folder
from rigcheck.rules.load import load_pack
from rigcheck.text.faults import Refused

TABLE = """
because: tried out by the house
tables:
  - name: {name}
    drawn_from: the house's own trials
    standing: published
    process: cutting
    gases: [hydrogen]
    units: {{thickness: mm, bore: {unit}}}
    rows:
      - {{size: 1, thickness: [3, 6], bore: [0.8, {bore}]}}
"""


def house(
    folder: Path, file: str = "nozzles", name: str = "house nozzles", unit: str = "mm", bore: str = "1.0"
) -> Path:
    (folder / "tables").mkdir()
    (folder / "tables" / f"{file}.yaml").write_text(TABLE.format(name=name, unit=unit, bore=bore), encoding="utf-8")
    return folder


def refused(folder: Path) -> str:
    with pytest.raises(Refused) as caught:
        load_pack(rules_folder(), folder)
    (fault,) = caught.value.faults
    assert fault.place.file.startswith(str(folder))
    return f"{fault.read} {fault.write}"


def test_the_shipped_pack_has_rows_for_nozzles_and_hoods() -> None:
    tables = load_pack(rules_folder()).tables
    assert set(tables) == {"hoods", "nozzles"}
    assert all(tables.values())


def test_a_house_lays_its_own_table_before_those_that_come_along(tmp_path: Path) -> None:
    before = load_pack(rules_folder()).tables["nozzles"]
    rows = load_pack(rules_folder(), house(tmp_path)).tables["nozzles"]
    assert rows[0].gases == ("hydrogen",)
    assert rows[0].bore == pytest.approx((0.0008, 0.001))
    assert rows[1:] == before


def test_a_table_of_the_same_name_takes_the_place_of_the_earlier(tmp_path: Path) -> None:
    name = "low-pressure straight-bore cutting nozzles"
    rows = load_pack(rules_folder(), house(tmp_path, name=name)).tables["nozzles"]
    assert [row.gases for row in rows if row.table == name] == [("hydrogen",)]


def test_an_unknown_unit_is_refused_by_name(tmp_path: Path) -> None:
    assert "bore in unit furlong" in refused(house(tmp_path, unit="furlong"))


def test_a_cell_that_is_no_number_is_refused(tmp_path: Path) -> None:
    assert "bore 'wide' is no number" in refused(house(tmp_path, bore="wide"))


def test_a_span_that_runs_backwards_is_refused(tmp_path: Path) -> None:
    assert "runs backwards" in refused(house(tmp_path, bore="0.5"))


def test_a_file_that_no_figure_reads_is_refused_with_a_near_name(tmp_path: Path) -> None:
    with pytest.raises(Refused) as caught:
        load_pack(rules_folder(), house(tmp_path, file="nozzels"))
    (fault,) = caught.value.faults
    assert fault.near == "nozzles"
