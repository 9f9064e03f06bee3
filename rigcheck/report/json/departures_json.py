"""How one rig departs from another, as JSON, in a published form (`rigcheck schema departures`)."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from rigcheck.judge.finding import State
from rigcheck.quantity.wording import shown_day
from rigcheck.report.json.common import HeadedOut, LaidOut, Out, PlaceOut, formed, laid_out, place_out
from rigcheck.rig.thing import Rig
from rigcheck.rules.rule import Signal
from rigcheck.tasks.departures import Comparison, Departure, Side, Touched, Turn
from rigcheck.tasks.what_turned import Stand
from rigcheck.version import __version__

__all__ = ["DeparturesReport", "departures_report"]

_Told = Literal["holds", "presumed", "broken", "unproven", "not judged", "not concerned", "does not apply"]


class ComparedOut(Out):
    """One of the two rigs."""

    file: str
    rig: str
    invented: bool = Field(description="The rig is made up, and the description says so.")
    local_code: str
    state: State = Field(description="As a plain inspection has it, held at WARNING.")
    findings: dict[Signal, int]
    questions: int


class MovedOut(Out):
    """A figure that came out otherwise."""

    thing: str
    figure: str
    before: str
    after: str
    signal: Signal = Field(description="Of the gravest rule that reads it.")


class SideOut(Out):
    """What one of the two descriptions says."""

    thing: str
    value: str = Field(description="As it was written; of a part, what it follows.")
    at: PlaceOut


class TurnOut(Out):
    """A verdict on one thing that came out differently."""

    rule: str
    signal: Signal
    thing: str
    before: _Told
    after: _Told


class TouchedOut(Out):
    """A rule that speaks of what differs; without turns, its verdict stayed."""

    rule: str
    signal: Signal
    claim: str
    at: PlaceOut
    turns: list[TurnOut]


_MOST = 3_000  # departures; two rigs that have so many are two rigs


class DepartureOut(Out):
    """One difference."""

    number: int = Field(ge=1)
    how: Literal["changed", "stated", "no longer stated", "added", "missing", "moved"]
    thing: str
    line: str = Field(description="Empty for what belongs to no line.")
    fact: str = Field(description="Empty where a whole part is added, missing or moved.")
    before: SideOut | None
    after: SideOut | None
    parts_inside: int = Field(description="Of a line that is added or missing.")
    allowed: bool = Field(False, description="The first rig says that a rig of it may differ so.")
    touches: list[TouchedOut]


class DeparturesReport(HeadedOut):
    """Every difference of two rigs, in the order of the flow."""

    form: Literal["rigcheck departures 1"] = "rigcheck departures 1"
    day: str
    before: ComparedOut
    after: ComparedOut
    same: bool
    turns: list[TurnOut] = Field(description="All verdicts that turned: what is broken now first, the gravest first.")
    moved: list[MovedOut] = Field(description="Figures that rules read and that moved by more than a hundredth.")
    departures: list[DepartureOut]
    left_out: int = Field(0, description="How many departures more there are, where they are too many to read.")
    filled_in: list[DepartureOut] = Field(description="Left open for the site by the first, stated by the second.")
    laid_on_top: list[LaidOut]
    still_open: int = Field(description="Facts left open by the first that the second does not state either.")
    other_turns: list[TurnOut] = Field(description="Verdicts that turned and that no one departure accounts for.")


def departures_report(comparison: Comparison) -> DeparturesReport:
    """Return the JSON form of a comparison."""
    rigs, codes = (comparison.before, comparison.after), comparison.codes
    before, after = map(_compared, rigs, codes, comparison.stands)
    return formed(
        DeparturesReport,
        comparison,
        version=__version__,
        day=shown_day(comparison.day),
        before=before,
        after=after,
        turns=[_turn(turn) for turn in comparison.turns],
        moved=[formed(MovedOut, one) for one in comparison.moved],
        departures=_numbered(comparison.departures[:_MOST]),
        left_out=max(0, len(comparison.departures) - _MOST),
        filled_in=_numbered(comparison.filled_in),
        laid_on_top=laid_out(comparison.laid),
        other_turns=[_turn(turn) for turn in comparison.other_turns],
    )


def _compared(rig: Rig, code: str, stand: Stand) -> ComparedOut:
    told = {"state": stand.state, "findings": dict(stand.findings), "questions": stand.questions}
    return formed(ComparedOut, rig, rig=rig.name, local_code=code, **told)


def _numbered(departures: tuple[Departure, ...]) -> list[DepartureOut]:
    return [_departure(number, one) for number, one in enumerate(departures, start=1)]


def _departure(number: int, departure: Departure) -> DepartureOut:
    return formed(
        DepartureOut,
        departure,
        number=number,
        before=departure.before and _side(departure.before),
        after=departure.after and _side(departure.after),
        parts_inside=departure.inside,
        touches=[_touched(touched) for touched in departure.touched],
    )


def _side(side: Side) -> SideOut:
    return formed(SideOut, side, at=place_out(side.place))


def _touched(touched: Touched) -> TouchedOut:
    rule, turns = touched.rule, [_turn(turn) for turn in touched.turns]
    return formed(TouchedOut, rule, rule=rule.name, at=place_out(rule.place), turns=turns)


def _turn(turn: Turn) -> TurnOut:
    return formed(TurnOut, turn, rule=turn.rule.name, signal=turn.rule.signal)
