"""Who is let in to the local page: whoever shows a key that was not used yet, by an address of this machine.

A key is spent when somebody says who looks; from then on his browser has a cookie of its own. What stands in the way
of pages elsewhere: the host that is asked for, the origin of what is sent, sizes, and a policy that runs nothing but
the script of this page.
"""

from __future__ import annotations

import secrets
from collections.abc import Iterable
from http.cookies import CookieError, SimpleCookie
from typing import Any, Generic, TypeVar

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import ClientDisconnect
from starlette.responses import PlainTextResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from rigcheck.cli.console import complain
from rigcheck.cli.failure import own_failure

__all__ = ["HEADERS", "MOST_ANSWER", "MOST_PHOTO", "Gate", "Keys", "NotTaken", "TooLarge"]

MOST_ANSWER = 64 * 1024
"""Bytes of an answer."""
MOST_PHOTO = 16 * 1024 * 1024
"""Bytes of a photo with what is sent around it."""

_POLICY = (
    "default-src 'none'; style-src 'self'; script-src 'self'; connect-src 'self'; img-src 'self'; form-action 'self'; "
    "base-uri 'none'; frame-ancestors 'none'"
)
HEADERS = {
    "Content-Security-Policy": _POLICY,
    "Cache-Control": "no-store",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Referrer-Policy": "same-origin",  # no-referrer would take the origin from what is sent, too
    "X-Content-Type-Options": "nosniff",
}
_OPEN = frozenset({"/style.css", "/script.js"})  # the same for everybody, and nothing of the rig

_Visitor = TypeVar("_Visitor")


class TooLarge(Exception):
    """More was sent than is taken."""


class NotTaken(Exception):
    """What was sent is no form, or not the one that is taken here; the text says what to do."""


class Keys(Generic[_Visitor]):
    """The keys that were not used yet, and who came in by one."""

    def __init__(self, port: int) -> None:
        self.cookie = f"rigcheck_{port}"  # cookies know no ports: two rigs on one machine are two cookies
        self._unused: set[str] = set()
        self._inside: dict[str, _Visitor] = {}

    def new_key(self) -> str:
        """Return a key that lets one browser in."""
        key = secrets.token_urlsafe(16)
        self._unused.add(key)
        return key

    def fits(self, key: str) -> bool:
        """Whether a key lets somebody in."""
        return any(secrets.compare_digest(key.encode(), one.encode()) for one in self._unused)

    def let_in(self, key: str, visitor: _Visitor) -> str:
        """Spend a key; return what the cookie of the visitor says."""
        self._unused.discard(key)
        made = secrets.token_urlsafe(24)
        self._inside[made] = visitor
        return made

    def visitor(self, headers: Headers) -> _Visitor | None:
        """Return who asks; None where nobody was let in by that cookie."""
        try:
            morsel = SimpleCookie(headers.get("cookie", "")).get(self.cookie)
        except CookieError:
            return None
        return self._inside.get(morsel.value) if morsel is not None else None


class Gate:
    """Lets in whom it may; what comes in has a known host, a known origin and no more bytes than an answer has."""

    def __init__(self, app: ASGIApp, keys: Keys[Any], hosts: Iterable[str]) -> None:
        self.app, self.keys, self.hosts = app, keys, frozenset(hosts)
        self.origins = frozenset(f"http://{one}" for one in self.hosts)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request, or hand it on with who asks in `scope['state']`."""
        if scope["type"] != "http":
            return
        headers = Headers(scope=scope)
        scope.setdefault("state", {})["visitor"] = visitor = self.keys.visitor(headers)
        refused = self._refusal(scope, headers, visitor)
        if refused is not None:
            await refused(scope, receive, send)
            return
        most = MOST_PHOTO if scope["path"] == "/photo" and scope["method"] == "POST" else MOST_ANSWER
        try:
            await self.app(scope, _counted(receive, most), _with_headers(send))
        except ClientDisconnect:  # the browser went away while it sent: nobody is left to be told
            return
        except NotTaken as error:
            await _told(400, str(error))(scope, receive, send)
        except TooLarge:
            await _told(413, f"That is too large: at most {most // 1024} KiB are taken here.")(scope, receive, send)
        except Exception as error:
            told = f"{own_failure(error)} Please report this line, with the rig."
            complain(told)
            await _told(500, told)(scope, receive, send)

    def _refusal(self, scope: Scope, headers: Headers, visitor: object) -> Response | None:
        if len(headers.getlist("host")) != 1 or headers["host"] not in self.hosts:
            return _told(400, "This page is served under the address that the terminal shows, and no other.")
        if scope["method"] not in ("GET", "HEAD", "POST"):
            return _told(405, "A page is read, and answers are sent.")
        if scope["method"] == "POST" and headers.get("origin", "") not in self.origins:
            return _told(403, "An answer comes from a page of this walk alone.")
        if visitor is None and scope["path"] not in {"/", "/enter", *_OPEN}:
            return _told(403, "Open the address that the terminal shows now; it has the key.")
        return None


def _told(status: int, text: str) -> Response:
    return PlainTextResponse(text, status_code=status, headers=HEADERS)


def _counted(receive: Receive, most: int) -> Receive:
    """Return what hands a request on and stops where it grows too large."""
    taken = 0

    async def counting() -> Message:
        nonlocal taken
        message = await receive()
        taken += len(message.get("body", b""))
        if taken > most:
            raise TooLarge
        return message

    return counting


def _with_headers(send: Send) -> Send:
    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers.setdefault(name, value)
        await send(message)

    return sending
