"""The walk as a local page: one question a page, plain forms, each answer on the disk before the next is shown.

It serves this machine alone, to whoever has its key; no path of the reader reaches the file system.
"""

from __future__ import annotations

import hashlib
import secrets
from collections.abc import Mapping
from urllib.parse import parse_qs

from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import HTMLResponse, PlainTextResponse, RedirectResponse, Response
from starlette.routing import Route
from starlette.types import ASGIApp, Receive, Scope, Send

from rigcheck.asking.answers import Answer, checked, ticked
from rigcheck.asking.walk import Page
from rigcheck.cli.console import ProblemFound
from rigcheck.cli.walk_on_disk import WalkOnDisk
from rigcheck.judge.finding import Finding
from rigcheck.judge.inspection import explain
from rigcheck.quantity.notation import NotRead
from rigcheck.report.html.asked_page import Blank, asked_page, asked_style, blanks_of, walked_page
from rigcheck.rules.looks import looks_of
from rigcheck.rules.rule import Signal
from rigcheck.text.faults import Refused

__all__ = ["page_app"]

_COOKIE = "rigcheck_key"
_MOST = 64 * 1024  # bytes of an answer
_POLICY = "default-src 'none'; style-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
_HEADERS = {
    "Content-Security-Policy": _POLICY,
    "Cache-Control": "no-store",
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
}
_Form = Mapping[str, list[str]]


def page_app(going: WalkOnDisk, key: str, port: int, hold_at: Signal) -> ASGIApp:
    """Return the application; `key` is what a reader must show once, in the address."""
    desk = _Desk(going, hold_at)
    routes = [
        Route("/", desk.show),
        Route("/style.css", desk.style),
        Route("/answer", desk.answer, methods=["POST"]),
        Route("/back", desk.back, methods=["POST"]),
    ]
    hosts = (f"127.0.0.1:{port}", f"localhost:{port}")
    return Starlette(routes=routes, middleware=[Middleware(_Guard, key=key, hosts=hosts)])


class _Guard:
    """Lets in only readers that have the key, by the name of this machine, from pages of our own."""

    def __init__(self, app: ASGIApp, key: str, hosts: tuple[str, ...]) -> None:
        self.app, self.key, self.hosts = app, key, hosts

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        request = Request(scope, receive)
        refused = self._refusal(request)
        if refused is None and secrets.compare_digest(request.query_params.get("key", ""), self.key):
            entered = RedirectResponse("/", status_code=303, headers=_HEADERS)
            entered.set_cookie(_COOKIE, self.key, httponly=True, samesite="strict")
            await entered(scope, receive, send)
        elif refused is None and not secrets.compare_digest(request.cookies.get(_COOKIE, ""), self.key):
            await _told(403, "Open the address that the terminal shows; it has the key.")(scope, receive, send)
        elif refused is not None:
            await refused(scope, receive, send)
        else:
            await self.app(scope, receive, send)

    def _refusal(self, request: Request) -> Response | None:
        if request.headers.get("host", "") not in self.hosts:
            return _told(400, "This page is served to this machine alone.")
        if request.method == "POST" and request.headers.get("origin", "") not in {
            f"http://{one}" for one in self.hosts
        }:
            return _told(403, "An answer comes from a page of this walk alone.")
        return None


def _told(status: int, text: str) -> Response:
    return PlainTextResponse(text, status_code=status, headers=_HEADERS)


