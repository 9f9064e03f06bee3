"""`rigcheck history`: what was seen of one rig when, from looks and records, and which findings came and went."""

from __future__ import annotations

from argparse import Namespace
from functools import partial

from rigcheck.cli.endings import form_for
from rigcheck.cli.exit_codes import told_unread
from rigcheck.cli.inputs import as_refused, rig_bytes
from rigcheck.cli.options import DEPARTURE_FORMS
from rigcheck.cli.output import hand_over_form, keep_others
from rigcheck.cli.pack_option import chosen_day, chosen_pack
from rigcheck.cli.site_input import read_rig
from rigcheck.report.history.history_text import history_lines
from rigcheck.rules.pack import Pack
from rigcheck.tasks.history import History, history_of, sight_days
from rigcheck.text.faults import Fault

__all__ = ["run"]

_TEXT_HEAD = "rigcheck history\n"
_BEGINNINGS = (_TEXT_HEAD, '{\n "form": "rigcheck history')
"""How our own reports begin, as text and as JSON."""


def run(parsed: Namespace) -> int:
    """Tell the history of one rig; return 0. Raises `Refused` or `ProblemFound`."""
    keep_others(parsed.output, [parsed.rig], _BEGINNINGS)
    form = form_for(parsed.output, parsed.format, DEPARTURE_FORMS)
    pack = chosen_pack(parsed)
    with as_refused(parsed.rig):
        history, unread = _history(parsed, pack)
    code = told_unread(unread)
    forms = {"json": partial(_json, history, pack)}
    hand_over_form(parsed.output, form, _TEXT_HEAD, partial(history_lines, history), forms)
    return code


def _history(parsed: Namespace, pack: Pack) -> tuple[History, tuple[Fault, ...]]:
    """Return what was seen and found when, and what of it could not be read."""
    read = partial(read_rig, rig_bytes(parsed.rig), parsed.rig, pack, parsed.register or "")
    whole = read(until=chosen_day(parsed))
    until = ((day, read(until=day)) for day in sight_days(whole) if day <= chosen_day(parsed))
    told = history_of(until, pack, local_code=parsed.local_code or "")
    return told if told.days else History(whole.title, whole.file, (), pack.laid), whole.unread


def _json(history: History, pack: Pack) -> str:
    from rigcheck.report.json.history_json import history_report  # the text starts without it

    return history_report(history, pack.digest).model_dump_json(indent=1) + "\n"
