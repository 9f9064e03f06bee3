"""The pressures along one line with what is set, part by part, and what the nozzle wants, made ready to be drawn."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from math import sqrt

from msgspec import Struct
from msgspec.structs import replace

from rigcheck.quantity.interval import Interval, worked_out
from rigcheck.quantity.units import ATMOSPHERE
from rigcheck.report.plot.plot import Sureness, sureness_of
from rigcheck.rig.thing import Thing
from rigcheck.rules.limits import DatedLimit

__all__ = ["NEEDED_FIGURES", "Course", "Station", "courses_of"]

NEEDED_FIGURES = ("nozzle_pressure", "needed_pressure", "torch_pressure")
"""The figures of a line without which its plot lacks something."""

_ACETYLENE_LIMIT = "acetylene_pressure"
_SETS = ("set_pressure", "pipe_pressure")


class Station(Struct, frozen=True):
    """A part from the regulator on.

    `goes_out`: pressure (Pa gauge) behind it with what is set; `sets`: it sets that pressure itself;
    `needed`: behind a regulator, with which the nozzle gets what it wants; `rating`: of the part.
    """

    name: str
    goes_out: Interval | None
    rating: Interval | None
    sets: bool = False
    needed: Interval | None = None
    sureness: Sureness = "worked out"


class Course(Struct, frozen=True):
    """A line from its regulator to its torches that are served alike.

    `supply`: what stands before the first station, in words; `limits`: those that hold all along, by name;
    `wanted`: by the nozzle.
    """

    line: str
    torches: tuple[str, ...]
    supply: str
    stations: tuple[Station, ...]
    limits: tuple[tuple[str, Interval], ...]
    wanted: Interval | None

    @property
    def name(self) -> str:
        """What it is called: with its torch, or how many are served alike, where the line serves several."""
        if len(self.torches) < 2:
            return " to ".join((self.line, *self.torches))
        return f"{self.line} to {len(self.torches)} torches alike"

    @property
    def arrives(self) -> Interval | None:
        """What arrives at the torch."""
        return self.stations[-1].goes_out

    @property
    def whole(self) -> bool:
        """Whether the pressure is known from the first part to the last."""
        return all(station.goes_out is not None for station in self.stations)


def courses_of(line: Thing, limits: Mapping[str, DatedLimit]) -> list[Course]:
    """Return a line's courses to its torches, torches that are served alike as one; none where nothing is known."""
    ends: tuple[Thing, ...] = line.facts.get("torch_end", ())
    found = (_course(line, end, limits, named=len(ends) > 1) for end in ends)
    return list(_alike(one for one in found if one is not None))


def _alike(courses: Iterable[Course]) -> Iterator[Course]:
    groups: dict[object, list[Course]] = {}
    for one in courses:
        key = tuple((_unnumbered(s.name), s.goes_out, s.rating, s.needed) for s in one.stations)
        groups.setdefault((key, one.supply, one.wanted), []).append(one)
    for first, *others in groups.values():
        yield replace(first, torches=(*first.torches, *(name for one in others for name in one.torches)))


def _unnumbered(name: str) -> str:
    return " ".join(part for part in name.split(" ") if not part.isdigit())


def _course(line: Thing, end: Thing, limits: Mapping[str, DatedLimit], *, named: bool) -> Course | None:
    path, torch = list(reversed(list(_upstream(end)))), end.facts.get("downstream")
    first = next((number for number, part in enumerate(path) if _setting(part) is not None), None)
    if first is None:
        return None
    stations = tuple(_stations(path[first:], _air(line)))
    whose = (torch.label,) if named and isinstance(torch, Thing) else ()
    supply = ", ".join(map(_name, path[:first]))
    return Course(line.label, whose, supply, stations, tuple(_limits(line, limits)), _span(line, "nozzle_pressure"))


def _upstream(end: Thing) -> Iterator[Thing]:
    part: Thing | None = end
    while part is not None:
        yield part
        part = part.facts.get("upstream")


def _setting(part: Thing) -> Interval | None:
    return next((span for name in _SETS if (span := _span(part, name)) is not None), None)


def _stations(parts: Iterable[Thing], air: tuple[float, float]) -> Iterator[Station]:
    """Yield the parts with what stands behind each; behind one whose loss is not known nothing is."""
    now: Interval | None = None
    for part in parts:
        setting = _setting(part)
        now = _behind(part, now, air) if setting is None else setting
        needed = None if setting is None else _span(part, "outlet_needed")
        rating = _span(part, "rated_pressure") or _span(part, "outlet_rating")
        sure: Sureness = "worked out" if setting is None else sureness_of(part, _SETS, ())
        yield Station(_name(part), now, rating, setting is not None, needed, sure)


def _behind(part: Thing, before: Interval | None, air: tuple[float, float]) -> Interval | None:
    """Return what a part leaves: at a given flow it takes as much of p^2 whatever the pressure (absolute).

    As the figure of the line has it, the least goes with the lightest air, the most with the heaviest.
    """
    if before is None or "drop" not in part.kind.facts:
        return before
    out, drop = _span(part, "outlet_needed"), _span(part, "drop")
    if out is None or drop is None:
        return None
    least, most = _squares(out.hi + air[1], drop.lo), _squares(out.lo + air[0], drop.hi)
    return worked_out(_left(before.lo, most, air[0]), _left(before.hi, least, air[1]), "pressure")


def _squares(out_abs: float, drop: float) -> float:
    return (out_abs + drop) ** 2 - out_abs**2


def _left(before: float, lost: float, air: float) -> float:
    return max(0.0, sqrt(max(0.0, (before + air) ** 2 - lost)) - air)


def _air(line: Thing) -> tuple[float, float]:
    """Return the pressure of the air at the site, Pa absolute; the standard atmosphere where nothing is known of it."""
    rig = line.facts.get("rig")
    site = rig.facts.get("site") if isinstance(rig, Thing) else None
    found = _span(site, "air_pressure") if isinstance(site, Thing) else None
    return (float(ATMOSPHERE), float(ATMOSPHERE)) if found is None else (found.lo, found.hi)


def _name(part: Thing) -> str:
    number = f" {part.number}" if part.number else ""
    size = _span(part, "length") if "hose" in part.kind.lineage else _span(part, "pressure")
    return f"{part.key}{number}" + (f" ({size.text})" if size else "")


def _limits(line: Thing, limits: Mapping[str, DatedLimit]) -> Iterator[tuple[str, Interval]]:
    limit = limits.get(_ACETYLENE_LIMIT)
    if line.facts.get("gas") == "acetylene" and limit is not None and limit.value is not None:
        yield f"acetylene limit ({limit.local_code})", limit.value


def _span(thing: Thing, name: str) -> Interval | None:
    value = thing.facts.get(name)
    return value if isinstance(value, Interval) else None
