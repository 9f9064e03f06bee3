"""A register on the command line: inspected by itself, as one file or as a folder of them."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from icalendar import Calendar

from .conftest import HELD, Run

_DAY = ("--day", "2026-11-25")
PARTS = """\
register: invented harbour stores
things:
  H-0231: {as: hose-20, cover: cracked}
  R-1: {regulator: {made: 2024-01}}
"""
KINDS = "register: invented harbour stores\nkinds:\n  hose-20: {hose: {bore: 8 mm, length: 20 m, made: 2024-05}}\n"


@pytest.fixture
def stores(tmp_path: Path) -> Path:
    """A folder with a register of two files."""
    folder = tmp_path / "register"
    folder.mkdir()
    (folder / "parts.yaml").write_text(PARTS)
    (folder / "kinds.yaml").write_text(KINDS)
    return folder


def test_a_folder_of_a_registers_files_is_one_register(run: Run, stores: Path) -> None:
    ran = run("inspect", *_DAY, stores)
    assert ran.code == 1
    assert ran.out.startswith("Register “invented harbour stores”")
    assert ran.out.count("Register “") == 1
    assert "parts.yaml:3:32" in "".join(ran.out.split())


def test_a_register_is_told_in_every_form(run: Run, stores: Path) -> None:
    report = json.loads(run("inspect", *_DAY, stores, "--format", "json").out)
    (one,) = report["entries"]
    assert (one["rig"], one["about"]) == ("invented harbour stores", "register")
    assert [f["thing"] for f in one["findings"]] == ["hose H-0231"]
    for form in ("sarif", "junit", "markdown", "lines"):
        assert "H-0231" in run("inspect", *_DAY, stores, "--format", form).out


def test_rigs_and_registers_are_told_apart_in_one_folder(run: Run, stores: Path) -> None:
    (stores.parent / "rig.yaml").write_text(HELD)
    out = run("inspect", *_DAY, stores.parent).out
    heads = [line for line in out.splitlines() if line.startswith(("Rig ", "Register "))]
    assert [head.split()[0] for head in heads] == ["Rig", "Register"]
    assert "2 files: 2 on hold." in out


def test_a_register_that_cannot_be_read_is_told_and_the_rest_is_judged(run: Run, stores: Path) -> None:
    (stores.parent / "rig.yaml").write_text(HELD)
    (stores / "parts.yaml").write_text(PARTS.replace("hose-20", "hose-21"))
    ran = run("inspect", *_DAY, stores.parent)
    assert ran.code == 3
    assert "'hose-21' is no kind of this register." in " ".join(ran.out.split())
    assert "Rig “Leaning set”" in ran.out


# --- what falls due ---


def fleet(stores: Path) -> Path:
    """Two rigs that have the same hose, beside the register that has more."""
    for name, code in (("a", "uk"), ("b", "uk")):
        hose = HELD.replace("hose]", "{hose: {tag: H-0231}}]", 1).replace("Leaning set", f"set {name}")
        (stores.parent / f"{name}.yaml").write_text(f"{hose}local_code: {code}\nregister: register\n")
    return stores.parent


def test_a_thing_in_two_rigs_and_on_record_falls_due_once_and_its_rigs_are_named(run: Run, stores: Path) -> None:
    report = json.loads(run("due", fleet(stores), *_DAY, "--format", "json").out)
    hose = [one for one in report["dues"] if one["tag"] == "H-0231"]
    assert [(one["thing"], one["rig"], one["also_in"]) for one in hose] == [("hose H-0231", "set a", ["set b"])]
    assert hose[0]["at"]["file"] == str(stores / "kinds.yaml")
    known = [(one["tag"], one["fact"]) for one in report["undated"] if one["tag"]]
    assert len(known) == len(set(known)) == 2
    counted = report["totals"]
    assert (counted["rigs"], counted["registers"]) == (2, 1)
    assert counted["overdue"] + counted["to_come"] == len(report["dues"])
    assert sum(one["count"] for one in counted["undated"]) == len(report["undated"])


def test_a_rig_under_another_code_has_a_row_of_its_own(run: Run, stores: Path) -> None:
    folder = fleet(stores)
    other = (folder / "b.yaml").read_text().replace("local_code: uk", "local_code: us")
    (folder / "b.yaml").write_text(other)
    report = json.loads(run("due", folder, *_DAY, "--format", "json").out)
    rows = [one for one in report["dues"] if one["tag"] == "H-0231"]
    assert [(one["rig"], one["judged_under"], one["also_in"]) for one in rows] == [
        ("set a", "uk", []),
        ("set b", "us", []),
    ]


def test_what_no_rig_has_falls_due_on_record(run: Run, stores: Path) -> None:
    ran = run("due", fleet(stores), *_DAY)
    told = " ".join(ran.out.split())
    assert "2 rigs and 1 register" in told
    assert "regulator R-1, on record in “invented harbour stores”" in told
    assert "hose H-0231, rig “set a”, also in “set b”" in told


def test_a_register_alone_has_due_dates_and_what_lies_further_off_is_counted_once(run: Run, stores: Path) -> None:
    ran = run("due", stores, *_DAY, "--within", "1 year", "--format", "json")
    counted = json.loads(ran.out)["totals"]
    both = json.loads(run("due", fleet(stores), *_DAY, "--within", "1 year", "--format", "json").out)["totals"]
    assert counted["later"] == both["later"] >= 2


def test_the_calendar_and_the_table_keep_a_tagged_thing_apart(run: Run, stores: Path) -> None:
    folder = fleet(stores)
    table = run("due", folder, *_DAY, "--format", "csv").out
    assert any(",H-0231,set b," in line for line in table.splitlines())
    before = run("due", folder, *_DAY, "--format", "icalendar").out
    (folder / "a.yaml").unlink()  # the hose goes on in set b alone: the event stays the same
    after = run("due", folder, *_DAY, "--format", "icalendar").out
    assert uids(before, "H-0231") == uids(after, "H-0231") != set()


def uids(calendar: str, tag: str) -> set[str]:
    return {str(event["UID"]) for event in Calendar.from_ical(calendar).walk("VEVENT") if tag in str(event["SUMMARY"])}


# --- tables ---

TABLE = "tag,kind,made\nH-1,hose,2024-03\nH-2,hose,2024-3x\n"


def test_nothing_is_written_unless_every_row_can_be_read_or_that_is_asked_for(run: Run, tmp_path: Path) -> None:
    table, out = tmp_path / "parts.csv", tmp_path / "parts.yaml"
    table.write_text(TABLE)
    ran = run("register", "read", table, out)
    assert ran.code == 2 and not out.exists()
    assert f"{table}:3:3: hose, made: '2024-3x' is no day." in ran.err
    assert "1 of 2 rows refused; nothing was written." in ran.err
    ran = run("register", "read", table, out, "--what-can-be-read", "--called", "invented stores")
    assert ran.code == 2 and "1 thing; 1 row left out" in " ".join(ran.out.split())
    assert out.read_text() == "register: invented stores\nthings:\n  H-1:\n    hose: {made: 2024-03}\n"
    assert run("inspect", *_DAY, out).out.startswith("Register “invented stores”")


def test_a_column_that_is_no_fact_holds_the_table_back_until_it_may_be_left_out(run: Run, tmp_path: Path) -> None:
    table, out = tmp_path / "parts.csv", tmp_path / "parts.yaml"
    table.write_text("tag,kind,bottle\nH-1,hose,red\n")
    ran = run("register", "read", table, out)
    assert ran.code == 2 and not out.exists()
    assert "1 column (bottle) refused; nothing was written." in ran.err
    ran = run("register", "read", table, out, "--what-can-be-read")
    assert ran.code == 2 and "1 thing; 1 column (bottle) left out" in " ".join(ran.out.split())
    assert "red" not in out.read_text()


def test_a_file_that_is_there_is_never_written_over(run: Run, stores: Path, tmp_path: Path) -> None:
    table, out = tmp_path / "parts.csv", stores / "parts.yaml"
    table.write_text(TABLE)
    for arguments in (("read", table, out, "--what-can-be-read"), ("write", stores, table)):
        ran = run("register", *arguments)
        assert ran.code == 2 and "is there already" in ran.err
    assert out.read_text() == PARTS and table.read_text() == TABLE


def test_a_register_goes_out_as_a_table_and_comes_back(run: Run, stores: Path, tmp_path: Path) -> None:
    table, out = tmp_path / "parts.csv", tmp_path / "again.yaml"
    assert run("register", "write", stores, table).code == 0
    assert table.read_text().splitlines()[:2] == ["tag,kind,as,cover,made", "H-0231,hose,hose-20,cracked,"]
    (stores / "parts.yaml").unlink()
    ran = run("register", "read", table, out, "--register", stores)
    assert ran.code == 0, ran.err
    assert "register: invented harbour stores\n" in out.read_text()
    (stores / "again.yaml").write_text(out.read_text())
    assert "hose H-0231" in run("inspect", *_DAY, stores).out


@pytest.mark.parametrize("arguments", [("read", "none.csv", "o.yaml"), ("write", "none", "o.csv")])
def test_what_is_not_there_is_told(run: Run, tmp_path: Path, arguments: tuple[str, str, str]) -> None:
    action, source, target = arguments
    ran = run("register", action, tmp_path / source, tmp_path / target)
    assert ran.code == 2 and "cannot be read: No such file or directory" in ran.err


# --- one tag in two rigs ---


def test_a_tag_in_two_rigs_is_told_at_the_end_in_every_form(run: Run, stores: Path) -> None:
    folder = fleet(stores)
    rigs = (folder / "a.yaml", folder / "b.yaml")
    told = " ".join(run("inspect", *_DAY, *rigs).out.split())
    assert "tag H-0231: acetylene hose of “set a”" in told and "rig/tag_is_in_one_rig" in told
    report = json.loads(run("inspect", *_DAY, *rigs, "--format", "json").out)
    last = report["entries"][-1]
    assert (last["about"], len(last["findings"]), report["totals"]["files"]) == ("fleet", 1, 3)
    for form in ("sarif", "junit", "markdown", "lines"):
        assert "A thing with a tag stands in one rig" in run("inspect", *_DAY, *rigs, "--format", form).out
    assert "tag_is_in_one_rig" not in run("inspect", *_DAY, rigs[0], stores).out
    assert run("inspect", *_DAY, *rigs, "--hold-at", "caution").code == 1


def test_a_rig_whose_tags_are_looked_up_nowhere_says_so(run: Run, stores: Path) -> None:
    rig = stores.parent / "rig.yaml"
    rig.write_text("rig: r\nlines: [{gas: propane, parts: [cylinder, regulator, hose: {tag: H-0231}]}]\n")
    assert "nothing: no register was found in which to look up 1 tag\n" in run("inspect", *_DAY, rig).out
    assert "nothing:" not in run("inspect", *_DAY, rig, "--register", stores).out


# --- what was seen of its things ---

_SEEN = """\
look: {rig}
day: {day}
by: fitter
seen:
  - {{thing: {word}, {seen}}}
