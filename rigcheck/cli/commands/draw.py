"""`rigcheck draw`: the drawing of one rig with its findings, as SVG."""

from __future__ import annotations

from argparse import Namespace

from rigcheck.cli.endings import form_for
from rigcheck.cli.exit_codes import told_unread
from rigcheck.cli.output import hand_over, keep_others
from rigcheck.cli.pack_option import chosen_day, chosen_pack
from rigcheck.cli.rig_input import handed_rig
from rigcheck.judge.inspection import explain
from rigcheck.judge.judged import judge
from rigcheck.report.drawing.drawing import DRAWING_HEAD, drawing_document

__all__ = ["run"]


def run(parsed: Namespace) -> int:
    """Draw one rig; return 0, or 2 where the rig was read in part. Raises `Refused` or `ProblemFound`."""
    keep_others(parsed.output, [parsed.rig, *filter(None, [parsed.concessions])], (DRAWING_HEAD,))
    form_for(parsed.output, None, ("svg",))
    pack = chosen_pack(parsed)
    rig = handed_rig(parsed.rig, pack, parsed.concessions, parsed.register)
    code = told_unread(rig.unread)
    judged = judge(rig, pack, day=chosen_day(parsed), local_code=parsed.local_code or "")
    inspection = explain(judged)
    state = inspection.state(parsed.hold_at)
    hand_over(parsed.output, lambda: [drawing_document(judged.known.filled, inspection, state)])
    return code
