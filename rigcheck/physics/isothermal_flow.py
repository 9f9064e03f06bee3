"""Isothermal compressible flow of a gas through a resistance: one equation, solved for each of its unknowns.

p1^2 - p2^2 = c^2 (k + 2 ln(p1/p2)), c = m/A sqrt(Z R T/M): momentum balance with friction and acceleration,
where k = f L/D + K is the number of velocity heads lost and c the choking pressure.
Source: Massoud, Engineering Thermofluids (2005), section IIIc, p. 411, and the fluids library's `isothermal_gas`.
The flow is choked where the gas would leave at the isothermal speed sqrt(Z R T/M): unknown from there on.
"""

from __future__ import annotations

from math import isfinite, log, pi, sqrt

from msgspec import Struct

from rigcheck.physics.friction import LAMINAR_LIMIT
from rigcheck.physics.gas_properties import GAS_CONSTANT
from rigcheck.physics.intervals import monotone
from rigcheck.physics.validity import above_zero

__all__ = [
    "Stream",
    "choking_pressure_abs",
    "heads_between",
    "inlet_pressure_abs",
    "isothermal_mach",
    "lost_heads",
    "outlet_pressure_abs",
]


_STEPS = 100  # Newton's; from above they only go down, and a handful settles all but what is about to choke


class Stream(Struct, frozen=True):
    """A gas under way at its temperature.

    `mass_flow`: kg/s, from 0; `temperature`: K; `molar_mass`: kg/mol; `compressibility`: Z at the mean pressure
    (no unit); `viscosity`: Pa s; these four above 0.
    `turbulent_from`: the Reynolds number from which it is taken to flow turbulently, above 0.
    """

    mass_flow: float
    temperature: float
    molar_mass: float
    compressibility: float
    viscosity: float
    turbulent_from: float = LAMINAR_LIMIT


@monotone(
    rises=("stream.mass_flow", "stream.temperature", "stream.compressibility"), falls=("bore", "stream.molar_mass")
)
def choking_pressure_abs(*, stream: Stream, bore: float) -> float | None:
    """Return the outlet pressure at which isothermal flow chokes, Pa absolute.

    c = 4 m/(pi D^2) sqrt(Z R T/M).
    `stream`: as `Stream` says, its viscosity plays no part; `bore`: m, above 0.
    Source: fluids library, `P_isothermal_critical_flow`, in the limit of no length.

    >>> oxygen = Stream(mass_flow=0.01, temperature=293.15, molar_mass=0.0319988, compressibility=1.0, viscosity=2e-5)
    >>> round(choking_pressure_abs(stream=oxygen, bore=0.0063))
    88537
    """
    flow, factor = stream.mass_flow, stream.compressibility
    stated = above_zero(bore, stream.temperature, stream.molar_mass, factor)
    if not (stated and isfinite(flow) and flow >= 0.0):
        return None
    return 4.0 * flow / (pi * bore**2) * sqrt(factor * GAS_CONSTANT * stream.temperature / stream.molar_mass)


@monotone(rises=("friction", "length", "loss_coefficient"), falls=("bore",))
def lost_heads(*, friction: float, length: float, bore: float, loss_coefficient: float) -> float | None:
    """Return the number of velocity heads lost, k = f L/D + K (no unit).

    `friction`: Darcy factor, from 0; `length`: m, from 0; `bore`: m, above 0;
    `loss_coefficient`: K of all fittings, counted at this bore, from 0.
    Source: any text on fluid mechanics.

    >>> lost_heads(friction=0.02, length=10.0, bore=0.01, loss_coefficient=1.5)
    21.5
    """
    if not (friction >= 0.0 and length >= 0.0 and bore > 0.0 and loss_coefficient >= 0.0):
        return None
    return friction * length / bore + loss_coefficient


