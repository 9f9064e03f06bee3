"""Liquefied gas and the vapour that its cylinder gives: CoolProp 8.0.0, the VDI Heat Atlas, scipy."""

from __future__ import annotations

import chemicals
import numpy
import pytest
from CoolProp.CoolProp import PropsSI
from fluids.geometry import TANK
from scipy.integrate import solve_ivp
from scipy.optimize import brentq
from support.known import known

from rigcheck.physics import liquefied, vaporisation, vapour_pressure

AIR, ICE = 101_325.0, 273.15
NUMBERS = {
    "acetylene": "74-86-2",
    "butane": "106-97-8",
    "methylacetylene": "74-99-7",
    "propadiene": "463-49-0",
    "propane": "74-98-6",
    "propylene": "115-07-1",
}


def their_vapour_pressure(name: str, temperature: float) -> float:
    """Return the vapour pressure by McGarry's form of Wagner's equation as the VDI Heat Atlas has it, Pa."""
    row = chemicals.vapor_pressure.Psat_data_VDI_PPDS_3.loc[NUMBERS[name]]
    wagner = chemicals.vapor_pressure.Wagner
    return float(wagner(temperature, row["Tc"], row["Pc"], row["A"], row["B"], row["C"], row["D"]))


# The library reads its own tables in a way that pandas will drop: not ours to mend.
old_tables = pytest.mark.filterwarnings("ignore:The 'float_precision' argument")


@old_tables
@pytest.mark.outside("liquefied.saturation_pressure", by="VDI Heat Atlas")
@pytest.mark.parametrize("name", ["butane", "propane", "propylene", "methylacetylene"])
def test_a_liquid_has_the_vapour_pressure_of_the_heat_atlas(name: str) -> None:
    for temperature in (258.15, 288.15, 313.15):
        ours = liquefied.saturation_pressure(liquid=name, temperature=temperature)
        assert ours == pytest.approx(their_vapour_pressure(name, temperature), rel=0.02)


@pytest.mark.outside("liquefied.boiling_temperature", by="CRC Handbook, normal boiling points")
@pytest.mark.parametrize(
    ("name", "celsius"),
    [("propane", -42.1), ("butane", -0.5), ("propylene", -47.7), ("methylacetylene", -23.2), ("propadiene", -34.4)],
)
def test_a_liquid_boils_at_its_published_boiling_point(name: str, celsius: float) -> None:
    boiling = liquefied.boiling_temperature(liquid=name, pressure_abs=AIR)
    assert known(boiling) - ICE == pytest.approx(celsius, abs=0.6)


@pytest.mark.outside("liquefied.boiling_temperature", by="CoolProp")
@pytest.mark.parametrize(
    ("name", "fluid"), [("propane", "n-Propane"), ("butane", "n-Butane"), ("propylene", "Propylene")]
)
def test_a_liquid_under_pressure_boils_where_the_reference_equation_says(name: str, fluid: str) -> None:
    for bar in (1.0, 2.5, 6.0):
        boiling = liquefied.boiling_temperature(liquid=name, pressure_abs=bar * 1e5)
        assert boiling == pytest.approx(PropsSI("T", "P", bar * 1e5, "Q", 0, fluid), abs=0.6)


@old_tables
@pytest.mark.outside(
    "liquefied.latent_heat", "vapour_pressure.propane_latent_heat", by="Clapeyron on the VDI Heat Atlas"
)
@pytest.mark.parametrize(
    ("name", "fluid"), [("propane", "n-Propane"), ("butane", "n-Butane"), ("propylene", "Propylene")]
)
def test_latent_heat_is_the_slope_of_the_vapour_pressure(name: str, fluid: str) -> None:
    temperature, step = 283.15, 0.05
    slope = (their_vapour_pressure(name, temperature + step) - their_vapour_pressure(name, temperature - step)) / 0.1
    vapour, liquid = (1.0 / PropsSI("D", "T", temperature, "Q", quality, fluid) for quality in (1, 0))
    expected = temperature * (vapour - liquid) * slope
    assert liquefied.latent_heat(liquid=name, temperature=temperature) == pytest.approx(expected, rel=0.02)
    if name == "propane":
        assert vapour_pressure.propane_latent_heat(temperature=temperature) == pytest.approx(expected, rel=0.02)


@pytest.mark.outside("liquefied.liquid_density", "vapour_pressure.propane_liquid_density", by="COSTALD, chemicals")
@pytest.mark.parametrize(
    ("name", "fluid"), [("propane", "n-Propane"), ("butane", "n-Butane"), ("propylene", "Propylene")]
)
def test_a_liquid_is_as_dense_as_a_law_of_corresponding_states_has_it(name: str, fluid: str) -> None:
    molar, critical, omega = (PropsSI(what, fluid) for what in ("M", "Tcrit", "acentric"))
    size = chemicals.Vc(NUMBERS[name])
    for temperature in (263.15, 288.15, 313.15):
        expected = molar / chemicals.volume.COSTALD(temperature, critical, size, omega)
        assert liquefied.liquid_density(liquid=name, temperature=temperature) == pytest.approx(expected, rel=0.025)
        if name == "propane":
            ours = vapour_pressure.propane_liquid_density(temperature=temperature)
            assert ours == pytest.approx(expected, rel=0.025)


