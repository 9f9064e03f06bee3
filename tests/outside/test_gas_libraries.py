"""The gas-side figures against general-purpose libraries: CoolProp 8.0.0 and chemicals 1.5.2."""

from __future__ import annotations

from itertools import product

import chemicals
import pytest
from CoolProp.CoolProp import PropsSI
from support.written import written

from rigcheck.physics import combustion, contents, real_gas, vapour_pressure
from rigcheck.physics.gas_properties import GASES
from rigcheck.physics.helmholtz import EQUATIONS

CYLINDER_PRESSURES = [bar * 1e5 for bar in range(10, 301, 10)]
CYLINDER_TEMPERATURES = [273.15 + degree for degree in range(0, 51, 5)]
COOLPROP_NAMES = {
    "oxygen": "Oxygen",
    "air": "Air",
    "argon": "Argon",
    "hydrogen": "Hydrogen",
    "methane": "Methane",
    "nitrogen": "Nitrogen",
    "propane": "n-Propane",
}


def worst(name: str, pressures: list[float], temperatures: list[float]) -> float:
    """Return the largest relative difference of density from the reference equation of state."""
    return max(
        abs(found / PropsSI("D", "P", pressure, "T", temperature, COOLPROP_NAMES[name]) - 1.0)
        for pressure, temperature in product(pressures, temperatures)
        if (found := real_gas.gas_density(gas=GASES[name], pressure_abs=pressure, temperature=temperature))
    )


# The short equations are other equations than CoolProp's; air alone has the same source, so it checks the arithmetic.
@pytest.mark.outside("real_gas.gas_density", by="CoolProp")
@pytest.mark.parametrize(
    ("name", "allowed"),
    [
        ("oxygen", 0.0018),
        ("argon", 0.002),
        ("methane", 0.0004),
        ("hydrogen", 0.0003),
        ("nitrogen", 0.0001),
        ("air", 1e-6),
    ],
)
def test_density_at_cylinder_pressure_agrees_with_the_reference_equation(name: str, allowed: float) -> None:
    assert worst(name, CYLINDER_PRESSURES, CYLINDER_TEMPERATURES) <= allowed


@pytest.mark.parametrize(
    ("name", "allowed"), [("oxygen", 0.0022), ("argon", 0.0024), ("methane", 0.0007), ("hydrogen", 0.0008)]
)
def test_density_agrees_over_the_whole_stated_range(name: str, allowed: float) -> None:
    pressures = [bar * 1e5 for bar in (0.5, 1, 5, 20, 50, 100, 150, 200, 250, 300, 350)]
    assert worst(name, pressures, [230.0, 250.0, 270.0, 290.0, 310.0, 340.0]) <= allowed


def test_air_as_one_fluid_agrees_with_air_as_a_mixture() -> None:
    """Independent of the pseudo-pure equation: CoolProp's mixture of nitrogen, oxygen and argon."""
    mixture = "HEOS::Nitrogen[0.7812]&Oxygen[0.2096]&Argon[0.0092]"
    for pressure in (50e5, 200e5, 300e5):
        found = real_gas.gas_density(gas=GASES["air"], pressure_abs=pressure, temperature=288.15)
        assert found == pytest.approx(PropsSI("D", "P", pressure, "T", 288.15, mixture), rel=0.002)


@pytest.mark.parametrize("temperature", [230.0, 250.0, 273.15, 288.15, 310.0, 340.0])
@pytest.mark.parametrize("share", [0.01, 0.3, 0.7, 0.99])
def test_propane_vapour_density_agrees_up_to_its_dew_point(temperature: float, share: float) -> None:
    pressure = share * PropsSI("P", "T", temperature, "Q", 1, "n-Propane")
    found = real_gas.gas_density(gas=GASES["propane"], pressure_abs=pressure, temperature=temperature)
    assert found == pytest.approx(PropsSI("D", "P", pressure, "T", temperature, "n-Propane"), rel=0.0015)


@pytest.mark.outside(
    "vapour_pressure.propane_vapour_pressure",
    "vapour_pressure.propane_liquid_density",
    "vapour_pressure.propane_latent_heat",
    by="CoolProp",
)
@pytest.mark.parametrize("temperature", [200.0, 231.0, 250.0, 273.15, 300.0, 330.0, 360.0])
def test_saturated_propane_agrees_with_the_reference_equation(temperature: float) -> None:
    pressure = vapour_pressure.propane_vapour_pressure(temperature=temperature)
    assert pressure == pytest.approx(PropsSI("P", "T", temperature, "Q", 1, "n-Propane"), rel=2e-4)
    density = vapour_pressure.propane_liquid_density(temperature=temperature)
    assert density == pytest.approx(PropsSI("D", "T", temperature, "Q", 0, "n-Propane"), rel=2e-4)
    vapour, liquid = (PropsSI("H", "T", temperature, "Q", quality, "n-Propane") for quality in (1, 0))
    latent = vapour_pressure.propane_latent_heat(temperature=temperature)
    assert latent == pytest.approx(vapour - liquid, rel=0.008)


