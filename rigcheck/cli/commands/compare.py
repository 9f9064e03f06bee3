"""`rigcheck compare`: how one description of a rig departs from another, as text or JSON."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Callable, Mapping
from functools import partial

from rigcheck.cli.console import ProblemFound
from rigcheck.cli.output import hand_over, keep_others
from rigcheck.cli.pack_option import chosen_day, chosen_pack
from rigcheck.cli.rig_input import named_rig
from rigcheck.report.compare.departures_text import departure_lines
from rigcheck.report.text.layout import plain_text
from rigcheck.rig.thing import Rig
from rigcheck.rules.pack import Pack
from rigcheck.tasks.comparison import Comparison, compare_rigs
from rigcheck.text.faults import Fault, Refused

__all__ = ["run"]

_TEXT_HEAD = "rigcheck departures\n"
_BEGINNINGS = (_TEXT_HEAD, '{\n "form": "rigcheck departures')
"""How our own reports begin, as text and as JSON."""


def run(parsed: Namespace) -> int:
    """Compare two rigs; return 0 (the same) or 1 (they differ). Raises `Refused` or `ProblemFound`."""
    names = [parsed.before, parsed.after]
    if names == ["-", "-"]:
        raise ProblemFound("only one of the two can be read from input; name a file for the other.")
    if parsed.output is not None:
        keep_others(parsed.output, names, _BEGINNINGS)
    pack = chosen_pack(parsed)
    before, after = _both(names, pack, parsed.register)
    code = parsed.local_code or ""
    comparison = compare_rigs(before, after, pack, day=chosen_day(parsed), local_code=code)
    shown = partial(departure_lines, comparison) if parsed.format == "text" else None
    hand_over(parsed.output, lambda: [_FORMS[parsed.format](comparison)], shown)
    return 0 if comparison.same else 1


def _both(names: list[str], pack: Pack, register: str | None) -> list[Rig]:
    """Return both rigs. Raises `Refused` with the faults of both."""
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


def _text(comparison: Comparison) -> str:
    return f"{_TEXT_HEAD}\n{plain_text(departure_lines(comparison, 80))}"


def _json(comparison: Comparison) -> str:
    from rigcheck.report.json.departures_json import departures_report  # the text starts without it

    return departures_report(comparison).model_dump_json(indent=1) + "\n"


_FORMS: Mapping[str, Callable[[Comparison], str]] = {"text": _text, "json": _json}
