"""A procedure done by the hand, on the local page: the step whose turn has come, its clock, its values, its record."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, timedelta

from starlette.requests import Request
from starlette.responses import HTMLResponse, Response
from starlette.routing import Route

from rigcheck.cli.page.answer_form import Form, form_of
from rigcheck.cli.page.round import Round
from rigcheck.cli.page.telling import frame_inside, framed, onward, read_visit, telling, told_page
from rigcheck.cli.page.visit import Visit
from rigcheck.cli.page.work import Work, values_of
from rigcheck.judge.inspection import explain
from rigcheck.procedure.expansion import Instance
from rigcheck.procedure.sheet import holding, sheet_of
from rigcheck.report.html.page import page as page_of
from rigcheck.report.html.work_page import end_page, step_page
from rigcheck.rules.procedures import in_the_day, procedures_of, ways_out
from rigcheck.rules.steps import Procedure

__all__ = ["WorkDesk"]

_LONGEST_LATE = 12 * 3600  # s that a step may have waited in a browser for its connection: a shift


class WorkDesk:
    """The procedures, one step at a time."""

    def __init__(self, round_: Round) -> None:
        self.round = round_

    def routes(self) -> list[Route]:
        """Return what leads here."""
        return [
            Route("/work", self.listed),
            Route("/work/{name}", self.shown),
            Route("/work/{name}/done", self.done, methods=["POST"]),
            Route("/work/{name}/pass", self.passed, methods=["POST"]),
            Route("/work/{name}/clock", self.clock, methods=["POST"]),
            Route("/work/{name}/stop", self.stop, methods=["POST"]),
        ]

    @telling
    async def listed(self, request: Request) -> Response:
        """Show the procedures that have steps for this rig."""
        visit = read_visit(request)
        inspection = explain(visit.judged)
        known = in_the_day(one for one in procedures_of(self.round.pack).values() if not one.emergency)
        sheets = [sheet_of(visit.judged, one, inspection, self.round.hold_at) for one in known]
        held = bool(holding(inspection, self.round.hold_at))
        frame = framed(visit, self.round)
        rows = [one for one in sheets if one.rows]
        return HTMLResponse(page_of("work.html", frame=frame, sheets=rows, held=held))

    @telling
    async def shown(self, request: Request) -> Response:
        """Show the step whose turn has come, or the one that was chosen; at the end how the record came out."""
        visit = read_visit(request)
        work = self._work(request, visit)
        if work is None:
            return onward("/work")
        held = self._held(work)
        if held is not None:
            return held
        chosen = work.numbered(request.query_params.get("step", ""))
        return self._answer(visit, work, chosen)

    @telling
    async def done(self, request: Request) -> Response:
        """Record a step, once; what is wrong with a value is told beside it."""
        visit, form = read_visit(request), await form_of(request)
        work = self._work(request, visit)
        one = work.numbered(_first(form, "step")) if work is not None else None
        if work is None or one is None:
            return onward(f"/work/{request.path_params['name']}")
        values, wrong = values_of(one, form)
        if _first(form, "count") != str(work.count):
            if not wrong and work.was_just(one, _first(form, "count"), values):
                return onward(work.path)
            return self._answer(visit, work, one, form, meanwhile="another step was recorded", status=409)
        if wrong:
            return self._answer(visit, work, one, form, wrong, status=422)
        work.take(one, datetime.now() - timedelta(seconds=_late(form)), values)
        return onward(work.path)

    @telling
    async def passed(self, request: Request) -> Response:
        """Leave out a step that need not be done."""
        visit, form = read_visit(request), await form_of(request)
        work = self._work(request, visit)
        one = work.numbered(_first(form, "step")) if work is not None else None
        if work is not None and one is not None and not one.required:
            work.going.pass_over(one)
        return onward(f"/work/{request.path_params['name']}")

    @telling
    async def clock(self, request: Request) -> Response:
        """Start the clock of a value, or read it off."""
        visit, form = read_visit(request), await form_of(request)
        work = self._work(request, visit)
        one = work.numbered(_first(form, "step")) if work is not None else None
        if work is None or one is None:
            return onward(f"/work/{request.path_params['name']}")
        pressed = datetime.now() - timedelta(seconds=_late(form))
        typed = work.clocked(one, _first(form, "clock"), pressed, form)
        if typed is None:
            return self._answer(visit, work, one, form, meanwhile="the clock was started or read off", status=409)
        return self._answer(visit, work, one, typed)

    @telling
    async def stop(self, request: Request) -> Response:
        """Stop where it stands; the record says so."""
        visit = read_visit(request)
        work = self._work(request, visit)
        if work is None:
            return onward("/work")
        return self._ended(visit, work)

    # --- parts ---

    def _work(self, request: Request, visit: Visit) -> Work | None:
        """Return the procedure that is meant, as its record stands; None where none of that name can be done."""
        name = request.path_params["name"]
        procedure = procedures_of(self.round.pack).get(name)
        if procedure is None or procedure.emergency:
            return None
        work: Work | None = visit.works.get(name)
        if work is None:
            work = visit.works[name] = Work(self.round, procedure, visit.by)
        work.read()
        return work

    def _held(self, work: Work) -> Response | None:
        """Return what is told of a rig on hold, where the procedure is not one to make it harmless."""
        inspection = explain(work.going.judged)
        if work.procedure.despite_hold or not holding(inspection, self.round.hold_at):
            return None
        sheet = sheet_of(work.going.judged, work.procedure, inspection, self.round.hold_at)
        ways = self._ways_out()
        told = page_of("work_held.html", frame=frame_inside(self.round), sheet=sheet, ways=ways)
        return HTMLResponse(told, status_code=409)

    def _answer(
        self,
        visit: Visit,
        work: Work,
        chosen: Instance | None,
        typed: Form | None = None,
        wrong: Mapping[str, str] | None = None,
        *,
        meanwhile: str = "",
        status: int = 200,
    ) -> Response:
        now = work.going.progress.now
        one = chosen or (now[0] if now else None)
        if one is None:
            return self._ended(visit, work)
        text = step_page(
            work.going.progress,
            one,
            work.procedure,
            frame=framed(visit, self.round),
            clocks=work.clocks_of(one),
            now=datetime.now(),
            typed=typed,
            wrong=wrong,
            meanwhile=meanwhile,
            ways=() if work.procedure.despite_hold else self._ways_out(),
        )
        return HTMLResponse(text, status_code=status)

    def _ended(self, visit: Visit, work: Work) -> Response:
        frame = framed(visit, self.round)
        if work.going.path is None:
            visit.works.pop(work.procedure.name, None)
            return told_page(frame, "Nothing was done", "Nothing is written.", onward="/work")
        work.going.stop(datetime.now())
        told = work.going.verdict(self.round.hold_at)
        visit.works.pop(work.procedure.name, None)  # whoever goes on begins from the file
        ways = [] if work.going.progress.finished else self._ways_out()
        state = told.state(self.round.hold_at)
        return HTMLResponse(end_page(told, state, work.going.progress, work.going.path.name, ways, frame=frame))

    def _ways_out(self) -> list[Procedure]:
        return ways_out(procedures_of(self.round.pack).values())


def _first(form: Form, name: str) -> str:
    return form.get(name, [""])[0]


def _late(form: Form) -> int:
    """Return for how many seconds a step waited in the browser until it could be sent."""
    written = _first(form, "late")
    return min(int(written), _LONGEST_LATE) if written.isdecimal() and len(written) < 6 else 0
