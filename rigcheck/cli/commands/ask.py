"""`rigcheck ask`: what is still to be looked at round a rig is asked, and what was seen is written beside it."""

from __future__ import annotations

import os
import shlex
import sys
from argparse import Namespace
from contextlib import suppress
from datetime import date
from pathlib import Path

from rigcheck.asking.answers import Told
from rigcheck.asking.state import walk_on
from rigcheck.cli.ask_terminal import Keyboard, Stopped, TerminalWalk, keyboard
from rigcheck.cli.commands.sheet import named_procedure
from rigcheck.cli.console import Console, ProblemFound
from rigcheck.cli.description_on_disk import description_with_sights
from rigcheck.cli.description_terminal import offer_description
from rigcheck.cli.draft import new_file
from rigcheck.cli.endings import form_for
from rigcheck.cli.exit_codes import told_unread
from rigcheck.cli.inputs import as_refused, rig_bytes
from rigcheck.cli.new_rig import begin_rig
from rigcheck.cli.output import hand_over, keep_others
from rigcheck.cli.pack_option import chosen_day, chosen_pack
from rigcheck.cli.page.round import Round
from rigcheck.cli.page.serving import HERE, network_address, qr_lines, serve
from rigcheck.cli.procedure_terminal import ProcedureTerminal
from rigcheck.cli.record_on_disk import RecordOnDisk
from rigcheck.cli.site_input import read_rig
from rigcheck.cli.walk_on_disk import WalkOnDisk, look_for
from rigcheck.judge.judged import judge
from rigcheck.report.html.heads import WALK_HEAD
from rigcheck.report.html.walk_page import walk_page
from rigcheck.report.text.layout import plain_text, wrapped
from rigcheck.report.text.overlay_lines import overlay_lines
from rigcheck.report.walk.walk_rows import walk_rows
from rigcheck.report.walk.walk_text import WALK_HEAD as WALK_TEXT
from rigcheck.report.walk.walk_text import walk_lines
from rigcheck.report.walk.walk_yaml import walk_yaml
from rigcheck.rules.looks import looks_of
from rigcheck.rules.pack import Pack

__all__ = ["run"]

_COLUMN = 12


def run(parsed: Namespace) -> int:
    """Ask on the terminal; return 0, 1 where the rig is on hold at the end, and 2 besides where it was read in part.

    Raises `Refused`, `ProblemFound`.
    """
    if parsed.rig == "-" or os.path.isdir(parsed.rig) or not parsed.rig.endswith((".yaml", ".yml")):
        raise ProblemFound(f"{parsed.rig} is no rig file; write its name, as my-rig.yaml.")
    if parsed.page or parsed.on_network:
        return _serve(parsed)
    if parsed.procedure is not None:
        return _procedure(parsed)
    if parsed.paper or parsed.output is not None:
        return _paper(parsed)
    pack, day, console, keys = chosen_pack(parsed), chosen_day(parsed), Console(sys.stdout), keyboard()
    console.show(overlay_lines(pack.laid, console.width, _COLUMN))
    if parsed.write:
        return _offer(parsed, pack, day, console, keys)
    look, unread = None, 0
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
        unread = told_unread(going.judged.rig.unread)
        walk = TerminalWalk(going, console, keys, parsed.hold_at)
        walk.run()
    except (Stopped, EOFError, KeyboardInterrupt):
        if look is not None:
            told = f"Stopped. What was answered stands in {look}. To go on: {_same_again(parsed, by)}"
            console.show([*wrapped("", console.width), *wrapped(told, console.width)])
        return unread
    state = walk.end()
    _offer(parsed, pack, day, console, keys)
    return (1 if state == "on hold" else 0) | unread


def _offer(parsed: Namespace, pack: Pack, day: int, console: Console, keys: Keyboard) -> int:
    """Offer to write what was seen into the description, where there is anything to write.

    Return 0, or 2 where the rig was read in part. Raises `ProblemFound`.
    """
    with as_refused(parsed.rig):
        made = description_with_sights(
            parsed.rig,
            pack,
            day,
            register=parsed.register or "",
            local_code=parsed.local_code or "",
            purpose=parsed.purpose,
        )
    if made.written.sights:
        offer_description(made, console, keys)
    elif parsed.write:
        console.show(wrapped(f"Nothing more is to be written into {parsed.rig}.", console.width))
    return told_unread(made.unread) if parsed.write else 0


def _same_again(parsed: Namespace, by: str) -> str:
    """Return the command that goes on with a walk."""
    words = ["rigcheck", "ask", parsed.rig, "--by", by]
    words += ["--only", parsed.only] if parsed.only else []
    words += ["--for", parsed.purpose] if parsed.purpose != "commissioning" else []
    words += ["--local-code", parsed.local_code] if parsed.local_code else []
    words += ["--register", parsed.register] if parsed.register else []
    words += ["--day", parsed.day.isoformat()] if parsed.day else []  # of another day it would be another look
    return shlex.join(words)


