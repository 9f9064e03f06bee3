"""A part by the one point of its maker's table, against the sizing of valves for gas in IEC 60534-2-1.

`fluids.size_control_valve_g` carries that standard: the part of a rated point has one flow coefficient Kv,
and so has to have the same at every other flow. The standard's expansion factor, Y = 1 - x/(3 F xT), with xT = 0.7,
and the difference of squares, of which half is x (1 - x/2), part by less than x, the drop over the inlet pressure.
"""

from __future__ import annotations

import pytest
from fluids.control_valve import size_control_valve_g

from rigcheck.physics.line_flow import RatedPoint, rated_inlet_pressure_abs

RATED = RatedPoint(flow=20.0 / 3600.0, inlet_pressure_abs=6e5, outlet_pressure_abs=5.6e5)


def coefficient(flow: float, inlet: float, outlet: float) -> float:
    """Return Kv, m3/h, of a part that passes oxygen (normal m3/s) between two pressures, Pa."""
    gas = {"T": 293.15, "MW": 31.9988, "mu": 2.03e-5, "gamma": 1.4, "Z": 1.0}
    return float(size_control_valve_g(**gas, P1=inlet, P2=outlet, Q=flow, xT=0.7))


@pytest.mark.outside("line_flow.rated_inlet_pressure_abs", by="IEC 60534-2-1")
@pytest.mark.parametrize("outlet", [1.2e5, 3e5, 5.6e5, 20e5])
@pytest.mark.parametrize("share", [0.02, 0.1, 0.4, 0.7, 1.0])
def test_a_rated_part_keeps_its_flow_coefficient(share: float, outlet: float) -> None:
    flow = share * RATED.flow
    inlet = rated_inlet_pressure_abs(flow=flow, rated=RATED, outlet_pressure_abs=outlet)
    if inlet is None:  # driven harder than it was rated
        assert (RATED.flow * share) ** 2 * (6.0**2 - 5.6**2) > (RATED.flow * outlet / 5.6e5) ** 2 * (6.0**2 - 5.6**2)
        return
    rated = coefficient(RATED.flow, RATED.inlet_pressure_abs, RATED.outlet_pressure_abs)
    parted = max((inlet - outlet) / inlet, 0.4 / 6.0)
    assert coefficient(flow, inlet, outlet) == pytest.approx(rated, rel=0.5 * parted)


def test_a_part_passes_more_at_a_higher_pressure_for_the_same_drop() -> None:
    # By the standard, at one small drop the mass flow goes as the square root of the pressure: 4 times, twice.
    low = rated_inlet_pressure_abs(flow=0.2 * RATED.flow, rated=RATED, outlet_pressure_abs=5e5)
    high = rated_inlet_pressure_abs(flow=0.4 * RATED.flow, rated=RATED, outlet_pressure_abs=20e5)
    assert low is not None
    assert high is not None
    assert high - 20e5 == pytest.approx(low - 5e5, rel=5e-3)
