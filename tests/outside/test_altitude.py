"""What the calculation sheet says of work high above the sea, by the figures and the standard atmosphere.

Air pressure at 1,700 m: ISO 2533 (the standard atmosphere), its formula up to 11 km, from memory;
`fluids.ATMOSPHERE_1976` carries the same atmosphere.
"""

from __future__ import annotations

import re

import fluids
import pytest

from rigcheck.physics.choked_flow import bore_mass_flow
from rigcheck.physics.gas_properties import GAS_CONSTANT, GASES, viscosity
from rigcheck.physics.hose_flow import Hose, hose_inlet_pressure_abs
from rigcheck.physics.isothermal_flow import Stream
from rigcheck.report.text.calculation_text import SEA_LEVEL

HEIGHT, SEA = 1_700.0, 101_325.0
WARMTH = 293.15


@pytest.fixture
def air() -> float:
    return float(fluids.ATMOSPHERE_1976(HEIGHT).P)


def claimed() -> tuple[float, float, float]:
    height, jet, hose = re.findall(r"([\d,]+) (?:m|%)", SEA_LEVEL)
    return float(height.replace(",", "")), float(jet) / 100.0, float(hose) / 100.0


def test_the_air_is_that_of_the_standard_formula(air: float) -> None:
    assert air == pytest.approx(SEA * (1.0 - 2.25577e-5 * HEIGHT) ** 5.25588, rel=1e-3)
    assert claimed()[0] == HEIGHT


def test_a_jet_passes_less_where_the_air_is_thin(air: float) -> None:
    flows = [
        bore_mass_flow(
            bore=1e-3,
            pressure_abs=3e5 + outside,
            temperature=WARMTH,
            gas_constant=GAS_CONSTANT / GASES["oxygen"].molar_mass,
            heat_capacity_ratio=1.4,
            back_pressure_abs=outside,
            discharge_coefficient=0.9,
        )
        for outside in (SEA, air)
    ]
    assert flows[0] is not None
    assert flows[1] is not None
    assert 1.0 - flows[1] / flows[0] == pytest.approx(claimed()[1], abs=0.005)


def test_a_hose_takes_more_where_the_air_is_thin(air: float) -> None:
    gas = GASES["acetylene"]
    thickness = viscosity(gas=gas, temperature=WARMTH)
    assert thickness is not None
    drops = []
    for outside in (SEA, air):
        stream = Stream(3e-4, WARMTH, gas.molar_mass, 1.0, thickness)
        outlet = 0.5e5 + outside
        inlet = hose_inlet_pressure_abs(stream=stream, hose=Hose(6.3e-3, 10.0, 0.0, 0.0), outlet_pressure_abs=outlet)
        assert inlet is not None
        drops.append(inlet - outlet)
    assert drops[1] / drops[0] - 1.0 == pytest.approx(claimed()[2], abs=0.01)
