"""Pressure along one hose at a demand.

Upstream (what must the regulator give?) or downstream (what reaches the torch?).
Gas flows isothermally (a hose is long and takes up warmth from the air) and as `isothermal_flow` says.
Choked, or outside a range: None, which is "unknown".

No figure here rises or falls with `stream.viscosity`: where flow turns from laminar to turbulent the drop jumps up as
viscosity falls. A range is carried with `stream.turbulent_from` set for its least and its greatest Reynolds number.
"""

from __future__ import annotations

from msgspec import Struct

from rigcheck.physics import isothermal_flow
from rigcheck.physics.friction import darcy_friction, reynolds_number
from rigcheck.physics.intervals import monotone
from rigcheck.physics.isothermal_flow import Stream, choking_pressure_abs, isothermal_mach, lost_heads

__all__ = [
    "HOSE_ROUGHNESS",
    "MOST_MACH",
    "TAIL_LOSS",
    "Hose",
    "hose_friction",
    "hose_heads",
    "hose_inlet_pressure_abs",
    "hose_outlet_mach",
]


MOST_MACH = 0.6
"""Speed at the outlet as a share of the isothermal speed; from 0.3 the gas cools a little as it speeds up."""

HOSE_ROUGHNESS = (0.0, 3e-5)
"""m; the bore of a new rubber or plastic hose, from smooth (handbooks of pipe flow, rubber tubing; from memory)."""

TAIL_LOSS = (0.0, 2.15)
"""Velocity heads at the hose's bore that one tail loses, whose passage is b = 0.7 to 1 of that bore (common practice).

(0.5 (1 - b^2) + (1 - b^2)^2)/b^4: sudden contraction and Borda-Carnot expansion (from memory).
"""


class Hose(Struct, frozen=True):
    """One straight round hose of one bore.

    `bore`: m, above 0; `length`: m, from 0; `roughness`: of the wall, m, 0 to bore/20;
    `loss_coefficient`: K of its tails and couplings, counted at its bore, from 0 (no unit).
    """

    bore: float
    length: float
    roughness: float
    loss_coefficient: float


@monotone(rises=("hose.roughness",), falls=("stream.turbulent_from",))
def hose_friction(*, stream: Stream, hose: Hose) -> float | None:
    """Return the Darcy friction factor of a hose (no unit).

    f = 64/Re or Colebrook, as `darcy_friction`; 0 at no flow.
    `stream`, `hose`: as `Stream` and `Hose` say; Reynolds number up to 1e8.
    Source: as `darcy_friction`; 5 m3/h of oxygen (15 degC, 1 atm) in 6.3 mm hose.

    >>> oxygen = Stream(mass_flow=1.88106e-3, temperature=293.15, molar_mass=0.0319988, compressibility=1.0,
    ...     viscosity=2.02727e-5)
    >>> smooth = Hose(bore=6.3e-3, length=5.0, roughness=0.0, loss_coefficient=0.0)
    >>> round(hose_friction(stream=oxygen, hose=smooth), 4)
    0.0263
    """
    reynolds = reynolds_number(mass_flow=stream.mass_flow, bore=hose.bore, viscosity=stream.viscosity)
    if not reynolds:
        return reynolds
    return darcy_friction(
        reynolds=reynolds, relative_roughness=hose.roughness / hose.bore, turbulent_from=stream.turbulent_from
    )


