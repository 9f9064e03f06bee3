"""Hoses and leaks by other methods: stepped along by scipy, by fluids 1.3.1, CoolProp 8.0.0 and pint."""

from __future__ import annotations

from math import pi, sqrt

import fluids
import numpy
import pint
import pytest
from CoolProp.CoolProp import PropsSI
from fluids.geometry import TANK
from scipy.integrate import solve_ivp
from scipy.optimize import brentq
from support.known import known

from rigcheck.physics import friction, hose_flow, hose_sizing, isothermal_flow, leak, line_flow
from rigcheck.physics.gas_properties import GAS_CONSTANT
from rigcheck.physics.hose_flow import Hose
from rigcheck.physics.isothermal_flow import Stream

AIR = 101_325.0


WARMTH, BORE = 293.15, 6.3e-3
OXYGEN = Stream(mass_flow=3.5e-3, temperature=WARMTH, molar_mass=0.0319988, compressibility=1.0, viscosity=2.03e-5)
HOSE = Hose(bore=BORE, length=20.0, roughness=3e-5, loss_coefficient=1.5)
SPECIFIC = GAS_CONSTANT / OXYGEN.molar_mass * WARMTH


@pytest.mark.outside("friction.reynolds_number", "hose_flow.hose_friction", "isothermal_flow.lost_heads", by="fluids")
@pytest.mark.parametrize("mass_flow", [2e-5, 1e-3, 1e-2])
def test_a_hose_has_friction_and_heads_of_the_fluids_library(mass_flow: float) -> None:
    stream = Stream(mass_flow, WARMTH, 0.0319988, 1.0, 2.03e-5)
    speed = mass_flow / (pi / 4.0 * BORE**2)
    theirs = fluids.Reynolds(D=BORE, V=speed, rho=1.0, mu=2.03e-5)
    ours = friction.reynolds_number(mass_flow=mass_flow, bore=BORE, viscosity=2.03e-5)
    assert ours == pytest.approx(theirs, rel=1e-12)
    factor = fluids.friction_factor(Re=theirs, eD=HOSE.roughness / BORE)
    assert hose_flow.hose_friction(stream=stream, hose=HOSE) == pytest.approx(factor, rel=2e-3)
    heads = isothermal_flow.lost_heads(friction=factor, length=20.0, bore=BORE, loss_coefficient=1.5)
    assert heads == pytest.approx(fluids.K_from_f(fd=factor, L=20.0, D=BORE) + 1.5, rel=1e-12)


@pytest.mark.outside("hose_flow.hose_friction", "hose_flow.hose_heads", by="Haaland 1983")
@pytest.mark.parametrize("mass_flow", [1e-3, 3e-3, 1e-2])
def test_a_hose_has_about_the_friction_of_an_explicit_correlation(mass_flow: float) -> None:
    stream = Stream(mass_flow, WARMTH, 0.0319988, 1.0, 2.03e-5)
    reynolds = 4.0 * mass_flow / (pi * BORE * 2.03e-5)
    haaland = (-1.8 * numpy.log10((HOSE.roughness / BORE / 3.7) ** 1.11 + 6.9 / reynolds)) ** -2
    assert hose_flow.hose_friction(stream=stream, hose=HOSE) == pytest.approx(haaland, rel=0.02)
    assert hose_flow.hose_heads(stream=stream, hose=HOSE) == pytest.approx(haaland * 20.0 / BORE + 1.5, rel=0.02)


def fallen(inlet: float, length: float, factor: float, bore: float, flow: float) -> float:
    """Return the pressure behind a smooth pipe by stepping its momentum equation along it, ideal gas, isothermal."""
    flux = flow / (pi / 4.0 * bore**2)

    def slope(_: float, pressure: numpy.ndarray) -> numpy.ndarray:
        density = pressure / SPECIFIC
        return -factor / bore * flux**2 / (2.0 * density) / (1.0 - flux**2 * SPECIFIC / pressure**2)

    return float(solve_ivp(slope, (0.0, length), [inlet], rtol=1e-10, atol=1e-3).y[0, -1])