def _procedure(parsed: Namespace) -> int:
    """Have a procedure done by the hand. Raises `Refused`, `ProblemFound`."""
    if parsed.paper or parsed.output is not None or parsed.only:
        raise ProblemFound(f"a procedure on paper is its sheet: rigcheck sheet {parsed.rig} {parsed.procedure}")
    pack, console, keys = chosen_pack(parsed), Console(sys.stdout), keyboard()
    console.show(overlay_lines(pack.laid, console.width, _COLUMN))
    procedure = named_procedure(parsed.procedure, pack)
    try:
        by = parsed.by or _who(console, keys, "Who does it?")
    except (Stopped, EOFError, KeyboardInterrupt):
        return 0
    with as_refused(parsed.rig):
        going = RecordOnDisk(
            parsed.rig,
            procedure,
            pack,
            chosen_day(parsed),
            by,
            local_code=parsed.local_code or "",
            register=parsed.register or "",
        )
    unread = told_unread(going.judged.rig.unread)
    walk = ProcedureTerminal(going, console, keys, parsed.hold_at)
    if not walk.begin():
        return 1 | unread
    with suppress(Stopped, EOFError, KeyboardInterrupt):
        walk.run()
    return walk.end() | unread


def _who(console: Console, keys: Keyboard, ask: str = "Who looks?") -> str:
    """Return the role of whoever is asked."""
    while True:
        console.show(wrapped(f"{ask} Write a role, as fitter; no name.", console.width, style="head"))
        typed = " ".join(keys("> ", []).split())
        if typed and typed.isprintable():
            return typed


def _paper(parsed: Namespace) -> int:
    """Make a sheet of what is open; return 0, or 2 where the rig was read in part. Raises `Refused`, `ProblemFound`."""
    if not parsed.paper:
        raise ProblemFound("--output belongs to --paper; answers go into a look beside the rig.")
    form = form_for(parsed.output, None, ("text", "html", "yaml"))
    pack, day = chosen_pack(parsed), chosen_day(parsed)
    with as_refused(parsed.rig):
        rig = read_rig(rig_bytes(parsed.rig), parsed.rig, pack, parsed.register or "")
    judged = judge(rig, pack, day=day, local_code=parsed.local_code or "", purpose=parsed.purpose)
    unread = told_unread(rig.unread)
    rows = walk_rows(
        walk_on(judged, looks_of(pack), Told({}, {}), only=parsed.only).stops, daily=parsed.purpose == "use"
    )
    shown = date.fromordinal(day).isoformat()
    if parsed.output is not None:
        keep_others(parsed.output, [parsed.rig], (WALK_TEXT, WALK_HEAD))
    if form == "html":
        hand_over(parsed.output, lambda: [walk_page(rows, rig.title, shown, pack.digest, pack.laid)])
    elif form == "yaml":
        name = os.path.relpath(parsed.rig, parsed.output.parent)
        new_file(parsed.output, "".join(walk_yaml(rows, name, shown, parsed.by or "", pack.laid)).encode())
    else:
        text = f"{WALK_TEXT}\n{plain_text(walk_lines(rows, rig.title, shown, 80, pack.laid))}"
        hand_over(parsed.output, lambda: [text], lambda width: walk_lines(rows, rig.title, shown, width, pack.laid))
    return unread


def _serve(parsed: Namespace) -> int:
    """Serve the walk as a page until it is stopped. Raises `ProblemFound`."""
    console = Console(sys.stdout)
    round_ = Round(
        parsed.rig,
        chosen_pack(parsed),
        chosen_day(parsed),
        purpose=parsed.purpose,
        only=parsed.only,
        local_code=parsed.local_code or "",
        register=parsed.register or "",
        hold_at=parsed.hold_at,
    )

    address = network_address() if parsed.on_network else HERE

    def show(shown: str) -> None:
        where = "with a phone in the same network" if parsed.on_network else "on this machine"
        told = f"Open {shown} {where}. It lets one browser in. Ctrl-C ends it; what was answered is kept."
        console.write(f"{told}\n")
        if parsed.on_network:
            console.write(qr_lines(shown))
            console.write("What is sent is not encrypted: use a network that only your own people are in.\n")
        sys.stdout.flush()

    first = "/"
    if parsed.procedure is not None:
        procedure = named_procedure(parsed.procedure, round_.pack)
        first = "/emergency" if procedure.emergency else f"/work/{procedure.name}"
    serve(round_, show, by=parsed.by or "", first=first, address=address, port=parsed.port)
    return 0