@pytest.mark.outside("vapour_pressure.propane_vapour_pressure", by="VDI Heat Atlas")
@pytest.mark.parametrize("temperature", [233.15, 263.15, 293.15, 313.15])
def test_propane_vapour_pressure_agrees_with_a_second_library(temperature: float) -> None:
    """McGarry's Wagner coefficients for propane, as the chemicals library carries them: another fit of other data."""
    from chemicals.vapor_pressure import Psat_data_VDI_PPDS_3, Wagner

    row = Psat_data_VDI_PPDS_3.loc["74-98-6"]
    other = Wagner(temperature, row["Tc"], row["Pc"], row["A"], row["B"], row["C"], row["D"])
    assert vapour_pressure.propane_vapour_pressure(temperature=temperature) == pytest.approx(other, rel=0.01)


@pytest.mark.outside("contents.settled_pressure", by="CoolProp")
@pytest.mark.parametrize(("kelvin", "gauge"), [(263.15, 150e5), (303.15, 200e5), (323.15, 100e5)])
@pytest.mark.parametrize("name", ["oxygen", "methane", "hydrogen", "air"])
def test_a_closed_cylinder_follows_the_isochore(name: str, kelvin: float, gauge: float) -> None:
    start = gauge + 101325.0
    found = contents.settled_pressure(gas=GASES[name], pressure_abs=start, temperature=288.15, new_temperature=kelvin)
    density = PropsSI("D", "P", start, "T", 288.15, COOLPROP_NAMES[name])
    assert found == pytest.approx(PropsSI("P", "D", density, "T", kelvin, COOLPROP_NAMES[name]), rel=0.002)


FUELS = {
    "acetylene": ("74-86-2", {"C": 2, "H": 2}),
    "propane": ("74-98-6", {"C": 3, "H": 8}),
    "propylene": ("115-07-1", {"C": 3, "H": 6}),
    "methane": ("74-82-8", {"C": 1, "H": 4}),
    "hydrogen": ("1333-74-0", {"H": 2}),
    "methylacetylene-mix": ("74-99-7", {"C": 3, "H": 4}),
    "ethylene": ("74-85-1", {"C": 2, "H": 4}),
    "butane": ("106-97-8", {"C": 4, "H": 10}),
}


@pytest.mark.outside(
    "combustion.gross_heat", "combustion.net_heat", "combustion.oxygen_to_burn", by="chemicals, heats of formation"
)
@pytest.mark.parametrize("fuel", FUELS)
def test_combustion_agrees_with_the_chemicals_library(fuel: str) -> None:
    number, atoms = FUELS[fuel]
    burned = chemicals.combustion_data(formula=atoms, Hf=chemicals.Hfg(number))
    assert combustion.gross_heat(fuel=fuel) == pytest.approx(-burned.HHV, rel=0.003)
    assert combustion.net_heat(fuel=fuel) == pytest.approx(-burned.LHV, rel=0.003)
    assert combustion.oxygen_to_burn(fuel=fuel) == pytest.approx(-burned.stoichiometry["O2"], rel=1e-12)


@pytest.mark.outside("real_gas.gas_density", by="chemicals, Tsonopoulos")
@pytest.mark.parametrize("temperature", [253.15, 273.15, 294.26, 313.15])
def test_acetylene_gas_agrees_with_the_virial_coefficient_of_a_library(temperature: float) -> None:
    virial = chemicals.virial.BVirial_Tsonopoulos(temperature, 308.3, 6.138e6, 0.19)
    factor = 1.0 + virial * 101325.0 / (8.314462618 * temperature)
    expected = 101325.0 * 0.02603728 / (factor * 8.314462618 * temperature)
    found = real_gas.gas_density(gas=GASES["acetylene"], pressure_abs=101325.0, temperature=temperature)
    assert found == pytest.approx(expected, rel=0.002)


@pytest.mark.parametrize("temperature", [240.0, 260.0, 280.0])
def test_propylene_is_unknown_from_about_where_it_condenses(temperature: float) -> None:
    dew = PropsSI("P", "T", temperature, "Q", 1, "Propylene")
    state = {"gas": GASES["propylene"], "temperature": temperature}
    assert real_gas.gas_density(pressure_abs=min(0.93 * dew, 2.4e5), **state) is not None
    assert real_gas.gas_density(pressure_abs=max(1.07 * dew, 2.6e5), **state) is None
    found = real_gas.gas_density(pressure_abs=1e5, **state)
    assert found == pytest.approx(PropsSI("D", "P", 1e5, "T", temperature, "Propylene"), rel=0.01)


@pytest.mark.parametrize(("bar", "share"), [(5.0, 0.02), (20.0, 0.05), (50.0, 0.08), (200.0, 0.15), (300.0, 0.18)])
def test_ideal_compression_stands_above_the_real_isentrope_by_what_is_stated(bar: float, share: float) -> None:
    entropy = PropsSI("S", "T", 293.15, "P", 101325.0, "Oxygen")
    real = PropsSI("T", "S", entropy, "P", bar * 1e5, "Oxygen")
    low, ideal = written("compression_temperature", p=bar * 1e5 - 101325.0, a=101325.0, T1=293.15)
    assert low < real < ideal <= real * (1.0 + share)


def test_every_equation_of_state_belongs_to_a_gas_that_has_properties() -> None:
    assert set(EQUATIONS) == set(COOLPROP_NAMES) <= set(GASES)
    for name in EQUATIONS:
        assert GASES[name].molar_mass == pytest.approx(PropsSI("M", COOLPROP_NAMES[name]), rel=1e-4)
