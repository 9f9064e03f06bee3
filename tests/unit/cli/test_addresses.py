"""Rigs named by an fsspec address: an archive, a store in memory, a folder; told as those of a disk are."""

from __future__ import annotations

import json
import sys
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import fsspec
import pytest

from rigcheck.cli import addresses
from rigcheck.rules.folders import configs_folder

from .conftest import HELD, Run

pytestmark = pytest.mark.crowd

_DAY = ("--day", "2026-11-25")
_HARBOUR = configs_folder() / "harbour"
_FILES = sorted(path for path in _HARBOUR.rglob("*") if path.is_file())


@pytest.fixture
def store() -> Iterator[Any]:
    """A store in memory with the harbour, and with what is no rig of it."""
    made = fsspec.filesystem("memory")
    for path in _FILES:
        made.pipe(f"/yard/{path.relative_to(_HARBOUR).as_posix()}", path.read_bytes())
    made.pipe("/yard/notes.txt", b"no rig")
    yield made
    for folder in made.ls("/", detail=False):
        made.rm(folder, recursive=True)
    addresses._folders.clear()


@pytest.fixture
def archive(tmp_path: Path) -> Path:
    made = tmp_path / "yard.zip"
    with zipfile.ZipFile(made, "w") as file:
        for path in _FILES:
            file.write(path, path.relative_to(_HARBOUR).as_posix())
    return made


@pytest.mark.parametrize("command", ["inspect", "due", "summary"])
def test_a_store_an_archive_and_a_folder_are_told_alike(command: str, run: Run, store: Any, archive: Path) -> None:
    here = run(command, _HARBOUR, *_DAY, "--format", "json")
    for address in ("memory://yard", f"zip://::{archive}", f"file://{_HARBOUR}"):
        ran = run(command, address, *_DAY, "--format", "json")
        assert ran.code == here.code
        assert _without_names(json.loads(ran.out)) == _without_names(json.loads(here.out))


def _without_names(told: Any) -> Any:
    """Return a report without the texts that name a file or a folder."""
    if isinstance(told, dict):
        return {key: _without_names(value) for key, value in told.items()}
    if isinstance(told, list):
        return sorted(map(_without_names, told), key=repr)  # names decide on the order of what is asked
    named = isinstance(told, str) and any(one in told for one in (".yaml", "/harbour", "//", "yard"))
    return "" if named else told


def test_a_look_and_a_register_beside_a_rig_count_where_they_are_fetched(run: Run, store: Any) -> None:
    told = run("inspect", "memory://yard/plate-shop-2.yaml", *_DAY).out
    assert "memory://yard/plate-shop-2.yaml" in told and "seen 2026-11-25 by fitter" in " ".join(told.split())


def test_settings_beside_the_rigs_count_and_those_of_this_machine_above_do_not(
    run: Run, store: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    (tmp_path / ".rigcheck.yaml").write_text("register: nowhere\n")
    store.pipe("/apart/rig.yaml", HELD.replace("hose]", "hose: {tag: H-0231}]", 1).encode())
    told = run("inspect", "memory://apart", *_DAY).out
    assert "nowhere" not in told and "State: on hold" in told
    store.pipe("/apart/.rigcheck.yaml", b"register: lost\n")
    assert "memory://apart/lost cannot be read" in " ".join(run("inspect", "memory://apart", *_DAY).out.split())


@pytest.mark.parametrize(
    ("address", "told"),
    [
        ("memory://nothing", "there is nothing of that name"),
        ("zip://::none.zip", "No such file"),
        ("nosuch://bucket/rigs", "Protocol not known"),
    ],
)
def test_an_address_that_leads_nowhere_is_told_in_words(address: str, told: str, run: Run, store: Any) -> None:
    ran = run("inspect", address, *_DAY)
    assert (ran.code, ran.out) == (2, "") and told in ran.err


def test_a_file_that_is_too_large_is_told_and_nothing_is_laid_outside(run: Run, store: Any, archive: Path) -> None:
    store.pipe("/yard/large.yaml", b"rig: large\n" + b"#" * (addresses.LARGEST + 9))
    assert "memory://yard/large.yaml" in run("inspect", "memory://yard", *_DAY, "--format", "lines").out
    with zipfile.ZipFile(archive, "a") as file:
        file.writestr("../../out.yaml", HELD)
    ran = run("inspect", f"zip://::{archive}", *_DAY)
    assert ran.code == 2 and "would lie outside" in ran.err


def test_without_the_library_it_is_said_what_to_install(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "fsspec.core", None)
    assert "rigcheck[remote]" in run("inspect", "memory://yard", *_DAY).err


def test_a_file_of_that_name_is_read_as_a_file(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "a::b.yaml").write_text(HELD)
    assert run("inspect", "a::b.yaml", *_DAY).code == 1


def test_a_log_has_the_address_of_each_file(run: Run, store: Any) -> None:
    told = json.loads(run("inspect", "memory://yard", *_DAY, "--format", "sarif").out)
    places = [one["locations"][0]["physicalLocation"]["artifactLocation"] for one in told["runs"][0]["results"]]
    assert {"uri": "memory://yard/plate-shop-2.yaml"} in places and "rigcheck-fetched" not in json.dumps(told)


# --- archives that mean ill ---


def _zip(path: Path, *items: tuple[str, bytes]) -> str:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as file:
        for name, data in items:
            file.writestr(name, data)
    return f"zip://::{path}"


_ILL = {
    "leads out": ([("a.yaml", HELD.encode()), ("../evil.yaml", b"")], "would lie outside"),
    "leads out on another system": ([("a.yaml", b""), ("b/..\\..\\evil.yaml", b"")], "would lie outside"),
    "a file and a folder of one name": ([("a.yaml", b""), ("a.yaml/b.yaml", b"")], "cannot be read: "),
    "a name that no disk takes": ([("x" * 300 + ".yaml", b"")], "cannot be read: File name too long."),
    "very much of very little": ([(f"{n}.yaml", b"#" * 1_000_000) for n in range(70)], "unpacks to more than 100"),
}


@pytest.mark.parametrize("name", _ILL)
def test_an_archive_that_means_ill_is_refused_in_a_line_and_leaves_nothing(
    name: str, run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "temporary").mkdir()
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path / "temporary"))
    items, told = _ILL[name]
    ran = run("inspect", _zip(tmp_path / "ill.zip", *items), *_DAY)
    addresses._folders.clear()
    assert ran.code == 2 and told in ran.err and ran.err.count("\n") == 1
    assert list((tmp_path / "temporary").iterdir()) == []
    assert not list(tmp_path.rglob("evil*"))


