"""What is in a cylinder and what a bore lets out: published figures, CoolProp 8.0.0, a cubic equation, fluids 1.3.1."""

from __future__ import annotations

from itertools import product
from math import pi, sqrt

import fluids
import numpy
import pint
import pytest
from CoolProp.CoolProp import PropsSI
from scipy.optimize import brentq
from support.known import known

from rigcheck.physics import choked_flow, contents, cutting, endurance, friction, gas_properties, real_gas
from rigcheck.physics.contents import BASE_STATES, BaseState
from rigcheck.physics.gas_properties import GAS_CONSTANT, GASES

AIR = 101_325.0
FLUIDS = {"oxygen": "Oxygen", "argon": "Argon", "methane": "Methane", "hydrogen": "Hydrogen", "nitrogen": "Nitrogen"}


@pytest.mark.outside("choked_flow.critical_pressure_ratio", by="fluids, P_critical_flow")
@pytest.mark.parametrize("k", [1.09, 1.2, 1.4, 1.667])
def test_the_throat_is_at_the_pressure_of_the_fluids_library(k: float) -> None:
    theirs = fluids.P_critical_flow(P=6e5, k=k) / 6e5
    assert choked_flow.critical_pressure_ratio(heat_capacity_ratio=k) == pytest.approx(theirs, rel=1e-12)


@pytest.mark.outside("cutting.cutting_oxygen_flow", by="CoolProp, choked along the real isentrope")
@pytest.mark.parametrize(("bore", "bar"), [(0.8e-3, 2.0), (1.2e-3, 3.0), (1.6e-3, 5.0), (2.4e-3, 8.0)])
def test_the_cutting_jet_is_that_of_the_real_isentrope(bore: float, bar: float) -> None:
    pressure, warmth = bar * 1e5 + AIR, 293.15
    entropy, rest = (PropsSI(what, "P", pressure, "T", warmth, "Oxygen") for what in ("S", "H"))

    def flux(below: float) -> float:
        speed = sqrt(2.0 * (rest - PropsSI("H", "P", below, "S", entropy, "Oxygen")))
        return float(speed * PropsSI("D", "P", below, "S", entropy, "Oxygen"))

    mass = pi / 4.0 * bore**2 * max(flux(pressure * step / 100.0) for step in range(46, 61))
    expected = 0.9 * mass / PropsSI("D", "P", AIR, "T", 288.15, "Oxygen")
    found = cutting.cutting_oxygen_flow(
        bore=bore,
        pressure_gauge=bar * 1e5,
        atmosphere=AIR,
        temperature=warmth,
        discharge_coefficient=0.9,
        base=BASE_STATES["15 degC, 1.01325 bar"],
    )
    assert found == pytest.approx(expected, rel=0.01)


def peng_robinson(fluid: str, pressure: float, temperature: float) -> float:
    """Return the density of a gas, kg/m3, by Peng & Robinson, Ind. Eng. Chem. Fundam. 15 (1976) 59 (from memory)."""
    critical, peak, omega = (PropsSI(what, fluid) for what in ("Tcrit", "pcrit", "acentric"))
    kappa = 0.37464 + 1.54226 * omega - 0.26992 * omega**2
    bent = (1.0 + kappa * (1.0 - sqrt(temperature / critical))) ** 2
    a = 0.45724 * (GAS_CONSTANT * critical) ** 2 / peak * bent * pressure / (GAS_CONSTANT * temperature) ** 2
    b = 0.07780 * GAS_CONSTANT * critical / peak * pressure / (GAS_CONSTANT * temperature)
    roots = numpy.roots([1.0, b - 1.0, a - 3.0 * b**2 - 2.0 * b, b**3 + b**2 - a * b])
    factor = max(root.real for root in roots if abs(root.imag) < 1e-9)
    return float(pressure * PropsSI("M", fluid) / (factor * GAS_CONSTANT * temperature))


