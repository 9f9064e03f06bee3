"""Every figure of a rig on a day, thing by thing in the order of the flow: what came out, how, what lacks.

Pure: no clock, no disk.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping
from types import MappingProxyType
from typing import Any, NamedTuple

from msgspec import Struct

from rigcheck.condition.value_wording import value_words
from rigcheck.facts.explanation import FEW, ShownWorking, show_working, witness_words
from rigcheck.facts.paired_ends import paired_ends
from rigcheck.facts.witness import Witness
from rigcheck.judge.fact_uses import FactUses
from rigcheck.judge.judged import Judged, judge
from rigcheck.rig.flow_order import in_flow
from rigcheck.rig.thing import Rig, Thing, Wanted
from rigcheck.rules.limits import DatedLimit
from rigcheck.rules.overlay import Laid
from rigcheck.rules.pack import Pack
from rigcheck.tasks.deciding_figures import decisions_of
from rigcheck.text.place import Place

__all__ = [
    "Calculated",
    "Calculation",
    "Decides",
    "FigureValue",
    "Lack",
    "ThingFigures",
    "calculate_rig",
    "calculation_of",
    "figure_values",
]

_MOST_LACKS = 12  # of one figure that are all told; a part waits for every part behind it


class Lack(Struct, frozen=True):
    """A fact that is not stated and that a figure waits for, with the question that is put."""

    thing: str
    fact: str
    ask: str
    at: Place


class Decides(Struct, frozen=True):
    """A rule that reads a figure, with its verdict and its signal word."""

    rule: str
    verdict: str
    signal: str


class Calculated(Struct, frozen=True):
    """One figure of one thing.

    `number` counts the figures of a sheet; `value` is as a fact holds it, None where nothing came out;
    `working` is the way that was gone, None where no way could be;
    `lacks` names what is missing where nothing came out.
    `statements`: every statement of it where there are several, in words, `agree` whether they agree: then the better
    known counts, otherwise all that lies between them. `contested`: figures and statements that do not agree and that
    it follows from, by their keys. `ends`: which end of each ranged input goes with its least, by the symbol.
    `decides`: what the gravest rule that reads it makes of it.
    """

    number: int
    name: str
    means: str
    measure: str
    value: Any
    working: ShownWorking | None
    lacks: tuple[Lack, ...]
    key: tuple[str, str]
    statements: tuple[str, ...] = ()
    agree: bool = True
    contested: tuple[tuple[str, str], ...] = ()
    ends: Mapping[str, str] = MappingProxyType({})
    decides: Decides | None = None

    @property
    def outside(self) -> bool:
        """Whether a way was gone and led outside the figure's validity."""
        return self.working is not None and self.value is None


class FigureValue(NamedTuple):
    """What came out for one figure of a thing, in base units; None where nothing did."""

    thing: Thing
    name: str
    measure: str
    value: Any


class ThingFigures(Struct, frozen=True):
    """The figures of one thing, in the order of its vocabulary."""

    thing: Thing
    at: Place
    figures: tuple[Calculated, ...]


class Calculation(Struct, frozen=True):
    """The calculation sheet of one rig; `deciding`: the figures that its rules read, what decides most first."""

    rig: Rig
    day: int
    local_code: str
    code_stated: bool
    things: tuple[ThingFigures, ...]
    limits: Mapping[str, DatedLimit]
    pack: str
    laid: tuple[Laid, ...] = ()
    deciding: tuple[Calculated, ...] = ()

    @property
    def figures(self) -> Iterator[Calculated]:
        """Every figure, in order."""
        return (figure for thing in self.things for figure in thing.figures)

    def numbers(self) -> dict[tuple[str, str], int]:
        """Return the number of each figure on the sheet, by its key."""
        return {figure.key: figure.number for figure in self.figures}


def calculate_rig(rig: Rig, pack: Pack, *, day: int, local_code: str = "") -> Calculation:
    """Return every figure of a rig on a day (a proleptic Gregorian day number).

    `local_code` overrides the rig's own; `general` stands where neither says one.
    """
    return calculation_of(judge(rig, pack, day=day, local_code=local_code))


def calculation_of(judged: Judged) -> Calculation:
    """Return every figure of a judged rig."""
    judged.known.work_all_out()
    rules = judged.rules
    sheet = _Sheet(judged)
    found = (sheet.thing(thing) for thing in _in_order(judged.known.filled))
    figures = tuple(one for one in found if one.figures)
    return Calculation(
        judged.known.filled,
        judged.day,
        rules.local_code,
        judged.code_stated,
        figures,
        rules.limits,
        rules.pack.digest,
        rules.pack.laid,
        sheet.deciding(figures),
    )


