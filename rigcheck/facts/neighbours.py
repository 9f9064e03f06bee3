"""Facts that follow from the order of the parts in a line."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from rigcheck.facts.figure import Look, Wants
from rigcheck.quantity.interval import Interval, worked_out
from rigcheck.rig.thing import MISSING, Thing

__all__ = ["ORDER_FACTS"]

_NOT_FUEL = ("oxygen", "air", "nitrogen", "carbon-dioxide", "argon")


def _is_fuel(line: Thing, look: Look) -> Any:
    gas = line.facts.get("gas", MISSING)
    return Wants(((line, "gas"),)) if gas is MISSING else gas not in _NOT_FUEL


def _part_kinds(line: Thing, look: Look) -> tuple[str, ...]:
    return tuple(part.kind.name.replace(" ", "-") for part in line.facts.get("parts", ()))


def _whole_length(line: Thing, look: Look) -> Any:
    """Return the length of hose from the supply to the furthest torch."""
    hoses = [part for part in line.facts.get("parts", ()) if "hose" in part.kind.lineage]
    unknown = Wants((hose, "length") for hose in hoses if "length" not in hose.facts)
    if unknown:
        return unknown
    runs = [_run_length(end) for end in line.facts.get("torch_end", ())] or [(0.0, 0.0)]
    return worked_out(max(lo for lo, _ in runs), max(hi for _, hi in runs), "length")


def _run_length(end: Thing | None) -> tuple[float, float]:
    lo = hi = 0.0
    while end is not None:
        length = end.facts.get("length") if "hose" in end.kind.lineage else None
        if isinstance(length, Interval):
            lo, hi = lo + length.lo, hi + length.hi
        end = end.facts["upstream"]
    return lo, hi


ORDER_FACTS: Mapping[tuple[str, str], Callable[[Thing, Look], Any]] = {
    ("line", "fuel"): _is_fuel,
    ("line", "part_kinds"): _part_kinds,
    ("line", "whole_length"): _whole_length,
    ("disagreement", "agree"): lambda disagreement, look: False,
}
"""The functions of computed facts, by kind and name."""
