"""`rigcheck due`: exit codes, forms, many files, rows on disk."""

from __future__ import annotations

import csv
import io
import json
import random
import sys
from pathlib import Path

import jsonschema_rs
import pytest
from icalendar import Calendar
from support.small_dues import due

from rigcheck.cli import workers as pool
from rigcheck.cli.due_rows import RowStore, due_of_row, due_row
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.tasks.due_dates import due_order

from ..conftest import HELD, WRONG, Run

DAY = ("--day", "2026-11-25")
AGED = HELD.replace("regulator, hose]", "regulator, hose: {made: DAY}]")


@pytest.fixture
def rigs(tmp_path: Path) -> Path:
    folder = tmp_path / "fleet"
    folder.mkdir()
    for number, made in enumerate(("2024-02-29", "2020-06-30", "2022-01")):
        (folder / f"rig-{number}.yaml").write_text(AGED.replace("DAY", made))
    return folder


def test_what_is_overdue_gives_1_and_stands_first(run: Run, rigs: Path) -> None:
    got = run("due", rigs, *DAY)
    told = " ".join(got.out.split())
    assert got.code == 1 and told.endswith(CAUTION)
    assert told.index("2025-06-30 513 days overdue: acetylene hose") < told.index("2027-01-01")


def test_one_word_that_cannot_be_read_leaves_no_rig_out_of_the_list(run: Run, rigs: Path) -> None:
    rig = rigs / "rig-1.yaml"
    rig.write_text(rig.read_text().replace("{tilt: 30 deg}", "{tilt: 30 deg, stands_on: moon}"))
    got = run("due", rigs, *DAY)
    assert got.code == 3 and "'moon' is not one of its words" in got.err
    told = " ".join(got.out.split())
    assert "2025-06-30 513 days overdue: acetylene hose" in told and "1 not read, or only in part" in told


def test_nothing_overdue_gives_0(run: Run, rigs: Path) -> None:
    got = run("due", rigs / "rig-0.yaml", *DAY)
    assert got.code == 0 and "0 overdue" in got.out


def test_within_leaves_out_what_falls_due_later_and_counts_it(run: Run, rigs: Path) -> None:
    got = run("due", rigs, *DAY, "--within", "3 month")
    assert "2027-01-01" in got.out and "2029-02-28" not in got.out
    assert "Due dates by 2027-02-25" in got.out and "2 later." in " ".join(got.out.split())
    assert run("due", rigs, "--within", "soon").code == 2


def test_tests_of_every_day_are_left_out_and_counted_unless_they_are_asked_for(run: Run, rigs: Path) -> None:
    plain, daily = (run("due", rigs, *DAY, *more).out for more in ((), ("--daily",)))
    assert "hold tested: not stated" not in plain and "hold tested: not stated" in daily
    assert "--daily lists them" in " ".join(plain.split()) and "--daily" not in daily
    listed, every = (json.loads(run("due", rigs, *DAY, "--format", "json", *more).out) for more in ((), ("--daily",)))
    left = len(every["dues"]) + len(every["undated"]) - len(listed["dues"]) - len(listed["undated"])
    assert listed["totals"]["daily"] == left > 0 == every["totals"]["daily"]
    assert "--daily lists them" in run("due", rigs, *DAY, "--format", "csv").err


def test_what_cannot_be_read_gives_3_where_something_is_overdue_and_the_others_are_listed(run: Run, rigs: Path) -> None:
    (rigs / "wrong.yaml").write_text(WRONG)
    got = run("due", rigs, *DAY)
    assert got.code == 3 and "wrong.yaml" in got.err and "513 days overdue" in got.out
    report = json.loads(run("due", rigs, *DAY, "--format", "json").out)
    assert [one["file"].endswith("wrong.yaml") for one in report["refused"]] == [True]


def test_json_fits_its_schema_and_has_every_day_that_is_not_stated(run: Run, rigs: Path) -> None:
    report = json.loads(run("due", rigs, *DAY, "--format", "json").out)
    jsonschema_rs.validate(json.loads(run("schema", "due").out), report)
    assert [one["days_left"] for one in report["dues"]] == sorted(one["days_left"] for one in report["dues"])
    assert len(report["undated"]) == sum(one["count"] for one in report["totals"]["undated"]) > 0
    assert report["totals"]["rigs"] == 3


def test_the_ending_of_the_output_says_the_form(run: Run, rigs: Path, tmp_path: Path) -> None:
    table, calendar, other = tmp_path / "due.csv", tmp_path / "due.ics", tmp_path / "due.txt"
    for output in (table, calendar, other):
        assert run("due", rigs, *DAY, "--output", output).code == 1
        assert run("due", rigs, *DAY, "--output", output).code == 1  # its own it may write over
    rows = list(csv.DictReader(io.StringIO(table.read_bytes().decode(), newline="")))
    assert rows[0]["due"] == "2025-06-30" and rows[0]["days_left"] == "-513"
    found = Calendar.from_ical(calendar.read_bytes()).walk("VEVENT")
    uids = [str(event["UID"]) for event in found]
    assert len(uids) == len(set(uids)) >= 4
    assert run("due", rigs, "--format", "json", "--output", table).code == 2


def test_nothing_else_is_written_over(run: Run, rigs: Path, tmp_path: Path) -> None:
    own = tmp_path / "notes.csv"
    own.write_text("my,own,notes\n")
    assert run("due", rigs, "--output", own).code == 2 and own.read_text() == "my,own,notes\n"
    assert run("due", rigs, "--output", rigs / "rig-0.yaml").code == 2


def test_without_the_library_a_calendar_is_refused_in_words(
    run: Run, rigs: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "icalendar", None)
    got = run("due", rigs, "--format", "icalendar")
    assert got.code == 2 and "rigcheck[calendar]" in got.err
    assert run("due", rigs, *DAY).code == 1  # the other forms do without


def test_records_of_work_are_passed_over(run: Run, rigs: Path) -> None:
    (rigs / "record.yaml").write_text("record: start-up\nrig: rig-0.yaml\n")
    assert "3 rigs" in run("due", rigs, *DAY).out


@pytest.mark.crowd
def test_many_files_on_all_cores_give_what_one_core_gives(
    run: Run, apart: Run, rigs: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for number in range(3, 230):
        (rigs / f"rig-{number:03}.yaml").write_text(AGED.replace("DAY", "2021-12"))
    pooled = apart("due", rigs, *DAY, "--format", "csv")
    monkeypatch.setattr(pool, "_POOL_FROM", 1000)
    alone = run("due", rigs, *DAY, "--format", "csv")
    assert pooled.code == alone.code == 1
    assert pooled.out == alone.out.replace("\r\n", "\n")


def test_rows_come_back_as_they_were_and_in_order_though_few_are_held() -> None:
    dues = [
        due(f"20{year}-02-28", f"hose {number}\n=\u2028", later_by=("tested",))
        for year in (31, 24, 27)
        for number in range(20)
    ]
    random.Random(5).shuffle(dues)
    store = RowStore(most_held=7)
    for one in dues:
        store.add(due_row(one))
    back = [due_of_row(row) for row in store.sorted_rows()]
    assert sorted(back, key=due_order) == sorted(dues, key=due_order)
    assert [one.first for one in back] == sorted(one.first for one in dues)
