"""Work high above the sea: air, jets, hoses and readings by the standard atmosphere of a library for fluids.

Air pressure at 1,700 m: `fluids.ATMOSPHERE_1976`, which below 11 km is the atmosphere of ISO 2533.
"""

from __future__ import annotations

from math import pi, sqrt

import fluids
import pytest
from CoolProp.CoolProp import PropsSI
from support.small_rigs import one, span, worked

from rigcheck.quantity.interval import Interval
from rigcheck.report.text.calculation_text import CYLINDER_GAUGES
from rigcheck.rig.thing import Rig
from rigcheck.rules.pack import Pack

HEIGHT, WARMTH = 1_700.0, 293.15
AIR = float(fluids.ATMOSPHERE_1976(HEIGHT).P)
RIG = """
rig: high
site: {{ambient_temperature: 20 degC{altitude}}}
job: {{process: cutting}}
lines:
  - gas: acetylene
    consumption: 1 m3/h
    hold_start_pressure: 0.5 bar
    hold_end_pressure: 0.5 bar
    hold_start_temperature: 30 degC
    hold_end_temperature: 10 degC
    parts:
      - regulator: {{set_pressure: 0.6 bar}}
      - hose: {{bore: 6.3 mm, length: 10 m, roughness: 0 mm, joiners: 0}}
torch: {{nozzle: {{fuel_pressure: 0.5 bar, oxygen_pressure: 3 bar, cutting_bore: 1 mm}}}}
"""


def high(pack: Pack, altitude: str = ", altitude: 1700 m") -> Rig:
    return worked(RIG.format(altitude=altitude), pack)


def test_the_air_is_that_of_the_standard_atmosphere(pack: Pack) -> None:
    assert span(one(high(pack), "site"), "air_pressure") == pytest.approx((AIR, AIR), rel=1e-4)


def test_the_jet_is_choked_flow_out_of_the_pressure_above_that_air(pack: Pack) -> None:
    torch = RIG.replace("gas: acetylene", "gas: oxygen")
    rig = worked(torch.format(altitude=", altitude: 1700 m"), pack)
    # Choked flow by the speed of sound, ideal oxygen of k = 1.4: the textbook equation once more.
    k, start = 1.4, 3e5 + AIR
    mass = pi / 4 * 1e-6 * start * sqrt(k * 0.0319988 / (8.314462618 * WARMTH)) * (2 / (k + 1)) ** 3
    flow = mass / PropsSI("D", "T", 288.15, "P", 101_325, "oxygen")
    assert span(one(rig, "nozzle"), "bore_flow") == pytest.approx((0.8 * flow, flow), rel=3e-3)


def test_a_hose_loses_what_isothermal_flow_into_that_air_loses(pack: Pack) -> None:
    found = span(one(high(pack), "hose"), "drop")
    density, mass = 1.1092, 1.1092 / 3600.0  # acetylene at 15 degC and 1 atm, as the sheet prints it
    reynolds = 4 * mass / (pi * 6.3e-3 * 1.02e-5)  # viscosity at 20 degC, from memory, good to 2 %
    friction = fluids.friction_factor(reynolds, eD=0.0)
    outlet = 0.5e5 + AIR
    drop = 0.0
    for _ in range(5):  # the library wants the density at the inlet
        inlet_density = density * (outlet + drop) / 101_325 * 288.15 / WARMTH
        inlet = fluids.isothermal_gas(rho=inlet_density, fd=friction, P2=outlet, L=10.0, D=6.3e-3, m=mass)
        drop = inlet - outlet
    assert found[0] == pytest.approx(drop, rel=0.015)  # the least: tails that lose nothing


def test_a_reading_in_thin_air_is_put_right_from_that_air(pack: Pack) -> None:
    # Gay-Lussac, by hand: 0.5 bar above the air, cooled from 30 to 10 degC, should have fallen by 20/283.15 of it.
    (low, high_end) = span(one(high(pack), "line"), "read_fall")
    assert (low, high_end) == pytest.approx((-(0.5e5 + AIR) * 20 / 283.15,) * 2, rel=1e-4)


def test_where_nobody_said_how_high_the_air_runs_from_the_sea_to_500_m(pack: Pack) -> None:
    ends = span(one(high(pack, ""), "site"), "air_pressure")
    assert ends == pytest.approx((float(fluids.ATMOSPHERE_1976(500.0).P), 101_325.0), rel=1e-3)
    drops = {text: one(high(pack, text), "hose").facts["drop"] for text in ("", ", altitude: 0 m", ", altitude: 500 m")}
    wide, sea, hill = drops.values()
    assert isinstance(wide, Interval) and isinstance(sea, Interval) and isinstance(hill, Interval)
    assert wide.lo <= sea.lo < hill.lo and sea.hi < hill.hi <= wide.hi * (1 + 1e-3)


def test_what_the_sheet_says_of_cylinder_gauges_is_so() -> None:
    # The reference equation of oxygen, and Henry's law of acetylene: 11 bar above the air, over 11 bar above 1 atm.
    oxygen = PropsSI("D", "T", WARMTH, "P", 182e5 + AIR, "oxygen") / PropsSI(
        "D", "T", WARMTH, "P", 182e5 + 101_325, "oxygen"
    )
    acetylene = (11e5 + AIR) / (11e5 + 101_325)
    assert f"{100 * (1 - oxygen):.1f} % of oxygen at 182 bar" in CYLINDER_GAUGES
    assert f"{100 * (1 - acetylene):.1f} % of acetylene at 11 bar" in CYLINDER_GAUGES
