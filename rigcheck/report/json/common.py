"""The forms that JSON reports share: places, sources, limits, workings."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from operator import attrgetter
from typing import Any, TypeVar, get_origin

from pydantic import BaseModel, ConfigDict, Field
from pydantic.fields import FieldInfo

from rigcheck.facts.explanation import Origin, ShownInput, ShownWorking
from rigcheck.quantity.wording import shown_day
from rigcheck.report.text.inspection_text import CAUTION
from rigcheck.rules.documents import Source, Standing
from rigcheck.rules.limits import DatedLimit
from rigcheck.rules.overlay import How, Laid
from rigcheck.text.harmless import harmless_json
from rigcheck.text.place import Place

__all__ = [
    "Form",
    "HeadedOut",
    "InputOut",
    "LaidOut",
    "LimitOut",
    "Out",
    "PlaceOut",
    "SourceOut",
    "WorkingOut",
    "formed",
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


Form = TypeVar("Form", bound=Out)


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


def formed(form: type[Form], value: object, /, **more: Any) -> Form:
    """Return the form of a value: `more`, and for each other field what the value has under the same name.

    A field that has a default may be missing there.
    """
    key = form, type(value)
    takers = _TAKERS.get(key)
    if takers is None:
        takers = _TAKERS[key] = {name: _taker(name, field, value) for name, field in form.model_fields.items()}
    made = form.__new__(form)
    # What `model_construct` comes to, in half of its time: a long report has thousands of each form.
    object.__setattr__(
        made, "__dict__", {name: more[name] if name in more else take(value) for name, take in takers.items()}
    )
    object.__setattr__(made, "__pydantic_fields_set__", set(takers))
    object.__setattr__(made, "__pydantic_extra__", None)
    object.__setattr__(made, "__pydantic_private__", None)
    return made


_TAKERS: dict[tuple[type, type], dict[str, Callable[[Any], Any]]] = {}
"""How each field of a form is taken from a sort of value where it is not given."""


def _taker(name: str, field: FieldInfo, value: object) -> Callable[[Any], Any]:
    if not field.is_required() and not hasattr(value, name):
        default = field.get_default(call_default_factory=True)
        return lambda _: default
    take = attrgetter(name)
    return (lambda one: list(take(one))) if get_origin(field.annotation) is list else take


def laid_out(laid: Iterable[Laid]) -> list[LaidOut]:
    """Return the JSON form of what was laid on top."""
    return [formed(LaidOut, one) for one in laid]


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
    return formed(PlaceOut, place)


def limit_out(limit: DatedLimit) -> LimitOut:
    """Return the JSON form of a limit."""
    value = limit.value.text if limit.value else "none"
    return formed(LimitOut, limit, value=value, since=shown_day(limit.since), drawn_from=sources_out(limit.sources))


def sources_out(sources: Iterable[Source]) -> list[SourceOut]:
    """Return the JSON form of sources."""
    return [formed(SourceOut, one) for one in sources]


def working_out(
    working: ShownWorking | None, numbers: Mapping[tuple[str, str], int] = _NO_NUMBERS
) -> WorkingOut | None:
    """Return the JSON form of a working; `numbers` are those of the figures on the sheet."""
    if working is None:
        return None
    return formed(WorkingOut, working, inputs=[_input(one, numbers) for one in working.inputs])


def _input(one: ShownInput, numbers: Numbers) -> InputOut:
    at, limit = one.at and place_out(one.at), one.limit and limit_out(one.limit)
    return formed(InputOut, one, at=at, limit=limit, figure=numbers.get(one.key))
