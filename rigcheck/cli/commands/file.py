"""`rigcheck file`: the commissioning file of one rig, as one HTML page."""

from __future__ import annotations

import hashlib
import os
from argparse import Namespace

from rigcheck.cli.console import ProblemFound
from rigcheck.cli.endings import form_for
from rigcheck.cli.exit_codes import told_unread
from rigcheck.cli.inputs import as_refused, rig_bytes, shown_name
from rigcheck.cli.output import hand_over, keep_others
from rigcheck.cli.pack_option import chosen_day, chosen_pack
from rigcheck.cli.rig_input import without_folders
from rigcheck.cli.site_input import read_rig
from rigcheck.report.html.file_page import file_page
from rigcheck.report.html.heads import FILE_HEAD
from rigcheck.rig.concessions import load_beside
from rigcheck.rig.thing import Rig
from rigcheck.rules.pack import Pack
from rigcheck.tasks.commissioning_file import Origin, compile_file

__all__ = ["run"]


def run(parsed: Namespace) -> int:
    """Make the file of one rig; return 0, whatever was found, or 2 where the rig was read in part.

    Raises `Refused` or `ProblemFound`."""
    keep_others(parsed.output, [parsed.rig, *filter(None, [parsed.concessions])], (FILE_HEAD,))
    form_for(parsed.output, None, ("html",))
    pack = chosen_pack(parsed)
    rig, origins = _read(parsed, pack)
    code = told_unread(rig.unread)
    file = compile_file(
        rig,
        pack,
        day=chosen_day(parsed),
        local_code=parsed.local_code or "",
        hold_at=parsed.hold_at,
        origins=origins,
    )
    hand_over(parsed.output, lambda: [file_page(file, working=not parsed.without_working)])
    return code


def _read(parsed: Namespace, pack: Pack) -> tuple[Rig, list[Origin]]:
    if parsed.rig == "-" and parsed.concessions == "-":
        raise ProblemFound("the rig and the concessions cannot both be standard input; name a file for one of them.")
    data, name = _bytes(parsed.rig), shown_name(parsed.rig)
    with as_refused(parsed.rig):
        rig = read_rig(data, parsed.rig, pack, parsed.register or "", day=chosen_day(parsed))
    origins = [_origin("rig", name, data)]
    if parsed.concessions:
        data, name = _bytes(parsed.concessions), shown_name(parsed.concessions)
        rig = load_beside(data, name, pack.vocabulary).given_to(rig)
        origins.append(_origin("concessions", name, data))
    return without_folders(rig), origins


def _bytes(name: str) -> bytes:
    with as_refused(name):
        return rig_bytes(name)


def _origin(what: str, name: str, data: bytes) -> Origin:
    return Origin(what, os.path.basename(name), hashlib.sha256(data).hexdigest())