@pytest.mark.outside(
    *("hose_sizing.longest_hose", "hose_sizing.smallest_bore", "hose_flow.hose_inlet_pressure_abs"),
    *("isothermal_flow.outlet_pressure_abs", "isothermal_flow.heads_between", "isothermal_flow.inlet_pressure_abs"),
    by="momentum equation stepped along the hose, scipy",
)
def test_a_hose_stepped_along_its_length_loses_what_the_closed_form_says() -> None:
    smooth, inlet = Hose(bore=BORE, length=20.0, roughness=0.0, loss_coefficient=0.0), 7e5
    factor = known(hose_flow.hose_friction(stream=OXYGEN, hose=smooth))
    outlet = fallen(inlet, 20.0, factor, BORE, OXYGEN.mass_flow)
    heads, choking = factor * 20.0 / BORE, OXYGEN.mass_flow / (pi / 4.0 * BORE**2) * sqrt(SPECIFIC)
    passed = {"choking_pressure_abs": choking}
    assert isothermal_flow.outlet_pressure_abs(inlet_pressure_abs=inlet, heads=heads, **passed) == pytest.approx(
        outlet, rel=1e-8
    )
    assert isothermal_flow.inlet_pressure_abs(outlet_pressure_abs=outlet, heads=heads, **passed) == pytest.approx(
        inlet, rel=1e-8
    )
    ends = {"inlet_pressure_abs": inlet, "outlet_pressure_abs": outlet}
    assert isothermal_flow.heads_between(**ends, **passed) == pytest.approx(heads, rel=1e-6)
    assert hose_flow.hose_inlet_pressure_abs(stream=OXYGEN, hose=smooth, outlet_pressure_abs=outlet) == pytest.approx(
        inlet, rel=1e-8
    )
    assert hose_sizing.longest_hose(stream=OXYGEN, hose=smooth, **ends) == pytest.approx(20.0, rel=1e-6)
    assert hose_sizing.smallest_bore(stream=OXYGEN, hose=smooth, **ends) == pytest.approx(BORE, rel=1e-6)


@pytest.mark.outside(
    *("isothermal_flow.outlet_pressure_abs", "isothermal_flow.heads_between", "line_flow.outlet_of_squares"),
    by="fluids, isothermal_gas",
)
def test_what_comes_out_is_what_the_fluids_library_lets_out() -> None:
    inlet, heads = 7e5, 0.025 * 20.0 / BORE
    flow = {"rho": inlet / SPECIFIC, "fd": 0.025, "L": 20.0, "D": BORE, "m": 3.5e-3}
    outlet = float(fluids.isothermal_gas(**flow, P1=inlet))
    choking = 3.5e-3 / (pi / 4.0 * BORE**2) * sqrt(SPECIFIC)
    found = isothermal_flow.outlet_pressure_abs(inlet_pressure_abs=inlet, choking_pressure_abs=choking, heads=heads)
    assert found == pytest.approx(outlet, rel=1e-7)
    back = isothermal_flow.heads_between(
        inlet_pressure_abs=inlet, outlet_pressure_abs=outlet, choking_pressure_abs=choking
    )
    assert back == pytest.approx(heads, rel=1e-5)
    # Without the gas speeding up the loss in squares is c^2 k: short of the library by the log term alone.
    squares = line_flow.outlet_of_squares(inlet_pressure_abs=inlet, squares=choking**2 * heads)
    assert squares == pytest.approx(outlet, rel=2e-4)


@pytest.mark.outside("line_flow.outlet_of_squares", by="Weymouth's formula for mains, fluids")
def test_the_squares_of_the_ends_are_what_a_main_s_formula_goes_by() -> None:
    # Of one main: the squares lost go as the square of the flow, whatever the pressure at its inlet.
    main = {"SG": 1.1, "Tavg": WARMTH, "L": 500.0, "D": 0.05}
    flow = fluids.Weymouth(**main, P1=8e5, P2=6e5)
    squares = 8e5**2 - 6e5**2
    for share, inlet in ((0.5, 8e5), (1.0, 12e5), (1.2, 15e5)):
        theirs = fluids.Weymouth(**main, P1=inlet, Q=share * flow)
        found = line_flow.outlet_of_squares(inlet_pressure_abs=inlet, squares=share**2 * squares)
        assert found == pytest.approx(theirs, rel=1e-9)


