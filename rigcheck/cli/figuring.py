"""`rigcheck figures`: the calculation sheet of one rig, as text, JSON or plots."""

from __future__ import annotations

import sys
from argparse import Namespace
from collections.abc import Callable, Mapping

from rigcheck.calculation import Calculation, calculate_rig
from rigcheck.cli.console import Console, ProblemFound, screen_width, write_whole
from rigcheck.cli.gathering import rig_bytes, shown_name, unreadable
from rigcheck.cli.keeping import keep_others
from rigcheck.cli.packing import chosen_day, chosen_pack
from rigcheck.faults import Refused
from rigcheck.report.calculation import calculation_lines
from rigcheck.report.layout import plain_text
from rigcheck.rig.loader import load_rig

__all__ = ["run_figures"]

_TEXT_HEAD = "rigcheck figures\n"
_BEGINNINGS = (
    _TEXT_HEAD,
    '{\n "form": "rigcheck figures',
    '<?xml version="1.0" encoding="UTF-8"?>\n<!-- rigcheck figures',
)
"""How our own sheets begin, as text, as JSON and as SVG."""


def run_figures(parsed: Namespace) -> int:
    """Work out the figures of one rig; return 0. Raises `Refused` or `ProblemFound`."""
    form = _form(parsed)
    calculation = _calculation(parsed)
    if parsed.output is not None:
        keep_others(parsed.output, [parsed.rig], _BEGINNINGS)
        write_whole(parsed.output, [_FORMS[form](calculation)])
    elif form == "text":
        Console(sys.stdout).show(calculation_lines(calculation, screen_width()))
    else:
        sys.stdout.write(_FORMS[form](calculation))
    return 0


def _form(parsed: Namespace) -> str:
    drawn = parsed.output is not None and parsed.output.suffix.lower() == ".svg"
    if drawn and parsed.format not in (None, "svg"):
        raise ProblemFound(f"{parsed.output} would hold {parsed.format}; name it otherwise, or leave --format out.")
    return "svg" if drawn else parsed.format or "text"


def _calculation(parsed: Namespace) -> Calculation:
    pack = chosen_pack(parsed)
    try:
        rig = load_rig(rig_bytes(parsed.rig), shown_name(parsed.rig), pack.vocabulary)
    except OSError as error:
        raise Refused([unreadable(parsed.rig, error)]) from None
    return calculate_rig(rig, pack, day=chosen_day(parsed), local_code=parsed.local_code or "")


# The forms that a sheet can have; what only one of them needs is imported when it is made.


def _text(calculation: Calculation) -> str:
    return f"{_TEXT_HEAD}\n{plain_text(calculation_lines(calculation, 80))}"


def _json(calculation: Calculation) -> str:
    from rigcheck.report.figures import figures_report

    return figures_report(calculation).model_dump_json(indent=1) + "\n"


def _svg(calculation: Calculation) -> str:
    from rigcheck.report.plot import figures_plot

    return figures_plot(calculation)


_FORMS: Mapping[str, Callable[[Calculation], str]] = {"text": _text, "json": _json, "svg": _svg}
