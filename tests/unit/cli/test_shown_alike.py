"""A report says the same with and without colour, in any width, and in a pipe."""

from __future__ import annotations

import os
import pty
import re
import subprocess
import sys
from pathlib import Path

import pytest
from support.in_full import sites_in_full
from support.installed import as_installed

from .conftest import ROOT, Run

pytestmark = pytest.mark.crowd

_SITE = sites_in_full() / "slipway-ballast-tank.yaml"
_COMMANDS = {
    "inspect": ("inspect", _SITE, "--day", "2026-11-25"),
    "inspect two": ("inspect", _SITE.with_name("pipe-loft-brazing.yaml"), Path("nowhere.yaml"), "--day", "2026-11-25"),
    "list": ("rules", "list", "hoses/"),
    "show": ("rules", "show", "hoses/twin_hoses_part_freely"),
    "new": ("new",),
}
_CODES = re.compile(r"\x1b\[[0-9;]*[A-Za-z]|\x1b\]8;[^\x1b]*\x1b\\")


def _on_a_terminal(*arguments: object, columns: int) -> str:
    """Return what a command shows on a terminal."""
    parent, child = pty.openpty()
    environment = as_installed(TERM="xterm-256color", COLUMNS=str(columns))
    environment.pop("NO_COLOR", None)
    command = [sys.executable, "-m", "rigcheck", *map(str, arguments)]
    started = subprocess.Popen(command, stdout=child, stderr=child, stdin=subprocess.DEVNULL, env=environment, cwd=ROOT)
    os.close(child)
    parts: list[bytes] = []
    while True:
        try:
            part = os.read(parent, 65_536)
        except OSError:  # how a terminal says that the other end is closed
            break
        if not part:
            break
        parts.append(part)
    os.close(parent)
    started.wait(60)
    return b"".join(parts).decode()


_FIRST_SCREEN = re.compile(r"(State: [^;.]*[;.]).*?\n\s*\n", re.DOTALL)
"""How much of what was found stands on the first screen hangs on its width; all of it stands below."""


def _collapsed(text: str) -> str:
    return "".join(_FIRST_SCREEN.sub(r"\1\n", _CODES.sub("", text)).split())


@pytest.mark.parametrize("name", _COMMANDS)
def test_the_same_is_said_on_a_terminal_in_a_pipe_and_in_sixty_columns(name: str, apart: Run) -> None:
    piped = apart(*_COMMANDS[name]).out
    coloured = _on_a_terminal(*_COMMANDS[name], columns=100)
    narrow = apart(*_COMMANDS[name], COLUMNS="60").out
    forced = apart(*_COMMANDS[name], FORCE_COLOR="1").out
    assert "\x1b[" in coloured
    assert "\x1b" not in piped + narrow
    assert _collapsed(piped)
    assert _collapsed(coloured) == _collapsed(piped) == _collapsed(narrow) == _collapsed(forced)


def test_a_report_in_sixty_columns_keeps_to_them(apart: Run) -> None:
    lines = apart(*_COMMANDS["inspect"], COLUMNS="60").out.split("\n")
    assert max(map(len, lines)) <= 60
    assert len(lines) > 100


def test_no_colour_is_shown_where_the_user_wants_none() -> None:
    os.environ["NO_COLOR"] = "1"
    try:
        shown = apart_without_colour()
    finally:
        del os.environ["NO_COLOR"]
    assert not re.search(r"\x1b\[[0-9;]*3[0-9]", shown)


def apart_without_colour() -> str:
    """Return what a terminal shows to somebody who wants no colour."""
    parent, child = pty.openpty()
    environment = as_installed(TERM="xterm-256color", NO_COLOR="1")
    command = [sys.executable, "-m", "rigcheck", "rules", "show", "hoses/twin_hoses_part_freely"]
    subprocess.run(
        command, stdout=child, stderr=child, stdin=subprocess.DEVNULL, env=environment, cwd=ROOT, check=False
    )
    os.close(child)
    shown = os.read(parent, 65_536).decode()
    os.close(parent)
    return shown


@pytest.mark.parametrize("word", ["DANGER", "WARNING", "State: on hold"])
def test_what_colour_says_words_say_too(word: str, apart: Run) -> None:
    assert word in apart(*_COMMANDS["inspect"]).out
