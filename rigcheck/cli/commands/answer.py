"""`rigcheck answer`: what was filled in on a sheet of a walk and typed goes into a look beside the rig."""

from __future__ import annotations

import os
import sys
from argparse import Namespace
from collections.abc import Mapping
from pathlib import Path

from rigcheck.asking.answers import Answer
from rigcheck.asking.given_answers import given_answers
from rigcheck.asking.typed_sheet import TypedSheet, answers_of, read_sheet
from rigcheck.cli.console import Console
from rigcheck.cli.exit_codes import told_unread
from rigcheck.cli.inputs import as_refused, rig_bytes
from rigcheck.cli.pack_option import chosen_pack
from rigcheck.cli.site_input import read_rig
from rigcheck.cli.walk_on_disk import WalkOnDisk, look_for
from rigcheck.judge.inspection import explain
from rigcheck.quantity.wording import counted
from rigcheck.report.text.layout import wrapped
from rigcheck.report.text.overlay_lines import overlay_lines
from rigcheck.report.text.page_text import end_lines
from rigcheck.rig.look_file import read_look
from rigcheck.rig.thing import Rig
from rigcheck.rules.looks import looks_of
from rigcheck.rules.pack import Pack
from rigcheck.text.faults import Fault, Refused
from rigcheck.text.place import Place
from rigcheck.text.source_file import file_bytes

__all__ = ["run"]

_COLUMN = 12


def run(parsed: Namespace) -> int:
    """Take in a sheet; return 0, 1 where the rig is on hold with it, and 2 besides where it was read in part.

    Raises `Refused`, `ProblemFound`."""
    pack, console = chosen_pack(parsed), Console(sys.stdout)
    sheet = read_sheet(_bytes(parsed.sheet), parsed.sheet)
    _check_rig(sheet, parsed.rig)
    rig = read_rig(_bytes(parsed.rig), parsed.rig, pack, parsed.register or "")
    unread, looks = told_unread(rig.unread), looks_of(pack)
    answer, empty = answers_of(sheet, rig, looks)
    if not answer.values and not answer.cannot_tell:
        console.show(wrapped(f"All {counted(empty, 'row')} of {parsed.sheet} are empty: nothing is written.", 80))
        return unread
    look, _ = look_for(parsed.rig, sheet.day, sheet.by, pack)
    going = WalkOnDisk(
        parsed.rig,
        look,
        pack,
        sheet.day,
        purpose=parsed.purpose,
        local_code=parsed.local_code or "",
        register=parsed.register or "",
    )
    new = _not_there(answer, look, pack, rig)
    going.take_in(new)
    count = len(new.values) + len(new.cannot_tell)
    told = f"{counted(count, 'fact')} written in {look}; {counted(empty, 'row')} left empty."
    console.show(wrapped(told, console.width, style="head"))
    console.show(overlay_lines(pack.laid, console.width, _COLUMN))
    state = explain(going.judged).state(parsed.hold_at)
    console.show(end_lines(going.walk, looks, state, str(look), console.width))
    return (1 if state == "on hold" else 0) | unread


def _bytes(name: str) -> bytes:
    with as_refused(name):
        return rig_bytes(name)


def _check_rig(sheet: TypedSheet, rig: str) -> None:
    """Refuse a sheet that was made for another rig."""
    meant = os.path.join(os.path.dirname(sheet.file), sheet.rig)
    if os.path.realpath(meant) != os.path.realpath(rig):
        write = f"Write the path of {rig} there, seen from here, if it is meant."
        raise Refused([Fault(Place(sheet.file, 1, 1), f"This is a sheet for {sheet.rig}.", write)])


def _not_there(answer: Answer, look: Path, pack: Pack, rig: Rig) -> Answer:
    """Return of an answer what the look does not say already: a sheet that is taken in twice is written once."""
    before = read_look(file_bytes(look), str(look), pack.vocabulary)
    given: Mapping[tuple[str, str], list[object]] = given_answers(before, rig)  # type: ignore[assignment]
    said = {(one.thing, one.fact): one.because for one in before.cannot_tell}
    values = {key: value for key, value in answer.values.items() if given.get(key, [])[-1:] != [value]}
    return Answer(values, {key: why for key, why in answer.cannot_tell.items() if said.get(key) != why})
