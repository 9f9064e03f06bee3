"""What every page of the local page has round it, and how it tells what stands in the way."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Callable, Mapping
from functools import wraps
from typing import Any

from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from rigcheck.asking.page_name import UnknownPage
from rigcheck.cli.console import ProblemFound
from rigcheck.cli.page.gate import NotTaken
from rigcheck.cli.page.round import Round
from rigcheck.cli.page.visit import Visit
from rigcheck.report.html.page import page as page_of
from rigcheck.rules.overlay import overlay_words
from rigcheck.text.faults import Refused

__all__ = ["frame_inside", "framed", "onward", "read_visit", "telling", "told_page", "visit_of"]

Handler = Callable[[Any, Request], Any]


def framed(visit: Visit | None, round_: Round) -> Mapping[str, object]:
    """Return what stands round every page."""
    if visit is None:  # nobody was let in yet: he is shown no path
        return {"rig": os.path.basename(round_.rig), "by": "", "walk": "", "saved": "", "inside": False, "laid": ()}
    there = os.path.lexists(round_.rig)
    of = f"{os.path.abspath(round_.rig)} {round_.day} {visit.by}"
    walk = hashlib.sha256(of.encode(errors="surrogateescape")).hexdigest()  # a phone need not know the folder
    name = visit.judged.rig.title if hasattr(visit, "judged") else os.path.basename(round_.rig)
    unread = visit.judged.rig.unread if hasattr(visit, "judged") else ()
    told = (*(f"Not read: {one}" for one in unread), *overlay_words(round_.pack.laid))
    return {"rig": name, "by": visit.by, "walk": walk, "saved": visit.saved, "inside": there, "laid": told}


def onward(path: str) -> Response:
    """Return what leads a browser on after it sent something."""
    return RedirectResponse(path, status_code=303)


def told_page(
    frame: Mapping[str, object], heading: str, *told: str, onward: str = "/", status: int = 200, picture: object = ""
) -> Response:
    """Return a page that tells something."""
    text = page_of("told.html", frame=frame, heading=heading, told=told, onward=onward, picture=picture)
    return HTMLResponse(text, status_code=status)


def frame_inside(round_: Round) -> Mapping[str, object]:
    """Return what stands round a page that tells somebody who is in what stands in the way."""
    return {**framed(None, round_), "inside": True, "laid": overlay_words(round_.pack.laid)}


def telling(handler: Handler) -> Handler:
    """Tell what stands in the way of a page instead of failing."""

    @wraps(handler)
    async def told_instead(desk: Any, request: Request) -> Response:
        try:
            made: Response = await handler(desk, request)
        except UnknownPage:
            why = "The description of this rig was changed since this question was shown, or it is not asked here."
            frame = frame_inside(desk.round)
            more = "Look at the question once more."
            return told_page(frame, "Not written", why, more, onward="/ask", status=410)
        except NotTaken as error:
            return told_page(frame_inside(desk.round), "Nothing was written", str(error), onward="/ask", status=400)
        except Refused as refused:
            told = [f"{one.place}: {one.read} {one.write}" for one in refused.faults]
            return told_page(frame_inside(desk.round), "It cannot be read", *told, status=500)
        except (ProblemFound, OSError) as error:
            if not os.path.lexists(desk.round.rig) and request.method == "GET":
                return onward("/begin")
            return told_page(frame_inside(desk.round), "Nothing was written", str(error), onward="/ask", status=500)
        return made

    return told_instead


def visit_of(request: Request) -> Visit:
    """Return who asks."""
    found = request.state.visitor
    assert isinstance(found, Visit)
    return found


def read_visit(request: Request) -> Visit:
    """Return who asks, with the rig as the files say now. Raises `Refused`, OSError."""
    visit = visit_of(request)
    visit.read()
    return visit
