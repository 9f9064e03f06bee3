"""Along a line: what a part loses whose maker gives one flow at a pressure lost, and what is left behind all parts."""

from __future__ import annotations

from math import sqrt

from msgspec import Struct

from rigcheck.physics.intervals import monotone
from rigcheck.physics.validity import above_zero, from_zero

__all__ = ["RatedPoint", "outlet_of_squares", "rated_inlet_pressure_abs"]


class RatedPoint(Struct, frozen=True):
    """One point of a maker's flow table: the pressures before and behind a part at a flow.

    `flow`: m3/s at a base state (or kg/s), above 0; pressures: Pa, the inlet's at least the outlet's, above 0.
    """

    flow: float
    inlet_pressure_abs: float
    outlet_pressure_abs: float


@monotone(
    rises=("outlet_pressure_abs", "flow", "rated.inlet_pressure_abs"), falls=("rated.flow", "rated.outlet_pressure_abs")
)
def rated_inlet_pressure_abs(*, flow: float, rated: RatedPoint, outlet_pressure_abs: float) -> float | None:
    """Return the inlet pressure of a part whose maker gives one flow at a pressure lost, Pa absolute.

    p1^2 - p2^2 = (q/qr)^2 (p1r^2 - p2r^2): turbulent loss, which goes as rho v^2.
    `flow`: in the unit and at the base state of `rated`, from 0, of its gas at its temperature;
    `rated`: as `RatedPoint` says; `outlet_pressure_abs`: Pa, above 0.
    None where the part would be driven harder than it was rated, that is p1/p2 above p1r/p2r.
    A spring-loaded valve loses more than this at a small part of its rated flow: use the maker's curve there.
    Source: similarity of compressible flow, as in IEC 60534-2-1 for valves (from memory);
    by hand: half the flow loses a quarter of the difference of squares, (5.2^2 - 5^2)/4 = 0.51 bar2.

    >>> point = RatedPoint(flow=1e-3, inlet_pressure_abs=5.2e5, outlet_pressure_abs=5e5)
    >>> round(rated_inlet_pressure_abs(flow=0.5e-3, rated=point, outlet_pressure_abs=5e5))
    505074
    """
    high, low = rated.inlet_pressure_abs, rated.outlet_pressure_abs
    if not (above_zero(outlet_pressure_abs, rated.flow, high, low) and from_zero(flow) and high >= low):
        return None
    inlet = sqrt(outlet_pressure_abs**2 + (flow / rated.flow) ** 2 * (high**2 - low**2))
    return inlet if inlet / outlet_pressure_abs <= high / low * (1.0 + 1e-12) else None


@monotone(rises=("inlet_pressure_abs",), falls=("squares",))
def outlet_of_squares(*, inlet_pressure_abs: float, squares: float) -> float | None:
    """Return what comes out at the end of parts that lose p1^2 - p2^2, Pa absolute.

    p2 = sqrt(p1^2 - s).
    `inlet_pressure_abs`: Pa, above 0; `squares`: s, Pa2, from 0, of all parts together at this flow.
    Assumes that the loss in squares does not change with the pressure, as in flow of an ideal gas.
    None where the flow cannot pass.
    Source: as `isothermal_flow`; by hand: 5^2 - 3^2 = 4^2.

    >>> outlet_of_squares(inlet_pressure_abs=5e5, squares=9e10)
    400000.0
    """
    if not above_zero(inlet_pressure_abs) or not from_zero(squares) or squares >= inlet_pressure_abs**2:
        return None
    return sqrt(inlet_pressure_abs**2 - squares)