@monotone(rises=("outlet_pressure_abs", "choking_pressure_abs", "heads"))
def inlet_pressure_abs(*, outlet_pressure_abs: float, choking_pressure_abs: float, heads: float) -> float | None:
    """Return the inlet pressure that drives a flow out at a given pressure, Pa absolute.

    The equation of this module solved for p1 by Newton's method, from above.
    `outlet_pressure_abs`: Pa, above `choking_pressure_abs`; `choking_pressure_abs`: Pa, from 0, of this flow;
    `heads`: velocity heads lost, from 0.
    None where choked.
    Source: as the module; Massoud's natural gas main, turned round: 94.74 psi come out, 120 psi went in.

    >>> psi, inch, pound = 6894.757293, 0.0254, 0.45359237
    >>> gas = Stream(mass_flow=59.22 * pound, temperature=299.817, molar_mass=0.016, compressibility=1.0,
    ...     viscosity=1.1e-5)
    >>> choke = choking_pressure_abs(stream=gas, bore=27 * inch)
    >>> heads = lost_heads(friction=0.00886, length=15 * 1609.344, bore=27 * inch, loss_coefficient=0.0)
    >>> round(inlet_pressure_abs(outlet_pressure_abs=94.74 * psi, choking_pressure_abs=choke, heads=heads) / psi)
    120
    """
    if not _runs(outlet_pressure_abs, choking_pressure_abs, heads):
        return None
    low, square = outlet_pressure_abs**2, choking_pressure_abs**2
    # The log term is at most (p1^2/p2^2 - 1) c^2, so this start is at or above the root.
    inlet = outlet_pressure_abs * sqrt(1.0 + heads * square / (low - square))
    for _ in range(_STEPS):
        over = inlet**2 - low - square * (heads + 2.0 * log(inlet / outlet_pressure_abs))
        step = over / (2.0 * (inlet - square / inlet))
        inlet -= step
        if step <= 1e-15 * inlet:
            break
    return max(inlet, outlet_pressure_abs)


@monotone(rises=("inlet_pressure_abs",), falls=("choking_pressure_abs", "heads"))
def outlet_pressure_abs(*, inlet_pressure_abs: float, choking_pressure_abs: float, heads: float) -> float | None:
    """Return the pressure at which a flow comes out, Pa absolute: the inverse of `inlet_pressure_abs`.

    The equation of this module solved for p2 by Newton's method, from above.
    `inlet_pressure_abs`: Pa; `choking_pressure_abs`: Pa, from 0, of this flow; `heads`: velocity heads lost, from 0.
    None where the flow cannot pass.
    Source: as the module; Massoud's natural gas main has c = 4.17 psi and 312 heads.

    >>> round(outlet_pressure_abs(inlet_pressure_abs=120.0, choking_pressure_abs=4.1678, heads=311.92), 1)
    94.7
    """
    if not _runs(inlet_pressure_abs, choking_pressure_abs, heads):
        return None
    high, square, outlet = inlet_pressure_abs**2, choking_pressure_abs**2, inlet_pressure_abs
    for _ in range(_STEPS):
        short = outlet**2 - high + square * (heads + 2.0 * log(inlet_pressure_abs / outlet))
        step = short / (2.0 * (outlet - square / outlet))
        outlet -= step
        if outlet <= choking_pressure_abs:
            return None
        if step <= 1e-15 * outlet:
            break
    return outlet


@monotone(rises=("inlet_pressure_abs",), falls=("outlet_pressure_abs", "choking_pressure_abs"))
def heads_between(
    *, inlet_pressure_abs: float, outlet_pressure_abs: float, choking_pressure_abs: float
) -> float | None:
    """Return the velocity heads that a flow loses between two pressures (no unit).

    k = (p1^2 - p2^2)/c^2 - 2 ln(p1/p2).
    Pressures: Pa, the inlet's at least the outlet's; `choking_pressure_abs`: Pa, above 0, of this flow.
    None where choked, or where next to nothing flows.
    Source: as the module; Massoud's natural gas main, psi: f L/D = 0.00886 x 15 mi/27 in = 312.

    >>> round(heads_between(inlet_pressure_abs=120.0, outlet_pressure_abs=94.74, choking_pressure_abs=4.1678))
    312
    """
    ends = inlet_pressure_abs >= outlet_pressure_abs > choking_pressure_abs > 0.0
    if not (ends and isfinite(inlet_pressure_abs)):
        return None
    drop, total = inlet_pressure_abs - outlet_pressure_abs, inlet_pressure_abs + outlet_pressure_abs
    heads = drop / choking_pressure_abs * (total / choking_pressure_abs)
    return heads - 2.0 * log(inlet_pressure_abs / outlet_pressure_abs) if isfinite(heads) else None


@monotone(rises=("choking_pressure_abs",), falls=("pressure_abs",))
def isothermal_mach(*, pressure_abs: float, choking_pressure_abs: float) -> float | None:
    """Return the speed of the gas as a share of the isothermal speed sqrt(Z R T/M) (no unit).

    v/sqrt(Z R T/M) = c/p.
    Above about 0.3 gas cools noticeably as it speeds up and isothermal flow is a rough picture (common practice).
    `pressure_abs`: Pa, above 0; `choking_pressure_abs`: Pa, from 0, of this flow.
    Source: as the module.

    >>> isothermal_mach(pressure_abs=2e5, choking_pressure_abs=0.5e5)
    0.25
    """
    if not (pressure_abs > 0.0 and choking_pressure_abs >= 0.0):
        return None
    return choking_pressure_abs / pressure_abs


def _runs(pressure: float, choking: float, heads: float) -> bool:
    return isfinite(pressure) and pressure > choking >= 0.0 and 0.0 <= heads < float("inf")
