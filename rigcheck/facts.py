"""Facts that are worked out: from the day of inspection, from the order of the parts, by figures.

A function that cannot tell returns the stated facts that it waits for, so that the question can
be put about them.
"""

from __future__ import annotations

import calendar
from collections.abc import Callable, Iterable, Mapping
from datetime import date
from typing import Any

from rigcheck.quantity import Interval, worked_out
from rigcheck.rig.fact import Fact
from rigcheck.rig.thing import MISSING, Rig, Thing, Wanted
from rigcheck.rig.vocabulary import Kind, Vocabulary

__all__ = ["COMPUTED", "Wants", "establish", "uncomputed"]


class Wants(tuple[Wanted, ...]):
    """The stated facts without which a fact cannot be worked out."""

    __slots__ = ()


_NOT_FUEL = ("oxygen", "air", "nitrogen", "carbon-dioxide", "argon")
_DAY_SECONDS = 86_400


def establish(rig: Rig, day: int) -> None:
    """Fill in every computed fact of a rig for a day (a day number), in place of earlier ones."""
    for thing in rig.things:
        for name, work_out in _work_of(thing.kind):
            found = work_out(thing, day)
            if type(found) is Wants:
                thing.facts.pop(name, None)
                thing.wanting[name] = found
            else:
                thing.facts[name] = found


_WORK: dict[int, tuple[Kind, list[tuple[str, Callable[[Thing, int], Any]]]]] = {}


def _work_of(kind: Kind) -> list[tuple[str, Callable[[Thing, int], Any]]]:
    kept = _WORK.get(id(kind))
    if kept is None or kept[0] is not kind:
        work = [(fact.name, _function(kind, fact)) for fact in kind.facts.values() if fact.computed]
        kept = _WORK[id(kind)] = (kind, [(name, f) for name, f in work if f is not None])
    return kept[1]


def _function(kind: Kind, fact: Fact) -> Callable[[Thing, int], Any] | None:
    if fact.entry.from_day:
        return _time_since(fact.entry.from_day, fact.measure)
    return next((COMPUTED[(k, fact.name)] for k in kind.lineage if (k, fact.name) in COMPUTED), None)


def uncomputed(vocabulary: Vocabulary) -> Iterable[str]:
    """Yield the facts that are declared as computed and that nothing computes."""
    for kind in vocabulary.kinds.values():
        for fact in kind.facts.values():
            if fact.computed and fact.name != "kind" and _function(kind, fact) is None:
                yield f"{kind.name}.{fact.name}"


# --- time since a day ---


def _time_since(day_fact: str, measure: str) -> Callable[[Thing, int], Any]:
    elapsed = _months_between if measure == "age" else _seconds_between

    def work_out(thing: Thing, day: int) -> Any:
        stated = thing.facts.get(day_fact, MISSING)
        if stated is MISSING:
            return Wants(((thing, day_fact),))
        if stated is None:
            return None
        return worked_out(elapsed(stated.hi, day), elapsed(stated.lo, day), measure)

    return work_out


def _seconds_between(start: float, day: int) -> float:
    return (day - start) * _DAY_SECONDS


def _months_between(start: float, day: int) -> float:
    """Return calendar months: whole ones, and the rest as a share of the month that runs."""
    if day < start:
        return -_months_between(day, int(start))
    first, last = date.fromordinal(int(start)), date.fromordinal(day)
    months = (last.year - first.year) * 12 + last.month - first.month
    if _months_after(first, months) > last:
        months -= 1
    begin, end = _months_after(first, months), _months_after(first, months + 1)
    return months + (last - begin).days / (end - begin).days


def _months_after(first: date, months: int) -> date:
    years, month = divmod(first.month - 1 + months, 12)
    year = first.year + years
    last_day = calendar.monthrange(year, month + 1)[1]
    return date(year, month + 1, min(first.day, last_day))


# --- from the order of the parts ---


def _is_fuel(line: Thing, day: int) -> Any:
    gas = line.facts.get("gas", MISSING)
    return Wants(((line, "gas"),)) if gas is MISSING else gas not in _NOT_FUEL


def _part_kinds(line: Thing, day: int) -> tuple[str, ...]:
    return tuple(part.kind.name.replace(" ", "-") for part in line.facts.get("parts", ()))


def _whole_length(line: Thing, day: int) -> Any:
    """Return the length of hose from the supply to the furthest torch."""
    hoses = [part for part in line.facts.get("parts", ()) if part.kind.name == "hose"]
    unknown = Wants((hose, "length") for hose in hoses if "length" not in hose.facts)
    if unknown:
        return unknown
    runs = [_run_length(end) for end in line.facts.get("torch_end", ())] or [(0.0, 0.0)]
    return worked_out(max(lo for lo, _ in runs), max(hi for _, hi in runs), "length")


def _run_length(end: Thing | None) -> tuple[float, float]:
    lo = hi = 0.0
    while end is not None:
        length = end.facts.get("length") if end.kind.name == "hose" else None
        if isinstance(length, Interval):
            lo, hi = lo + length.lo, hi + length.hi
        end = end.facts["upstream"]
    return lo, hi


COMPUTED: Mapping[tuple[str, str], Callable[[Thing, int], Any]] = {
    ("line", "fuel"): _is_fuel,
    ("line", "part_kinds"): _part_kinds,
    ("line", "whole_length"): _whole_length,
}
"""The functions of computed facts, by kind and name."""
