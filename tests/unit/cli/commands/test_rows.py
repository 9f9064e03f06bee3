"""`rigcheck rows`: tables that a database reads back, the same from one machine and from a fleet in trouble."""

from __future__ import annotations

import fcntl
import json
import os
import signal
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import duckdb
import pytest

from rigcheck.cli import fleet
from rigcheck.cli.batch import Task
from rigcheck.cli.row_file import ROWS_OF_FILES
from rigcheck.report.rows import TABLES
from rigcheck.rules.folders import rules_folder
from rigcheck.rules.pack import Pack

_DAY = ("--day", "2026-11-25")
_RIG = """\
rig: Set {number}
trolley: {{tilt: {tilt} deg}}
lines:
  - gas: acetylene
    parts: [cylinder: {{retest_until: 2027-0{month}}}, regulator, hose: {{tag: H-{number}}}]
  - {{gas: oxygen, parts: [cylinder, regulator, hose]}}
torch: {{form: cutting}}
"""


@pytest.fixture
def yard(tmp_path: Path) -> Path:
    """Six rigs, two of which lean, and a file that is none."""
    folder = tmp_path / "yard"
    folder.mkdir()
    for number in range(1, 7):
        text = _RIG.format(number=number, tilt=30 if number % 3 == 0 else 3, month=number)
        (folder / f"{number}.yaml").write_text(text, encoding="utf-8")
    (folder / "wrong.yaml").write_text("rig: [\n", encoding="utf-8")
    return folder


def _read(folder: Path, query: str) -> list[tuple[Any, ...]]:
    named = {table: f"read_parquet('{folder / table}.parquet')" for table in TABLES}
    return duckdb.sql(query.format(**named)).fetchall()


# --- the folder, whatever happens ---


