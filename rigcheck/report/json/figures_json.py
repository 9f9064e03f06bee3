"""A calculation sheet as JSON, in a published form (`rigcheck schema figures`)."""

from __future__ import annotations

from math import isfinite
from typing import Literal

from pydantic import Field

from rigcheck.quantity.interval import Interval
from rigcheck.quantity.wording import shown_day
from rigcheck.report.json.common import (
    HeadedOut,
    LaidOut,
    Out,
    PlaceOut,
    WorkingOut,
    formed,
    laid_out,
    place_out,
    working_out,
)
from rigcheck.report.json.inspection_json import FaultOut, faults_out
from rigcheck.report.text.calculation_text import CYLINDER_GAUGES, ESTIMATE, outcome_words
from rigcheck.tasks.calculation_sheet import Calculated, Calculation, ThingFigures
from rigcheck.version import __version__

__all__ = ["FiguresReport", "figures_report"]

_BASE_UNITS = {
    "angle": "deg",
    "pressure": "Pa gauge",
    "length": "m",
    "area": "m2",
    "volume": "m3",
    "mass": "kg",
    "temperature": "K",
    "flow": "m3/s",
    "share": "1",
    "share_per_hour": "1/h",
    "time": "s",
    "age": "month",
    "count": "1",
    "force": "N",
    "speed": "m/s",
    "power": "W",
}


class LackOut(Out):
    """A fact that is not stated and that a figure waits for."""

    thing: str
    fact: str
    ask: str
    at: PlaceOut = Field(description="The thing to which it would be added.")


class RangeOut(Out):
    """The least and the greatest that the inputs allow, in base units; null where there is no end."""

    least: float | None
    greatest: float | None
    unit: str


class DecidesOut(Out):
    """The gravest rule that reads a figure, and what it makes of it."""

    rule: str
    verdict: str
    signal: str


class FigureOut(Out):
    """One figure of one thing."""

    number: int = Field(ge=1)
    name: str
    means: str
    outcome: Literal["worked out", "lacks an input", "outside its validity"]
    value: str = Field(description="As a person would write it; empty where nothing came out.")
    range: RangeOut | None = None
    statements: list[str] = Field(default=[], description="Every statement of it, where there are several.")
    agree: bool = Field(default=True, description="Whether they agree; otherwise all that lies between them counts.")
    conflict: list[str] = Field(default=[], description="Facts on which statements disagree and that it follows from.")
    ends: dict[str, Literal["least", "greatest"]] = Field(
        default={}, description="Which end of each ranged input, by its symbol, goes with the least of the figure."
    )
    decides: DecidesOut | None = None
    working: WorkingOut | None = None
    lacks: list[LackOut]


class ThingOut(Out):
    """The figures of one thing."""

    thing: str
    kind: str
    at: PlaceOut
    figures: list[FigureOut]


class FiguresReport(HeadedOut):
    """Every figure of one rig, thing by thing in the order of the flow."""

    form: Literal["rigcheck figures 1"] = "rigcheck figures 1"
    estimate: str = f"{ESTIMATE} {CYLINDER_GAUGES}"
    file: str
    rig: str
    invented: bool = Field(description="The rig is made up, and the description says so.")
    day: str
    local_code: str
    local_code_stated: bool
    laid_on_top: list[LaidOut]
    unread: list[FaultOut] = Field(description="What could not be read of the rig, and is in no figure.")
    things: list[ThingOut]


def figures_report(calculation: Calculation) -> FiguresReport:
    """Return the JSON form of a calculation sheet."""
    numbers = calculation.numbers()
    rig = calculation.rig
    return formed(
        FiguresReport,
        calculation,
        version=__version__,
        file=rig.file,
        rig=rig.name,
        invented=rig.invented,
        day=shown_day(calculation.day),
        local_code_stated=calculation.code_stated,
        laid_on_top=laid_out(calculation.laid),
        unread=faults_out(rig.unread),
        things=[_thing(one, numbers) for one in calculation.things],
    )


_Numbers = dict[tuple[str, str], int]


def _thing(one: ThingFigures, numbers: _Numbers) -> ThingOut:
    figures = [_figure(figure, numbers) for figure in one.figures]
    return ThingOut(thing=one.thing.label, kind=one.thing.kind.name, at=place_out(one.at), figures=figures)


def _figure(figure: Calculated, numbers: _Numbers) -> FigureOut:
    known = figure.value is not None
    return formed(
        FigureOut,
        figure,
        outcome="worked out" if known else "outside its validity" if figure.outside else "lacks an input",
        value=outcome_words(figure) if known else "",
        range=_range(figure),
        conflict=[f"{name.replace('_', ' ')} of {path or 'the rig'}" for path, name in figure.contested],
        ends=dict(figure.ends),
        decides=figure.decides and formed(DecidesOut, figure.decides),
        working=working_out(figure.working, numbers),
        lacks=[] if known else [formed(LackOut, one, at=place_out(one.at)) for one in figure.lacks],
    )


def _range(figure: Calculated) -> RangeOut | None:
    value, unit = figure.value, _BASE_UNITS.get(figure.measure)
    if not isinstance(value, Interval) or unit is None:
        return None
    least, greatest = (end if isfinite(end) else None for end in (value.lo, value.hi))
    return RangeOut(least=least, greatest=greatest, unit=unit)
