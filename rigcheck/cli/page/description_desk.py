"""What was seen and lasts, written into the description on the page: the difference is shown before it is written."""

from __future__ import annotations

import os

from starlette.requests import Request
from starlette.responses import HTMLResponse, Response
from starlette.routing import Route

from rigcheck.cli.description_on_disk import DescriptionOnDisk, description_with_sights
from rigcheck.cli.evidence_input import forget_evidence
from rigcheck.cli.page.answer_form import form_of
from rigcheck.cli.page.round import Round
from rigcheck.cli.page.telling import framed, onward, read_visit, telling
from rigcheck.quantity.wording import counted
from rigcheck.report.html.page import page as page_of
from rigcheck.report.text.difference import difference

__all__ = ["DescriptionDesk"]


class DescriptionDesk:
    """Shows what the description would be, and writes it."""

    def __init__(self, round_: Round) -> None:
        self.round = round_

    def routes(self) -> list[Route]:
        """Return what leads here."""
        return [
            Route("/description", self.shown, methods=["GET"]),
            Route("/description", self.write, methods=["POST"]),
        ]

    @telling
    async def shown(self, request: Request) -> Response:
        """Show what would be written."""
        return self._shown(request, self._made(request))

    @telling
    async def write(self, request: Request) -> Response:
        """Write what was shown; where it would be something else now, that is shown."""
        form, made = await form_of(request), self._made(request)
        if form.get("digest", [""])[0] != made.digest:
            return self._shown(request, made, changed=True)
        made.write()
        forget_evidence(self.round.pack)
        visit = read_visit(request)
        visit.saved = f"Written into {os.path.basename(self.round.rig)}. The look stays beside it, as the witness."
        return onward("/")

    def _made(self, request: Request) -> DescriptionOnDisk:
        read_visit(request)  # looks that came since are read
        one = self.round
        return description_with_sights(
            one.rig, one.pack, one.day, register=one.register, local_code=one.local_code, purpose=one.purpose
        )

    def _shown(self, request: Request, made: DescriptionOnDisk, *, changed: bool = False) -> Response:
        text = page_of(
            "description.html",
            frame=framed(read_visit(request), self.round),
            file=os.path.basename(self.round.rig),
            facts=counted(made.facts, "fact") if made.facts else "",
            rows=list(difference(made.text, made.written.text)),
            otherwise=any(one.otherwise for one in made.written.sights),
            digest=made.digest,
            changed=changed,
        )
        return HTMLResponse(text, status_code=409 if changed else 200)