@monotone(rises=("hose.length", "hose.roughness", "hose.loss_coefficient"), falls=("stream.turbulent_from",))
def hose_heads(*, stream: Stream, hose: Hose) -> float | None:
    """Return the velocity heads that a hose loses (no unit).

    k = f L/D + K, f = 64/Re or Colebrook.
    `stream`, `hose`: as `Stream` and `Hose` say; Reynolds number up to 1e8.
    Friction as `darcy_friction`; at no flow friction is nothing and K alone is returned.
    Source: as `darcy_friction`; 5 m3/h of oxygen (15 degC, 1 atm) in 5 m of 6.3 mm hose.

    >>> oxygen = Stream(mass_flow=1.88106e-3, temperature=293.15, molar_mass=0.0319988, compressibility=1.0,
    ...     viscosity=2.02727e-5)
    >>> smooth = Hose(bore=6.3e-3, length=5.0, roughness=0.0, loss_coefficient=0.0)
    >>> round(hose_heads(stream=oxygen, hose=smooth), 2)
    20.87
    """
    friction = hose_friction(stream=stream, hose=hose)
    if friction is None:
        return None
    return lost_heads(friction=friction, length=hose.length, bore=hose.bore, loss_coefficient=hose.loss_coefficient)


@monotone(
    rises=(
        "outlet_pressure_abs",
        "stream.mass_flow",
        "stream.temperature",
        "stream.compressibility",
        "hose.length",
        "hose.roughness",
        "hose.loss_coefficient",
    ),
    falls=("stream.molar_mass", "hose.bore", "stream.turbulent_from"),
)
def hose_inlet_pressure_abs(*, stream: Stream, hose: Hose, outlet_pressure_abs: float) -> float | None:
    """Return the pressure that a hose needs at its inlet, Pa absolute.

    p1^2 - p2^2 = c^2 (f L/D + K + 2 ln(p1/p2)), c = 4 m/(pi D^2) sqrt(Z R T/M).
    `stream`, `hose`: as `Stream` and `Hose` say; `outlet_pressure_abs`: Pa, above the choking pressure.
    Assumes a straight round hose of one bore, steady isothermal flow; rough above `MOST_MACH` at the outlet.
    Source: as `isothermal_flow`; 10 m3/h of oxygen (15 degC, 1 atm) out of 20 m of 6.3 mm hose at 6 bar.

    >>> oxygen = Stream(mass_flow=3.76212e-3, temperature=293.15, molar_mass=0.0319988, compressibility=1.0,
    ...     viscosity=2.02727e-5)
    >>> smooth = Hose(bore=6.3e-3, length=20.0, roughness=0.0, loss_coefficient=0.0)
    >>> round(hose_inlet_pressure_abs(stream=oxygen, hose=smooth, outlet_pressure_abs=6e5) / 1e5, 3)
    6.624
    """
    choking, heads = choking_pressure_abs(stream=stream, bore=hose.bore), hose_heads(stream=stream, hose=hose)
    if choking is None or heads is None:
        return None
    return isothermal_flow.inlet_pressure_abs(
        outlet_pressure_abs=outlet_pressure_abs, choking_pressure_abs=choking, heads=heads
    )


@monotone(
    rises=("stream.mass_flow", "stream.temperature", "stream.compressibility"),
    falls=("outlet_pressure_abs", "stream.molar_mass", "hose.bore"),
)
def hose_outlet_mach(*, stream: Stream, hose: Hose, outlet_pressure_abs: float) -> float | None:
    """Return how fast the gas leaves a hose, as a share of the isothermal speed (no unit).

    c/p2, as `isothermal_mach`; above `MOST_MACH` isothermal flow is too rough a picture to judge by.
    `stream`, `hose`: as `Stream` and `Hose` say; `outlet_pressure_abs`: Pa, above 0.
    Source: as `isothermal_flow`.

    >>> oxygen = Stream(mass_flow=0.01, temperature=293.15, molar_mass=0.0319988, compressibility=1.0, viscosity=2e-5)
    >>> smooth = Hose(bore=6.3e-3, length=20.0, roughness=0.0, loss_coefficient=0.0)
    >>> round(hose_outlet_mach(stream=oxygen, hose=smooth, outlet_pressure_abs=2e5), 3)
    0.443
    """
    choking = choking_pressure_abs(stream=stream, bore=hose.bore)
    if choking is None:
        return None
    return isothermal_mach(pressure_abs=outlet_pressure_abs, choking_pressure_abs=choking)
