"""What the local page shows of a walk, and what it does with what is sent: overview, question, answers, back."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from markupsafe import Markup
from msgspec.structs import replace
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response
from starlette.routing import Route

from rigcheck.asking.page_name import is_said_already, page_named, read_page_name
from rigcheck.asking.walk import Page
from rigcheck.cli.page.answer_form import Form, answer_of, form_of
from rigcheck.cli.page.photo_desk import photos_of
from rigcheck.cli.page.round import Round
from rigcheck.cli.page.telling import framed, onward, read_visit, telling, visit_of
from rigcheck.cli.page.visit import Visit
from rigcheck.judge.inspection import explain
from rigcheck.report.drawing.drawing import drawing_element
from rigcheck.report.html.asked_page import asked_page
from rigcheck.report.html.overview_page import GivenPage, given_rows, overview_page
from rigcheck.report.html.page import page as page_of
from rigcheck.report.text.page_text import what_else
from rigcheck.rules.rule import SIGNALS

__all__ = ["WalkDesk"]

_AHEAD = 9  # pages that a browser may keep for when the connection is lost


class WalkDesk:
    """The pages of a walk."""

    def __init__(self, round_: Round) -> None:
        self.round = round_

    def routes(self) -> list[Route]:
        """Return what leads here."""
        return [
            Route("/walk", self.go, methods=["POST"]),
            Route("/ask", self.ask),
            Route("/ahead", self.ahead),
            Route("/answer", self.answer, methods=["POST"]),
            Route("/back", self.back, methods=["POST"]),
            Route("/given", self.given),
        ]

    # --- pages ---

    @telling
    async def overview(self, request: Request) -> Response:
        """Show the state of the rig and its stations."""
        visit = read_visit(request)
        inspection = explain(visit.judged)
        going = visit.going
        album, photos = photos_of(visit)
        text = overview_page(
            visit.walk,
            visit.answered(),
            visit.told,
            self.round.looks,
            inspection.state(self.round.hold_at),
            frame=framed(visit, self.round),
            drawing=self._drawing(visit, ()),
            ended=going is not None and visit.walk.next_page is None,
            look=str(going.look) if going else "",
            differing=visit.differing,
            photos=len(photos),
            album=album,
        )
        return HTMLResponse(text)

    @telling
    async def go(self, request: Request) -> Response:
        """Begin, or go on: all over, or at one station."""
        visit, form = visit_of(request), await form_of(request)
        if "only" in form:
            visit.only = next((one for one in SIGNALS if one == form["only"][0]), None)
        visit.at = form.get("at", [""])[0]
        visit.found = visit.differing = ()
        visit.begin()
        visit.read()
        visit.over = visit.walk.after_work
        return onward("/ask")

    @telling
    async def ask(self, request: Request) -> Response:
        """Show the question that is asked now, or one that was answered, by its name."""
        visit = read_visit(request)
        if visit.going is None:
            return onward("/")
        if "page" in request.query_params:
            name = read_page_name(request.query_params["page"])
            return HTMLResponse(self._asked(visit, page_named(name, visit.judged, self.round.looks, visit.walk)))
        page = visit.asked_now()
        return onward("/") if page is None else HTMLResponse(self._asked(visit, page))

    @telling
    async def ahead(self, request: Request) -> Response:
        """Show the questions that come after this one here: a browser keeps them for when it cannot ask."""
        visit = read_visit(request)
        if visit.going is None:
            return Response(status_code=404)
        page = visit.asked_now()
        after = [one for stop in visit.walk.stops for one in stop.pages if visit.title_of(one) == visit.at]
        shown = [self._asked(visit, one, ahead=True) for one in after if page is not None and one.key != page.key]
        return HTMLResponse("\n".join(shown[:_AHEAD]))

    @telling
    async def given(self, request: Request) -> Response:
        """Show what was answered, with a way to change it."""
        visit = read_visit(request)
        reasons = self.round.looks.cannot_tell
        stops = []
        for stop in visit.answered():
            pages = [
                GivenPage(one.look.look, tuple(given_rows(one, visit.told, visit.given, reasons)), visit.name_of(one))
                for one in stop.pages
            ]
            stops.append({"title": stop.title, "pages": pages})
        return HTMLResponse(page_of("given.html", frame=framed(visit, self.round), stops=stops))

    # --- what is sent ---

    @telling
    async def back(self, request: Request) -> Response:
        """Go back to the question that was answered last."""
        visit = read_visit(request)
        if visit.before:
            name = visit.before.pop()
            page = page_named(name, visit.judged, self.round.looks, visit.walk)
            return HTMLResponse(self._asked(visit, page))
        return onward("/given")

    @telling
    async def answer(self, request: Request) -> Response:
        """Write an answer, once; what is none is told beside it."""
        visit, form = visit_of(request), await form_of(request)
        visit.begin()
        visit.read()
        name = read_page_name(form.get("page", [""])[0])
        page = page_named(name, visit.judged, self.round.looks, visit.walk)
        answer, wrong = answer_of(page, form, self.round.looks)
        if wrong:
            return HTMLResponse(self._asked(visit, page, form, wrong), status_code=422)
        said = is_said_already(name, answer, visit.told, visit.given)
        if said is False:
            return HTMLResponse(self._asked(visit, page, form, meanwhile=True), status_code=409)
        if said is None:
            visit.take(name, page, answer)
        return onward("/ask")

    # --- parts ---

    def _asked(
        self,
        visit: Visit,
        page: Page,
        typed: Form | None = None,
        wrong: Mapping[str, str] | None = None,
        *,
        meanwhile: bool = False,
        ahead: bool = False,
    ) -> str:
        reasons = self.round.looks.cannot_tell
        known = any(key in visit.told.closed for key in page.open) and not page.again
        return asked_page(
            page,
            visit.walk,
            self.round.pack.rules,
            reasons,
            self.round.looks.absent,
            frame=framed(visit, self.round),
            title=visit.title_of(page),
            name=visit.name_of(page),
            found=() if wrong or meanwhile or ahead or known else visit.found,
            more=what_else(page, visit.going.hot) if visit.going is not None else "",
            differing=() if wrong or meanwhile or ahead or known else visit.differing,
            typed=typed,
            wrong=wrong,
            given=dict(given_rows(page, visit.told, visit.given, reasons)) if known else None,
            meanwhile=meanwhile,
            drawing="" if ahead else self._drawing(visit, {one.path for one in page.things}),
            photos=photos_of(visit, page.look.name)[1],
        )

    def _drawing(self, visit: Visit, lit: Collection[str]) -> Markup:
        inspection = replace(explain(visit.judged), findings=())  # pins would lead to texts that are not there
        drawn = drawing_element(visit.judged.known.filled, inspection, lit)
        return Markup(drawn)  # noqa: S704