@pytest.mark.outside("contents.settled_pressure", "real_gas.gas_pressure", by="Peng-Robinson cubic")
@pytest.mark.parametrize("name", ["oxygen", "argon", "nitrogen", "methane"])
def test_a_shut_cylinder_follows_a_cubic_equation_too(name: str) -> None:
    before, start, end = 151e5, 288.15, 318.15
    density = peng_robinson(FLUIDS[name], before, start)
    expected = brentq(lambda p: peng_robinson(FLUIDS[name], p, end) - density, before, 2.0 * before)
    found = contents.settled_pressure(gas=GASES[name], pressure_abs=before, temperature=start, new_temperature=end)
    assert found == pytest.approx(expected, rel=0.02)
    pressure = real_gas.gas_pressure(gas=GASES[name], density=density, temperature=start)
    assert pressure == pytest.approx(before, rel=0.05)


@pytest.mark.outside("real_gas.gas_pressure", by="CoolProp")
@pytest.mark.parametrize("name", FLUIDS)
def test_a_density_has_the_pressure_of_the_reference_equation(name: str) -> None:
    for bar, warmth in product((2.0, 50.0, 200.0, 300.0), (250.0, 288.15, 330.0)):
        density = PropsSI("D", "P", bar * 1e5, "T", warmth, FLUIDS[name])
        found = real_gas.gas_pressure(gas=GASES[name], density=density, temperature=warmth)
        assert found == pytest.approx(bar * 1e5, rel=0.004)


@pytest.mark.outside("contents.standard_volume", by="Leeds & Butterfield, ch. VI")
def test_a_thousand_cubic_feet_of_acetylene_weigh_what_the_old_handbook_says() -> None:
    base, pound, foot = BASE_STATES["60 degF, 30 inHg"], 0.45359237, 0.3048
    volume = contents.standard_volume(gas=GASES["acetylene"], mass=69.18 * pound, base=base)
    assert known(volume) / foot**3 == pytest.approx(1000.0, rel=0.005)


@pytest.mark.outside("contents.standard_volume", by="CoolProp")
@pytest.mark.parametrize("name", FLUIDS)
def test_a_mass_turns_into_its_volume_by_the_reference_density(name: str) -> None:
    density = PropsSI("D", "P", 1e5, "T", 273.15, FLUIDS[name])
    base = BaseState("of this test", 273.15, 1e5)
    assert contents.standard_volume(gas=GASES[name], mass=2.0, base=base) == pytest.approx(2.0 / density, rel=1e-3)


@pytest.mark.outside("endurance.endurance", by="medical duration factors, from memory")
def test_a_cylinder_lasts_as_long_as_the_duration_factor_of_its_size_says() -> None:
    """Size H, 43 L of water: 3.14 L of oxygen for each psi: respiratory care texts."""
    density = [PropsSI("D", "P", psi * 6894.757 + AIR, "T", 294.26, "Oxygen") for psi in (2000.0, 0.0)]
    usable = 43e-3 * (density[0] - density[1]) / density[1]
    lasts = endurance.endurance(usable=usable, flow=10.0 / 60e3)
    assert known(lasts) / 60.0 == pytest.approx(3.14 * 2000.0 / 10.0, rel=0.02)


@pytest.mark.outside("gas_properties.second_virial", by="CoolProp, limit of no density")
@pytest.mark.parametrize("name", ["argon", "ethane", "methane", "nitrogen", "oxygen", "propane"])
def test_second_virial_is_near_that_of_the_reference_equation(name: str) -> None:
    fluid = {**FLUIDS, "ethane": "Ethane", "propane": "n-Propane"}[name]
    for temperature in (250.0, 288.15, 330.0):
        ours = gas_properties.second_virial(gas=GASES[name], temperature=temperature)
        assert ours == pytest.approx(PropsSI("BVIRIAL", "T", temperature, "D", 1e-6, fluid), rel=0.04, abs=1.2e-6)


@pytest.mark.outside("friction.reynolds_number", by="pint, in units of the inch")
def test_the_reynolds_number_has_no_unit_in_any_system() -> None:
    units = pint.UnitRegistry()
    flow, bore = units.Quantity(30.0, "lb/hour"), units.Quantity(0.25, "inch")
    viscosity = units.Quantity(1.36e-5, "lb/(ft s)")
    theirs = (4.0 * flow / (pi * bore * viscosity)).to_base_units()
    assert theirs.dimensionless
    ours = friction.reynolds_number(
        **{
            name: value.to_base_units().magnitude
            for name, value in {"mass_flow": flow, "bore": bore, "viscosity": viscosity}.items()
        }
    )
    assert ours == pytest.approx(theirs.magnitude, rel=1e-9)
