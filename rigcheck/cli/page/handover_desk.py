"""What is handed on from the local page: the commissioning file, and what to do in an emergency."""

from __future__ import annotations

import hashlib
import os

from starlette.requests import Request
from starlette.responses import HTMLResponse, Response
from starlette.routing import Route

from rigcheck.cli.inputs import rig_bytes
from rigcheck.cli.page.round import Round
from rigcheck.cli.page.telling import framed, read_visit, telling
from rigcheck.cli.rig_input import without_folders
from rigcheck.judge.inspection import explain
from rigcheck.procedure.sheet import sheet_of
from rigcheck.report.html.file_page import file_page
from rigcheck.report.html.page import page as page_of
from rigcheck.report.html.sheet_page import step_rows
from rigcheck.rules.procedures import procedures_of
from rigcheck.tasks.commissioning_file import Origin, compile_file

__all__ = ["HandoverDesk"]

_FILE_POLICY = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"


class HandoverDesk:
    """The commissioning file and the sheets of emergencies."""

    def __init__(self, round_: Round) -> None:
        self.round = round_

    def routes(self) -> list[Route]:
        """Return what leads here."""
        return [Route("/file", self.file), Route("/emergency", self.emergency)]

    @telling
    async def file(self, request: Request) -> Response:
        """Show the commissioning file as it is now; it stands alone and bears its own style."""
        visit, one = read_visit(request), self.round
        origin = Origin("rig", os.path.basename(one.rig), hashlib.sha256(rig_bytes(one.rig)).hexdigest())
        rig = without_folders(visit.judged.rig)
        made = compile_file(
            rig, one.pack, day=one.day, local_code=one.local_code, hold_at=one.hold_at, origins=[origin]
        )
        return HTMLResponse(file_page(made), headers={"Content-Security-Policy": _FILE_POLICY})

    @telling
    async def emergency(self, request: Request) -> Response:
        """Show what to do now, for each emergency that there is with this rig."""
        visit = read_visit(request)
        inspection = explain(visit.judged)
        known = [one for one in procedures_of(self.round.pack).values() if one.emergency]
        sheets = [sheet_of(visit.judged, one, inspection) for one in known]
        told = [(sheet, list(step_rows(sheet))) for sheet in sheets if sheet.rows]
        return HTMLResponse(page_of("emergency.html", frame=framed(visit, self.round), sheets=told))
