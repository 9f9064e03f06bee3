"""Every figure of a rig on a day, thing by thing in the order of the flow: what came out, how, what lacks.

Pure: no clock, no disk.
"""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping
from typing import Any

from msgspec import Struct

from rigcheck.facts.explanation import FEW, MOST, ShownWorking, show_working
from rigcheck.judge.judged import Judged, judge
from rigcheck.rig.flow_order import in_flow
from rigcheck.rig.thing import Rig, Thing, Wanted
from rigcheck.rules.limits import DatedLimit
from rigcheck.rules.overlay import Laid
from rigcheck.rules.pack import Pack
from rigcheck.text.place import Place

__all__ = ["Calculated", "Calculation", "Lack", "ThingFigures", "calculate_rig", "calculation_of"]


class Lack(Struct, frozen=True):
    """A fact that is not stated and that a figure waits for, with the question that is put."""

    thing: str
    fact: str
    ask: str
    at: Place


class Calculated(Struct, frozen=True):
    """One figure of one thing.

    `number` counts the figures of a sheet; `value` is as a fact holds it, None where nothing came out;
    `working` is the way that was gone, None where no way could be;
    `lacks` names what is missing where nothing came out.
    """

    number: int
    name: str
    means: str
    measure: str
    value: Any
    working: ShownWorking | None
    lacks: tuple[Lack, ...]
    key: tuple[str, str]

    @property
    def outside(self) -> bool:
        """Whether a way was gone and led outside the figure's validity."""
        return self.working is not None and self.value is None


class ThingFigures(Struct, frozen=True):
    """The figures of one thing, in the order of its vocabulary."""

    thing: Thing
    at: Place
    figures: tuple[Calculated, ...]


class Calculation(Struct, frozen=True):
    """The calculation sheet of one rig."""

    rig: Rig
    day: int
    local_code: str
    code_stated: bool
    things: tuple[ThingFigures, ...]
    limits: Mapping[str, DatedLimit]
    pack: str
    laid: tuple[Laid, ...] = ()

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
    sheet = _Sheet(judged.known.filled, rules.limits, judged.known.plan.figures)
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
    )


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

    def __init__(self, rig: Rig, limits: Mapping[str, DatedLimit], known: Container[tuple[str, str]]) -> None:
        self.rig, self.limits, self.known, self.number = rig, limits, known, 0

    def thing(self, thing: Thing) -> ThingFigures:
        """Return the figures of a thing, without those that do not concern it."""
        names = [name for name in thing.kind.facts if self._has_figure(thing, name)]
        figures = (self._figure(thing, name) for name in names if thing.workings.get(name) or thing.wanting.get(name))
        return ThingFigures(thing, self.rig.place(thing), tuple(figures))

    def _figure(self, thing: Thing, name: str) -> Calculated:
        self.number += 1
        fact, working = thing.kind.facts[name], thing.workings.get(name)
        return Calculated(
            number=self.number,
            name=fact.label,
            means=fact.entry.means,
            measure=fact.measure,
            value=None if working is None else working.value,
            working=None if working is None else show_working(self.rig, working, self.limits),
            lacks=tuple(self._lacks(tuple(thing.wanting.get(name, ())))),
            key=(thing.path, name),
        )

    def _has_figure(self, thing: Thing, name: str) -> bool:
        return any((kind, name) in self.known for kind in thing.kind.lineage)

    def _lacks(self, wanted: tuple[Wanted, ...]) -> Iterator[Lack]:
        told = wanted if len(wanted) <= MOST else wanted[:FEW]
        yield from map(self._lack, told)
        if len(told) < len(wanted):
            yield Lack("", "", f"and {len(wanted) - len(told)} more", self.rig.place(*wanted[len(told)]))

    def _lack(self, wanted: Wanted) -> Lack:
        owner, name = wanted
        fact = owner.kind.facts.get(name)
        spoken = name.replace("_", " ")
        ask = fact.entry.ask if fact and fact.entry.ask else f"What is the {spoken}?"
        return Lack(owner.label, spoken, ask, self.rig.place(owner, name))
