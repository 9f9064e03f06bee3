"""A working in words: its formula, and every input with the place or the source that it comes from.

A figure is shown so that a colleague can follow it by hand.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Literal

from msgspec import Struct

from rigcheck.condition.wording import value_words
from rigcheck.facts.figure import Used, Working
from rigcheck.facts.witness import Witness
from rigcheck.quantity.wording import shown_day
from rigcheck.rig.thing import Rig, Statement
from rigcheck.rules.limits import DatedLimit
from rigcheck.text.place import Place

__all__ = [
    "FEW",
    "MOST",
    "Origin",
    "ShownInput",
    "ShownWorking",
    "basis_words",
    "show_working",
    "statement_words",
    "witness_words",
]

Origin = Literal["stated", "figure", "counted", "limit", "table", "more"]
"""Where an input comes from: written in the rig, another figure, the dates and order of the rig,
a limit of the local code, or the data behind the figure; `more` stands for others like those before it."""

MOST, FEW = 60, 6
"""How many inputs or lacking facts are all shown, and how many where there are more: n parts would name n each."""


class ShownInput(Struct, frozen=True):
    """One input: its name in the formula, the fact and the thing that it is, its value as written.

    `at` is where it was written, `limit` the limit that it is; each is None for other origins.
    """

    symbol: str
    fact: str
    thing: str
    value: str
    origin: Origin
    at: Place | None = None
    limit: DatedLimit | None = None
    key: tuple[str, str] = ("", "")


class ShownWorking(Struct, frozen=True):
    """How a figure came out, in words; `value` is empty where the figure is outside its validity."""

    name: str
    value: str
    formula: str
    inputs: tuple[ShownInput, ...]
    source: str
    validity: str


def show_working(rig: Rig, working: Working, limits: Mapping[str, DatedLimit]) -> ShownWorking:
    """Return a working in words; `limits` are those in force when it was worked out."""
    way = working.way
    return ShownWorking(
        name=_spoken(working.figure.name),
        value="" if working.value is None else value_words(working.value),
        formula=way.formula,
        inputs=tuple(_inputs(rig, working.used, limits)),
        source=way.source,
        validity=way.validity,
    )


def _inputs(rig: Rig, used: Sequence[Used], limits: Mapping[str, DatedLimit]) -> Iterator[ShownInput]:
    told = used if len(used) <= MOST else used[:FEW]
    yield from (_shown(rig, one, limits) for one in told)
    if len(told) < len(used):
        yield ShownInput("…", "", "", f"and {len(used) - len(told)} more", "more")


def basis_words(witness: Witness) -> str:
    """Return what a witness rests on: 'seen 2026-11-25 by the fitter', 'worked out', 'written'."""
    day = f" {shown_day(witness.day)}" if witness.day is not None else ""
    at = f" in {witness.place.file}" if witness.place is not None else ""
    many = " of every one" if witness.of_many else ""
    return f"{witness.basis}{day}{f' by {witness.by}' if witness.by else ''}{many}{at}"


def statement_words(statement: Statement) -> str:
    """Return what a statement of another file rests on: 'seen 2026-11-25 by the fitter', 'on record'."""
    day = f" {shown_day(statement.day)}" if statement.day is not None else ""
    many = " of every one" if statement.of_many else ""
    return f"{statement.basis}{day}{f' by {statement.by}' if statement.by else ''}{many}"


def witness_words(rig: Rig, witness: Witness) -> str:
    """Return what a witness rests on and where it is written, or by what formula or sentence it came."""
    owner, name = witness.of
    written = owner.places.get(name) is not None
    said = f": {witness.says.rstrip('.')}" if witness.says else ""
    at = f" at {witness.place or rig.place(owner, name)}" if written or witness.place else ""
    return f"{basis_words(witness)}{said}{at}"


def _shown(rig: Rig, used: Used, limits: Mapping[str, DatedLimit]) -> ShownInput:
    symbol, fact, value = _spoken(used.name), _spoken(used.fact), _value(used.value)
    if used.owner is None:
        limit = limits.get(used.fact)
        return ShownInput(symbol, fact, "", value, "limit" if limit else "table", limit=limit)
    owner, key = used.owner, (used.owner.path, used.fact)
    if used.fact in owner.workings:
        return ShownInput(symbol, fact, owner.label, value, "figure", key=key)
    if used.fact in owner.places:
        return ShownInput(symbol, fact, owner.label, value, "stated", rig.place(owner, used.fact))
    return ShownInput(symbol, fact, owner.label, value, "counted", rig.place(owner))


def _value(value: Any) -> str:
    return f"{value:.6g}" if isinstance(value, float) else value_words(value)


def _spoken(name: str) -> str:
    return name.replace("_", " ")
