"""`rigcheck ask`: what is still to be looked at round a rig is asked, and what was seen is written beside it."""

from __future__ import annotations

import os
import sys
from argparse import Namespace
from pathlib import Path

from rigcheck.cli.ask_terminal import Keyboard, Stopped, TerminalWalk, keyboard
from rigcheck.cli.console import Console, ProblemFound
from rigcheck.cli.new_rig import begin_rig
from rigcheck.cli.pack_option import chosen_day, chosen_pack
from rigcheck.cli.walk_on_disk import WalkOnDisk, look_for
from rigcheck.report.text.layout import wrapped

__all__ = ["run"]


def run(parsed: Namespace) -> int:
    """Ask on the terminal; return 0, or 1 where the rig is on hold at the end. Raises `Refused`, `ProblemFound`."""
    if parsed.rig == "-" or os.path.isdir(parsed.rig) or not parsed.rig.endswith((".yaml", ".yml")):
        raise ProblemFound(f"{parsed.rig} is no rig file; write its name, as my-rig.yaml.")
    pack, day, console, keys = chosen_pack(parsed), chosen_day(parsed), Console(sys.stdout), keyboard()
    look = None
    try:
        if not os.path.lexists(parsed.rig):
            begin_rig(Path(parsed.rig), pack, console, keys)
        by = parsed.by or _who(console, keys)
        look, was_there = look_for(parsed.rig, day, by, pack)
        going = WalkOnDisk(
            parsed.rig,
            look,
            pack,
            day,
            purpose=parsed.purpose,
            only=parsed.only,
            local_code=parsed.local_code or "",
            register=parsed.register or "",
        )
        told = f"{'Going on with' if was_there else 'Each answer is written at once in'} {look}."
        console.show(wrapped(told, console.width, style="quiet"))
        walk = TerminalWalk(going, console, keys, parsed.hold_at)
        walk.run()
    except (Stopped, EOFError, KeyboardInterrupt):
        if look is not None:
            told = f"Stopped. What was answered stands in {look}. To go on: rigcheck ask {parsed.rig} --by {by!r}"
            console.show([*wrapped("", console.width), *wrapped(told, console.width)])
        return 0
    return 1 if walk.end() == "on hold" else 0


def _who(console: Console, keys: Keyboard) -> str:
    """Return the role of whoever looks."""
    while True:
        console.show(wrapped("Who looks? Write a role, as fitter; no name.", console.width, style="head"))
        typed = " ".join(keys("> ", []).split())
        if typed and typed.isprintable():
            return typed
