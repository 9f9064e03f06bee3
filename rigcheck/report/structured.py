"""An inspection as JSON, in a published form (`rigcheck schema report`)."""

from __future__ import annotations

from datetime import date
from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

from rigcheck.faults import Fault
from rigcheck.inspection import Finding, Inspection, Question
from rigcheck.place import Place
from rigcheck.report.text import CAUTION
from rigcheck.rules.limits import DatedLimit
from rigcheck.rules.rule import Signal

__all__ = ["FORM", "RefusedEntry", "Report", "RigEntry", "Totals", "refused_entry", "rig_entry"]

FORM = "rigcheck report 1"
"""Names the form of the report; the number rises when a reader would have to change."""


class _Out(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class PlaceOut(_Out):
    """A place in a file; line and column count from one, columns in Unicode code points."""

    file: str
    line: int = Field(ge=1)
    column: int = Field(ge=1)


class SourceOut(_Out):
    """What a rule or a limit was drawn from, and who read it."""

    text: str
    title: str
    standing: Literal["published", "read through another text", "from memory", "common practice"]


class LimitOut(_Out):
    """A limit as it stood on the day."""

    name: str
    value: str
    local_code: str
    since: str
    drawn_from: list[SourceOut]
    because: str = Field("", description="Why a folder of one's own changed it.")


class FoundOut(_Out):
    """A fact that broke the rule."""

    thing: str
    fact: str
    value: str
    at: PlaceOut


class FindingOut(_Out):
    """A rule that is broken on one thing."""

    rule: str
    signal: Signal
    claim: str
    thing: str
    at: PlaceOut
    found: list[FoundOut]
    required: str
    harm: str
    put_right: str
    drawn_from: list[SourceOut]
    limits: list[LimitOut]
    rule_at: PlaceOut


class WaitingOut(_Out):
    """A rule that waits for an answer."""

    rule: str
    signal: Signal
    claim: str


class QuestionOut(_Out):
    """A fact that is not known, or known too coarsely to decide."""

    thing: str
    fact: str
    ask: str
    at: PlaceOut
    signal: Signal
    too_close: str = Field("", description="The measured value against what it must meet.")
    left_open: bool = Field(False, description="A template left it open for the site.")
    waiting: list[WaitingOut]


class LoosenedOut(_Out):
    """A limit that a folder of one's own made less cautious."""

    limit: LimitOut
    instead_of: LimitOut


class RigEntry(_Out):
    """What came out for one rig."""

    outcome: Literal["judged"] = "judged"
    file: str
    rig: str
    day: str
    local_code: str
    local_code_stated: bool
    state: Literal["on hold", "not yet shown", "nothing found against it"]
    verdicts: dict[Literal["holds", "broken", "unproven", "not concerned"], int]
    findings: list[FindingOut]
    questions: list[QuestionOut]
    loosened: list[LoosenedOut]
    replaced_rules: list[str]


class FaultOut(_Out):
    """Something that cannot be read: what stands there, and what to write instead."""

    at: PlaceOut
    read: str
    write: str
    near: str = ""


class RefusedEntry(_Out):
    """A file that could not be read."""

    outcome: Literal["refused"] = "refused"
    file: str
    faults: list[FaultOut]


class Totals(_Out):
    """How many files came out how."""

    files: int
    on_hold: int
    not_yet_shown: int
    nothing_found: int
    refused: int


class Report(_Out):
    """The whole report: one entry a file, in the order of the files."""

    form: Literal["rigcheck report 1"] = "rigcheck report 1"
    version: str
    pack: str = Field(description="SHA-256 over the rules, limits, documents and vocabulary.")
    caution: str = CAUTION
    hold_at: Signal
    entries: list[RigEntry | RefusedEntry]
    totals: Totals


def rig_entry(inspection: Inspection, *, hold_at: Signal, on_unproven: bool) -> RigEntry:
    """Return the JSON form of one inspection."""
    return RigEntry.model_construct(
        outcome="judged",
        file=inspection.file,
        rig=inspection.rig,
        day=date.fromordinal(inspection.day).isoformat(),
        local_code=inspection.local_code,
        local_code_stated=inspection.code_stated,
        state=inspection.state(hold_at, on_unproven=on_unproven),
        verdicts=dict(sorted(inspection.verdicts.items())),
        findings=[_finding(one) for one in inspection.findings],
        questions=[_question(one) for one in inspection.questions],
        loosened=[
            LoosenedOut.model_construct(limit=_limit(one.limit), instead_of=_limit(one.instead_of))
            for one in inspection.loosened
        ],
        replaced_rules=list(inspection.replaced),
    )


def refused_entry(file: str, faults: tuple[Fault, ...]) -> RefusedEntry:
    """Return the JSON form of a refusal."""
    told = [FaultOut.model_construct(at=_place(f.place), read=f.read, write=f.write, near=f.near) for f in faults]
    return RefusedEntry.model_construct(outcome="refused", file=file, faults=told)


def _place(place: Place) -> PlaceOut:
    return PlaceOut.model_construct(file=place.file, line=place.line, column=place.column)


def _limit(limit: DatedLimit) -> LimitOut:
    return LimitOut.model_construct(
        name=limit.name,
        value=limit.value.text if limit.value else "none",
        local_code=limit.local_code,
        since=date.fromordinal(limit.since).isoformat(),
        drawn_from=[SourceOut.model_construct(text=s.text, title=s.title, standing=s.standing) for s in limit.sources],
        because=limit.because,
    )


def _finding(finding: Finding) -> FindingOut:
    return FindingOut.model_construct(
        rule=finding.rule,
        signal=finding.signal,
        claim=finding.claim,
        thing=finding.thing,
        at=_place(finding.place),
        found=[
            FoundOut.model_construct(thing=f.thing, fact=f.fact, value=f.value, at=_place(f.place))
            for f in finding.found
        ],
        required=finding.required,
        harm=finding.harm,
        put_right=finding.put_right,
        drawn_from=[
            SourceOut.model_construct(text=s.text, title=s.title, standing=s.standing) for s in finding.sources
        ],
        limits=[_limit(limit) for limit in finding.limits],
        rule_at=_place(finding.rule_place),
    )


def _question(question: Question) -> QuestionOut:
    return QuestionOut.model_construct(
        thing=question.thing,
        fact=question.fact,
        ask=question.ask,
        at=_place(question.place),
        signal=question.signal,
        too_close=question.too_close,
        left_open=question.left_open,
        waiting=[WaitingOut.model_construct(rule=w.rule, signal=w.signal, claim=w.claim) for w in question.waiting],
    )
