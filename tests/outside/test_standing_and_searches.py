"""Loads that tip, searches and tables, against scipy, numpy and pint."""

from __future__ import annotations

from math import exp

import numpy
import pint
import pytest
from scipy import constants
from scipy.optimize import brentq, linprog
from support.known import known

from rigcheck.physics import nozzle, root_search, stability


@pytest.mark.outside("stability.centre_of_mass", by="linear programme over the masses, scipy")
def test_the_centre_of_uncertain_loads_reaches_what_a_linear_programme_finds() -> None:
    masses, places = [(15.0, 25.0), (60.0, 75.0), (50.0, 70.0)], [(0.4, 0.6), (0.8, 0.9), (0.6, 0.7)]
    found = stability.centre_of_mass(masses=masses, places=places)
    assert found is not None
    # Least of sum(m x)/sum(m): with y = m/sum(m) and t = 1/sum(m), both linear (Charnes & Cooper, 1962).
    for end, sign in ((0, 1.0), (1, -1.0)):
        cost = [*(sign * place[end] for place in places), 0.0]
        bounds = [[*(row == n for n in range(3)), -high] for row, (_, high) in enumerate(masses)]
        bounds += [[*(-float(row == n) for n in range(3)), low] for row, (low, _) in enumerate(masses)]
        best = linprog(cost, A_ub=numpy.array(bounds, float), b_ub=[0.0] * 6, A_eq=[[1, 1, 1, 0]], b_eq=[1.0])
        assert found[end] == pytest.approx(sign * best.fun, rel=1e-9)


@pytest.mark.outside("stability.weight", by="scipy.constants, standard gravity")
def test_a_mass_weighs_what_the_constants_of_scipy_say() -> None:
    assert stability.weight(mass=174.65) == pytest.approx(174.65 * constants.g)


@pytest.mark.outside("stability.weight", by="pint, pounds of force")
def test_a_pound_weighs_a_pound_of_force() -> None:
    force = pint.UnitRegistry().Quantity(385.0, "lbf").to("N").magnitude
    assert stability.weight(mass=385.0 * 0.45359237) == pytest.approx(force)


@pytest.mark.outside("stability.push_force", "stability.tip_angle", by="moments about the lower edge, numpy")
@pytest.mark.parametrize("slope", [0.0, 0.05, 0.15])
def test_a_push_tips_where_the_moments_about_the_edge_turn(slope: float) -> None:
    weight, arm, height, at = 1700.0, 0.22, 0.75, 1.1
    push = known(stability.push_force(weight=weight, lever_arm=arm, centre_height=height, push_height=at, slope=slope))
    # In the frame of the ground: the edge at the origin, the load uphill of it, gravity turned by the slope.
    gravity = weight * numpy.array([numpy.sin(slope), -numpy.cos(slope)])
    for force, turns in ((0.999 * push, False), (1.001 * push, True)):
        centre, hand = numpy.array([-arm, height]), numpy.array([0.0, at])
        moment = centre[0] * gravity[1] - centre[1] * gravity[0] - hand[1] * force
        assert bool(moment < 0.0) is turns
    lean = known(stability.tip_angle(arm=arm, centre_height=height))
    assert lean == pytest.approx(numpy.arctan2(arm, height))


@pytest.mark.outside("nozzle.bore_suits", "nozzle.rows_for_size", by="common practice, from memory")
def test_an_inch_of_plate_wants_a_bore_of_a_millimetre_and_a_half(nozzle_rows: tuple[nozzle.NozzleRow, ...]) -> None:
    inch = {"rows": nozzle_rows, "thickness": 0.0254, "gas": "acetylene", "process": "cutting"}
    assert nozzle.bore_suits(bore=1.5e-3, **inch) is True
    assert nozzle.bore_suits(bore=3.2e-3, **inch) is False
    # The number of a British welding nozzle is its acetylene in cubic feet an hour.
    for number in (2, 10, 25):
        found = nozzle.rows_for_size(rows=nozzle_rows, size=str(number), gas="acetylene", process="welding")
        flow = nozzle.published_span(rows=found or (), column="fuel_flow")
        assert flow is not None
        assert flow[0] * 3600.0 / 0.3048**3 == pytest.approx(number, rel=0.02)


@pytest.mark.outside("root_search.crossing", "root_search.last_true", by="brentq, scipy")
def test_a_search_ends_where_that_of_scipy_ends() -> None:
    def curve(x: float) -> float:
        return exp(-x) - 0.3 * x

    theirs = brentq(curve, 0.0, 5.0, xtol=1e-14)
    assert root_search.crossing(curve, 0.0, 5.0) == pytest.approx(theirs, abs=1e-12)
    assert root_search.last_true(lambda x: curve(x) >= 0.0, 0.0, 5.0) == pytest.approx(theirs, abs=1e-12)


@pytest.mark.outside("root_search.crossing", "root_search.last_true", by="roots of a polynomial, numpy")
def test_a_search_ends_at_the_root_of_a_polynomial() -> None:
    theirs = max(root.real for root in numpy.roots([1.0, -2.0, -5.0, 1.0]) if abs(root.imag) < 1e-9)

    def cubic(x: float) -> float:
        return x**3 - 2.0 * x**2 - 5.0 * x + 1.0

    assert root_search.crossing(cubic, 1.0, 10.0) == pytest.approx(theirs, abs=1e-9)
    assert root_search.last_true(lambda x: cubic(x) <= 0.0, 1.0, 10.0) == pytest.approx(theirs, abs=1e-9)
