"""A draft takes its place whole, whether the system knows files without a name or not."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest

from rigcheck.cli import draft
from rigcheck.cli.console import ProblemFound


@pytest.fixture(params=["nameless", "named"])
def drafts(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    if request.param == "named":  # a file system without files that have no name, as FAT
        monkeypatch.setattr(draft, "_nameless", lambda folder: None)
    return str(request.param)


def test_a_draft_takes_the_place_of_a_file_and_keeps_its_mode(drafts: str, tmp_path: Path) -> None:
    report = tmp_path / "report.txt"
    report.write_text("old")
    report.chmod(0o640)
    with draft.whole_file(report) as write:
        write("new é")
        assert (report.read_text(), len(os.listdir(tmp_path))) == ("old", 1 if drafts == "nameless" else 2)
    assert (report.read_text(encoding="utf-8"), stat.S_IMODE(report.stat().st_mode)) == ("new é", 0o640)
    assert os.listdir(tmp_path) == ["report.txt"]


def test_a_draft_that_is_broken_off_leaves_what_was_there(drafts: str, tmp_path: Path) -> None:
    report = tmp_path / "report.txt"
    report.write_text("old")
    with pytest.raises(ZeroDivisionError), draft.whole_file(report) as write:
        write(str(1 // 0))
    assert (report.read_text(), os.listdir(tmp_path)) == ("old", ["report.txt"])


def test_a_new_file_has_the_mode_of_new_files_and_takes_no_place_that_is_taken(drafts: str, tmp_path: Path) -> None:
    made = tmp_path / "new.yaml"
    draft.new_file(made, b"rig: a\n")
    with pytest.raises(ProblemFound, match=r"new.yaml is there already"):
        draft.new_file(made, b"rig: b\n")
    (tmp_path / "plain").touch()
    assert (made.read_bytes(), made.stat().st_mode) == (b"rig: a\n", (tmp_path / "plain").stat().st_mode)
    assert sorted(os.listdir(tmp_path)) == ["new.yaml", "plain"]


def test_a_place_that_is_taken_while_a_new_file_is_drafted_is_left_alone(
    drafts: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    made = tmp_path / "new.yaml"
    monkeypatch.setattr(draft, "_umask", lambda: made.write_text("another's") and 0o022)
    with pytest.raises(ProblemFound, match=r"new.yaml is there already"):
        draft.new_file(made, b"rig: a\n")
    assert (made.read_text(), os.listdir(tmp_path)) == ("another's", ["new.yaml"])


def test_a_new_file_finds_its_place_by_two_moves_on_a_file_system_without_links(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As on FAT: the name is taken first, so that what stands there is never touched, and then filled."""
    monkeypatch.setattr(draft, "_nameless", lambda folder: None)
    moved, plain = [], os.replace

    def no_link(*given: object, **more: object) -> None:
        raise PermissionError(1, "Operation not permitted")

    def replaced(one: Path, other: Path) -> None:
        moved.append(other.read_bytes())
        plain(one, other)

    monkeypatch.setattr(os, "link", no_link)
    monkeypatch.setattr(os, "replace", replaced)
    made = tmp_path / "new.yaml"
    draft.new_file(made, b"rig: a\n")
    with pytest.raises(ProblemFound, match=r"new.yaml is there already"):
        draft.new_file(made, b"rig: b\n")
    assert (made.read_bytes(), moved, os.listdir(tmp_path)) == (b"rig: a\n", [b""], ["new.yaml"])
    monkeypatch.setattr(draft, "_umask", lambda: (tmp_path / "late.yaml").write_text("another's") and 0o022)
    with pytest.raises(ProblemFound, match=r"late.yaml is there already"):
        draft.new_file(tmp_path / "late.yaml", b"rig: c\n")
    assert (tmp_path / "late.yaml").read_text() == "another's"


def test_what_killed_processes_left_of_drafts_is_taken_away_and_nothing_else(drafts: str, tmp_path: Path) -> None:
    left = {name: tmp_path / name for name in (".a.txt.0123456789ab", ".a.txt.0123456789ac", ".b.txt.0123456789ab")}
    for path in left.values():
        path.write_text("half")
        os.utime(path, (0, 0))
    (tmp_path / ".a.txt.0123456789ad").write_text("begun just now")
    with open(left[".a.txt.0123456789ac"], encoding="utf-8") as writes:
        assert draft.lock(writes.fileno())
        draft.new_file(tmp_path / "a.txt", b"whole")
    assert sorted(os.listdir(tmp_path)) == [
        ".a.txt.0123456789ac",
        ".a.txt.0123456789ad",
        ".b.txt.0123456789ab",
        "a.txt",
    ]
