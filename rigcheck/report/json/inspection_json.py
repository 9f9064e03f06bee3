"""An inspection as JSON, in a published form (`rigcheck schema report`)."""

from __future__ import annotations

from math import isfinite
from typing import Literal

from pydantic import Field

from rigcheck.facts.known import Purpose
from rigcheck.judge.finding import Conceded
from rigcheck.judge.inspection import Finding, Found, Inspection, Question, State
from rigcheck.quantity.wording import shown_day
from rigcheck.report.json.changes_json import ChangesOut
from rigcheck.report.json.common import (
    HeadedOut,
    LaidOut,
    LimitOut,
    Out,
    PlaceOut,
    SourceOut,
    WorkingOut,
    formed,
    laid_out,
    limit_out,
    place_out,
    sources_out,
    working_out,
)
from rigcheck.rules.rule import Signal
from rigcheck.text.faults import Fault

__all__ = [
    "FORM",
    "FaultOut",
    "RefusedEntry",
    "Report",
    "RigEntry",
    "Totals",
    "faults_out",
    "refused_entry",
    "rig_entry",
]

FORM = "rigcheck report 1"
"""Names the form of the report; the number rises when a reader would have to change."""


class FoundOut(Out):
    """A fact that broke the rule."""

    thing: str
    fact: str
    value: str
    at: PlaceOut
    working: WorkingOut | None = Field(None, description="How the value was worked out, if it was.")
    least: float | None = Field(None, description="Of a quantity: its least value, in the base unit of its dimension.")
    greatest: float | None = Field(None, description="Of a quantity: its greatest value, likewise.")
    graver: Literal["more", "less", ""] = Field("", description="On which side it is graver, the further it goes.")
    counted_from: str = Field(
        "", description="Of a time that is counted from a day, or to one: that day, the first of a month."
    )


class ConcededOut(Out):
    """Leave to go on with a finding for a time."""

    reason: str
    who: str = Field(description="Who gave the leave, by role.")
    until: str = Field(description="The last day on which it holds.")
    at: PlaceOut


class FindingOut(Out):
    """A rule that is broken on one thing."""

    rule: str
    signal: Signal
    told: str = Field(description="What was found, then what must be, in a sentence.")
    claim: str = Field(description="What must be.")
    thing: str
    path: str = Field("", description="Where the thing stands in its rig, as lines[0].parts[3].")
    tag: str = Field("", description="Its serial, asset or certificate number, where one is stated.")
    at: PlaceOut
    found: list[FoundOut]
    required: str
    harm: str
    put_right: str
    drawn_from: list[SourceOut]
    limits: list[LimitOut]
    rule_at: PlaceOut
    conceded: ConcededOut | None = Field(None, description="Set where leave was given; it then holds nothing.")


class WaitingOut(Out):
    """A rule that waits for an answer."""

    rule: str
    signal: Signal
    claim: str


class QuestionOut(Out):
    """A fact that is not known, or known too coarsely to decide."""

    thing: str
    path: str = Field("", description="Where the thing stands in its rig, as lines[0].parts[3].")
    tag: str = Field("", description="Its serial, asset or certificate number, where one is stated.")
    fact: str = Field(description="The key that it is written under.")
    ask: str
    write: str = Field("", description="Its words, or its units with an example; nothing where it cannot be written.")
    look: str = Field("", description="The act of looking that answers it, by its title.")
    at: PlaceOut
    signal: Signal
    too_close: str = Field("", description="The measured value against what it must meet.")
    left_open: bool = Field(False, description="A template left it open for the site.")
    working: WorkingOut | None = Field(None, description="How a value that is too close to call was worked out.")
    waiting: list[WaitingOut]


class HeldOut(Out):
    """A check that held on one thing."""

    rule: str
    claim: str
    thing: str
    at: PlaceOut
    presumed: bool = Field(False, description="It holds only because a standard rig says so; nobody has looked.")


class FaultOut(Out):
    """Something that cannot be read: what stands there, and what to write instead."""

    at: PlaceOut
    read: str
    write: str
    near: str = ""


