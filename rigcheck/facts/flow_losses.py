"""What hoses and arresters lose, and what that leaves at the torch, carried as intervals."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import lru_cache
from math import sqrt
from typing import Any, NamedTuple

from rigcheck.facts.contents import base_density
from rigcheck.facts.spans import ATMOSPHERE, absolute, added, divided, values_of
from rigcheck.facts.working import Used
from rigcheck.figures import hose_sizing
from rigcheck.figures.gas_properties import GASES, Gas, compressibility, viscosity
from rigcheck.figures.hose_flow import (
    HOSE_ROUGHNESS,
    MOST_MACH,
    TAIL_LOSS,
    Hose,
    hose_inlet_pressure_abs,
    hose_outlet_mach,
)
from rigcheck.figures.isothermal_flow import Stream
from rigcheck.figures.line_flow import RatedPoint, outlet_of_squares, rated_inlet_pressure_abs
from rigcheck.figures.spread import Span, by_end_points, directions_of

__all__ = [
    "arrester_drop",
    "greatest",
    "hose_drop",
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


class _Loss(NamedTuple):
    """One corner of what a hose loses: the gas, the hose, and the pressures at its ends, Pa absolute."""

    stream: Stream
    hose: Hose
    outlet_abs: float
    inlet_abs: float


@lru_cache(maxsize=1024)
def _stream(gas: Gas, flow: float, temperature: float, outlet_abs: float, blend: float) -> Stream | None:
    """Return a gas under way at the outlet of a hose; `blend` moves the make-up of a mixed gas."""
    density, factor = base_density(gas.name), compressibility(gas=gas, pressure_abs=outlet_abs, temperature=temperature)
    thickness = viscosity(gas=gas, temperature=temperature)
    if density is None or factor is None or thickness is None:
        return None
    mass_flow = flow * (density[0] + density[1]) / 2.0 * blend
    return Stream(mass_flow, temperature, gas.molar_mass * blend, factor, thickness)


@lru_cache(maxsize=1024)
def _needs(stream: Stream, hose: Hose, outlet_abs: float) -> float | None:
    """Return what a hose needs at its inlet, Pa absolute; None where the gas would leave too fast to say."""
    mach = hose_outlet_mach(stream=stream, hose=hose, outlet_pressure_abs=outlet_abs)
    if mach is None or mach > MOST_MACH:
        return None
    return hose_inlet_pressure_abs(stream=stream, hose=hose, outlet_pressure_abs=outlet_abs)


_EASES = ("bore", "after")
"""What lowers the loss of a hose as it grows; all else raises it."""


def _losses(gas: str, joiners: Span, **spans: Span) -> tuple[_Loss, _Loss] | None:
    """Return the least and the greatest loss: each input at the end that makes it so."""
    known = GASES.get(gas)
    if known is None:
        return None
    tails = 2.0 * (1.0 + joiners[0]) * TAIL_LOSS[0], 2.0 * (1.0 + joiners[1]) * TAIL_LOSS[1]
    low = _loss(known, 1.0 - known.spread, _ends(spans | {"tails": tails}, 0))
    high = _loss(known, 1.0 + known.spread, _ends(spans | {"tails": tails}, 1))
    return None if low is None or high is None else (low, high)


def _ends(spans: Mapping[str, Span], side: int) -> dict[str, float]:
    return {name: span[1 - side if name in _EASES else side] for name, span in spans.items()}


def _loss(gas: Gas, blend: float, at: Mapping[str, float]) -> _Loss | None:
    outlet, bore = at["after"] + ATMOSPHERE, at["bore"]
    stream = _stream(gas, at["flow"], at["temperature"], outlet, blend)
    if stream is None or not bore > 0.0:
        return None
    hose = Hose(bore, at["length"], min(at["roughness"], 0.05 * bore), at["tails"])
    inlet = _needs(stream, hose, outlet)
    return None if inlet is None else _Loss(stream, hose, outlet, inlet)


def hose_drop(gathered: tuple[Used, ...], roughness: Span = HOSE_ROUGHNESS, **inputs: Any) -> Span | None:
    """Return what a hose loses, Pa: of stated roughness, or with a bore as new."""
    found = _losses(joiners=_joiners(gathered), roughness=roughness, **inputs)
    if found is None:
        return None
    low, high = found
    return low.inlet_abs - low.outlet_abs, high.inlet_abs - high.outlet_abs


def _joiners(gathered: tuple[Used, ...]) -> Span:
    counts = values_of(gathered, "joiners")
    return counts[0] if counts else (0.0, 0.0)


def arrester_drop(flow: Span, rated_flow: Span, rated_drop: Span, set_pressure: Span, after: Span) -> Span | None:
    """Return what an arrester loses, Pa; gas and temperature are those of its rating."""
    inlet = absolute(set_pressure)
    least = _rated_drop(flow[0], (rated_flow[1], inlet[0], inlet[0] - rated_drop[0]), after[1] + ATMOSPHERE)
    most = _rated_drop(flow[1], (rated_flow[0], inlet[1], inlet[1] - rated_drop[1]), after[0] + ATMOSPHERE)
    return None if least is None or most is None else (least, most)


def _rated_drop(flow: float, rated: tuple[float, float, float], outlet_abs: float) -> float | None:
    inlet = rated_inlet_pressure_abs(flow=flow, rated=RatedPoint(*rated), outlet_pressure_abs=outlet_abs)
    return None if inlet is None else inlet - outlet_abs


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
    """Return the length at which the nozzle still gets its least share, m; 0 where even none would do."""
    return _sized(_longest, gathered, **inputs)


def smallest_bore(gathered: tuple[Used, ...], **inputs: Any) -> Span | None:
    """Return the bore at which the nozzle still gets its least share, m."""
    return _sized(_smallest, gathered, **inputs)


def _sized(
    size: Callable[[_Loss, float], float | None],
    gathered: tuple[Used, ...],
    set_pressure: Span,
    needed: Span,
    nozzle: Span,
    share: Span,
    roughness: Span = HOSE_ROUGHNESS,
    **inputs: Any,
) -> Span | None:
    """Return a size of the hose for what is spare.

    The least loss of the hose goes with the least need of the line, since the one is a part of the other.
    """
    found = _losses(joiners=_joiners(gathered), roughness=roughness, **inputs)
    if found is None:
        return None
    spare = _spare(set_pressure, needed, nozzle, share)
    sizes = [size(loss, left) for loss, left in zip(found, reversed(spare), strict=True)]
    known = [one for one in sizes if one is not None]
    return (min(known), max(known)) if len(known) == len(sizes) else None


def _longest(loss: _Loss, spare: float) -> float | None:
    inlet, still = _inlet_with(loss, spare), loss.stream.mass_flow == 0.0
    if still:
        return None
    found = inlet and hose_sizing.longest_hose(
        stream=loss.stream, hose=loss.hose, inlet_pressure_abs=inlet, outlet_pressure_abs=loss.outlet_abs
    )
    return found or 0.0


def _smallest(loss: _Loss, spare: float) -> float | None:
    inlet = _inlet_with(loss, spare)
    return inlet and hose_sizing.smallest_bore(
        stream=loss.stream, hose=loss.hose, inlet_pressure_abs=inlet, outlet_pressure_abs=loss.outlet_abs
    )


def _inlet_with(loss: _Loss, spare: float) -> float | None:
    """Return the inlet pressure that a hose may take when it uses up what is spare of p1^2 - p2^2, Pa absolute."""
    squares = loss.inlet_abs**2 + spare
    return sqrt(squares) if squares > loss.outlet_abs**2 else None


def torch_share(torch: Span, nozzle: Span) -> Span | None:
    """Return what reaches the torch as a share of what its nozzle wants (no unit)."""
    return divided((max(0.0, torch[0]), max(0.0, torch[1])), nozzle)
