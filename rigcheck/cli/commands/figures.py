"""`rigcheck figures`: the calculation sheet of one rig, as text, JSON or plots."""

from __future__ import annotations

from argparse import Namespace
from functools import partial

from rigcheck.cli.endings import form_for
from rigcheck.cli.exit_codes import told_unread
from rigcheck.cli.options import FIGURE_FORMS
from rigcheck.cli.output import hand_over_form, keep_others
from rigcheck.cli.pack_option import chosen_day, chosen_pack
from rigcheck.cli.rig_input import handed_rig
from rigcheck.report.text.calculation_text import calculation_lines, deciding_lines
from rigcheck.tasks.calculation_sheet import Calculation, calculate_rig

__all__ = ["run"]

_TEXT_HEAD = "rigcheck figures\n"
_BEGINNINGS = (
    _TEXT_HEAD,
    '{\n "form": "rigcheck figures',
    '<?xml version="1.0" encoding="UTF-8"?>\n<!-- rigcheck figures',
)
"""How our own sheets begin, as text, as JSON and as SVG."""


def run(parsed: Namespace) -> int:
    """Work out the figures of one rig; return 0, or 2 where it was read in part. Raises `Refused`, `ProblemFound`."""
    keep_others(parsed.output, [parsed.rig], _BEGINNINGS)
    form = form_for(parsed.output, parsed.format, FIGURE_FORMS)
    calculation = _calculation(parsed)
    code = told_unread(calculation.rig.unread)
    lines = calculation_lines if parsed.all or not calculation.deciding else deciding_lines
    forms = {"json": partial(_json, calculation), "svg": partial(_svg, calculation)}
    hand_over_form(parsed.output, form, _TEXT_HEAD, partial(lines, calculation), forms)
    return code


def _calculation(parsed: Namespace) -> Calculation:
    pack = chosen_pack(parsed)
    return calculate_rig(
        handed_rig(parsed.rig, pack, register=parsed.register),
        pack,
        day=chosen_day(parsed),
        local_code=parsed.local_code or "",
    )


# The forms that a sheet can have; what only one of them needs is imported when it is made.


def _json(calculation: Calculation) -> str:
    from rigcheck.report.json.figures_json import figures_report

    return figures_report(calculation).model_dump_json(indent=1) + "\n"


def _svg(calculation: Calculation) -> str:
    from rigcheck.report.plot.plot_sheet import figures_plot

    return figures_plot(calculation)
