"""The forms that JSON reports share: places, sources, limits, workings."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any

from pydantic import BaseModel, ConfigDict, Field

from rigcheck.facts.explanation import Origin, ShownInput, ShownWorking
from rigcheck.quantity.wording import shown_day
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.rules.documents import Source, Standing
from rigcheck.rules.limits import DatedLimit
from rigcheck.rules.overlay import How, Laid
from rigcheck.text.harmless import harmless_json
from rigcheck.text.place import Place

__all__ = [
    "HeadedOut",
    "InputOut",
    "LaidOut",
    "LimitOut",
    "Out",
    "PlaceOut",
    "SourceOut",
    "WorkingOut",
    "laid_out",
    "limit_out",
    "place_out",
    "sources_out",
    "working_out",
]


_DEEP = re.compile(r"\n {4,}")
Numbers = Mapping[tuple[str, str], int]
_NO_NUMBERS: Numbers = {}


class Out(BaseModel):
    """What every form shares: nothing that is not declared."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    def model_dump_json(self, **how: Any) -> str:
        """Return the form as JSON in which nothing is a command of a service that runs builds."""
        return harmless_json(super().model_dump_json(**how))


class HeadedOut(Out):
    """What every report begins with; `form` names it, and its number rises when a reader would have to change."""

    form: str
    version: str
    pack: str = Field(description="SHA-256 over the rules, limits, documents and vocabulary.")
    caution: str = CAUTION

    def model_dump_json(self, **how: Any) -> str:
        """Return the report, what lies deep in a row on one line: its indents would be half of a long report."""
        return _DEEP.sub("", super().model_dump_json(**how))  # no text of JSON has a line end in it (RFC 8259, 7)


class LaidOut(Out):
    """Something that a folder of one's own brought, or changed in the rules that ship."""

    how: How
    sort: str
    name: str
    told: str = Field("", description="What it is now, and what it was before.")
    because: str
    file: str


def laid_out(laid: Iterable[Laid]) -> list[LaidOut]:
    """Return the JSON form of what was laid on top."""
    return [LaidOut(how=x.how, sort=x.sort, name=x.name, told=x.told, because=x.because, file=x.file) for x in laid]


class PlaceOut(Out):
    """A place in a file; line and column count from one, columns in Unicode code points."""

    file: str
    line: int = Field(ge=1)
    column: int = Field(ge=1)


class SourceOut(Out):
    """What a rule or a limit was drawn from, and who read it."""

    text: str
    title: str
    standing: Standing
    in_part: bool = Field(False, description="Whether the text supports only a part of what it is cited for.")
    taken_from: str = Field("", description="The country of the text, where it is not one of the local code in force.")


class LimitOut(Out):
    """A limit as it stood on the day."""

    name: str
    value: str
    local_code: str
    since: str
    drawn_from: list[SourceOut]
    because: str = Field("", description="Why a folder of one's own changed it.")


class InputOut(Out):
    """One input of a working, and where it comes from."""

    symbol: str = Field(description="Its name in the formula.")
    fact: str
    thing: str = Field(description="Empty for a limit and for data of the figure.")
    value: str = Field(description="As it was written, or as it came out.")
    origin: Origin
    at: PlaceOut | None = None
    limit: LimitOut | None = None
    figure: int | None = Field(None, description="The number of the figure that it is, on a calculation sheet.")


class WorkingOut(Out):
    """How a value was worked out, so that it can be followed by hand."""

    formula: str
    inputs: list[InputOut]
    source: str
    validity: str


def place_out(place: Place) -> PlaceOut:
    """Return the JSON form of a place."""
    return PlaceOut.model_construct(file=place.file, line=place.line, column=place.column)


def limit_out(limit: DatedLimit) -> LimitOut:
    """Return the JSON form of a limit."""
    return LimitOut.model_construct(
        name=limit.name,
        value=limit.value.text if limit.value else "none",
        local_code=limit.local_code,
        since=shown_day(limit.since),
        drawn_from=sources_out(limit.sources),
        because=limit.because,
    )


def sources_out(sources: Iterable[Source]) -> list[SourceOut]:
    """Return the JSON form of sources."""
    return [
        SourceOut.model_construct(
            text=s.text, title=s.title, standing=s.standing, in_part=s.in_part, taken_from=s.taken_from
        )
        for s in sources
    ]


def working_out(
    working: ShownWorking | None, numbers: Mapping[tuple[str, str], int] = _NO_NUMBERS
) -> WorkingOut | None:
    """Return the JSON form of a working; `numbers` are those of the figures on the sheet."""
    if working is None:
        return None
    return WorkingOut.model_construct(
        formula=working.formula,
        inputs=[_input(one, numbers) for one in working.inputs],
        source=working.source,
        validity=working.validity,
    )


def _input(one: ShownInput, numbers: Numbers) -> InputOut:
    return InputOut.model_construct(
        symbol=one.symbol,
        fact=one.fact,
        thing=one.thing,
        value=one.value,
        origin=one.origin,
        at=place_out(one.at) if one.at else None,
        limit=limit_out(one.limit) if one.limit else None,
        figure=numbers.get(one.key),
    )
