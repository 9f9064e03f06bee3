"""An overview of many rigs as JSON, in a published form (`rigcheck schema summary`)."""

from __future__ import annotations

from typing import Literal, get_args

from pydantic import Field

from rigcheck.facts.known import Purpose
from rigcheck.judge.inspection import State
from rigcheck.quantity.wording import shown_day
from rigcheck.report.json.changes_json import ChangesOut, changes_out
from rigcheck.report.json.common import Form, HeadedOut, LaidOut, Out, formed, laid_out
from rigcheck.report.json.inspection_json import FaultOut, RefusedEntry, faults_out, refused_entry
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.rules.rule import SIGNALS, Signal
from rigcheck.tasks.overview import Overview, Standing
from rigcheck.version import __version__

__all__ = ["OverviewReport", "overview_report"]

_Counts = dict[Signal, int]
_ASKED = "Open questions as people are asked them: one that is asked of several things of a rig counts once."


class RigOut(Out):
    """How one rig stands; findings that are conceded are counted apart."""

    rig: str
    file: str
    state: State
    findings: _Counts
    conceded: int
    questions: int = Field(description=_ASKED)


class FolderOut(Out):
    """How the rigs of one folder stand together."""

    folder: str
    rigs: int
    on_hold: int
    findings: _Counts
    conceded: int
    questions: int = Field(description=_ASKED)


class SiteOut(Out):
    """How the rigs of one site stand together."""

    site: str = Field(description="The file of the site.")
    rigs: int
    on_hold: int
    findings: _Counts
    conceded: int
    questions: int = Field(description=_ASKED)


class TagOut(Out):
    """What was found on the thing of one tag, in however many rigs."""

    tag: str
    rigs: int
    on_hold: int
    findings: _Counts
    conceded: int


class BrokenOut(Out):
    """How often one rule is broken."""

    rule: str
    signal: Signal
    claim: str
    rigs: int
    findings: int
    conceded: int = Field(description="How many of the findings are conceded.")


class AskedOut(Out):
    """How often one question is asked."""

    kind: str = Field(description="The kind of thing; empty for a step of a procedure.")
    ask: str
    signal: Signal
    rigs: int
    questions: int = Field(description="How often it is asked, once for each thing.")


class InPartOut(Out):
    """A file that was judged without some of its statements."""

    file: str
    faults: list[FaultOut]


class OverviewReport(HeadedOut):
    """What many rigs have in common: each list is complete, the worst first."""

    form: Literal["rigcheck summary 1"] = "rigcheck summary 1"
    purpose: Purpose
    day: str
    hold_at: Signal
    states: dict[State, int]
    findings: _Counts
    conceded: int
    rigs: list[RigOut]
    folders: list[FolderOut]
    customers: list[FolderOut] = Field(
        [], description="The folders in the one that has all of them, each with what lies below it."
    )
    sites: list[SiteOut] = Field([], description="The sites that rigs say they stand at.")
    tags: list[TagOut] = Field([], description="The tags on whose thing something was found.")
    broken: list[BrokenOut]
    asked: list[AskedOut]
    refused: list[RefusedEntry]
    registers: list[str] = Field([], description="Files of registers that were met and passed over.")
    read_in_part: list[InPartOut] = Field([], description="What of judged files could not be read.")
    laid_on_top: list[LaidOut]
    changes: ChangesOut | None


def overview_report(overview: Overview, *, day: int, hold_at: Signal, pack: str) -> OverviewReport:
    """Return the JSON form of an overview; `pack` is the digest of its rules."""
    everything = sorted(overview.standings, key=lambda one: one.order)
    return OverviewReport.model_construct(
        form="rigcheck summary 1",
        version=__version__,
        pack=pack,
        caution=CAUTION,
        purpose=overview.purpose,
        day=shown_day(day),
        hold_at=hold_at,
        states={state: overview.states[state] for state in get_args(State)},
        findings={signal: overview.signals[signal] for signal in SIGNALS},
        conceded=overview.conceded,
        rigs=[formed(RigOut, one, rig=one.name, findings=_by_signal(one)) for one in everything],
        folders=[_folder(one) for one in overview.worst_folders()],
        customers=[_folder(one) for one in overview.worst_customers()],
        sites=[_group(SiteOut, one, site=one.name) for one in overview.worst_sites()],
        tags=[_group(TagOut, one, tag=one.name) for one in overview.worst_tags()],
        broken=[formed(BrokenOut, one, rule=name) for name, one in overview.most_broken()],
        asked=[formed(AskedOut, one, kind=kind, ask=ask) for (kind, ask), one in overview.most_asked()],
        refused=[refused_entry(*one) for one in overview.refused],
        registers=list(overview.registers),
        read_in_part=[InPartOut.model_construct(file=file, faults=faults_out(f)) for file, f in overview.in_part],
        laid_on_top=laid_out(overview.laid),
        changes=None if overview.changes is None else changes_out(overview.changes),
    )


def _by_signal(one: Standing) -> _Counts:
    return dict(zip(SIGNALS, one.counts, strict=True))


def _folder(one: Standing) -> FolderOut:
    return _group(FolderOut, one, folder=one.name or ".")


def _group(form: type[Form], one: Standing, **more: str) -> Form:
    return formed(form, one, on_hold=one.held, findings=_by_signal(one), **more)
