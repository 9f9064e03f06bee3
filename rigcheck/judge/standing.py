"""What a judged rig says of itself to the site on which it stands: what it holds, who works with it, its permit."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from rigcheck.judge.judged import Judged
from rigcheck.quantity.interval import Interval, worked_out
from rigcheck.rig.thing import MISSING, Thing

__all__ = ["standing_facts"]

_LIQUEFIED = ("propane", "butane", "propylene", "methylacetylene-mix")


def standing_facts(judged: Judged) -> Mapping[str, Any]:
    """Return the facts of the kind `standing rig` that the rig's own file gives; what it leaves open is left out."""
    rig = judged.known.root
    lines: tuple[Thing, ...] = rig.facts.get("lines", ())
    fuel = [line for line in lines if judged.known.fact(line, "fuel") is True]
    gas = [line for line in fuel if line.facts.get("gas") not in _LIQUEFIED]
    liquefied = [line for line in fuel if line.facts.get("gas") in _LIQUEFIED]
    oxygen = [line for line in lines if line.facts.get("gas") == "oxygen"]
    sums = {
        "fuel_connected": _total(judged, gas, "full_content", "volume", spare=False),
        "fuel_spare": _total(judged, gas, "full_content", "volume", connected=False),
        "lpg_connected": _total(judged, liquefied, "full_contents_mass", "mass", spare=False),
        "lpg_spare": _total(judged, liquefied, "full_contents_mass", "mass", connected=False),
        "oxygen_held": _total(judged, oxygen, "full_content", "volume"),
        "cylinders": _total(judged, lines, "", "count"),
        "welders": rig.facts["job"].facts.get("torches_in_use", MISSING) if rig.facts.get("job") else MISSING,
        "has_manifold": any("manifold" in part.kind.lineage for line in lines for part in line.facts.get("parts", ())),
        "hot_work_permit": rig.facts["job"].facts.get("hot_work_permit", MISSING) if rig.facts.get("job") else MISSING,
    }
    return {name: value for name, value in sums.items() if value is not MISSING}


def _total(
    judged: Judged, lines: Iterable[Thing], fact: str, dimension: str, *, connected: bool = True, spare: bool = True
) -> Any:
    """Return what the cylinders of lines hold when full, connected, spare or both; or how many there are."""
    lo = hi = 0.0
    for line in lines:
        parts = line.facts.get("parts", ())
        held = [_held(judged, part, fact) for part in parts if "cylinder" in part.kind.lineage]
        held += [_of_tank(part, fact) for part in parts if "bulk tank" in part.kind.lineage and fact == "full_content"]
        spares = line.facts.get("spare_cylinders", MISSING) if spare else MISSING
        if MISSING in held or (spare and held and not isinstance(spares, Interval)):
            return MISSING
        if connected:
            lo, hi = lo + sum(one[0] for one in held), hi + sum(one[1] for one in held)
        if spare and held and isinstance(spares, Interval):
            lo, hi = lo + spares.lo * held[0][0], hi + spares.hi * max(one[1] for one in held)
    return worked_out(lo, hi, dimension)


def _held(judged: Judged, cylinder: Thing, fact: str) -> Any:
    value = judged.known.fact(cylinder, fact) if fact else None
    return (1.0, 1.0) if value is None else (value.lo, value.hi) if isinstance(value, Interval) else MISSING


def _of_tank(tank: Thing, fact: str) -> Any:
    value = tank.facts.get("connected_volume", MISSING)
    return (value.lo, value.hi) if isinstance(value, Interval) else MISSING
