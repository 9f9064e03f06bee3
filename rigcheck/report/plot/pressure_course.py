"""The pressures along one line as its figures give them, made ready to be drawn."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from rigcheck.quantity.interval import Interval, worked_out
from rigcheck.rig.thing import Thing
from rigcheck.rules.limits import DatedLimit

__all__ = ["NEEDED_FIGURES", "Course", "Station", "courses_of"]

NEEDED_FIGURES = ("nozzle_pressure", "needed_pressure", "torch_pressure")
"""The figures of a line without which nothing is drawn."""

_ACETYLENE_LIMIT = "acetylene_pressure"


@dataclass(frozen=True, slots=True)
class Station:
    """A part from the regulator on.

    `comes_in`, `goes_out`: pressures (Pa gauge) with which the nozzle gets what it wants; `rating`: of the part;
    `set_to`: of a regulator.
    """

    name: str
    comes_in: Interval | None
    goes_out: Interval | None
    rating: Interval | None
    set_to: Interval | None = None


@dataclass(frozen=True, slots=True)
class Course:
    """A line from its regulator to one torch.

    `supply`: what stands before the first regulator, in words; `limits`: those that hold all along, by name;
    `arrives`: at the torch with what is set; `wanted`: by the nozzle.
    """

    name: str
    supply: str
    stations: tuple[Station, ...]
    limits: tuple[tuple[str, Interval], ...]
    arrives: Interval | None
    wanted: Interval | None

    @property
    def settings(self) -> list[tuple[int, Interval]]:
        """What each regulator is set to, by the number of its slot, from 0."""
        return [(number, station.set_to) for number, station in enumerate(self.stations) if station.set_to is not None]

    @property
    def whole(self) -> bool:
        """Whether the pressure is known from the first part on."""
        return self.stations[0].goes_out is not None


def courses_of(line: Thing, limits: Mapping[str, DatedLimit]) -> list[Course]:
    """Return a line's course to each of its torches; none where no pressure while gas flows is known."""
    ends: tuple[Thing, ...] = line.facts.get("torch_end", ())
    found = (_course(line, end, limits, named=len(ends) > 1) for end in ends)
    return [one for one in found if one is not None]


def _course(line: Thing, end: Thing, limits: Mapping[str, DatedLimit], *, named: bool) -> Course | None:
    path, torch = list(reversed(list(_upstream(end)))), end.facts.get("downstream")
    regulator = line.facts.get("regulator")
    after = path[path.index(regulator) :] if regulator in path else path
    stations = tuple(map(_station, after))
    wanted = _span(line, "nozzle_pressure")
    if not any(one.comes_in for one in stations) or wanted is None:
        return None
    whose = f" to the {torch.label}" if named and isinstance(torch, Thing) else ""
    return Course(
        name=f"{line.label}{whose}",
        supply=", ".join(_name(part) for part in _before(line, after[0])),
        stations=(*stations, Station("torch", wanted, None, None)),
        limits=tuple(_limits(line, limits)),
        arrives=_span(line, "torch_pressure"),
        wanted=wanted,
    )


def _upstream(end: Thing) -> Iterator[Thing]:
    part: Thing | None = end
    while part is not None:
        yield part
        part = part.facts.get("upstream")


def _before(line: Thing, first: Thing) -> tuple[Thing, ...]:
    parts: tuple[Thing, ...] = line.facts.get("parts", ())
    return parts[: parts.index(first)]


def _station(part: Thing) -> Station:
    if "regulator" in part.kind.lineage:
        wanted, given = _span(part, "inlet_needed"), _span(part, "outlet_needed")
        return Station(_name(part), wanted, given, _span(part, "outlet_rating"), _span(part, "set_pressure"))
    goes_out, drop = _span(part, "outlet_needed"), _span(part, "drop")
    comes_in = worked_out(goes_out.lo + drop.lo, goes_out.hi + drop.hi, "pressure") if goes_out and drop else None
    return Station(_name(part), comes_in, goes_out, _span(part, "rated_pressure"))


def _name(part: Thing) -> str:
    number = f" {part.number}" if part.number else ""
    size = _span(part, "length") if "hose" in part.kind.lineage else _span(part, "pressure")
    return f"{part.key}{number}" + (f" ({size.text})" if size else "")


def _limits(line: Thing, limits: Mapping[str, DatedLimit]) -> Iterator[tuple[str, Interval]]:
    limit = limits.get(_ACETYLENE_LIMIT)
    if line.facts.get("gas") == "acetylene" and limit is not None and limit.value is not None:
        yield f"acetylene limit, local code {limit.local_code}", limit.value


def _span(thing: Thing, name: str) -> Interval | None:
    value = thing.facts.get(name)
    return value if isinstance(value, Interval) else None