class RigEntry(Out):
    """What came out for one rig."""

    outcome: Literal["judged"] = "judged"
    file: str
    rig: str
    about: str = Field("rig", description="The kind of thing that `rig` names: rig, premises or register.")
    invented: bool = Field(description="The rig is made up, and the description says so.")
    record: str = Field("", description="Of a record of work: the title of the procedure that it is judged by.")
    begun_from: str = Field("", description="The standard rig that the description was begun from.")
    standard_changed: str = Field("", description="What to do where that standard rig is another one since.")
    on_record: str = Field("", description="The register whose records of its tagged things count.")
    settings: str = Field("", description="The settings of its folder, which say something of every rig there.")
    judged_for: Purpose = Field("commissioning", description="What of the rig was judged: see `--for`.")
    day: str
    local_code: str
    local_code_stated: bool
    state: State
    verdicts: dict[Literal["holds", "presumed", "broken", "unproven", "not judged", "not concerned"], int]
    unread: list[FaultOut] = Field([], description="What could not be read; the rest is judged without it.")
    gone: list[str] = Field([], description="What a look saw, is on record, and is in the rig no more.")
    seen_by_place: list[str] = Field([], description="Tagged parts for which a look counts by their places alone.")
    withdrawn: list[str] = Field([], description="Of a register: what is out of use, and was not judged.")
    findings: list[FindingOut]
    questions: list[QuestionOut] = Field(
        description="One for each fact of each thing; reports for people ask once what reads the same of several."
    )
    laid_on_top: list[LaidOut] = Field(description="What folders of one's own brought and changed.")
    left_out: dict[str, int] = Field(
        {}, description="How many findings, questions and held checks are left out, where there are too many to read."
    )
    held: list[HeldOut] = Field([], description="Every check that held, where `--tell-holds` asked for it.")


class RefusedEntry(Out):
    """A file that could not be read."""

    outcome: Literal["refused"] = "refused"
    file: str
    faults: list[FaultOut]


class Totals(Out):
    """How many files came out how."""

    files: int
    on_hold: int
    not_yet_shown: int
    lesser_findings_only: int
    nothing_found: int
    refused: int


class Report(HeadedOut):
    """The whole report: one entry a file, in the order of the files."""

    form: Literal["rigcheck report 1"] = "rigcheck report 1"
    hold_at: Signal
    entries: list[RigEntry | RefusedEntry]
    since: ChangesOut | None = Field(None, description="What is new since the report that `--known` names.")
    totals: Totals


def rig_entry(inspection: Inspection, *, hold_at: Signal, on_unproven: Signal | None) -> RigEntry:
    """Return the JSON form of one inspection."""
    return formed(
        RigEntry,
        inspection,
        outcome="judged",
        on_record=inspection.register,
        judged_for=inspection.purpose,
        unread=faults_out(inspection.unread),
        day=shown_day(inspection.day),
        local_code_stated=inspection.code_stated,
        state=inspection.state(hold_at, on_unproven=on_unproven),
        verdicts=dict(sorted(inspection.verdicts.items())),
        findings=[_finding(one) for one in inspection.findings],
        questions=[_question(one) for one in inspection.questions],
        laid_on_top=laid_out(inspection.laid),
        held=[formed(HeldOut, one, at=place_out(one.place)) for one in inspection.held],
    )


def refused_entry(file: str, faults: tuple[Fault, ...]) -> RefusedEntry:
    """Return the JSON form of a refusal."""
    return RefusedEntry.model_construct(outcome="refused", file=file, faults=faults_out(faults))


def faults_out(faults: tuple[Fault, ...]) -> list[FaultOut]:
    """Return the JSON form of what could not be read."""
    return [formed(FaultOut, one, at=place_out(one.place)) for one in faults]


def _finding(finding: Finding) -> FindingOut:
    return formed(
        FindingOut,
        finding,
        path=finding.at.path,
        tag=finding.at.tag,
        at=place_out(finding.place),
        found=[_found(one) for one in finding.found],
        drawn_from=sources_out(finding.sources),
        limits=[limit_out(limit) for limit in finding.limits],
        rule_at=place_out(finding.rule_place),
        conceded=finding.conceded and _conceded(finding.conceded),
    )


def _conceded(conceded: Conceded) -> ConcededOut:
    return formed(ConcededOut, conceded, until=shown_day(conceded.until), at=place_out(conceded.place))


def _found(found: Found) -> FoundOut:
    least, greatest = map(_finite, found.ends or (None, None))
    working = working_out(found.working)
    return formed(FoundOut, found, at=place_out(found.place), working=working, least=least, greatest=greatest)


def _finite(end: float | None) -> float | None:
    """Return an end of a quantity; JSON has no number for one that is not bounded."""
    return end if end is not None and isfinite(end) else None


def _question(question: Question) -> QuestionOut:
    return formed(
        QuestionOut,
        question,
        path=question.at.path,
        tag=question.at.tag,
        at=place_out(question.place),
        working=working_out(question.working),
        waiting=[formed(WaitingOut, one) for one in question.waiting],
    )
