"""What hoses and arresters lose, and what that leaves at the torch, carried as intervals."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from math import sqrt
from typing import Any

from rigcheck.facts.contents import base_density
from rigcheck.facts.spans import ATMOSPHERE, absolute, added, divided, values_of
from rigcheck.facts.working import Used
from rigcheck.figures.gas_properties import GASES, Gas, compressibility, viscosity
from rigcheck.figures.hose_drop import (
    HOSE_ROUGHNESS,
    TAIL_LOSS,
    HoseLoss,
    bore_for_squares,
    hose_loss,
    length_for_squares,
    outlet_of_squares,
)
from rigcheck.figures.line_flow import rated_inlet_pressure_abs
from rigcheck.figures.spread import Span, by_end_points, directions_of

__all__ = [
    "arrester_drop",
    "drop_as_new",
    "drop_as_stated",
    "greatest",
    "longest_hose",
    "smallest_bore",
    "torch_pressure",
    "torch_share",
]

_reached = by_end_points(outlet_of_squares, *directions_of(outlet_of_squares))


def greatest(gathered: tuple[Used, ...]) -> Span:
    """Return the greatest of the pressures wanted; what one part wants is added up."""
    names = dict.fromkeys(used.name for used in gathered)
    nozzles = values_of(gathered, "p")
    sums = nozzles + [added(values_of(gathered, name)) for name in names if name != "p"]
    return max(lo for lo, _ in sums), max(hi for _, hi in sums)


# --- what a hose loses ---


@lru_cache(maxsize=1024)
def _corner(
    gas: Gas,
    flow: float,
    bore: float,
    length: float,
    roughness: float,
    tails: float,
    outlet_abs: float,
    temperature: float,
    blend: float,
) -> HoseLoss | None:
    """Return what a hose loses at one corner; `blend` moves the make-up of a mixed gas."""
    density, factor = base_density(gas.name), compressibility(gas=gas, pressure_abs=outlet_abs, temperature=temperature)
    thickness = viscosity(gas=gas, temperature=temperature)
    if density is None or factor is None or thickness is None or not bore > 0.0:
        return None
    return hose_loss(
        mass_flow=flow * (density[0] + density[1]) / 2.0 * blend,
        bore=bore,
        length=length,
        roughness=min(roughness, 0.05 * bore),
        loss_coefficient=tails,
        outlet_pressure_abs=outlet_abs,
        temperature=temperature,
        molar_mass=gas.molar_mass * blend,
        viscosity=thickness,
        compressibility=factor,
    )


def _losses(
    gas: str, flow: Span, bore: Span, length: Span, temperature: Span, after: Span, joiners: Span, roughness: Span
) -> tuple[HoseLoss, HoseLoss] | None:
    """Return the least and the greatest loss: each input at the end that makes it so."""
    known = GASES.get(gas)
    if known is None:
        return None
    tails = [2.0 * (1.0 + count) * loss for count, loss in zip(joiners, TAIL_LOSS, strict=True)]
    out = absolute(after)
    spread = known.spread
    low = _corner(known, flow[0], bore[1], length[0], roughness[0], tails[0], out[1], temperature[0], 1.0 - spread)
    high = _corner(known, flow[1], bore[0], length[1], roughness[1], tails[1], out[0], temperature[1], 1.0 + spread)
    return None if low is None or high is None else (low, high)


def _drop(after: Span, **inputs: Any) -> Span | None:
    found = _losses(after=after, **inputs)
    if found is None:
        return None
    low, high = found
    return low.inlet_pressure_abs - after[1] - ATMOSPHERE, high.inlet_pressure_abs - after[0] - ATMOSPHERE


def drop_as_new(gathered: tuple[Used, ...], **inputs: Any) -> Span | None:
    """Return what a hose with a bore as new loses, Pa."""
    return _drop(roughness=HOSE_ROUGHNESS, joiners=_joiners(gathered), **inputs)


def drop_as_stated(gathered: tuple[Used, ...], **inputs: Any) -> Span | None:
    """Return what a hose of stated roughness loses, Pa."""
    return _drop(joiners=_joiners(gathered), **inputs)


def _joiners(gathered: tuple[Used, ...]) -> Span:
    counts = values_of(gathered, "joiners")
    return counts[0] if counts else (0.0, 0.0)


def arrester_drop(flow: Span, rated_flow: Span, rated_drop: Span, set_pressure: Span, after: Span) -> Span | None:
    """Return what an arrester loses, Pa; gas and temperature are those of its rating."""
    inlet = absolute(set_pressure)
    least_out, most_out = inlet[0] - rated_drop[0], inlet[1] - rated_drop[1]
    if not rated_flow[0] > 0.0 or not min(least_out, most_out) > 0.0:
        return None
    ends = [
        _one_arrester(flow[0], rated_flow[1], inlet[0], rated_drop[0], after[1] + ATMOSPHERE),
        _one_arrester(flow[1], rated_flow[0], inlet[1], rated_drop[1], after[0] + ATMOSPHERE),
    ]
    return None if ends[0] is None or ends[1] is None else (ends[0], ends[1])


def _one_arrester(flow: float, rated_flow: float, rated_inlet: float, rated_drop: float, outlet: float) -> float | None:
    inlet = rated_inlet_pressure_abs(
        mass_flow=flow,
        outlet_pressure_abs=outlet,
        temperature=1.0,
        molar_mass=1.0,
        rated_mass_flow=rated_flow,
        rated_inlet_pressure_abs=rated_inlet,
        rated_outlet_pressure_abs=rated_inlet - rated_drop,
        rated_temperature=1.0,
        rated_molar_mass=1.0,
    )
    return None if inlet is None else inlet - outlet


# --- what reaches the torch, and what hose would do ---


def _squares(pressure: Span) -> Span:
    low, high = absolute(pressure)
    return low**2, high**2


def torch_pressure(set_pressure: Span, needed: Span, nozzle: Span) -> Span | None:
    """Return sqrt(set^2 - (needed^2 - nozzle^2)), Pa gauge; the loss lies between its corners and is not below zero.

    Where the hoses would take more than there is, nothing is left: 0, not unknown.
    """
    need, own = _squares(needed), _squares(nozzle)
    lost = max(0.0, need[0] - own[0]), max(0.0, need[1] - own[1])
    found = _reached(inlet_pressure_abs=absolute(set_pressure), squares=(min(lost), max(lost)))
    if found is not None:
        return found[0] - ATMOSPHERE, found[1] - ATMOSPHERE
    have = _squares(set_pressure)
    worst, best = have[0] - max(lost), have[1] - min(lost)
    if worst > ATMOSPHERE**2:
        return None
    return 0.0, max(0.0, sqrt(max(best, 0.0)) - ATMOSPHERE)


def _spare(set_pressure: Span, needed: Span, nozzle: Span, share: Span) -> Span:
    """Return what is left of p1^2 - p2^2 when the nozzle gets only its least share."""
    have, need, own = _squares(set_pressure), _squares(needed), _squares(nozzle)
    least = _squares((nozzle[0] * share[0], nozzle[1] * share[1]))
    return have[0] - need[1] + own[0] - least[0], have[1] - need[0] + own[1] - least[1]


def longest_hose(gathered: tuple[Used, ...], **inputs: Any) -> Span | None:
    """Return the length at which the nozzle still gets its least share, m."""
    return _sized(length_for_squares, "length", (0, 1), gathered, **inputs)


def smallest_bore(gathered: tuple[Used, ...], **inputs: Any) -> Span | None:
    """Return the bore at which the nozzle still gets its least share, m."""
    return _sized(bore_for_squares, "bore", (1, 0), gathered, **inputs)


def _sized(
    figure: Callable[..., float | None],
    size: str,
    ends: tuple[int, int],
    gathered: tuple[Used, ...],
    set_pressure: Span,
    needed: Span,
    nozzle: Span,
    share: Span,
    **inputs: Any,
) -> Span | None:
    """Return a size of the hose for what is spare; `ends`: those of the size in the least and the greatest loss.

    The least loss of the hose goes with the least need of the line, since the one is a part of the other.
    """
    found = _losses(joiners=_joiners(gathered), roughness=HOSE_ROUGHNESS, **inputs)
    if found is None:
        return None
    spare = _spare(set_pressure, needed, nozzle, share)
    corners = [
        figure(**{size: inputs[size][end]}, friction_squares=loss.friction_squares, spare_squares=left)
        for end, loss, left in zip(ends, found, reversed(spare), strict=True)
    ]
    known = [corner for corner in corners if corner is not None]
    return (min(known), max(known)) if len(known) == len(corners) else None


def torch_share(torch: Span, nozzle: Span) -> Span | None:
    """Return what reaches the torch as a share of what its nozzle wants (no unit)."""
    return divided((max(0.0, torch[0]), max(0.0, torch[1])), nozzle)