@old_tables
@pytest.mark.outside("liquefied.mixture_vapour_pressure", by="Raoult's law on the VDI Heat Atlas")
@pytest.mark.parametrize("propane", [0.1, 0.5, 0.9])
def test_a_mixture_has_the_vapour_pressures_of_its_parts_by_their_shares(propane: float) -> None:
    parts = {"propane": propane, "butane": 1.0 - propane}
    for temperature in (258.15, 288.15, 313.15):
        expected = sum(share * their_vapour_pressure(name, temperature) for name, share in parts.items())
        found = liquefied.mixture_vapour_pressure(shares=parts, temperature=temperature)
        assert found == pytest.approx(expected, rel=0.01)


# Vapour from a cylinder of liquid.

WALL = {"liquid": "propane", "wetted_area": 0.8, "heat_transfer_coefficient": 12.0, "air_temperature": 283.15}


def their_latent(temperature: float) -> float:
    vapour, liquid = (PropsSI("H", "T", temperature, "Q", quality, "n-Propane") for quality in (1, 0))
    return float(vapour - liquid)


@pytest.mark.outside(
    *("vaporisation.sustained_draw", "vaporisation.sustained_draw_at_pressure", "vaporisation.frost_free_draw"),
    by="CoolProp, heat in over latent heat",
)
def test_a_cylinder_gives_the_vapour_that_the_heat_through_its_wall_boils() -> None:
    boiling = PropsSI("T", "P", 2.5e5, "Q", 0, "n-Propane")
    for liquid, found in (
        (263.15, vaporisation.sustained_draw(**WALL, liquid_temperature=263.15)),
        (boiling, vaporisation.sustained_draw_at_pressure(**WALL, least_pressure_abs=2.5e5)),
        (ICE, vaporisation.frost_free_draw(**WALL)),
    ):
        assert found == pytest.approx(12.0 * 0.8 * (283.15 - liquid) / their_latent(liquid), rel=0.01)


@pytest.mark.outside(
    *("vaporisation.sustained_draw_at_pressure", "vaporisation.frost_free_draw", "vaporisation.liquid_temperature"),
    by="liquid cooling until it settles, scipy",
)
def test_liquid_that_is_drawn_on_settles_at_the_temperature_and_draw_that_are_said() -> None:
    def settled(flow: float) -> float:
        def balance(_: float, warmth: numpy.ndarray) -> numpy.ndarray:
            heat = 12.0 * 0.8 * (283.15 - warmth[0]) - flow * their_latent(float(warmth[0]))
            return numpy.array([heat / (20.0 * 2500.0)])

        return float(solve_ivp(balance, (0.0, 2e5), [283.15], method="LSODA", rtol=1e-8).y[0, -1])

    frost = known(vaporisation.frost_free_draw(**WALL))
    assert settled(frost) == pytest.approx(ICE, abs=0.2)
    pressed = known(vaporisation.sustained_draw_at_pressure(**WALL, least_pressure_abs=2.5e5))
    cold = settled(pressed)
    assert PropsSI("P", "T", cold, "Q", 0, "n-Propane") == pytest.approx(2.5e5, rel=0.01)
    found = vaporisation.liquid_temperature(mass_flow=pressed, **WALL)
    assert found == pytest.approx(cold, abs=0.2)


@pytest.mark.outside("vaporisation.liquid_temperature", by="CoolProp, root of the heat balance")
@pytest.mark.parametrize("flow", [5e-5, 2e-4, 6e-4])
def test_the_liquid_is_as_cold_as_the_root_of_its_heat_balance(flow: float) -> None:
    expected = brentq(lambda t: 12.0 * 0.8 * (283.15 - t) - flow * their_latent(t), 231.5, 283.15)
    assert vaporisation.liquid_temperature(mass_flow=flow, **WALL) == pytest.approx(expected, abs=0.3)


@pytest.mark.outside("vaporisation.wetted_area_upright", by="fluids, TANK")
@pytest.mark.parametrize("filling", [0.05, 0.5, 0.85])
def test_an_upright_cylinder_is_wet_as_a_tank_with_a_flat_base(filling: float) -> None:
    tank = TANK(D=0.381, L=1.0, horizontal=False)
    height = tank.h_from_V(filling * tank.V_total)
    found = vaporisation.wetted_area_upright(diameter=0.381, liquid_volume=filling * tank.V_total)
    assert found == pytest.approx(tank.SA_from_h(height), rel=1e-6)