@pytest.mark.outside("line_flow.rated_inlet_pressure_abs", by="fluids, isothermal_gas")
@pytest.mark.parametrize(("share", "outlet"), [(0.3, 5e5), (0.7, 10e5), (1.0, 5.2e5)])
def test_a_rated_part_that_is_a_passage_needs_what_the_passage_needs(share: float, outlet: float) -> None:
    passage = {"fd": 0.03, "L": 1.0, "D": BORE}
    rated = line_flow.RatedPoint(
        flow=float(fluids.isothermal_gas(rho=5.2e5 / SPECIFIC, P1=5.2e5, P2=5e5, **passage)),
        inlet_pressure_abs=5.2e5,
        outlet_pressure_abs=5e5,
    )
    flow = share * rated.flow

    def off(inlet: float) -> float:
        return float(fluids.isothermal_gas(rho=inlet / SPECIFIC, P1=inlet, P2=outlet, **passage)) - flow

    needed = brentq(off, outlet * (1 + 1e-6), outlet * 1.2)
    found = line_flow.rated_inlet_pressure_abs(flow=flow, rated=rated, outlet_pressure_abs=outlet)
    assert known(found) - outlet == pytest.approx(needed - outlet, rel=0.02)


@pytest.mark.outside(
    *("isothermal_flow.choking_pressure_abs", "isothermal_flow.isothermal_mach", "hose_flow.hose_outlet_mach"),
    by="CoolProp, speed of isothermal sound",
)
@pytest.mark.parametrize(("flow", "outlet"), [(2e-3, 2e5), (5e-3, 4e5), (8e-3, 3e5)])
def test_gas_leaves_a_hose_as_a_share_of_its_isothermal_speed_of_sound(flow: float, outlet: float) -> None:
    density = PropsSI("D", "P", outlet, "T", WARMTH, "Oxygen")
    sound = sqrt(PropsSI("d(P)/d(D)|T", "P", outlet, "T", WARMTH, "Oxygen"))
    mach = flow / (density * pi / 4.0 * BORE**2) / sound
    stream = Stream(flow, WARMTH, 0.0319988, 1.0, 2.03e-5)
    choking = known(isothermal_flow.choking_pressure_abs(stream=stream, bore=BORE))
    assert choking == pytest.approx(mach * outlet, rel=5e-3)
    passed = isothermal_flow.isothermal_mach(pressure_abs=outlet, choking_pressure_abs=choking)
    assert passed == pytest.approx(mach, rel=5e-3)
    assert hose_flow.hose_outlet_mach(stream=stream, hose=HOSE, outlet_pressure_abs=outlet) == passed


@pytest.mark.outside(
    "isothermal_flow.isothermal_mach", "hose_flow.hose_outlet_mach", by="pint, speed from flow and area"
)
def test_the_speed_of_the_gas_is_its_volume_over_the_bore() -> None:
    units = pint.UnitRegistry()
    flow, density = units.Quantity(8.0, "g/s"), units.Quantity(3e5, "Pa") / units.Quantity(SPECIFIC, "m^2/s^2")
    speed = flow / (density * pi / 4.0 * units.Quantity(6.3, "mm") ** 2)
    mach = (speed / units.Quantity(sqrt(SPECIFIC), "m/s")).to_base_units()
    assert mach.dimensionless
    stream = Stream(8e-3, WARMTH, OXYGEN.molar_mass, 1.0, 2.03e-5)
    found = hose_flow.hose_outlet_mach(stream=stream, hose=HOSE, outlet_pressure_abs=3e5)
    assert found == pytest.approx(mach.magnitude, rel=1e-9)


@pytest.mark.outside("leak.charge_volume", by="fluids, TANK")
@pytest.mark.parametrize(("bore", "length"), [(6.3e-3, 10.0), (0.05, 30.0)])
def test_a_hose_holds_what_a_tank_of_its_sizes_holds(bore: float, length: float) -> None:
    assert leak.charge_volume(bore=bore, length=length) == pytest.approx(
        TANK(D=bore, L=length, horizontal=True).V_total
    )


@pytest.mark.outside("leak.leak_from_decay", by="CoolProp, mass before less mass after")
def test_what_leaked_is_the_mass_that_the_reference_equation_misses() -> None:
    ends = [PropsSI("D", "P", p, "T", t, "Oxygen") for p, t in ((6e5, 293.15), (5.6e5, 290.15))]
    lost = 3e-4 * (ends[0] - ends[1]) / 600.0 / PropsSI("D", "P", AIR, "T", 288.15, "Oxygen")
    found = leak.leak_from_decay(
        volume=3e-4,
        start_pressure_abs=6e5,
        end_pressure_abs=5.6e5,
        start_temperature=293.15,
        end_temperature=290.15,
        time=600.0,
        base_pressure_abs=AIR,
        base_temperature=288.15,
    )
    assert found == pytest.approx(lost, rel=0.01)
