"""Figures over the whole range that a practitioner meets, against reference equations and general libraries.

CoolProp 8.0.0 (reference equations of state of each gas) and fluids 1.3.1; the allowed differences are those
that the figures state of themselves.
"""

from __future__ import annotations

from itertools import product
from math import pi, sqrt

import pytest
from CoolProp.CoolProp import PropsSI
from fluids import nozzle_expansibility
from fluids.geometry import TANK
from support.small_rigs import one, point, worked

from rigcheck.physics import choked_flow, contents, gas_properties, liquefied, real_gas, vaporisation
from rigcheck.physics.gas_properties import GASES
from rigcheck.rules.pack import Pack

AIR, ICE = 101_325.0, 273.15
OUTDOORS = [ICE + degree for degree in range(-20, 61, 10)]
NAMES = {
    "argon": "Argon",
    "butane": "n-Butane",
    "carbon-dioxide": "CarbonDioxide",
    "ethane": "Ethane",
    "ethylene": "Ethylene",
    "hydrogen": "Hydrogen",
    "methane": "Methane",
    "nitrogen": "Nitrogen",
    "oxygen": "Oxygen",
    "propane": "n-Propane",
    "propylene": "Propylene",
}


def is_gas(name: str, pressure: float, temperature: float, margin: float) -> bool:
    if temperature >= PropsSI("Tcrit", NAMES[name]):
        return True
    return bool(pressure < margin * PropsSI("P", "T", temperature, "Q", 1, NAMES[name]))


@pytest.mark.parametrize("name", ["butane", "carbon-dioxide", "ethane", "ethylene", "propylene"])
def test_a_gas_in_a_hose_is_as_dense_as_its_reference_equation_says(name: str) -> None:
    known = 0
    for bar, temperature in product((0.8, 1.01325, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 11), OUTDOORS):
        if not is_gas(name, bar * 1e5, temperature, margin=0.95):
            continue
        found = real_gas.gas_density(gas=GASES[name], pressure_abs=bar * 1e5, temperature=temperature)
        if found is not None:
            known += 1
            assert found == pytest.approx(PropsSI("D", "P", bar * 1e5, "T", temperature, NAMES[name]), rel=0.007)
        else:
            assert bar > 1.5 and PropsSI("Z", "P", bar * 1e5, "T", temperature, NAMES[name]) < 0.93
    assert known > 15


@pytest.mark.parametrize("name", ["argon", "hydrogen", "nitrogen", "oxygen"])
def test_a_shut_cylinder_follows_its_isochore_from_frost_to_a_hot_roof(name: str) -> None:
    for gauge, before, after in product((10e5, 100e5, 200e5, 300e5), (ICE - 20, ICE + 15, ICE + 60), OUTDOORS):
        density = PropsSI("D", "P", gauge + AIR, "T", before, NAMES[name])
        expected = PropsSI("P", "D", density, "T", after, NAMES[name])
        state = {"pressure_abs": gauge + AIR, "temperature": before, "new_temperature": after}
        found = contents.settled_pressure(gas=GASES[name], **state)
        if found is None:
            assert expected > 349e5
        else:
            assert found == pytest.approx(expected, rel=0.002)


CYLINDERS = list(product(["oxygen", "nitrogen", "argon", "hydrogen"], [(5, 10), (20, 150), (50, 200), (50, 300)]))


@pytest.mark.parametrize(("gas", "size"), CYLINDERS)
@pytest.mark.parametrize("celsius", [-20, 15, 60])
def test_a_rig_counts_its_compressed_gas_by_the_reference_equation(
    pack: Pack, gas: str, size: tuple[int, int], celsius: int
) -> None:
    litres, bar = size
    cylinder = f"water_capacity: {litres} L, pressure: {bar} bar, temperature: {celsius} degC"
    text = f"rig: one\nlines:\n  - gas: {gas}\n    parts:\n      - cylinder: {{{cylinder}}}\n"
    dense = PropsSI("D", "P", bar * 1e5 + AIR, "T", ICE + celsius, NAMES[gas])
    expected = litres / 1e3 * dense / PropsSI("D", "P", AIR, "T", ICE + 15, NAMES[gas])
    assert point(one(worked(text, pack), "cylinder"), "content") == pytest.approx(expected, rel=0.003)


@pytest.mark.outside(
    "liquefied.saturation_pressure", "liquefied.latent_heat", "liquefied.liquid_density", by="CoolProp"
)
@pytest.mark.parametrize(
    ("name", "pressure", "heat", "density"),
    [
        ("butane", 0.004, 0.004, 0.003),
        ("carbon-dioxide", 0.003, 0.014, 0.004),
        ("propane", 0.0002, 0.005, 0.0002),
        ("propylene", 0.016, 0.023, 0.008),
    ],
)
def test_a_liquefied_gas_agrees_with_its_reference_equation(
    name: str, pressure: float, heat: float, density: float
) -> None:
    fluid, known = NAMES[name], 0
    for temperature in (ICE + celsius for celsius in range(-50, 71, 10)):
        found = liquefied.saturation_pressure(liquid=name, temperature=temperature)
        if found is None:
            continue
        known += 1
        assert found == pytest.approx(PropsSI("P", "T", temperature, "Q", 0, fluid), rel=pressure)
        vapour, liquid = (PropsSI("H", "T", temperature, "Q", quality, fluid) for quality in (1, 0))
        latent = liquefied.latent_heat(liquid=name, temperature=temperature)
        assert latent == pytest.approx(vapour - liquid, rel=heat)
        dense = liquefied.liquid_density(liquid=name, temperature=temperature)
        assert dense == pytest.approx(PropsSI("D", "T", temperature, "Q", 0, fluid), rel=density)
    assert known >= 8


