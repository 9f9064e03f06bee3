"""Isothermal compressible flow of an ideal gas through a resistance, in each of its directions.

p1^2 - p2^2 = G^2 Z R T/M (k + 2 ln(p1/p2)), G = m/A: momentum balance with friction and acceleration,
where k = f L/D + K is the number of velocity heads lost.
Source: Massoud, Engineering Thermofluids (2005), section IIIc, p. 411, and the fluids library's `isothermal_gas`.
The flow is choked where the gas would leave at the isothermal speed sqrt(Z R T/M): unknown from there on.
"""

from __future__ import annotations

from math import isfinite, log, pi, sqrt

from rigcheck.figures.gas_properties import GAS_CONSTANT
from rigcheck.figures.root_search import crossing

__all__ = [
    "FALLS_WITH",
    "RISES_WITH",
    "choking_pressure_abs",
    "inlet_pressure_abs",
    "isothermal_mach",
    "lost_heads",
    "mass_flow_between",
    "outlet_pressure_abs",
]

RISES_WITH = {
    "choking_pressure_abs": ("mass_flow", "temperature", "compressibility"),
    "lost_heads": ("friction", "length", "loss_coefficient"),
    "inlet_pressure_abs": ("outlet_pressure_abs", "choking_pressure_abs", "heads"),
    "outlet_pressure_abs": ("inlet_pressure_abs",),
    "mass_flow_between": ("inlet_pressure_abs", "bore", "molar_mass"),
    "isothermal_mach": ("choking_pressure_abs",),
}
FALLS_WITH = {
    "choking_pressure_abs": ("bore", "molar_mass"),
    "lost_heads": ("bore",),
    "outlet_pressure_abs": ("choking_pressure_abs", "heads"),
    "mass_flow_between": ("outlet_pressure_abs", "heads", "temperature", "compressibility"),
    "isothermal_mach": ("pressure_abs",),
}


def choking_pressure_abs(
    *, mass_flow: float, bore: float, temperature: float, molar_mass: float, compressibility: float
) -> float | None:
    """Return the outlet pressure at which isothermal flow chokes, Pa absolute.

    p = G sqrt(Z R T/M).
    `mass_flow`: kg/s, from 0; `bore`: m; `temperature`: K; `molar_mass`: kg/mol; `compressibility`: Z; all above 0.
    Rises in `mass_flow`, `temperature`, `compressibility`; falls in `bore`, `molar_mass`.
    Source: fluids library, `P_isothermal_critical_flow`, in the limit of no length.

    >>> round(choking_pressure_abs(mass_flow=0.01, bore=0.0063, temperature=293.15,
    ...     molar_mass=0.0319988, compressibility=1.0))
    88537
    """
    stated = (bore, temperature, molar_mass, compressibility)
    if not (mass_flow >= 0.0 and all(value > 0.0 for value in stated) and all(map(isfinite, (mass_flow, *stated)))):
        return None
    flux = 4.0 * mass_flow / (pi * bore**2)
    return flux * sqrt(compressibility * GAS_CONSTANT * temperature / molar_mass)


def lost_heads(*, friction: float, length: float, bore: float, loss_coefficient: float) -> float | None:
    """Return the number of velocity heads lost, k = f L/D + K (no unit).

    `friction`: Darcy factor, from 0; `length`: m, from 0; `bore`: m, above 0;
    `loss_coefficient`: K of all fittings, counted at this bore, from 0.
    Rises in `friction`, `length`, `loss_coefficient`; falls in `bore`.

    >>> lost_heads(friction=0.02, length=10.0, bore=0.01, loss_coefficient=1.5)
    21.5
    """
    if not (friction >= 0.0 and length >= 0.0 and bore > 0.0 and loss_coefficient >= 0.0):
        return None
    return friction * length / bore + loss_coefficient


def inlet_pressure_abs(*, outlet_pressure_abs: float, choking_pressure_abs: float, heads: float) -> float | None:
    """Return the inlet pressure that drives a flow out at a given pressure, Pa absolute.

    `outlet_pressure_abs`: Pa, above `choking_pressure_abs`; `choking_pressure_abs`: Pa, from 0, of this flow;
    `heads`: velocity heads lost, from 0.
    Rises in all three.  None where choked.

    Massoud's natural gas main, turned round: 94.74 psi come out, 120 psi went in.
    >>> psi, inch = 6894.757293, 0.0254
    >>> bore = 27 * inch
    >>> choke = choking_pressure_abs(mass_flow=59.22 * 0.45359237, bore=bore, temperature=299.817,
    ...     molar_mass=0.016, compressibility=1.0)
    >>> heads = lost_heads(friction=0.00886, length=15 * 1609.344, bore=bore, loss_coefficient=0.0)
    >>> round(inlet_pressure_abs(outlet_pressure_abs=94.74 * psi, choking_pressure_abs=choke, heads=heads) / psi)
    120
    """
    if not _runs(outlet_pressure_abs, choking_pressure_abs, heads):
        return None
    square = choking_pressure_abs**2

    def excess(ratio: float) -> float:
        return outlet_pressure_abs**2 * (ratio**2 - 1.0) - square * (heads + 2.0 * log(ratio))

    # The log term is at most (ratio^2 - 1) choke^2, so this bracket always holds the root.
    slack = 1.0 - square / outlet_pressure_abs**2
    highest = sqrt(1.0 + heads * square / (outlet_pressure_abs**2 * slack)) * (1.0 + 1e-12)
    found = crossing(excess, 1.0, highest)
    return None if found is None else outlet_pressure_abs * found


