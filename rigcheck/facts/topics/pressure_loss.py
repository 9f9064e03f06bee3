"""What hoses and arresters lose, and what hose would do, carried as intervals."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from math import sqrt
from typing import Any, NamedTuple

from rigcheck.facts.figure import Used
from rigcheck.facts.topics.gas_data import base_datum, base_density, datum
from rigcheck.facts.topics.gathering import absolute, values_of
from rigcheck.facts.topics.pressure_budget import courses, spare_of
from rigcheck.physics import hose_sizing
from rigcheck.physics.friction import LAMINAR_LIMIT, TURBULENT_LIMIT
from rigcheck.physics.gas_properties import GASES, Gas, compressibility, viscosity
from rigcheck.physics.hose_flow import (
    HOSE_ROUGHNESS,
    MOST_MACH,
    TAIL_LOSS,
    Hose,
    hose_friction,
    hose_inlet_pressure_abs,
    hose_outlet_mach,
)
from rigcheck.physics.intervals import Span, added
from rigcheck.physics.isothermal_flow import Stream
from rigcheck.physics.line_flow import RatedPoint, rated_inlet_pressure_abs

__all__ = [
    "flow_through",
    "greatest",
    "hose_data",
    "hose_drop",
    "inlet_wanted",
    "least",
    "longest_hose",
    "rated_drop",
    "smallest_bore",
]


def greatest(gathered: tuple[Used, ...]) -> Span:
    """Return the greatest of the pressures wanted; what one part wants is added up."""
    names = dict.fromkeys(used.name for used in gathered)
    nozzles = values_of(gathered, "p")
    sums = nozzles + [added(values_of(gathered, name)) for name in names if name != "p"]
    return max(lo for lo, _ in sums), max(hi for _, hi in sums)


def least(gathered: tuple[Used, ...]) -> Span:
    """Return the least of the pressures that were gathered."""
    found = values_of(gathered, "p")
    return min(lo for lo, _ in found), min(hi for _, hi in found)


def flow_through(gathered: tuple[Used, ...]) -> Span:
    """Return the sum of what the torches draw, no more than the whole line; of a part of a torch's, from nothing."""
    parts = [(0.0, hi) for _, hi in values_of(gathered, "q_part")]
    low, high = added([*values_of(gathered, "q"), *parts])
    line = values_of(gathered, "q_line")
    return (min(low, line[0][0]), min(high, line[0][1])) if line else (low, high)


def inlet_wanted(gathered: tuple[Used, ...]) -> Span:
    """Return the setting of a regulator and the least difference that it takes to hold it, Pa gauge."""
    return added([*values_of(gathered, "p_set"), *values_of(gathered, "margin")])


# --- what a hose loses ---


class _Loss(NamedTuple):
    """One corner of what a hose loses: the gas, the hose, and the pressures at its ends, Pa absolute."""

    stream: Stream
    hose: Hose
    outlet_abs: float
    inlet_abs: float


class _Corner(NamedTuple):
    """One end of every input of a hose's loss, in SI; `after` is gauge, `air` absolute, `tails` in velocity heads."""

    flow: float
    bore: float
    length: float
    temperature: float
    after: float
    air: float
    tails: float
    roughness: float
    viscosity: float
    turbulent_from: float


def _losses(gas: str, joiners: Span, **spans: Span) -> tuple[_Loss, _Loss] | None:
    """Return the least and the greatest loss: each input at the end that makes it so."""
    thin, thick = (_viscosity(gas, end) for end in spans["temperature"])
    if thin is None or thick is None:
        return None
    spans["viscosity"], spans["turbulent_from"] = (thin, thick), _turning(thin, thick)
    spans["tails"] = 2.0 * (1.0 + joiners[0]) * TAIL_LOSS[0], 2.0 * (1.0 + joiners[1]) * TAIL_LOSS[1]
    low, high = {name: lo for name, (lo, _) in spans.items()}, {name: hi for name, (_, hi) in spans.items()}
    for eases in ("bore", "after", "air"):  # what lowers the loss as it grows
        low[eases], high[eases] = high[eases], low[eases]
    least, most = _loss(gas, -1.0, _Corner(**low)), _loss(gas, 1.0, _Corner(**high))
    return None if least is None or most is None else (least, most)


def _turning(thin: float, thick: float) -> Span:
    """Return the Reynolds number from which flow is turbulent, for the least loss and for the greatest.

    The least is laminar where any gas in the range may be so, the greatest turbulent where any may be;
    Reynolds numbers are those at the viscosity of the corner, thin for the least and thick for the greatest.
    """
    return TURBULENT_LIMIT * thick / thin, LAMINAR_LIMIT * thin / thick


@lru_cache(maxsize=256)
def _viscosity(name: str, temperature: float) -> float | None:
    gas = GASES.get(name)
    return None if gas is None else viscosity(gas=gas, temperature=temperature)


