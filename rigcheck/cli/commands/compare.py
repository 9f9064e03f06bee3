"""`rigcheck compare`: how one description of a rig departs from another, as text or JSON."""

from __future__ import annotations

from argparse import Namespace
from functools import partial

from rigcheck.cli.console import ProblemFound
from rigcheck.cli.endings import form_for
from rigcheck.cli.exit_codes import told_unread
from rigcheck.cli.options import DEPARTURE_FORMS
from rigcheck.cli.output import hand_over_form, keep_others
from rigcheck.cli.pack_option import chosen_day, chosen_pack
from rigcheck.cli.rig_input import named_rig
from rigcheck.report.compare.departures_text import departure_lines
from rigcheck.rig.around import UnknownStandard
from rigcheck.rig.loader import load_rig
from rigcheck.rig.thing import Rig
from rigcheck.rules.pack import Pack
from rigcheck.rules.standard_rigs import standard_of
from rigcheck.tasks.comparison import compare_rigs
from rigcheck.tasks.departures import Comparison
from rigcheck.text.faults import Fault, Refused, shown_text

__all__ = ["run"]

_TEXT_HEAD = "rigcheck departures\n"
_BEGINNINGS = (_TEXT_HEAD, '{\n "form": "rigcheck departures')
"""How our own reports begin, as text and as JSON."""


def run(parsed: Namespace) -> int:
    """Compare two rigs; return 0 (the same) or 1 (they differ), and 2 besides where one was read in part.

    Raises `Refused` or `ProblemFound`."""
    names = [parsed.before, parsed.after] if parsed.before else [parsed.after]
    if names == ["-", "-"]:
        raise ProblemFound("only one of the two can be read from input; name a file for the other.")
    keep_others(parsed.output, names, _BEGINNINGS)
    form = form_for(parsed.output, parsed.format, DEPARTURE_FORMS)
    pack = chosen_pack(parsed)
    *earlier, after = _rigs(names, pack, parsed.register)
    before = earlier[0] if earlier else _standard(after, pack)
    unread = told_unread((*before.unread, *after.unread))
    code, day = parsed.local_code or "", chosen_day(parsed)
    comparison = compare_rigs(before, after, pack, day=day, local_code=code, as_standard=not earlier)
    forms = {"json": partial(_json, comparison)}
    hand_over_form(parsed.output, form, _TEXT_HEAD, partial(departure_lines, comparison), forms)
    return (0 if comparison.same else 1) | unread


def _standard(rig: Rig, pack: Pack) -> Rig:
    """Return the standard rig that a rig names. Raises `ProblemFound`, `Refused`."""
    begun = rig.begun_from
    if begun is None:
        raise ProblemFound(f"{rig.file} names no standard rig; write the file to compare it with before it.")
    try:
        data, file = standard_of(pack, rig.file)(begun.name)
    except (OSError, UnknownStandard):
        read, write = f"No standard rig is called {shown_text(begun.name)}.", "'rigcheck new' lists them."
        raise Refused([Fault(begun.place, read, write)]) from None
    return load_rig(data, file, pack.vocabulary)


def _rigs(names: list[str], pack: Pack, register: str | None) -> list[Rig]:
    """Return the rigs of files. Raises `Refused` with the faults of all."""
    rigs: list[Rig] = []
    faults: list[Fault] = []
    for name in names:
        try:
            rigs.append(named_rig(name, pack, register=register))
        except Refused as refused:
            faults += refused.faults
    if faults:
        raise Refused(faults)
    return rigs


def _json(comparison: Comparison) -> str:
    from rigcheck.report.json.departures_json import departures_report  # the text starts without it

    return departures_report(comparison).model_dump_json(indent=1) + "\n"