@pytest.mark.filterwarnings("ignore:Duplicate name")
def test_an_archive_with_two_files_of_one_name_is_refused(run: Run, tmp_path: Path) -> None:
    twice = _zip(tmp_path / "twice.zip", ("a.yaml", HELD.encode()), ("a.yaml", b"rig: another\n"))
    ran = run("inspect", twice, *_DAY)
    assert ran.code == 2 and "the archive has a.yaml twice" in ran.err


def test_names_in_an_archive_are_shown_letter_by_letter(run: Run, tmp_path: Path) -> None:
    ran = run("inspect", _zip(tmp_path / "odd.zip", ("a\x1b[31m\n::error::\u202e.yaml", HELD.encode())), *_DAY)
    assert ran.code == 1 and "[U+001B]" in ran.out and "\x1b" not in ran.out and "\u202e" not in ran.out


_SET = "rig: gate repair\nlines: [{gas: oxygen, parts: [cylinder, regulator, hose]}]\ntorch: {form: cutting}\n"
_DONE = "record: start-up\nrig: RIG\ndone: 2026-11-25\nby: user\nsteps: [look_the_rig_over]\n"


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("a.yaml", "rig: a\nstandard_rig: HERE\n"),
        ("a.yaml", f"register: HERE\n{_SET}hose_pair: {{tag: H-1}}\n"),
        ("a.yaml", f"{_SET}stands_at: HERE\n"),
        ("a.yaml", _DONE.replace("RIG", "HERE")),
        ("a.yaml", "look: HERE\nday: 2026-11-25\nby: fitter\nseen: []\n"),
        (".rigcheck.yaml", "register: HERE\n"),
    ],
    ids=["standard rig", "register", "site", "record", "look", "settings"],
)
def test_what_was_fetched_names_no_file_of_this_machine(name: str, text: str, run: Run, tmp_path: Path) -> None:
    here = tmp_path / "outside.yaml"
    here.write_text(_SET.replace("gate repair", "not to be told"))
    with zipfile.ZipFile(tmp_path / "r.zip", "w") as file:
        file.writestr("rig.yaml", _SET.replace("hose]", "hose: {tag: H-1}]"))
        file.writestr(name, text.replace("HERE", str(here)))
    ran = run("inspect", f"zip://::{tmp_path / 'r.zip'}", *_DAY, "--format", "json")
    told = "it would lie outside of what the address names" in ran.out or "There is no rig ''" in ran.out
    assert ran.code in (2, 3) and told and "not to be told" not in ran.out


def test_a_record_and_a_standard_rig_of_an_archive_are_found_and_called_by_their_address(
    run: Run, tmp_path: Path
) -> None:
    with zipfile.ZipFile(tmp_path / "r.zip", "w") as file:
        file.writestr("sets/std.yaml", _SET)
        file.writestr("rigs/rig.yaml", "rig: gate\nstandard_rig: ../sets/std.yaml\n")
        file.writestr("rigs/record.yaml", _DONE.replace("RIG", "rig.yaml"))
    ran = run("inspect", f"zip://::{tmp_path / 'r.zip'}", *_DAY, "--format", "json")
    assert ran.code == 1 and "fetched" not in ran.out
