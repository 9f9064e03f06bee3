"""Facts of a tag that several things of a rig bear, or things of several rigs."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from rigcheck.facts.figure import Look
from rigcheck.quantity.interval import worked_out
from rigcheck.rig.thing import Thing

__all__ = ["TAG_FACTS"]


def _borne_by(tag: Thing, look: Look) -> Any:
    count = len(tag.facts["bearers"])
    return worked_out(count, count, "count")


TAG_FACTS: Mapping[tuple[str, str], Callable[[Thing, Look], Any]] = {
    (kind, "borne_by"): _borne_by for kind in ("doubled tag", "shared tag")
}
"""The functions of computed facts, by kind and name."""
