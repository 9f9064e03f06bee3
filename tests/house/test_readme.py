"""The README is true: every command in it is run, and gives what stands below it.

Commands are the lines that begin with `$ ` in a fenced block; they run one after the other in one
folder that holds a copy of the checkout's `configs` and `rules`, and the files that the README
shows ("This is `name`:" and a block). A line that is only `…` stands for lines that are left out.
Lines that install are tried by the continuous run, not here.
"""

from __future__ import annotations

import os
import re
import shlex
import shutil
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest
from support.installed import as_installed

from rigcheck.cli.arguments import build_parser

_ROOT = Path(__file__).parents[2]
_SHOWN_FILE = re.compile(r"This is `(?P<name>[\w.-]+)`[^\n]*\n\n```\w*\n(?P<text>.*?)```", re.DOTALL)
_NAMED = re.compile(r"`(rigcheck [^`]+)`|^(?:\$ |.*/)?(rigcheck [a-z]+ (?!\S*[.,] ).*)$", re.MULTILINE)
_PROSE = re.compile(r"^rigcheck inspects ")
_INSTALLING = re.compile(r"\b(?:pip|venv|git|activate|pytest|eval|\.ci/run)\b")


@dataclass(frozen=True)
class Example:
    """A command of the README and the lines that it must give."""

    line: int
    command: str
    wanted: tuple[str, ...]


def _examples(text: str) -> list[Example]:
    found: list[Example] = []
    inside, start, command, wanted = False, 0, "", []
    for number, line in enumerate([*text.split("\n"), "```"], start=1):
        fence = line.startswith("```")
        if (fence or line.startswith("$ ")) and command:
            found.append(Example(start, command, tuple(wanted)))
            command = ""
        if fence:
            inside = not inside
        elif inside and line.startswith("$ "):
            start, command, wanted = number, line[2:], []
        elif inside and command.endswith("\\"):
            command = command[:-1] + line.strip()
        elif command:
            wanted.append(line.rstrip())
    return found


@pytest.fixture(scope="module")
def readme() -> str:
    return (_ROOT / "README.md").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def examples(readme: str) -> list[Example]:
    return _examples(readme)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory, readme: str) -> Path:
    made = tmp_path_factory.mktemp("readme")
    for name in ("configs", "rules"):
        shutil.copytree(_ROOT / name, made / name)
    for shown in _SHOWN_FILE.finditer(readme):
        (made / shown["name"]).write_text(shown["text"], encoding="utf-8")
    (made / "bin").mkdir()
    command = made / "bin" / "rigcheck"
    command.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m rigcheck "$@"\n')
    command.chmod(0o755)
    return made


def _run(command: str, folder: Path) -> list[str]:
    path = os.pathsep.join([str(folder / "bin"), str(Path(sys.executable).parent), os.environ["PATH"]])
    environment = as_installed(PATH=path, COLUMNS="80")
    done = subprocess.run(
        ["bash", "-c", command], cwd=folder, env=environment, text=True, capture_output=True, timeout=120, check=False
    )
    return [line.rstrip() for line in (done.stdout + done.stderr).rstrip("\n").split("\n")]


def _fits(wanted: tuple[str, ...], got: list[str]) -> bool:
    """Whether the lines are the same, `…` standing for any lines."""
    if not wanted:
        return True
    pattern = "".join(r"(?:.*\n)*?" if line.strip() == "…" else re.escape(line) + "\n" for line in wanted)
    return re.fullmatch(pattern, "".join(f"{line}\n" for line in got)) is not None


def test_the_readme_shows_how_a_rig_is_inspected_and_begun(readme: str, examples: list[Example]) -> None:
    commands = [example.command for example in examples]
    assert "rigcheck inspect configs/sites/" in readme
    assert any(command.startswith("rigcheck inspect") for command in commands)
    assert any(command.startswith("rigcheck new ") for command in commands)


def test_every_command_that_the_readme_names_is_understood(readme: str) -> None:
    named = {found[1] or found[2] for found in _NAMED.finditer(readme)}
    commands = {command for command in named if not _PROSE.match(command)}
    assert len(commands) >= 5
    for command in commands:
        build_parser().parse_args(shlex.split(command.replace("DIR", "rules"))[1:])


@pytest.mark.crowd
def test_every_command_of_the_readme_gives_what_stands_below_it(examples: list[Example], folder: Path) -> None:
    wrong = []
    for example in examples:
        if _INSTALLING.search(example.command):
            continue
        got = _run(example.command, folder)
        while example.wanted and got and not example.wanted[-1] and got[-1]:
            example = Example(example.line, example.command, example.wanted[:-1])
        if not _fits(example.wanted, got):
            wrong.append(f"README.md:{example.line}: $ {example.command}\n" + "\n".join(got[:60]))
    assert not wrong, "\n\n".join(wrong)


def test_a_command_that_gives_something_else_is_noticed(folder: Path) -> None:
    (example,) = _examples("```\n$ rigcheck --version\nrigcheck 99.0\n```\n")
    assert not _fits(example.wanted, _run(example.command, folder))
    assert _fits(("…", "b", "…"), ["a", "b", "c"])
    assert not _fits(("…", "d", "…"), ["a", "b", "c"])
