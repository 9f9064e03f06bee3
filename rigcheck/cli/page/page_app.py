"""The local page as one application: who is let in, then the pages of the walk."""

from __future__ import annotations

from collections.abc import Callable, Iterable

import segno
from markupsafe import Markup
from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response
from starlette.routing import Route
from starlette.types import ASGIApp

from rigcheck.cli.page.answer_form import form_of
from rigcheck.cli.page.begin_desk import BeginDesk
from rigcheck.cli.page.description_desk import DescriptionDesk
from rigcheck.cli.page.gate import Gate, Keys
from rigcheck.cli.page.handover_desk import HandoverDesk
from rigcheck.cli.page.photo_desk import PhotoDesk
from rigcheck.cli.page.round import Round
from rigcheck.cli.page.telling import framed, told_page
from rigcheck.cli.page.visit import Visit
from rigcheck.cli.page.walk_desk import WalkDesk
from rigcheck.cli.page.work_desk import WorkDesk
from rigcheck.report.html.page import page as page_of
from rigcheck.report.html.page import script_of, style_of

__all__ = ["page_app"]

_MOST_ROLE = 60


def page_app(
    round_: Round,
    keys: Keys[Visit],
    hosts: Iterable[str],
    address_of: Callable[[str], str],
    by: str = "",
    first: str = "/",
) -> ASGIApp:
    """Return the application; `address_of` makes the address that bears a key.

    `by`: a role to begin with; `first`: the page that is shown to whoever came in.
    """
    walk = WalkDesk(round_)
    door = _Door(round_, keys, walk, address_of, by, first)
    routes = [
        Route("/", door.home),
        Route("/enter", door.enter, methods=["POST"]),
        Route("/phone", door.phone, methods=["POST"]),
        Route("/style.css", door.style),
        Route("/script.js", door.script),
        *walk.routes(),
        *BeginDesk(round_).routes(),
        *WorkDesk(round_).routes(),
        *PhotoDesk(round_).routes(),
        *HandoverDesk(round_).routes(),
        *DescriptionDesk(round_).routes(),
    ]
    return Starlette(routes=routes, middleware=[Middleware(Gate, keys=keys, hosts=hosts)])


class _Door:
    """Where somebody comes in."""

    def __init__(
        self,
        round_: Round,
        keys: Keys[Visit],
        walk: WalkDesk,
        address_of: Callable[[str], str],
        by: str,
        first: str,
    ) -> None:
        self.round, self.keys, self.walk, self.address_of = round_, keys, walk, address_of
        self.by, self.first = by, first

    async def style(self, request: Request) -> Response:
        return Response(str(style_of("base", "asked")), media_type="text/css")

    async def script(self, request: Request) -> Response:
        return Response(script_of("asked"), media_type="text/javascript")

    async def home(self, request: Request) -> Response:
        """Ask who looks where a key is shown; else show the overview to whoever is in."""
        key = request.query_params.get("key", "")
        if key and self.keys.fits(key):  # not spent yet: what previews an address must not use it up
            return self._enter(key)
        if request.state.visitor is None:
            return self._shut()
        if key:
            return RedirectResponse("/", status_code=303)
        shown: Response = await self.walk.overview(request)
        return shown

    async def enter(self, request: Request) -> Response:
        """Let somebody in who has a key and says who looks."""
        form = await form_of(request)
        key, by = form.get("key", [""])[0], " ".join(form.get("by", [""])[0].split())
        if not self.keys.fits(key):
            return self._shut()
        if not by or not by.isprintable() or len(by) > _MOST_ROLE:
            return self._enter(key, "Write a role, as fitter.", 422)
        visit = Visit(self.round, by, only=self.round.only)
        entered = RedirectResponse(self.first, status_code=303)
        cookie = self.keys.let_in(key, visit)
        entered.set_cookie(self.keys.cookie, cookie, httponly=True, samesite="strict", path="/")
        return entered

    async def phone(self, request: Request) -> Response:
        """Show an address that lets one more browser in."""
        address = self.address_of(self.keys.new_key())
        told = "It lets one browser in, once, while the terminal serves this page."
        alone = "A phone cannot reach this: begin with --on-network for that." if "//127." in address else ""
        frame = framed(request.state.visitor, self.round)
        drawn = "" if alone else Markup(segno.make(address, error="m", micro=False).svg_inline(scale=6))  # noqa: S704
        return told_page(frame, "One more browser", address, told, *([alone] if alone else []), picture=drawn)

    def _enter(self, key: str, wrong: str = "", status: int = 200) -> Response:
        frame = framed(None, self.round)
        return HTMLResponse(page_of("enter.html", frame=frame, key=key, by=self.by, wrong=wrong), status_code=status)

    def _shut(self) -> Response:
        told = "Open the address that the terminal shows now; it has a key that was not used yet."
        return told_page(framed(None, self.round), "Not let in", told, status=403)