def figure_values(judged: Judged) -> Iterator[FigureValue]:
    """Yield what came out for every figure of a judged rig, in the order of the sheet, without its working.

    Many rigs are told so: to say how each figure came out takes three times as long as the rest.
    """
    judged.known.work_all_out()
    known: Container[tuple[str, str]] = judged.known.plan.figures
    for thing in _in_order(judged.known.filled):
        for name in _figures_of(thing, known):
            fact = thing.kind.facts[name]
            yield FigureValue(thing, fact.label, fact.measure, _value_of(thing, name))


def _figures_of(thing: Thing, known: Container[tuple[str, str]]) -> list[str]:
    """Return the figures of a thing by name, without those that do not concern it."""
    concern = (name for name in thing.kind.facts if thing.workings.get(name) or thing.wanting.get(name))
    return [name for name in concern if any((kind, name) in known for kind in thing.kind.lineage)]


def _value_of(thing: Thing, name: str) -> Any:
    working = thing.workings.get(name)
    known = working is not None and working.value is not None
    return thing.facts.get(name, working.value) if working is not None and known else None


def _in_order(rig: Rig) -> list[Thing]:
    """Return the things in the order of the flow, each line after its parts.

    So most inputs stand before what is worked out from them.
    """
    things = in_flow(rig)
    last = {thing.facts.get("line"): number + 0.5 for number, thing in enumerate(things)}
    places = {thing: last.get(thing, float(number)) for number, thing in enumerate(things)}
    return sorted(things, key=places.__getitem__)


class _Sheet:
    """Numbers the figures while the things go by."""

    def __init__(self, judged: Judged) -> None:
        self.rig, self.limits = judged.known.filled, judged.rules.limits
        self.known: Container[tuple[str, str]] = judged.known.plan.figures
        self.number = 0
        self.decisions = decisions_of(judged)
        self.contested = _contested(judged)

    def deciding(self, things: Iterable[ThingFigures]) -> tuple[Calculated, ...]:
        """Return the figures that came out and that rules read, what decides most first."""
        by_key = {one.key: one for thing in things for one in thing.figures}
        found = (by_key.get((thing.path, name)) for thing, name in self.decisions)
        return tuple(one for one in found if one is not None and one.value is not None)

    def thing(self, thing: Thing) -> ThingFigures:
        """Return the figures of a thing, without those that do not concern it."""
        figures = (self._figure(thing, name) for name in _figures_of(thing, self.known))
        return ThingFigures(thing, self.rig.place(thing), tuple(figures))

    def _figure(self, thing: Thing, name: str) -> Calculated:
        self.number += 1
        fact, working = thing.kind.facts[name], thing.workings.get(name)
        witnesses = _several(thing, name)
        return Calculated(
            number=self.number,
            name=fact.label,
            means=fact.entry.means,
            measure=fact.measure,
            value=_value_of(thing, name),
            working=None if working is None else show_working(self.rig, working, self.limits),
            lacks=tuple(self._lacks(tuple(thing.wanting.get(name, ())))),
            key=(thing.path, name),
            statements=tuple(self._statement(one) for one in witnesses),
            agree=name not in thing.disputes,
            contested=tuple(self.contested.get((thing, name), ())),
            ends=paired_ends(working) if working is not None else {},
            decides=self._decides(thing, name),
        )

    def _statement(self, witness: Witness) -> str:
        told = "worked out as below" if witness.basis == "worked out" else witness_words(self.rig, witness)
        return f"{value_words(witness.value)} ({told})"

    def _decides(self, thing: Thing, name: str) -> Decides | None:
        found = self.decisions.get((thing, name))
        return Decides(found[0].rule.name, found[0].verdict, found[0].rule.signal) if found else None

    def _lacks(self, wanted: tuple[Wanted, ...]) -> Iterator[Lack]:
        told = wanted if len(wanted) <= _MOST_LACKS else wanted[:FEW]
        yield from map(self._lack, told)
        if len(told) < len(wanted):
            yield Lack("", "", f"and {len(wanted) - len(told)} more", self.rig.place(*wanted[len(told)]))

    def _lack(self, wanted: Wanted) -> Lack:
        owner, name = wanted
        fact = owner.kind.facts.get(name)
        spoken = name.replace("_", " ")
        ask = fact.entry.ask if fact and fact.entry.ask else f"What is the {spoken}?"
        return Lack(owner.label, spoken, ask, self.rig.place(owner, name))


def _several(thing: Thing, name: str) -> tuple[Witness, ...]:
    """Return the witnesses of a fact where there is more than one."""
    found: tuple[Witness, ...] = thing.witnesses.get(name, ())
    return found if len(found) > 1 else ()


def _contested(judged: Judged) -> dict[Wanted, list[tuple[str, str]]]:
    """Return for each fact the keys of those in dispute that it follows from."""
    found: dict[Wanted, list[tuple[str, str]]] = {}
    disputed = [(thing, name) for thing in judged.known.things for name in thing.disputes]
    uses = FactUses(judged) if disputed else None
    for thing, name in disputed:
        for one in uses.consequences(thing, name) if uses else ():
            if one != (thing, name):
                found.setdefault(one, []).append((thing.path, name))
    return found
