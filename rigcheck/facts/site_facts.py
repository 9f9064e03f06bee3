"""Facts of a site that follow from what stands there: why two of them need to be apart."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from rigcheck.facts.figure import Look, Wants
from rigcheck.rig.thing import MISSING, Thing

__all__ = ["SITE_FACTS"]

_NOT_FUEL = frozenset(("oxygen", "air", "nitrogen", "carbon-dioxide", "argon", "other"))


def _sorts(pair: Thing, look: Look) -> Any:
    """Return why the two ends of a separation need to be apart, or what is wanted to know it."""
    ends = pair.facts["ends"]
    stores = [one for one in ends if one.kind.name == "store"]
    rigs = [one for one in ends if one.kind.name == "standing rig"]
    if len(stores) == len(rigs) == 1:
        return ("store-and-flame",)
    if len(stores) == 2:
        return _stores(stores)
    return _rigs(rigs)


def _stores(stores: list[Thing]) -> Any:
    unknown = [store for store in stores if "gases" not in store.facts]
    if unknown:
        return Wants((store, "gases") for store in unknown)
    one, other = (frozenset(store.facts["gases"]) for store in stores)
    meet = ("oxygen" in one and other - _NOT_FUEL) or ("oxygen" in other and one - _NOT_FUEL)
    return ("oxygen-and-fuel",) if meet else ("other",)


def _rigs(rigs: list[Thing]) -> Any:
    unknown = [rig for rig in rigs if "stands_in" not in rig.facts]
    if unknown:
        return Wants((rig, "stands_in") for rig in unknown)
    one, other = (rig.facts["building"] for rig in rigs)
    if one is not other:
        return ("other",)
    both = [rig.facts.get("has_manifold", MISSING) for rig in rigs]
    return (
        ("rig-and-flame", "manifolds")
        if one is not None and all(is_so is True for is_so in both)
        else ("rig-and-flame",)
    )


SITE_FACTS: Mapping[tuple[str, str], Callable[[Thing, Look], Any]] = {("separation", "sorts"): _sorts}
"""The functions of computed facts, by kind and name."""
