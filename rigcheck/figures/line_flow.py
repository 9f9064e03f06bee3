"""Pressure through joiners and arresters, and along a line of parts in the order of flow."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import sqrt

from rigcheck.figures.isothermal_flow import choking_pressure_abs
from rigcheck.figures.isothermal_flow import inlet_pressure_abs as _inlet
from rigcheck.figures.isothermal_flow import outlet_pressure_abs as _outlet

__all__ = [
    "FALLS_WITH",
    "RISES_WITH",
    "fitting_inlet_pressure_abs",
    "fitting_outlet_pressure_abs",
    "line_pressure_abs",
    "rated_inlet_pressure_abs",
    "rated_outlet_pressure_abs",
]

_FITTING_HARDER = ("mass_flow", "loss_coefficient", "temperature", "compressibility")
_RATED_HARDER = ("mass_flow", "temperature", "rated_molar_mass", "rated_inlet_pressure_abs")
_RATED_EASIER = ("molar_mass", "rated_mass_flow", "rated_temperature", "rated_outlet_pressure_abs")

RISES_WITH = {
    "fitting_inlet_pressure_abs": ("outlet_pressure_abs", *_FITTING_HARDER),
    "fitting_outlet_pressure_abs": ("inlet_pressure_abs", "bore", "molar_mass"),
    "rated_inlet_pressure_abs": ("outlet_pressure_abs", *_RATED_HARDER),
    "rated_outlet_pressure_abs": ("inlet_pressure_abs", *_RATED_EASIER),
}
FALLS_WITH = {
    "fitting_inlet_pressure_abs": ("bore", "molar_mass"),
    "fitting_outlet_pressure_abs": _FITTING_HARDER,
    "rated_inlet_pressure_abs": _RATED_EASIER,
    "rated_outlet_pressure_abs": _RATED_HARDER,
}

Step = Callable[[float], "float | None"]
"""One part at a fixed demand: the pressure at its one end from the pressure at its other, Pa absolute."""


def fitting_inlet_pressure_abs(
    *,
    mass_flow: float,
    bore: float,
    loss_coefficient: float,
    outlet_pressure_abs: float,
    temperature: float,
    molar_mass: float,
    compressibility: float,
) -> float | None:
    """Return the pressure that a joiner or coupling needs at its inlet, Pa absolute.

    p1^2 - p2^2 = G^2 Z R T/M (K + 2 ln(p1/p2)).
    `mass_flow`: kg/s, from 0; `bore`: m, at which K is counted; `loss_coefficient`: K, from 0;
    `outlet_pressure_abs`: Pa; `temperature`: K; `molar_mass`: kg/mol; `compressibility`: Z.
    Source: as `isothermal_flow`; K from the maker, or a handbook of fittings.
    """
    choking = choking_pressure_abs(
        mass_flow=mass_flow,
        bore=bore,
        temperature=temperature,
        molar_mass=molar_mass,
        compressibility=compressibility,
    )
    if choking is None:
        return None
    return _inlet(
        outlet_pressure_abs=outlet_pressure_abs,
        choking_pressure_abs=choking,
        heads=loss_coefficient,
    )


def fitting_outlet_pressure_abs(
    *,
    mass_flow: float,
    bore: float,
    loss_coefficient: float,
    inlet_pressure_abs: float,
    temperature: float,
    molar_mass: float,
    compressibility: float,
) -> float | None:
    """Return the pressure that comes out of a joiner, Pa absolute: the inverse of `fitting_inlet_pressure_abs`."""
    choking = choking_pressure_abs(
        mass_flow=mass_flow,
        bore=bore,
        temperature=temperature,
        molar_mass=molar_mass,
        compressibility=compressibility,
    )
    if choking is None:
        return None
    return _outlet(inlet_pressure_abs=inlet_pressure_abs, choking_pressure_abs=choking, heads=loss_coefficient)


def rated_inlet_pressure_abs(
    *,
    mass_flow: float,
    outlet_pressure_abs: float,
    temperature: float,
    molar_mass: float,
    rated_mass_flow: float,
    rated_inlet_pressure_abs: float,
    rated_outlet_pressure_abs: float,
    rated_temperature: float,
    rated_molar_mass: float,
) -> float | None:
    """Return the inlet pressure of a part whose maker gives one flow at a pressure drop, Pa absolute.

    p1^2 - p2^2 = (m/mr)^2 (T/Tr) (Mr/M) (p1r^2 - p2r^2): turbulent loss, which goes as rho v^2.
    `mass_flow`, `rated_mass_flow`: kg/s, the first from 0; pressures: Pa; temperatures: K; molar masses: kg/mol.
    The rated point may be of another gas (arresters are often rated in air).
    None where the part would be driven harder than it was rated, that is p1/p2 above p1r/p2r.
    A spring-loaded valve loses more than this at a small part of its rated flow: use the maker's curve there.
    Source: similarity of compressible flow, as in IEC 60534-2-1 for valves (from memory).

    Half the flow loses a quarter of the difference of squares:
    >>> round(rated_inlet_pressure_abs(mass_flow=0.5e-3, outlet_pressure_abs=5e5, temperature=293.15,
    ...     molar_mass=0.032, rated_mass_flow=1e-3, rated_inlet_pressure_abs=5.2e5,
    ...     rated_outlet_pressure_abs=5e5, rated_temperature=293.15, rated_molar_mass=0.032))
    505074
    """
    squares = _rated_squares(
        mass_flow,
        temperature / molar_mass if molar_mass > 0.0 else 0.0,
        rated_mass_flow,
        rated_temperature / rated_molar_mass if rated_molar_mass > 0.0 else 0.0,
        rated_inlet_pressure_abs,
        rated_outlet_pressure_abs,
    )
    if squares is None or not outlet_pressure_abs > 0.0:
        return None
    inlet = sqrt(outlet_pressure_abs**2 + squares)
    within = inlet / outlet_pressure_abs <= rated_inlet_pressure_abs / rated_outlet_pressure_abs * (1.0 + 1e-12)
    return inlet if within else None


def rated_outlet_pressure_abs(
    *,
    mass_flow: float,
    inlet_pressure_abs: float,
    temperature: float,
    molar_mass: float,
    rated_mass_flow: float,
    rated_inlet_pressure_abs: float,
    rated_outlet_pressure_abs: float,
    rated_temperature: float,
    rated_molar_mass: float,
) -> float | None:
    """Return the outlet pressure of a rated part, Pa absolute: the inverse of `rated_inlet_pressure_abs`."""
    squares = _rated_squares(
        mass_flow,
        temperature / molar_mass if molar_mass > 0.0 else 0.0,
        rated_mass_flow,
        rated_temperature / rated_molar_mass if rated_molar_mass > 0.0 else 0.0,
        rated_inlet_pressure_abs,
        rated_outlet_pressure_abs,
    )
    if squares is None or not inlet_pressure_abs**2 > squares or not inlet_pressure_abs > 0.0:
        return None
    outlet = sqrt(inlet_pressure_abs**2 - squares)
    within = inlet_pressure_abs / outlet <= rated_inlet_pressure_abs / rated_outlet_pressure_abs * (1.0 + 1e-12)
    return outlet if within else None


def line_pressure_abs(*, start_pressure_abs: float, steps: Sequence[Step]) -> float | None:
    """Return the pressure at the far end of a line, Pa absolute, walked part by part.

    `start_pressure_abs`: Pa at the end where the walk starts;
    `steps`: one for each part in the order of the walk: from the torch upstream with the `..._inlet_...` figures
    to find what the regulator must give, or downstream with the `..._outlet_...` figures to find what arrives.
    None as soon as one part is unknown.

    >>> line_pressure_abs(start_pressure_abs=1.5e5, steps=[lambda p: p + 2e3, lambda p: p + 3e3])
    155000.0
    """
    pressure: float | None = start_pressure_abs
    for step in steps:
        pressure = None if pressure is None else step(pressure)
    return pressure


def _rated_squares(
    mass_flow: float,
    warmth: float,
    rated_mass_flow: float,
    rated_warmth: float,
    rated_inlet: float,
    rated_outlet: float,
) -> float | None:
    if not (mass_flow >= 0.0 and warmth > 0.0 and rated_mass_flow > 0.0 and rated_warmth > 0.0):
        return None
    if not rated_inlet >= rated_outlet > 0.0:
        return None
    return (mass_flow / rated_mass_flow) ** 2 * (warmth / rated_warmth) * (rated_inlet**2 - rated_outlet**2)
