"""Facts of what a description itself shows: a tag that several things bear, what a kind is."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from rigcheck.facts.figure import Look
from rigcheck.quantity.interval import worked_out
from rigcheck.rig.thing import Thing

__all__ = ["DESCRIPTION_FACTS"]


_SUPPLIES = "supplies"  # the trait


def _borne_by(tag: Thing, look: Look) -> Any:
    count = len(tag.facts["bearers"])
    return worked_out(count, count, "count")


DESCRIPTION_FACTS: Mapping[tuple[str, str], Callable[[Thing, Look], Any]] = {
    ("doubled tag", "borne_by"): _borne_by,
    ("shared tag", "borne_by"): _borne_by,
    ("part", "is_supply"): lambda part, look: _SUPPLIES in part.kind.lineage,
    ("withdrawal", "reason_said"): lambda withdrawal, look: "withdrawn" in withdrawal.facts,
    ("departure", "allowed"): lambda departure, look: departure.facts["lets"],
}
"""The functions of computed facts, by kind and name."""