@lru_cache(maxsize=1024)
def _loss(name: str, side: float, at: _Corner) -> _Loss | None:
    """Return what a hose loses at a corner; None where the gas would leave too fast to say."""
    gas, outlet = GASES.get(name), at.after + at.air
    stream = None if gas is None else _stream(gas, 1.0 + side * gas.spread, at)
    if stream is None or not at.bore > 0.0:
        return None
    hose = Hose(at.bore, at.length, min(at.roughness, 0.05 * at.bore), at.tails)
    mach = hose_outlet_mach(stream=stream, hose=hose, outlet_pressure_abs=outlet)
    if mach is None or mach > MOST_MACH:
        return None
    inlet = hose_inlet_pressure_abs(stream=stream, hose=hose, outlet_pressure_abs=outlet)
    return None if inlet is None else _Loss(stream, hose, outlet, inlet)


def _stream(gas: Gas, blend: float, at: _Corner) -> Stream | None:
    """Return a gas under way at the outlet of a hose; `blend` moves the make-up of a mixed gas."""
    density = base_density(gas.name)
    factor = compressibility(gas=gas, pressure_abs=at.after + at.air, temperature=at.temperature)
    if density is None or factor is None:
        return None
    mass_flow = at.flow * (density[0] + density[1]) / 2.0 * blend
    return Stream(mass_flow, at.temperature, gas.molar_mass * blend, factor, at.viscosity, at.turbulent_from)


def hose_drop(gathered: tuple[Used, ...], roughness: Span = HOSE_ROUGHNESS, **inputs: Any) -> Span | None:
    """Return what a hose loses, Pa: of stated roughness, or with a bore as new."""
    found = _losses(joiners=_joiners(gathered), roughness=roughness, **inputs)
    if found is None:
        return None
    low, high = found
    return low.inlet_abs - low.outlet_abs, high.inlet_abs - high.outlet_abs


def hose_data(
    gathered: tuple[Used, ...], gas: str, roughness: Span = HOSE_ROUGHNESS, **inputs: Any
) -> tuple[Used, ...]:
    """Return what the loss of a hose takes from data, from the least loss to the greatest, to be shown with it."""
    inputs.pop("share", None)
    found = _losses(gas, _joiners(gathered), roughness=roughness, **inputs)
    if found is None:
        return ()
    low, high = ((loss.stream, loss.hose, hose_friction(stream=loss.stream, hose=loss.hose) or 0.0) for loss in found)
    masses, factors = (
        _ends(low[0].molar_mass, high[0].molar_mass),
        _ends(low[0].compressibility, high[0].compressibility),
    )
    return (
        *base_datum(gas),
        *datum("M", f"molar mass of {gas}", masses, "g/mol", 1e-3),
        *datum("Z", f"compressibility of {gas} at the outlet", factors, ""),
        *datum("mu", f"viscosity of {gas}", _ends(low[0].viscosity, high[0].viscosity), "uPa s", 1e-6),
        *datum("f", "friction factor", _ends(low[2], high[2]), ""),
        *datum("K", "of tails and joiners, velocity heads", (low[1].loss_coefficient, high[1].loss_coefficient), ""),
    )


def _ends(one: float, other: float) -> Span:
    return min(one, other), max(one, other)


def _joiners(gathered: tuple[Used, ...]) -> Span:
    counts = values_of(gathered, "joiners")
    return counts[0] if counts else (0.0, 0.0)


def rated_drop(
    gathered: tuple[Used, ...], flow: Span, rated_flow: Span, drop: Span, after: Span, air: Span
) -> Span | None:
    """Return what a part loses whose maker gives one flow at a pressure lost, Pa; its gas and warmth those of it."""
    inlet = absolute(values_of(gathered, "p_set")[0])
    least = _rated_drop(flow[0], (rated_flow[1], inlet[0], inlet[0] - drop[0]), after[1] + air[1])
    most = _rated_drop(flow[1], (rated_flow[0], inlet[1], inlet[1] - drop[1]), after[0] + air[0])
    return None if least is None or most is None else (least, most)


def _rated_drop(flow: float, rated: tuple[float, float, float], outlet_abs: float) -> float | None:
    inlet = rated_inlet_pressure_abs(flow=flow, rated=RatedPoint(*rated), outlet_pressure_abs=outlet_abs)
    return None if inlet is None else inlet - outlet_abs


# --- what hose would do ---


def longest_hose(gathered: tuple[Used, ...], **inputs: Any) -> Span | None:
    """Return the length at which the nozzle still gets its least share, m; 0 where even none would do."""
    return _sized(_longest, gathered, **inputs)


def smallest_bore(gathered: tuple[Used, ...], **inputs: Any) -> Span | None:
    """Return the bore at which the nozzle still gets its least share, m."""
    return _sized(_smallest, gathered, **inputs)


def _sized(
    size: Callable[[_Loss, float], float | None],
    gathered: tuple[Used, ...],
    share: Span,
    air: Span,
    roughness: Span = HOSE_ROUGHNESS,
    **inputs: Any,
) -> Span | None:
    """Return a size of the hose for what is spare on the way to the torch behind it that is served worst.

    The least loss of the hose goes with the least loss of the line, since the one is a part of the other.
    """
    found = _losses(joiners=_joiners(gathered), roughness=roughness, air=air, **inputs)
    if found is None:
        return None
    spare = [spare_of(course, share) for course in courses(gathered, air)]
    left = min(hi for _, hi in spare), min(lo for lo, _ in spare)
    sizes = [size(*corner) for corner in zip(found, left, strict=True)]
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
