"""`rigcheck sheet`: the sheet of a procedure for one rig, to be printed; `rigcheck new record`: its record."""

from __future__ import annotations

import os
import sys
from argparse import Namespace
from collections.abc import Callable, Iterator, Mapping
from functools import partial
from pathlib import Path

from rigcheck.cli.console import Console, ProblemFound, screen_width
from rigcheck.cli.endings import form_for
from rigcheck.cli.exit_codes import told_unread
from rigcheck.cli.options import SHEET_FORMS
from rigcheck.cli.output import hand_over_form, keep_others
from rigcheck.cli.pack_option import chosen_day, chosen_pack
from rigcheck.cli.rig_input import handed_rig
from rigcheck.procedure.sheet import Sheet, make_sheet
from rigcheck.procedure.skeleton import record_skeleton
from rigcheck.report.html.heads import SHEET_HEAD
from rigcheck.report.sheet.sheet_markdown import MARKDOWN_HEAD, sheet_markdown
from rigcheck.report.sheet.sheet_text import sheet_lines
from rigcheck.report.sheet.sheet_words import top_words
from rigcheck.report.text.layout import Line, labelled, wrapped
from rigcheck.report.text.overlay_lines import overlay_lines
from rigcheck.rules.overlay import overlay_words
from rigcheck.rules.pack import Pack
from rigcheck.rules.procedures import procedures_of
from rigcheck.rules.steps import Procedure
from rigcheck.text.faults import nearest_word
from rigcheck.text.harmless import visible

__all__ = ["blank_record", "named_procedure", "run"]

_TEXT_HEAD = "rigcheck sheet\n"
_BEGINNINGS = (_TEXT_HEAD, MARKDOWN_HEAD, SHEET_HEAD, '{\n "form": "rigcheck sheet')
"""How our own sheets begin, in each form."""


def run(parsed: Namespace) -> int:
    """Make the sheet of one rig, or list the procedures; return 0, or 2 where the rig was read in part.

    Raises `Refused` or `ProblemFound`."""
    pack = chosen_pack(parsed)
    if parsed.procedure is None:
        Console(sys.stdout).show(_listed(pack))
        return 0
    keep_others(parsed.output, [parsed.rig, *filter(None, [parsed.concessions])], _BEGINNINGS)
    form = form_for(parsed.output, parsed.format, SHEET_FORMS)
    sheet = _sheet(parsed, parsed.rig, parsed.procedure, pack)
    code = told_unread(sheet.unread)
    forms = {name: partial(make, sheet) for name, make in _FORMS.items()}
    hand_over_form(parsed.output, form, _TEXT_HEAD, partial(sheet_lines, sheet), forms)
    return code


def blank_record(parsed: Namespace, rig: str, procedure: str, file: Path) -> tuple[str, int]:
    """Return the text of a record to fill in, and 2 where the rig was read in part, else 0.

    `file` is where it will stand. Raises `Refused` or `ProblemFound`.
    """
    sheet = _sheet(parsed, rig, procedure, chosen_pack(parsed))
    path = Path(os.path.relpath(rig, file.parent)).as_posix()
    if visible(path) != path:
        raise ProblemFound(f"a record cannot name {visible(path)}; rename the file of the rig first.")
    text = record_skeleton(sheet, path, (*overlay_words(sheet.laid), *top_words(sheet)))
    return text, told_unread(sheet.unread)


def _sheet(parsed: Namespace, rig: str, procedure: str, pack: Pack) -> Sheet:
    chosen = named_procedure(procedure, pack)
    return make_sheet(
        handed_rig(
            rig, pack, getattr(parsed, "concessions", None), getattr(parsed, "register", None)
        ),  # a blank record shows no state
        chosen,
        pack,
        day=chosen_day(parsed),
        local_code=parsed.local_code or "",
        hold_at=parsed.hold_at or "warning",
    )


def named_procedure(name: str, pack: Pack) -> Procedure:
    """Return the procedure of a name. Raises `ProblemFound` where there is none of it."""
    known = procedures_of(pack)
    if name not in known:
        near = nearest_word(name, known)
        hint = f"Nearest: {near}." if near else f"There are: {', '.join(known)}."
        raise ProblemFound(f"no procedure is called {name!r}. {hint}")
    return known[name]


def _listed(pack: Pack) -> Iterator[Line]:
    width = screen_width()
    yield from overlay_lines(pack.laid, width, 12)
    yield from wrapped("Procedures:", width, style="head")
    for name, procedure in procedures_of(pack).items():
        yield from labelled(name, procedure.means, width, column=18)


def _html(sheet: Sheet) -> str:
    from rigcheck.report.html.sheet_page import sheet_page  # templates are slow to load

    return sheet_page(sheet)


def _json(sheet: Sheet) -> str:
    from rigcheck.report.json.sheet_json import sheet_json  # the other forms start without it

    return sheet_json(sheet)


_FORMS: Mapping[str, Callable[[Sheet], str]] = {"markdown": sheet_markdown, "html": _html, "json": _json}
