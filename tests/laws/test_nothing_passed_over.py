"""No file is passed over unseen: it is read, or it is told that it was not, with an exit code that is not 0."""

from __future__ import annotations

import ast
import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from support.one_pack import with_one_pack

import rigcheck
from rigcheck.cli.main import main
from rigcheck.rules.pack import Pack

_PACKAGE = Path(rigcheck.__file__).parent
_RIG = """\
rig: {name}
inspected: 2026-11-25
trolley: {{tilt: 30 deg}}
lines:
  - {{gas: acetylene, parts: [cylinder: {{retest_until: 2001-01}}, regulator]}}
torch: {{}}
"""
_RULE = "claim: x\nsignal: danger\n"


@pytest.fixture(autouse=True)
def _one_pack(pack: Pack, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    with_one_pack(pack, monkeypatch)
    monkeypatch.chdir(tmp_path)


def _told(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str]:
    code = main(arguments)
    told = capsys.readouterr()
    return code, " ".join((told.out + told.err).split())


def _write(path: str, text: str) -> None:
    Path(path).parent.mkdir(parents=True, exist_ok=True)
    Path(path).write_text(text, encoding="utf-8")


# --- rigs in a folder ---


@pytest.mark.parametrize("ending", ["yaml", "yml", "YAML", "Yml"])
def test_a_rig_is_read_however_its_ending_is_written(ending: str, capsys: pytest.CaptureFixture[str]) -> None:
    _write(f"rigs/below/one.{ending}", _RIG.format(name="Yard"))
    code, told = _told(capsys, "inspect", "rigs", "--day", "2026-11-25")
    assert code == 1 and "Yard" in told


def test_a_linked_folder_is_walked_once_and_a_circle_ends(capsys: pytest.CaptureFixture[str]) -> None:
    _write("elsewhere/one.yaml", _RIG.format(name="Elsewhere"))
    _write("rigs/two.yaml", _RIG.format(name="Here"))
    Path("rigs/linked").symlink_to("../elsewhere")
    Path("elsewhere/back").symlink_to("../rigs")
    code, told = _told(capsys, "inspect", "rigs", "--day", "2026-11-25")
    assert code == 1 and "2 files: 2 on hold" in told


@pytest.mark.parametrize("command", ["inspect", "due", "summary"])
def test_a_folder_that_cannot_be_listed_is_told(
    command: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    _write("rigs/one.yaml", _RIG.format(name="Yard"))
    _write("rigs/shut/two.yaml", _RIG.format(name="Shut"))
    _shut(monkeypatch, "rigs/shut")
    code, told = _told(capsys, command, "rigs")
    assert code == 3 and "rigs/shut" in told and "Yard" in told  # held, and not all was read


def _shut(patch: pytest.MonkeyPatch, folder: str) -> None:
    """Close a folder to everybody, even where the tests run as somebody who may do all."""
    scandir = os.scandir

    def closed(path: Any = ".") -> Any:
        if os.fspath(path) == folder:
            raise PermissionError(13, "Permission denied", folder)
        return scandir(path)

    patch.setattr(os, "scandir", closed)


@pytest.mark.parametrize("folder", ["rigs/looks", "rigs"])
def test_looks_that_cannot_be_seen_are_told(
    folder: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    _write("rigs/one.yaml", _RIG.format(name="Yard"))
    Path("rigs/looks").mkdir()
    _shut(monkeypatch, folder)
    listdir = os.listdir
    monkeypatch.setattr(os, "listdir", lambda path=".": [one.name for one in os.scandir(path)] or listdir(path))
    code, told = _told(capsys, "figures", "rigs/one.yaml")
    assert code == 2 and f"{folder} cannot be read" in told


@pytest.mark.parametrize("name", ["one-look-2026-11-24.yaml", ".rigcheck.yaml"])
def test_a_link_that_leads_to_no_look_and_to_no_settings_is_told(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    _write("one.yaml", _RIG.format(name="Yard"))
    Path(name).symlink_to("gone.yaml")
    code, told = _told(capsys, "inspect", "one.yaml", "--day", "2026-11-25")
    assert code == 2 and f"{name}cannotberead:Nosuchfileordirectory" in "".join(told.split())  # a long path is broken


def test_settings_that_are_no_file_are_told(capsys: pytest.CaptureFixture[str]) -> None:
    _write("one.yaml", _RIG.format(name="Yard"))
    os.mkfifo(".rigcheck.yaml")
    code, told = _told(capsys, "inspect", "one.yaml", "--day", "2026-11-25")
    assert code == 2 and "it is a pipe, not a file" in told


def test_tables_with_files_that_were_not_read_are_not_made_without_a_word(capsys: pytest.CaptureFixture[str]) -> None:
    _write("one.yaml", "rig: [\n")
    code, told = _told(capsys, "rows", "one.yaml", "--output", "tables", "--day", "2026-11-25")
    assert code == 2 and told == "rigcheck: 1 file not read, or only in part; the table 'unread' says why."


@pytest.mark.parametrize("text", ["record: [[[ no YAML", "record: start-up\nrig: x.yaml\n", "record: start-up\n"])
def test_what_claims_to_be_a_record_is_read_before_due_leaves_it_out(
    text: str, capsys: pytest.CaptureFixture[str]
) -> None:
    _write("one.yaml", text)
    code, told = _told(capsys, "due", "one.yaml")
    assert code == 2 and "one.yaml:" in told


def test_a_name_over_several_lines_makes_no_rig_a_record(capsys: pytest.CaptureFixture[str]) -> None:
    _write("one.yaml", _RIG.format(name='"yard\n\n  record: two"'))
    assert _told(capsys, "due", "one.yaml", "--day", "2026-11-25")[0] == 1
    _write("two.yaml", _RIG.format(name='"yard\nrecord: two"').replace("\nrecord", "\n\nrecord"))
    assert _told(capsys, "due", "two.yaml", "--day", "2026-11-25")[0] in (1, 2)


# --- rules ---


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("our_rule.yaml", "No rule lies at the top"),
        ("our_rule.yml", "ends in .yaml"),
        ("hoses/x.yml", "Call it x.yaml"),
        ("hoses/x.YAML", "Call it x.yaml"),
        ("limits/general.yml", "Call it general.yaml"),
        ("", "holds no file"),
    ],
)
def test_a_file_of_rules_that_nothing_would_read_is_refused(
    name: str, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    _write("one.yaml", _RIG.format(name="Yard"))
    Path("own").mkdir()
    if name:
        _write(f"own/{name}", _RULE)
    code, told = _told(capsys, "inspect", "one.yaml", "--rules", "own")
    assert code == 2 and said in told


def test_a_folder_without_a_name_is_no_folder(capsys: pytest.CaptureFixture[str]) -> None:
    code, told = _told(capsys, "rules", "list", "--rules", "")
    assert code == 2 and "empty" in told


# --- what is no file ---


def _pipes_and_devices() -> Iterator[str]:
    yield "pipe"
    if Path("/dev/zero").exists():
        yield "device"


@pytest.mark.parametrize("kind", list(_pipes_and_devices()))
@pytest.mark.parametrize(
    "arguments",
    [
        ("inspect", "odd.yaml"),
        ("inspect", "."),
        ("figures", "odd.yaml"),
        ("sheet", "odd.yaml", "start-up"),
        ("compare", "one.yaml", "odd.yaml"),
        ("due", "odd.yaml"),
        ("summary", "odd.yaml"),
        ("summary", "one.yaml", "--against", "odd.yaml"),
        ("inspect", "one.yaml", "--concessions", "odd.yaml"),
        ("inspect", "one.yaml", "--register", "odd.yaml"),
        ("inspect", "one.yaml", "--rules", "own"),
        ("inspect", "record.yaml"),
        ("inspect", "begun.yaml"),
        ("inspect", "standing.yaml"),
        ("schema", "rig", "--output", "odd.yaml"),
        ("register", "read", "odd.yaml", "new.yaml"),
        ("register", "write", "odd.yaml", "new.csv"),
        ("history", "odd.yaml"),
        ("draw", "odd.yaml"),
        ("file", "odd.yaml"),
        ("new", "record", "odd.yaml", "start-up", "new.yaml"),
        ("ask", "one.yaml", "--by", "user", "--register", "odd.yaml"),
    ],
    ids=" ".join,
)
def test_a_pipe_or_a_device_is_told_and_never_waited_for(
    kind: str, arguments: tuple[str, ...], capsys: pytest.CaptureFixture[str]
) -> None:
    _write("one.yaml", _RIG.format(name="Yard"))
    _write("record.yaml", "record: start-up\nrig: odd.yaml\ndone: 2026-11-25\nby: user\nsteps: [look_the_rig_over]\n")
    _write("begun.yaml", "standard_rig: odd.yaml\n" + _RIG.format(name="Begun"))
    _write("standing.yaml", "stands_at: odd.yaml\n" + _RIG.format(name="Standing"))
    Path("own/hoses").mkdir(parents=True)
    for place in ("odd.yaml", "own/hoses/odd.yaml"):
        if kind == "pipe":
            os.mkfifo(place)
        else:
            Path(place).symlink_to("/dev/zero")
    code, told = _told(capsys, *arguments)
    assert code == (3 if "on hold" in told else 2)  # the rig beside it is judged all the same
    assert "odd.yaml" in told


@pytest.mark.parametrize("kind", list(_pipes_and_devices()))
@pytest.mark.parametrize("command", ["inspect", "figures", "due", "history", "file", "summary"])
@pytest.mark.parametrize("place", ["one-look-2026-11-24.yaml", "looks/one.yaml", ".rigcheck.yaml"])
def test_a_pipe_or_a_device_where_looks_and_settings_lie_is_told(
    place: str, command: str, kind: str, capsys: pytest.CaptureFixture[str]
) -> None:
    _write("one.yaml", _RIG.format(name="Yard"))
    Path("looks").mkdir()
    if kind == "pipe":
        os.mkfifo(place)
    else:
        Path(place).symlink_to("/dev/zero")
    code, told = _told(capsys, command, "one.yaml", "--day", "2026-11-25")
    assert code == 2 and f"{place}cannotberead:itisa{kind},notafile" in "".join(told.split())


_SHIPS = {"cli/commands/new.py", "rules/cases.py", "rules/load.py", "rules/topics.py"}
_WRITES = {"cli/addresses.py", "cli/draft.py", "cli/entry.py", "cli/parquet_folder.py"}


def test_what_somebody_names_is_opened_in_one_place_that_knows_pipes_and_devices() -> None:
    opening = {
        path.relative_to(_PACKAGE).as_posix()
        for room in ("asking", "cli", "procedure", "rig", "rules", "tasks", "text")
        for path in (_PACKAGE / room).rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call) and _opens(node.func)
    }
    assert opening == {"text/source_file.py", *_SHIPS, *_WRITES}


def _opens(func: ast.expr) -> bool:
    if isinstance(func, ast.Attribute):
        of_system = isinstance(func.value, ast.Name) and func.value.id == "os"  # opens no file to read it
        return func.attr in ("read_bytes", "read_text", "open") and not of_system
    return isinstance(func, ast.Name) and func.id == "open"


# --- what is read in part ---


@pytest.mark.parametrize("form", ["text", "json", "markdown"])
def test_a_summary_tells_what_of_a_rig_was_not_read(form: str, capsys: pytest.CaptureFixture[str]) -> None:
    _write("rigs/one.yaml", _RIG.format(name="Yard"))
    _write("rigs/two.yaml", _RIG.format(name="Part").replace("30 deg", "30 miles"))
    code, told = _told(capsys, "summary", "rigs", "--day", "2026-11-25", "--format", form)
    assert code == 3
    assert "30 miles" in told and "two.yaml" in told
    assert {"text": "1 judged without what could not be read", "json": '"read_in_part"', "markdown": "## Read in part"}[
        form
    ] in told
