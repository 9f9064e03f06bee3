"""A rig that has no description yet, begun on the local page: by pictures and a few questions, or part by part."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from pathlib import Path

from markupsafe import Markup
from msgspec.structs import replace
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response
from starlette.routing import Route

from rigcheck.asking.beginnings import Beginning, beginning_of, begun_description, built_description, next_choice
from rigcheck.cli.draft import new_file
from rigcheck.cli.evidence_input import forget_evidence
from rigcheck.cli.page.answer_form import Form, form_of
from rigcheck.cli.page.round import Round
from rigcheck.cli.page.telling import framed, onward, telling, visit_of
from rigcheck.judge.inspection import explain
from rigcheck.judge.judged import judge
from rigcheck.report.drawing.drawing import drawing_element
from rigcheck.report.html.page import as_it_is
from rigcheck.report.html.page import page as page_of
from rigcheck.rig.around import Around
from rigcheck.rig.loader import load_rig
from rigcheck.rig.thing import Rig
from rigcheck.rules.limits import LOCAL_CODES
from rigcheck.rules.standard_rigs import standard_of, standard_rig, standard_rig_files

__all__ = ["BeginDesk"]

_MOST_NAME = 100
_MOST_PARTS = 60
_Lines = tuple[tuple[str, tuple[str, ...]], ...]


class BeginDesk:
    """What is asked before there is a rig; nothing is written until its description was shown."""

    def __init__(self, round_: Round) -> None:
        self.round = round_

    def routes(self) -> list[Route]:
        """Return what leads here."""
        return [
            Route("/begin", self.chosen),
            Route("/begin/picture/{name}", self.picture),
            Route("/begin/parts", self.parts),
            Route("/begin/named", self.named),
            Route("/begin/shown", self.shown, methods=["POST"]),
            Route("/begin", self.written, methods=["POST"]),
        ]

    @telling
    async def chosen(self, request: Request) -> Response:
        """Show the standard rigs that are left, with the next question that tells them apart."""
        if self._is_there():
            return onward("/")
        given = request.query_params.getlist("is")
        left, choice = tuple(self._beginnings()), None
        for answer in given:
            choice = next_choice(left)
            left = choice.answers.get(answer, left) if choice is not None else left
        choice = next_choice(left)
        return self._page("begin.html", request, left=left, choice=choice, given=given)

    @telling
    async def picture(self, request: Request) -> Response:
        """Show a standard rig as a drawing of its own."""
        found = standard_rig(self.round.pack, request.path_params["name"])
        if found is None:
            return Response(status_code=404)
        key = ("picture", request.path_params["name"])
        if key not in self.round.pack.kept:
            self.round.pack.kept[key] = self._drawn(found.rig)
        return Response(self.round.pack.kept[key], media_type="image/svg+xml")

    @telling
    async def parts(self, request: Request) -> Response:
        """Show the lines as far as they were put together, with what can come next."""
        if self._is_there():
            return onward("/")
        vocabulary = self.round.pack.vocabulary
        lines = self._lines(request.query_params.getlist("line"))
        picture: object = ""
        if lines and all(parts for _, parts in lines):
            rig = self._read(built_description("not named yet", "general", lines, self._ends(request)))
            picture = Markup(self._drawn(rig))  # noqa: S704
        return self._page(
            "begin_parts.html",
            request,
            lines=lines,
            written=_written,
            ends=self._ends(request),
            gases=vocabulary.kinds["line"].facts["gas"].words,
            kinds={kind.key: kind.means for kind in vocabulary.parts.values()},
            drawing=picture,
        )

    def _codes(self) -> Mapping[str, str]:
        """Return the local codes, each with what it means."""
        words = self.round.pack.vocabulary.kinds["rig"].facts["local_code"].words
        return {code: words.get(code, "") for code in LOCAL_CODES}

    @telling
    async def named(self, request: Request) -> Response:
        """Ask what the rig is called and where it stands."""
        told = {name: request.query_params.getlist(name) for name in ("name", "line", "end")}
        return self._page("begin_named.html", request, told=told, codes=self._codes(), typed={}, wrong="")

    @telling
    async def shown(self, request: Request) -> Response:
        """Show the description before it is written."""
        form = await form_of(request)
        text, wrong = self._described(form)
        told = {name: form.get(name, []) for name in ("name", "line", "end")}
        if wrong:
            return self._page(
                "begin_named.html", request, told=told, codes=self._codes(), typed=form, wrong=wrong, status=422
            )
        drawing = Markup(self._drawn(self._read(text)))  # noqa: S704
        return self._page(
            "begin_shown.html",
            request,
            told=form,
            text=Markup("\n").join(map(as_it_is, text.splitlines())),
            drawing=drawing,
        )

    @telling
    async def written(self, request: Request) -> Response:
        """Write the description that was shown. Nothing that is there already is written over."""
        text, wrong = self._described(await form_of(request))
        if not wrong:
            new_file(Path(self.round.rig), text.encode())
            forget_evidence(self.round.pack)
        return onward("/begin" if wrong else "/")

    # --- parts ---

    def _described(self, form: Form) -> tuple[str, str]:
        """Return the description that a form is, or what is wrong with the form."""
        called = " ".join(form.get("called", [""])[0].split())
        code = form.get("code", [""])[0]
        if not called or not called.isprintable() or len(called) > _MOST_NAME:
            return "", f"Write what the rig is called, in at most {_MOST_NAME} letters."
        if code not in LOCAL_CODES:
            return "", "Say which country's code is in force where it stands."
        name = form.get("name", [""])[0]
        if name:
            if name not in standard_rig_files(self.round.pack):
                return "", "Choose a standard rig again: this one is not there."
            process = next(one.process for one in self._beginnings() if one.name == name)
            return begun_description(called, code, name, process), ""
        lines = self._lines(form.get("line", []))
        if not lines or not all(parts for _, parts in lines):
            return "", "Put at least one part into each line."
        ends = tuple(one for one in ("torch", "trolley") if one in form.get("end", []))
        return built_description(called, code, lines, ends), ""

    def _lines(self, texts: Sequence[str]) -> _Lines:
        """Return lines as an address has them, `propane:cylinder,regulator`; what is not known is left out."""
        vocabulary = self.round.pack.vocabulary
        gases = vocabulary.kinds["line"].facts["gas"].words
        known = {kind.key for kind in vocabulary.parts.values()}
        found = []
        for text in texts:
            gas, _, parts = text.partition(":")
            if gas in gases:
                found.append((gas, tuple(one for one in parts.split(",")[:_MOST_PARTS] if one in known)))
        return tuple(found)

    def _ends(self, request: Request) -> tuple[str, ...]:
        return tuple(one for one in ("torch", "trolley") if one in request.query_params.getlist("end"))

    def _beginnings(self) -> list[Beginning]:
        pack = self.round.pack
        found = [(name, standard_rig(pack, name)) for name in standard_rig_files(pack)]
        return [beginning_of(name, one.rig) for name, one in found if one is not None]

    def _read(self, text: str) -> Rig:
        around = Around(standard_of=standard_of(self.round.pack, self.round.rig))
        return load_rig(text.encode(), self.round.rig, self.round.pack.vocabulary, around)

    def _drawn(self, rig: Rig) -> str:
        judged = judge(rig, self.round.pack, day=self.round.day)
        drawn = drawing_element(judged.known.filled, replace(explain(judged), findings=()))
        return drawn.replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ', 1)

    def _is_there(self) -> bool:
        return os.path.lexists(self.round.rig)

    def _page(self, template: str, request: Request, *, status: int = 200, **told: object) -> Response:
        frame: Mapping[str, object] = framed(visit_of(request), self.round)
        file = os.path.basename(self.round.rig)
        return HTMLResponse(page_of(template, frame=frame, file=file, **told), status_code=status)


def _written(line: tuple[str, tuple[str, ...]], *more: str, less: int = 0) -> str:
    """Return a line as it is written in an address, with parts more or without its last ones."""
    gas, parts = line
    kept = parts[: len(parts) - less]
    return f"{gas}:{','.join((*kept, *more))}"