class _Desk:
    def __init__(self, going: WalkOnDisk, hold_at: Signal) -> None:
        self.going, self.hold_at = going, hold_at
        self.looks = looks_of(going.pack)
        self.before: list[Page] = []
        self.again: Page | None = None
        self.found: tuple[Finding, ...] = ()

    async def style(self, request: Request) -> Response:
        return Response(asked_style(), media_type="text/css", headers=_HEADERS)

    async def show(self, request: Request) -> Response:
        try:
            self.going.read()  # somebody else may have written meanwhile
        except (Refused, OSError) as error:
            return _told(500, str(error))
        asked = self.again or self.going.walk.next_page
        if asked is not None:
            return HTMLResponse(self._asked(asked), headers=_HEADERS)
        state = explain(self.going.judged).state(self.hold_at)
        rig, look = self.going.judged.rig.name, str(self.going.look)
        text = walked_page(self.going.walk, self.looks, rig=rig, state=state, look=look)
        return HTMLResponse(text, headers=_HEADERS)

    def _asked(self, asked: Page, typed: _Form | None = None, wrong: Mapping[str, str] | None = None) -> str:
        stops = self.going.walk.stops
        title = next((stop.title for stop in stops for page in stop.pages if page.key == asked.key), asked.look.look)
        return asked_page(
            asked,
            self.going.walk,
            self.going.pack.rules,
            self.looks.cannot_tell,
            rig=self.going.judged.rig.name,
            title=title,
            token=_token(asked),
            found=() if wrong else self.found,
            typed=typed,
            wrong=wrong,
            back=self.again is not None,
        )

    async def back(self, request: Request) -> Response:
        if self.before:
            self.again = self.before.pop()
        return RedirectResponse("/", status_code=303, headers=_HEADERS)

    async def answer(self, request: Request) -> Response:
        form = await _form(request)
        if form is None:
            return _told(413, "That is too long for an answer.")
        asked = self._meant(form.get("page", [""])[0])
        if asked is None:
            return _told(409, "This question was answered elsewhere meanwhile. Go back, and load the page anew.")
        answer, wrong = answer_of(asked, form)
        if wrong:
            return HTMLResponse(self._asked(asked, form, wrong), status_code=422, headers=_HEADERS)
        try:
            self.found = self.going.take(asked, answer)
        except (Refused, ProblemFound, OSError) as error:
            return _told(500, f"Not written: {error}")
        self.before.append(asked)
        self.again = None
        return RedirectResponse("/", status_code=303, headers=_HEADERS)

    def _meant(self, token: str) -> Page | None:
        """Return the page that an answer is to: one that is open, or that was gone back to."""
        pages = [page for stop in self.going.walk.stops for page in stop.pages]
        pages += [self.again] if self.again is not None else []
        return next((page for page in pages if _token(page) == token), None)


def _token(page: Page) -> str:
    return hashlib.sha256(repr((page.key, page.again)).encode()).hexdigest()[:32]


async def _form(request: Request) -> _Form | None:
    body = b""
    async for part in request.stream():
        body += part
        if len(body) > _MOST:
            return None
    return parse_qs(body.decode("utf-8", "replace"), keep_blank_values=True, max_num_fields=1000)


# --- what was sent ---


def answer_of(asked: Page, form: _Form) -> tuple[Answer, Mapping[str, str]]:
    """Return the answer that a form is, and what is wrong with it by blank."""
    values: dict[tuple[str, str], str | tuple[str, ...]] = {}
    not_told: dict[tuple[str, str], str] = {}
    wrong: dict[str, str] = {}
    for blank in blanks_of(asked):
        sent = [one for one in form.get(blank.name, []) if one.strip()]
        cannot, because = form.get(f"{blank.name}-x"), form.get(f"{blank.name}-because", [""])[0]
        keys = [(path, name) for path, name in asked.open if path == blank.path and name == (blank.fact or name)]
        if cannot and sent:
            wrong[blank.name] = "Both an answer and “I cannot tell” are marked. Take one away."
        elif cannot and not because:
            wrong[blank.name] = "Choose why you cannot tell."
        elif cannot:
            not_told |= dict.fromkeys(keys, because)
        elif not sent:
            wrong[blank.name] = "Answer this, or mark that you cannot tell."
        else:
            try:
                values |= _values(asked, blank, sent)
            except NotRead as error:
                wrong[blank.name] = f"{error.wrong} {error.write}"
    return Answer(values, not_told), wrong


def _values(asked: Page, blank: Blank, sent: list[str]) -> Mapping[tuple[str, str], str | tuple[str, ...]]:
    if not blank.fact:
        if "none" in sent and len(sent) > 1:
            raise NotRead("Both a defect and “none of these” are marked.", "Take one of them away.")
        known = {word for word, _ in blank.words}
        if not set(sent) <= known:
            raise NotRead("That is not on the list.", "Mark what is on it.")
        told = ticked(asked, {blank.path: [int(one) for one in sent if one != "none"]}).values
        return {key: value for key, value in told.items() if key[0] == blank.path}
    thing = next(one for one in asked.things if one.path == blank.path)
    return {(blank.path, blank.fact): checked(thing.kind.facts[blank.fact], ", ".join(sent))}
