"""`rigcheck draw`: the drawing of one rig with its findings, as SVG."""

from __future__ import annotations

import sys
from argparse import Namespace

from rigcheck.cli.console import write_whole
from rigcheck.cli.keeping import keep_others
from rigcheck.cli.packing import chosen_day, chosen_pack
from rigcheck.cli.rigs import named_rig
from rigcheck.inspection import inspect_rig
from rigcheck.report.drawing import DRAWING_HEAD, drawing_document

__all__ = ["run_draw"]


def run_draw(parsed: Namespace) -> int:
    """Draw one rig; return 0. Raises `Refused` or `ProblemFound`."""
    pack = chosen_pack(parsed)
    rig = named_rig(parsed.rig, pack)
    inspection = inspect_rig(rig, pack, day=chosen_day(parsed), local_code=parsed.local_code or "")
    drawn = drawing_document(rig, inspection)
    if parsed.output is None:
        sys.stdout.write(drawn)
        return 0
    keep_others(parsed.output, [parsed.rig], (DRAWING_HEAD,))
    write_whole(parsed.output, [drawn])
    return 0