"""


@pytest.mark.parametrize("where", ["look.yaml", "looks/look.yaml", "rigs/look.yaml", "rigs/looks/look.yaml"])
def test_a_fault_seen_at_a_thing_that_is_in_no_rig_now_is_told_of_its_register(
    where: str, run: Run, stores: Path
) -> None:
    (stores / "parts.yaml").write_text(PARTS.replace("cover: cracked", "made: 2025-01"))
    assert "cover: cut" not in run("inspect", *_DAY, stores).out
    look = stores.parent / where
    look.parent.mkdir(parents=True, exist_ok=True)
    look.write_text(_SEEN.format(rig="../gone.yaml", day="2026-11-20", word="h-0231", seen="cover: cut"))
    told = json.loads(run("inspect", *_DAY, stores, "--format", "json").out)["entries"][0]
    assert [(one["rule"], one["thing"]) for one in told["findings"]] == [("hoses/hose_cover_is_sound", "hose H-0231")]
    assert told["findings"][0]["at"]["file"].endswith(where)
    later = look.with_name("later.yaml")
    later.write_text(
        _SEEN.format(rig="../b.yaml", day="2026-11-24", word='"lines[0].parts[2]"', seen="cover: sound, tag: H-0231")
    )
    assert json.loads(run("inspect", *_DAY, stores, "--format", "json").out)["entries"][0]["findings"] == []


def test_a_date_read_off_a_thing_falls_due_by_its_register(run: Run, stores: Path) -> None:
    look = _SEEN.format(rig="gone.yaml", day="2026-11-20", word="R-1", seen="service_until: 2026-12-01")
    (stores.parent / "look.yaml").write_text(look)
    out = " ".join(run("due", stores, *_DAY).out.split())
    assert "2026-12-01" in out and "regulator R-1" in out


def test_what_cannot_be_read_of_what_was_seen_is_told_with_the_register(run: Run, stores: Path) -> None:
    look = stores.parent / "look.yaml"
    look.write_text(_SEEN.format(rig="gone.yaml", day="2026-11-20", word="R-1", seen="cover: sound"))
    for command in ("inspect", "due"):
        ran = run(command, stores, *_DAY)
        assert ran.code & 2
        assert f"{look}:5:18" in "".join((ran.out + ran.err).split())