@pytest.mark.outside("liquefied.mixture_vapour_pressure", by="CoolProp, mixture")
@pytest.mark.parametrize("celsius", [-20, 0, 15, 50])
@pytest.mark.parametrize("propane", [0.2, 0.4, 0.6, 0.9])
def test_bottled_gas_of_two_kinds_follows_the_mixture_of_a_library(propane: float, celsius: int) -> None:
    mixture = f"HEOS::Propane[{propane}]&n-Butane[{1 - propane}]"
    expected = PropsSI("P", "T", ICE + celsius, "Q", 0, mixture)
    shares = {"propane": propane, "butane": 1 - propane}
    found = liquefied.mixture_vapour_pressure(shares=shares, temperature=ICE + celsius)
    assert found is not None
    # Raoult's law leaves out the fugacity of the vapour: high, and the more so the warmer.
    assert 0.0 <= found / expected - 1.0 <= {-20: 0.022, 0: 0.028, 15: 0.034, 50: 0.051}[celsius]


def test_bottled_gas_without_all_its_parts_is_unknown() -> None:
    assert liquefied.mixture_vapour_pressure(shares={"propane": 0.5}, temperature=288.15) is None
    assert liquefied.mixture_vapour_pressure(shares={"propane": 0.5, "hexane": 0.5}, temperature=288.15) is None
    assert liquefied.mixture_vapour_pressure(shares={}, temperature=288.15) is None


@pytest.mark.outside("choked_flow.bore_mass_flow", by="ISO 5167-3")
@pytest.mark.parametrize("bar", [1.02, 1.1, 1.3, 1.6])
@pytest.mark.parametrize("k", [1.12, 1.4, 1.667])
def test_a_bore_below_the_speed_of_sound_passes_what_a_nozzle_does(bar: float, k: float) -> None:
    # ISO 5167-3's expansibility of a nozzle in a pipe far wider than it, as the fluids library has it.
    bore, warmth, constant, before = 1.6e-3, 293.15, 259.84, bar * 1e5
    factor = nozzle_expansibility(D=10.0, Do=bore, P1=before, P2=AIR, k=k)
    expected = pi / 4 * bore**2 * factor * sqrt(2 * before / (constant * warmth) * (before - AIR))
    found = choked_flow.bore_mass_flow(
        bore=bore,
        pressure_abs=before,
        back_pressure_abs=AIR,
        temperature=warmth,
        heat_capacity_ratio=k,
        gas_constant=constant,
        discharge_coefficient=1.0,
    )
    assert found == pytest.approx(expected, rel=1e-9)


@pytest.mark.outside("choked_flow.bore_mass_flow", by="CoolProp, real isentrope")
@pytest.mark.parametrize("name", ["argon", "nitrogen", "oxygen"])
def test_a_jet_at_torch_pressure_is_within_a_hundredth_of_the_real_isentrope(name: str) -> None:
    gas = GASES[name]
    for bar, celsius in product((3, 6, 9, 12), (0, 20, 40, 60)):
        found = choked_flow.bore_mass_flow(
            bore=sqrt(4 / pi),
            pressure_abs=bar * 1e5,
            back_pressure_abs=AIR,
            temperature=ICE + celsius,
            heat_capacity_ratio=gas.heat_capacity_ratio,
            gas_constant=gas_properties.GAS_CONSTANT / gas.molar_mass,
            discharge_coefficient=1.0,
        )
        assert found == pytest.approx(greatest_flux(NAMES[name], bar * 1e5, ICE + celsius), rel=0.01)


def greatest_flux(fluid: str, pressure: float, temperature: float) -> float:
    """Return rho v along an isentrope of the reference equation, where it is greatest: the choked flux."""
    entropy, rest = (PropsSI(what, "P", pressure, "T", temperature, fluid) for what in ("S", "H"))
    fluxes = []
    for step in range(40, 61):
        below = pressure * step / 100
        speed = sqrt(2 * (rest - PropsSI("H", "P", below, "S", entropy, fluid)))
        fluxes.append(speed * PropsSI("D", "P", below, "S", entropy, fluid))
    return max(fluxes)


@pytest.mark.outside("vaporisation.wetted_area_lying", by="fluids, TANK")
@pytest.mark.parametrize("filling", [0.02, 0.1, 0.5, 0.85, 0.99])
@pytest.mark.parametrize(("diameter", "length"), [(0.2, 0.5), (0.6, 1.5), (1.2, 5.0)])
def test_the_wetted_wall_of_a_lying_cylinder_is_that_of_a_tank(diameter: float, length: float, filling: float) -> None:
    tank = TANK(D=diameter, L=length, horizontal=True)
    expected = tank.SA_from_h(tank.h_from_V(filling * tank.V_total))
    found = vaporisation.wetted_area_lying(diameter=diameter, length=length, filling=filling)
    assert found == pytest.approx(expected, rel=1e-4)