def outlet_pressure_abs(*, inlet_pressure_abs: float, choking_pressure_abs: float, heads: float) -> float | None:
    """Return the pressure at which a flow comes out, Pa absolute: the inverse of `inlet_pressure_abs`.

    `inlet_pressure_abs`: Pa; `choking_pressure_abs`: Pa, from 0, of this flow; `heads`: velocity heads lost, from 0.
    Rises in `inlet_pressure_abs`, falls in the others.  None where the flow cannot pass.

    >>> round(outlet_pressure_abs(inlet_pressure_abs=3e5, choking_pressure_abs=0.5e5, heads=20.0))
    194508
    """
    if not _runs(inlet_pressure_abs, choking_pressure_abs, heads):
        return None
    if choking_pressure_abs == 0.0 or heads == 0.0:
        return inlet_pressure_abs

    def excess(pressure: float) -> float:
        lost = choking_pressure_abs**2 * (heads + 2.0 * log(inlet_pressure_abs / pressure))
        return inlet_pressure_abs**2 - pressure**2 - lost

    found = crossing(excess, choking_pressure_abs, inlet_pressure_abs)
    return found if found is not None and found > choking_pressure_abs else None


def mass_flow_between(
    *,
    inlet_pressure_abs: float,
    outlet_pressure_abs: float,
    bore: float,
    heads: float,
    temperature: float,
    molar_mass: float,
    compressibility: float,
) -> float | None:
    """Return the mass flow between two pressures where the lost heads are known, kg/s.

    G = sqrt((p1^2 - p2^2)/(Z R T/M (k + 2 ln(p1/p2)))).
    Pressures: Pa, inlet at least the outlet, above 0; `bore`: m; `heads`: velocity heads lost, above 0;
    `temperature`: K; `molar_mass`: kg/mol; `compressibility`: Z; all above 0.
    None where the flow would be choked.

    The fluids library's own example: 26 kg/m3 at 20 bar, 300 m of 25 mm pipe, f = 0.018.
    >>> round(mass_flow_between(inlet_pressure_abs=20e5, outlet_pressure_abs=15e5, bore=0.025,
    ...     heads=0.018 * 300 / 0.025, temperature=300.0, molar_mass=26 * 8.314462618 * 300 / 20e5,
    ...     compressibility=1.0), 4)
    0.1591
    """
    if not (inlet_pressure_abs >= outlet_pressure_abs > 0.0 and heads > 0.0):
        return None
    unit = choking_pressure_abs(
        mass_flow=1.0,
        bore=bore,
        temperature=temperature,
        molar_mass=molar_mass,
        compressibility=compressibility,
    )
    if unit is None:
        return None
    driving = inlet_pressure_abs**2 - outlet_pressure_abs**2
    flow = sqrt(driving / (heads + 2.0 * log(inlet_pressure_abs / outlet_pressure_abs))) / unit
    return flow if flow * unit < outlet_pressure_abs else None


def isothermal_mach(*, pressure_abs: float, choking_pressure_abs: float) -> float | None:
    """Return the speed of the gas as a share of the isothermal speed sqrt(Z R T/M) (no unit).

    Above about 0.3 gas cools noticeably as it speeds up and isothermal flow is a rough picture (common practice).
    `pressure_abs`: Pa, above 0; `choking_pressure_abs`: Pa, from 0, of this flow.
    Falls in `pressure_abs`, rises in `choking_pressure_abs`.

    >>> isothermal_mach(pressure_abs=2e5, choking_pressure_abs=0.5e5)
    0.25
    """
    if not (pressure_abs > 0.0 and choking_pressure_abs >= 0.0):
        return None
    return choking_pressure_abs / pressure_abs


def _runs(pressure: float, choking: float, heads: float) -> bool:
    return isfinite(pressure) and pressure > choking >= 0.0 and 0.0 <= heads < float("inf")
