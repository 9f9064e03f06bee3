"""The pressure lost in a hose in one stroke: squared pressures, one friction factor, no search.

p1^2 - p2^2 = c^2 (f L/D + K + 2 ln(p1/p2)), c = G sqrt(Z R T/M): as `isothermal_flow`.
The last term, the speeding-up of the gas, is small; put in from the pressures before it, it settles in a few rounds.
"""

from __future__ import annotations

from math import isfinite, log, sqrt
from typing import NamedTuple

from rigcheck.figures.hose_flow import hose_heads
from rigcheck.figures.isothermal_flow import choking_pressure_abs
from rigcheck.figures.validity import above_zero, from_zero

__all__ = [
    "FALLS_WITH",
    "HOSE_ROUGHNESS",
    "MOST_MACH",
    "RISES_WITH",
    "TAIL_LOSS",
    "HoseLoss",
    "bore_for_squares",
    "hose_loss",
    "length_for_squares",
    "outlet_of_squares",
]

RISES_WITH = {
    "length_for_squares": ("length", "spare_squares"),
    "outlet_of_squares": ("inlet_pressure_abs",),
    "bore_for_squares": ("bore",),
}
FALLS_WITH = {
    "outlet_of_squares": ("squares",),
    "bore_for_squares": ("spare_squares",),
}
"""`friction_squares` is left out: which way it works turns round where nothing is spare."""

MOST_MACH = 0.6
"""Speed at the outlet as a share of the isothermal speed; from 0.3 the gas cools a little as it speeds up."""

HOSE_ROUGHNESS = (0.0, 3e-5)
"""m; the bore of a new rubber or plastic hose, from smooth (handbooks of pipe flow, rubber tubing; from memory)."""

TAIL_LOSS = (0.0, 2.15)
"""Velocity heads at the hose's bore that one tail loses, whose passage is b = 0.7 to 1 of that bore (common practice).

(0.5 (1 - b^2) + (1 - b^2)^2)/b^4: sudden contraction and Borda-Carnot expansion (Crane TP-410, from memory).
"""


class HoseLoss(NamedTuple):
    """`inlet_pressure_abs`, and the part of p1^2 - p2^2 that grows with the length; Pa and Pa2."""

    inlet_pressure_abs: float
    friction_squares: float


def hose_loss(
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
) -> HoseLoss | None:
    """Return the inlet pressure that a hose needs and its friction in squares.

    Arguments as `hose_flow.hose_inlet_pressure_abs`; with no flow nothing is lost.
    None where the gas would come out faster than `MOST_MACH`.
    Within 1e-6 of the drop of `hose_inlet_pressure_abs` there.

    10 m3/h of oxygen (15 degC, 1 atm) out of 20 m of 6.3 mm hose at 6 bar, as there 6.624 bar:
    >>> loss = hose_loss(mass_flow=3.76212e-3, bore=6.3e-3, length=20.0, roughness=0.0,
    ...     loss_coefficient=0.0, outlet_pressure_abs=6e5, temperature=293.15, molar_mass=0.0319988,
    ...     viscosity=2.02727e-5, compressibility=1.0)
    >>> round(loss.inlet_pressure_abs / 1e5, 3)
    6.624
    """
    choke = choking_pressure_abs(
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
    if choke is None or heads is None or not above_zero(outlet_pressure_abs):
        return None
    return _loss(choke, heads, loss_coefficient, outlet_pressure_abs)


def _loss(choke: float, heads: float, loss_coefficient: float, outlet: float) -> HoseLoss | None:
    if choke > MOST_MACH * outlet:
        return None
    square, inlet = choke**2, outlet
    for _ in range(8):
        inlet = sqrt(outlet**2 + square * (heads + 2.0 * log(inlet / outlet)))
    return HoseLoss(inlet, square * (heads - loss_coefficient))


def length_for_squares(*, length: float, friction_squares: float, spare_squares: float) -> float | None:
    """Return the length of hose that uses up what is spare in p1^2 - p2^2, m; 0 where even none would do.

    L + s/(F/L): friction goes with length.
    `length`: of the hose as it is, m, above 0; `friction_squares`: F, Pa2, above 0;
    `spare_squares`: s, Pa2, negative where the pressure does not suffice now.

    >>> length_for_squares(length=20.0, friction_squares=4e10, spare_squares=2e10)
    30.0
    """
    if not above_zero(length, friction_squares) or not isfinite(spare_squares):
        return None
    return max(0.0, length * (1.0 + spare_squares / friction_squares))


def bore_for_squares(*, bore: float, friction_squares: float, spare_squares: float) -> float | None:
    """Return the bore at which friction uses up what is spare in p1^2 - p2^2, m.

    D (F/(F + s))^(1/5): friction goes with D^-5 at one friction factor.
    `bore`: of the hose as it is, m, above 0; `friction_squares`: F, Pa2, above 0; `spare_squares`: s, Pa2.
    None where no bore would do, and below half of the bore or above twice, where the one friction factor no longer
    holds.

    >>> round(bore_for_squares(bore=8e-3, friction_squares=1e10, spare_squares=1e10) * 1e3, 2)
    6.96
    """
    room = friction_squares + spare_squares
    if not above_zero(bore, friction_squares) or not room > 0.0:
        return None
    ratio = float((friction_squares / room) ** 0.2)
    return bore * ratio if 0.5 <= ratio <= 2.0 else None


def outlet_of_squares(*, inlet_pressure_abs: float, squares: float) -> float | None:
    """Return what comes out at the end of parts that lose p1^2 - p2^2, Pa absolute: sqrt(p1^2 - s).

    `inlet_pressure_abs`: Pa, above 0; `squares`: s, Pa2, from 0.
    None where the flow cannot pass.

    >>> outlet_of_squares(inlet_pressure_abs=5e5, squares=9e10)
    400000.0
    """
    if not above_zero(inlet_pressure_abs) or not from_zero(squares) or squares >= inlet_pressure_abs**2:
        return None
    return sqrt(inlet_pressure_abs**2 - squares)
