"""The pressures along one line as its figures give them, made ready to be drawn."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from rigcheck.quantity import Interval
from rigcheck.rig.thing import Thing
from rigcheck.rules.limits import DatedLimit

__all__ = ["Course", "Station", "course_of"]

_COMES_IN, _GOES_OUT = "inlet_pressure", "outlet_pressure"
_ACETYLENE_LIMIT = "acetylene_pressure"


@dataclass(frozen=True, slots=True)
class Station:
    """A part after the regulator: pressure as gas comes in and goes out (Pa gauge), and its rating."""

    name: str
    comes_in: Interval | None
    goes_out: Interval | None
    rating: Interval | None


@dataclass(frozen=True, slots=True)
class Course:
    """A line from its regulator on: what stands before, the parts with their pressures, limits, what is wanted."""

    line: Thing
    supply: str
    stations: tuple[Station, ...]
    limits: tuple[tuple[str, Interval], ...]
    wanted: Interval | None


def course_of(line: Thing, limits: Mapping[str, DatedLimit]) -> Course | None:
    """Return the course of a line; None where no part of it has a known pressure while gas flows."""
    parts: tuple[Thing, ...] = line.facts.get("parts", ())
    regulator = line.facts.get("regulator")
    after = parts[parts.index(regulator) :] if regulator in parts else parts
    stations = tuple(map(_station, after))
    if not any(one.comes_in or one.goes_out for one in stations):
        return None
    before = parts[: len(parts) - len(after)]
    return Course(line, ", ".join(map(_supply, before)), stations, tuple(_limits(line, limits)), _wanted(line))


def _station(part: Thing) -> Station:
    if part.kind.name == "regulator":
        return Station(_name(part), None, _span(part, "set_pressure"), _span(part, "outlet_rating"))
    return Station(_name(part), _span(part, _COMES_IN), _span(part, _GOES_OUT), _span(part, "rated_pressure"))


def _name(part: Thing) -> str:
    number = f" {part.number}" if part.number else ""
    length = _span(part, "length") if part.kind.name == "hose" else None
    return f"{part.key}{number}" + (f" {length.text}" if length else "")


def _supply(part: Thing) -> str:
    pressure = _span(part, "pressure")
    return _name(part) + (f" at {pressure.text}" if pressure else "")


def _limits(line: Thing, limits: Mapping[str, DatedLimit]) -> Iterator[tuple[str, Interval]]:
    limit = limits.get(_ACETYLENE_LIMIT)
    if line.facts.get("gas") == "acetylene" and limit is not None and limit.value is not None:
        yield f"acetylene limit, local code {limit.local_code}", limit.value


def _wanted(line: Thing) -> Interval | None:
    """Return the pressure that the nozzle's table gives for the gas of a line."""
    torches = [t for t in line.facts["rig"].facts.get("torch") or () if line in t.facts.get("lines", ())]
    name = "fuel_pressure" if line.facts.get("fuel") else "oxygen_pressure"
    found = [_span(nozzle, name) for torch in torches for nozzle in torch.facts.get("nozzle") or ()]
    known = [one for one in found if one is not None]
    return known[0] if len(known) == 1 else None


def _span(thing: Thing, name: str) -> Interval | None:
    value = thing.facts.get(name)
    return value if isinstance(value, Interval) else None