def test_tables_that_take_the_place_of_others_leave_no_moment_without_any(
    run: Any, yard: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out, plain = tmp_path / "tables", Path.rename
    run("rows", yard / "1.yaml", "--output", out, *_DAY)

    def watched(path: Path, target: Path) -> Path:
        done = plain(path, target)
        assert out.exists()
        return done

    monkeypatch.setattr(Path, "rename", watched)
    run("rows", yard / "2.yaml", "--output", out, *_DAY)
    assert _read(out, "select rig from {rigs}") == [("Set 2",)]
    assert sorted(one.name for one in tmp_path.iterdir()) == ["tables", "yard"]


def test_tables_take_each_others_place_by_two_moves_where_the_system_cannot_exchange_them(
    run: Any, yard: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "platform", "another")
    out = tmp_path / "tables"
    for number in (1, 2):
        run("rows", yard / f"{number}.yaml", "--output", out, *_DAY)
    assert _read(out, "select rig from {rigs}") == [("Set 2",)]
    assert sorted(one.name for one in tmp_path.iterdir()) == ["tables", "yard"]


def test_where_the_second_of_two_moves_fails_the_tables_that_were_there_are_there_again(
    run: Any, yard: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "platform", "another")
    out, plain, moves = tmp_path / "tables", Path.rename, []
    run("rows", yard / "1.yaml", "--output", out, *_DAY)

    def failing(path: Path, target: Path) -> Path:
        moves.append((path.name, target.name))
        if len(moves) == 2:
            raise OSError(28, "No space left on device")
        return plain(path, target)

    monkeypatch.setattr(Path, "rename", failing)
    ran = run("rows", yard / "2.yaml", "--output", out, *_DAY)
    assert ran.code == 2 and "tables cannot be written: No space left on device" in ran.err
    assert [moves[0][0], moves[1][1], moves[2][1]] == ["tables"] * 3, "away, then the new one in, then the old one back"
    assert _read(out, "select rig from {rigs}") == [("Set 1",)]
    assert sorted(one.name for one in tmp_path.iterdir()) == ["tables", "yard"]


def test_drafts_of_killed_processes_are_taken_away_and_those_of_others_are_not(
    run: Any, yard: Path, tmp_path: Path
) -> None:
    left = [tmp_path / f".tables.{number:012x}" for number in range(3)]
    for folder in left:
        folder.mkdir()
        (folder / "rigs.parquet").touch()
    for folder in left[:2]:
        os.utime(folder, (0, 0))
    writes = os.open(left[0], os.O_RDONLY)
    fcntl.flock(writes, fcntl.LOCK_EX)  # as one does that still writes
    run("rows", yard / "1.yaml", "--output", tmp_path / "tables", *_DAY)
    os.close(writes)
    assert [folder.exists() for folder in left] == [True, False, True]  # written in, left behind, new


def test_a_database_answers_what_falls_due_and_which_rigs_lean(run: Any, yard: Path, tmp_path: Path) -> None:
    out = tmp_path / "tables"
    ran = run("rows", yard, "--output", out, *_DAY)
    assert (ran.code, ran.out) == (3, "")
    assert sorted(one.name for one in out.iterdir()) == sorted(f"{table}.parquet" for table in TABLES)
    leaning = _read(out, "select rig from {findings} where rule = 'trolley/trolley_stands_upright' order by rig")
    assert leaning == [("Set 3",), ("Set 6",)]
    due = _read(out, "select rig, last from {dues} where kind = 'cylinder' and last < date '2027-04-01' order by last")
    assert [rig for rig, _ in due] == ["Set 1", "Set 2", "Set 3"]
    assert _read(out, "select count(*) from {rigs} where outcome = 'refused'") == [(1,)]
    ((place,),) = _read(out, "select file from {unread}")
    assert place.endswith("wrong.yaml")


def test_the_tables_say_what_the_report_for_programs_says(run: Any, yard: Path, tmp_path: Path) -> None:
    out = tmp_path / "tables"
    run("rows", yard, "--output", out, *_DAY)
    told = json.loads(run("inspect", yard, *_DAY, "--format", "json").out)["entries"]
    judged = [one for one in told if one["outcome"] == "judged"]
    assert _read(out, "select rig, state, broken from {rigs} where outcome = 'judged' order by file") == [
        (one["rig"], one["state"], one["verdicts"]["broken"]) for one in judged
    ]
    assert _read(out, "select rig, rule, thing, told from {findings}") == [
        (one["rig"], each["rule"], each["thing"], each["told"]) for one in judged for each in one["findings"]
    ]
    asked = _read(out, "select rig, path, fact, len(rules) from {questions}")
    assert asked == [
        (one["rig"], each["path"], each["fact"], len(each["waiting"])) for one in judged for each in one["questions"]
    ]


def test_a_row_says_in_which_file_its_line_stands(run: Any, yard: Path, tmp_path: Path) -> None:
    (yard / "looks").mkdir()
    rows = "  - {thing: trolley, tilt: 40 deg}\n  - {thing: H-2, covr: cut}\n"
    look = f"look: ../2.yaml\nday: 2026-11-24\nby: fitter\nseen:\n{rows}"
    (yard / "looks" / "2.yaml").write_text(look, encoding="utf-8")
    out = tmp_path / "tables"
    run("rows", yard / "2.yaml", "--output", out, *_DAY)
    at = _read(out, "select file, written_in, in_line, in_column from {findings} where rule like '%stands_upright'")
    assert at == [(str(yard / "2.yaml"), str(yard / "looks" / "2.yaml"), 5, look.splitlines()[4].index("40") + 1)]
    assert _read(out, "select distinct file, written_in, in_line from {unread}") == [(at[0][0], at[0][1], 6)]
    assert _read(out, "select distinct written_in from {questions}") == [(str(yard / "2.yaml"),)]


def test_each_table_has_the_columns_that_are_documented_and_says_who_decides(
    run: Any, yard: Path, tmp_path: Path
) -> None:
    from pyarrow.parquet import read_schema

    out = tmp_path / "tables"
    run("rows", yard, "--output", out, *_DAY)
    for table, columns in TABLES.items():
        schema = read_schema(out / f"{table}.parquet")
        assert schema.names == list(columns)
        assert schema.metadata[b"form"] == b"rigcheck rows 2"
        assert b"competent or licensed person decide" in schema.metadata[b"caution"]


def test_an_earlier_folder_of_tables_is_replaced_and_no_other(run: Any, yard: Path, tmp_path: Path) -> None:
    out = tmp_path / "tables"
    for _ in range(2):
        assert run("rows", yard / "1.yaml", "--output", out, *_DAY).code == 1
    (out / "mine.txt").write_text("mine")
    ran = run("rows", yard / "1.yaml", "--output", out, *_DAY)
    assert (ran.code, (out / "mine.txt").read_text()) == (2, "mine")
    assert "name another one" in ran.err
    assert [one.name for one in tmp_path.iterdir() if one.name.startswith(".")] == []


def test_no_scheduler_is_told_and_nothing_is_left(run: Any, yard: Path, tmp_path: Path) -> None:
    ran = run("rows", yard, "--output", tmp_path / "tables", "--fleet", "nonsense://nowhere")
    assert ran.code == 2 and "no scheduler answers" in ran.err
    assert [one.name for one in tmp_path.iterdir()] == ["yard"]


def test_the_columns_are_documented() -> None:
    told = (rules_folder().parent / "DEVELOPERS.md").read_text(encoding="utf-8")
    for table, columns in TABLES.items():
        assert f"| `{table}` | {', '.join(f'`{name}`' for name in columns)} |" in told


# --- a fleet ---


@pytest.fixture
def cluster(monkeypatch: pytest.MonkeyPatch) -> Iterator[Any]:
    """Two workers on this machine, each a process of its own."""
    from distributed import LocalCluster

    monkeypatch.setenv("PYTHONPATH", str(rules_folder().parent))
    with LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as made:
        yield made


@pytest.mark.crowd
def test_a_fleet_that_loses_a_worker_in_the_middle_loses_no_file_and_takes_none_twice(
    cluster: Any, yard: Path, pack: Pack
) -> None:
    files = [str(yard / f"{1 + number % 6}.yaml") for number in range(24)]
    task = Task((str(rules_folder()),), 739945, "", (), 80, "warning", False, False, pack)
    plain = Task((str(rules_folder()),), 739945, "", (), 80, "warning", False, False, None)  # type: ignore[arg-type]
    results = fleet.over_fleet(ROWS_OF_FILES, task, files, plain, cluster.scheduler_address, chunk=2)
    made = [next(results)]
    victim = next(iter(cluster.workers.values())).pid
    os.kill(victim, signal.SIGKILL)  # eight lots are under way
    made += list(results)
    alone = {name: ROWS_OF_FILES.done(task, name) for name in set(files)}
    assert made == [alone[name] for name in files]
    assert any(one.rows["findings"] for one in made)
