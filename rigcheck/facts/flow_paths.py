"""Along a line, from the regulator to its torches: what follows a part, what it passes, what it must give."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from rigcheck.facts.spans import collected
from rigcheck.facts.working import Look, Used, Wants
from rigcheck.rig.thing import MISSING, Thing

__all__ = ["LOSES", "flow_of", "joiners_of", "nozzles_of", "outlet_of"]

LOSES = ("hose", "arrester")
"""Kinds of parts whose loss is worked out."""


def _following(part: Thing) -> list[Thing]:
    """Return what the gas of a part goes to: several parts after a header."""
    line = part.facts.get("line")  # none for an arrester that is built into a torch
    parts = line.facts.get("parts", ()) if isinstance(line, Thing) else ()
    after = [one for one in parts if one.facts.get("upstream") is part]
    last = part.facts.get("downstream")
    return after or ([last] if isinstance(last, Thing) else [])


def _next_losses(part: Thing) -> list[Thing]:
    """Return the next hoses, arresters, regulators and torches that the gas comes to."""
    found: list[Thing] = []
    for one in _following(part):
        stops = one.kind.name in (*LOSES, "regulator", "torch")
        found += [one] if stops else _next_losses(one)
    return found


def _torches_after(part: Thing) -> list[Thing]:
    """Return the torches that a part leads to, each as often as a branch ends in it."""
    if part.kind.name == "torch":
        return [part]
    return [torch for one in _following(part) for torch in _torches_after(one)]


def flow_of(part: Thing, look: Look) -> Any:
    """Gather what a part passes: the line's demand, or on a branch that of its own torches."""
    line, torches = part.facts.get("line"), _torches_after(part)
    if not torches or not isinstance(line, Thing):
        return None
    ends = len(line.facts.get("torch_end", ()))
    if len(torches) >= ends:
        return collected((line,), "demand", look, "q")
    fuel = look.fact(line, "fuel")
    if fuel is MISSING:
        return look.wants(line, "fuel")
    return collected(torches, "fuel_demand" if fuel else "oxygen_demand", look, "q")


def _nozzle_pressures(torches: Iterable[Thing], line: Thing, look: Look) -> Any:
    fuel = look.fact(line, "fuel")
    if fuel is MISSING:
        return look.wants(line, "fuel")
    nozzles = [nozzle for torch in torches for nozzle in torch.facts.get("nozzle") or ()]
    return collected(nozzles, "fuel_pressure" if fuel else "oxygen_pressure", look, "p") if nozzles else None


def nozzles_of(line: Thing, look: Look) -> Any:
    """Gather the pressures that the nozzles at the ends of a line want."""
    ends = line.facts.get("torch_end", ())
    torches = [end.facts["downstream"] for end in ends if end is not None and end.facts.get("downstream")]
    return _nozzle_pressures(dict.fromkeys(torches), line, look)


def outlet_of(part: Thing, look: Look) -> Any:
    """Gather the pressures that the next parts need: a nozzle's own, or outlet and drop of a hose or an arrester."""
    found: list[Used] = []
    wanted: list[Any] = []
    for number, one in enumerate(_next_losses(part)):
        if one.kind.name == "regulator":
            return None
        gathered = _inlet_of(one, part.facts["line"], look, str(number))
        if gathered is None:
            return None
        (wanted if isinstance(gathered, Wants) else found).extend(gathered)
    return Wants(dict.fromkeys(wanted)) if wanted else (tuple(found) or None)


def _inlet_of(one: Thing, line: Thing, look: Look, number: str) -> Any:
    if one.kind.name == "torch":
        return _nozzle_pressures((one,), line, look)
    after = collected((one,), "outlet_needed", look, f"p{number}")
    drop = collected((one,), "drop", look, f"p{number}")
    if isinstance(after, Wants) or isinstance(drop, Wants):
        return Wants(dict.fromkeys([w for side in (after, drop) if isinstance(side, Wants) for w in side]))
    return (*after, *drop)


def joiners_of(hose: Thing, look: Look) -> Any:
    """Gather how many joiners a hose has."""
    value = hose.facts.get("joiners", MISSING)
    return Wants(((hose, "joiners"),)) if value is MISSING else (Used("joiners", hose, "joiners", value),)
