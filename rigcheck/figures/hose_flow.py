"""Pressure along one hose at a demand.

A hose is walked upstream (outlet to inlet: what must the regulator give?) or downstream
(inlet to outlet: what reaches the torch?); `line_flow` strings parts together.
Gas flows isothermally (a hose is long and takes up warmth from the air) and as `isothermal_flow` says.
Choked, or outside a range: None, which is "unknown".
"""

from __future__ import annotations

from rigcheck.figures.friction import darcy_friction, reynolds_number
from rigcheck.figures.isothermal_flow import choking_pressure_abs, lost_heads
from rigcheck.figures.isothermal_flow import inlet_pressure_abs as _inlet
from rigcheck.figures.isothermal_flow import outlet_pressure_abs as _outlet

__all__ = [
    "FALLS_WITH",
    "RISES_WITH",
    "hose_heads",
    "hose_inlet_pressure_abs",
    "hose_outlet_pressure_abs",
    "hose_pressure_drop",
]

_HARDER = ("mass_flow", "length", "roughness", "loss_coefficient", "temperature", "compressibility")
_EASIER = ("bore", "molar_mass")

RISES_WITH = {
    "hose_inlet_pressure_abs": ("outlet_pressure_abs", *_HARDER),
    "hose_outlet_pressure_abs": ("inlet_pressure_abs", *_EASIER),
    "hose_pressure_drop": _HARDER,
}
FALLS_WITH = {
    "hose_inlet_pressure_abs": _EASIER,
    "hose_outlet_pressure_abs": _HARDER,
    "hose_pressure_drop": ("outlet_pressure_abs", *_EASIER),
}
"""Which arguments each figure rises and falls with, for `spread`.

`viscosity` is in neither: where flow turns from laminar to turbulent the drop jumps up as viscosity falls.
"""


def hose_heads(
    *,
    mass_flow: float,
    bore: float,
    length: float,
    roughness: float,
    loss_coefficient: float,
    viscosity: float,
) -> float | None:
    """Return the velocity heads that a hose loses, f L/D + K (no unit).

    `mass_flow`: kg/s, from 0; `bore`: m, above 0; `length`: m, from 0; `roughness`: m, 0 to bore/20;
    `loss_coefficient`: K of the hose's tails and couplings at its bore, from 0; `viscosity`: Pa s, above 0.
    Friction as `darcy_friction`; at no flow friction is nothing and K alone is returned.

    >>> round(hose_heads(mass_flow=1.88106e-3, bore=6.3e-3, length=5.0, roughness=0.0,
    ...     loss_coefficient=0.0, viscosity=2.02727e-5), 2)
    20.87
    """
    reynolds = reynolds_number(mass_flow=mass_flow, bore=bore, viscosity=viscosity)
    if reynolds is None:
        return None
    friction = 0.0 if reynolds == 0.0 else darcy_friction(reynolds=reynolds, relative_roughness=roughness / bore)
    if friction is None:
        return None
    return lost_heads(friction=friction, length=length, bore=bore, loss_coefficient=loss_coefficient)


def hose_inlet_pressure_abs(
    *,
    mass_flow: float,
    bore: float,
    length: float,
    roughness: float,
    loss_coefficient: float,
    outlet_pressure_abs: float,
    temperature: float,
    molar_mass: float,
    viscosity: float,
    compressibility: float,
) -> float | None:
    """Return the pressure that a hose needs at its inlet, Pa absolute.

    p1^2 - p2^2 = G^2 Z R T/M (f L/D + K + 2 ln(p1/p2)).
    `mass_flow`: kg/s, from 0; `bore`, `length`, `roughness`: m; `loss_coefficient`: K of tails and couplings;
    `outlet_pressure_abs`: Pa, above the choking pressure; `temperature`: K; `molar_mass`: kg/mol;
    `viscosity`: Pa s; `compressibility`: Z at the mean pressure.
    Assumes a straight round hose of one bore, steady isothermal flow.
    Source: as `isothermal_flow`.

    10 m3/h of oxygen (15 degC, 1 atm) out of 20 m of 6.3 mm hose at 6 bar:
    >>> round(hose_inlet_pressure_abs(mass_flow=3.76212e-3, bore=6.3e-3, length=20.0, roughness=0.0,
    ...     loss_coefficient=0.0, outlet_pressure_abs=6e5, temperature=293.15, molar_mass=0.0319988,
    ...     viscosity=2.02727e-5, compressibility=1.0) / 1e5, 3)
    6.624
    """
    state = _state(
        mass_flow,
        bore,
        length,
        roughness,
        loss_coefficient,
        temperature,
        molar_mass,
        viscosity,
        compressibility,
    )
    if state is None:
        return None
    return _inlet(outlet_pressure_abs=outlet_pressure_abs, choking_pressure_abs=state[0], heads=state[1])


def hose_outlet_pressure_abs(
    *,
    mass_flow: float,
    bore: float,
    length: float,
    roughness: float,
    loss_coefficient: float,
    inlet_pressure_abs: float,
    temperature: float,
    molar_mass: float,
    viscosity: float,
    compressibility: float,
) -> float | None:
    """Return the pressure that comes out of a hose, Pa absolute: the inverse of `hose_inlet_pressure_abs`.

    `inlet_pressure_abs`: Pa; the others as there.  None where the hose cannot pass the flow.
    """
    state = _state(
        mass_flow,
        bore,
        length,
        roughness,
        loss_coefficient,
        temperature,
        molar_mass,
        viscosity,
        compressibility,
    )
    if state is None:
        return None
    return _outlet(inlet_pressure_abs=inlet_pressure_abs, choking_pressure_abs=state[0], heads=state[1])


def hose_pressure_drop(
    *,
    mass_flow: float,
    bore: float,
    length: float,
    roughness: float,
    loss_coefficient: float,
    outlet_pressure_abs: float,
    temperature: float,
    molar_mass: float,
    viscosity: float,
    compressibility: float,
) -> float | None:
    """Return the pressure lost in a hose, Pa; arguments as `hose_inlet_pressure_abs`."""
    inlet = hose_inlet_pressure_abs(
        mass_flow=mass_flow,
        bore=bore,
        length=length,
        roughness=roughness,
        loss_coefficient=loss_coefficient,
        outlet_pressure_abs=outlet_pressure_abs,
        temperature=temperature,
        molar_mass=molar_mass,
        viscosity=viscosity,
        compressibility=compressibility,
    )
    return None if inlet is None else inlet - outlet_pressure_abs


def _state(
    mass_flow: float,
    bore: float,
    length: float,
    roughness: float,
    loss_coefficient: float,
    temperature: float,
    molar_mass: float,
    viscosity: float,
    compressibility: float,
) -> tuple[float, float] | None:
    choking = choking_pressure_abs(
        mass_flow=mass_flow,
        bore=bore,
        temperature=temperature,
        molar_mass=molar_mass,
        compressibility=compressibility,
    )
    heads = hose_heads(
        mass_flow=mass_flow,
        bore=bore,
        length=length,
        roughness=roughness,
        loss_coefficient=loss_coefficient,
        viscosity=viscosity,
    )
    return None if choking is None or heads is None else (choking, heads)
