"""The checkout holds what DEVELOPERS.md says, and nothing half done."""

from __future__ import annotations

import re
from fnmatch import fnmatch
from pathlib import Path

_ROOT = Path(__file__).parents[2]
_TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "rigcheck", "rules", "configs", "tests", "LICENSE"}
_LEFT_UNDONE = re.compile(
    r"\b(?:TO" r"DO|FIX" r"ME|XX" r"X)\b|\b(?:x" r"fail|importor" r"skip)\b|\.sk" r"ip\(|sk" r"ipif"
)
_OUTSIDE = re.compile(r"\.\./shared|\b(?:import|from) (?:urllib\.request|socket|http\.client|requests|pickle)\b")


def _ignored() -> list[str]:
    return [line.rstrip("/") for line in (_ROOT / ".gitignore").read_text().split() if line]


def _sources(*folders: str) -> list[Path]:
    found = [path for folder in folders for path in (_ROOT / folder).rglob("*.py")]
    return [path for path in sorted(found) if "shipped" not in path.parts]


def test_the_top_level_holds_exactly_what_the_owner_wants() -> None:
    names = {path.name for path in _ROOT.iterdir() if not path.name.startswith(".")}
    kept = {name for name in names if not any(fnmatch(name, pattern) for pattern in _ignored())}
    assert kept - {"PKG-INFO"} == _TOP  # an unpacked source archive has one


def test_the_developers_guide_names_that_top_level() -> None:
    line = next(li for li in (_ROOT / "DEVELOPERS.md").read_text().split("\n") if li.startswith("- Top level"))
    assert [name for name in sorted(_TOP - {"LICENSE"}) if name not in line] == []


def test_nothing_is_left_undone_or_passed_over() -> None:
    found = [
        f"{path.relative_to(_ROOT)}:{number}: {line}"
        for path in _sources("rigcheck", "tests")
        for number, line in enumerate(path.read_text(encoding="utf-8").split("\n"), start=1)
        if _LEFT_UNDONE.search(line)
    ]
    assert found == []


def test_no_module_needs_what_lies_outside_the_checkout_or_reaches_the_network() -> None:
    found = {
        str(path.relative_to(_ROOT)): names
        for path in _sources("rigcheck")
        if (names := _OUTSIDE.findall(path.read_text(encoding="utf-8")))
    }
    assert found == {"rigcheck/cli/page/serving.py": ["import socket"]}  # it listens, for the local page


def test_the_package_is_typed_for_those_who_import_it() -> None:
    assert (_ROOT / "rigcheck" / "py.typed").is_file()
