"""A sheet as JSON, in a published form (`rigcheck schema sheet`)."""

from __future__ import annotations

from typing import Any, Literal

from msgspec import to_builtins
from pydantic import Field

from rigcheck.procedure.sheet import Sheet
from rigcheck.quantity.wording import shown_day
from rigcheck.report.json.common import LaidOut, Out, SourceOut, laid_out, sources_out
from rigcheck.report.json.inspection_json import FaultOut, faults_out
from rigcheck.report.sheet.sheet_words import SHEET_CAUTION
from rigcheck.rules.rule import Signal
from rigcheck.version import __version__

__all__ = ["SheetOut", "sheet_json"]


class ValueOut(Out):
    """A value to be written down; `choices` are its words, if it is a choice."""

    name: str
    means: str
    ask: str
    measure: str
    choices: list[str]
    required: str = Field(description="What it must meet, in words; empty where it need meet nothing.")


class StepOut(Out):
    """One step, in an order in which the steps can be done."""

    number: int = Field(ge=1)
    step: str
    thing: str = Field(description="Empty where the step is done once for the rig.")
    do: str
    stand: str
    signal: Signal
    hazard: str
    put_right: str
    optional: bool
    if_so: list[str] = Field(description="Facts that are not known and that decide whether it applies.")
    values: list[ValueOut]
    drawn_from: list[SourceOut]
    after: list[int] = Field(description="Numbers of the steps right before it; others may be done in any order.")


class LeftOutOut(Out):
    """A step that does not apply to the rig, and why."""

    step: str
    why: str


class SheetOut(Out):
    """The sheet of one procedure for one rig."""

    form: Literal["rigcheck sheet 1"] = "rigcheck sheet 1"
    version: str
    pack: str
    caution: str
    procedure: str
    title: str
    means: str
    rig: str
    file: str
    day: str
    local_code: str
    local_code_stated: bool
    state: str = Field(description="State of the rig by its inspection on that day.")
    held_by: list[str]
    despite_hold: bool = Field(description="Whether it may be done while the rig is on hold.")
    first: list[str] = Field(description="Procedures that are done before.")
    cautions: list[str]
    steps: list[StepOut]
    left_out: list[LeftOutOut]
    conceded: int = Field(description="Findings that leave was given for.")
    laid_on_top: list[LaidOut]
    unread: list[FaultOut] = Field(description="What could not be read of the rig, and is not in the sheet.")


def sheet_json(sheet: Sheet) -> str:
    """Return a sheet as JSON text."""
    plain: dict[str, Any] = to_builtins(sheet)
    plain["steps"] = plain.pop("rows")
    for step, row in zip(plain["steps"], sheet.rows, strict=True):
        step["drawn_from"] = sources_out(row.sources)
        del step["sources"]
    plain["laid_on_top"] = laid_out(sheet.laid)
    plain["unread"] = faults_out(sheet.unread)
    for name in ("held_counts", "emergency", "laid"):
        del plain[name]
    plain["local_code_stated"] = plain.pop("code_stated")
    plain["day"] = shown_day(sheet.day)
    made = SheetOut(version=__version__, caution=SHEET_CAUTION, **plain)
    return made.model_dump_json(indent=1) + "\n"
