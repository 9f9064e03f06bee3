"""Distances against numerical geometry, bubbles against the gas law and the trade of filters."""

from __future__ import annotations

from math import pi

import numpy
import pytest
from scipy.optimize import minimize_scalar
from scipy.spatial.distance import cdist, euclidean

from rigcheck.physics.distance import clear_distance, straight_distance, way_over_barrier
from rigcheck.physics.leak import bubble_leak, bubble_least_pore


def circle(centre: float, radius: float) -> numpy.ndarray:
    turn = numpy.linspace(0.0, 2.0 * pi, 721)
    return numpy.column_stack([centre + radius * numpy.cos(turn), radius * numpy.sin(turn)])


@pytest.mark.parametrize(("apart", "first", "second"), [(1.0, 0.115, 0.115), (6.1, 0.115, 0.19), (0.4, 0.15, 0.2)])
def test_the_clear_space_is_the_least_distance_of_two_drawn_circles(apart: float, first: float, second: float) -> None:
    nearest = cdist(circle(0.0, first), circle(apart, second)).min()
    assert clear_distance(centre_distance=apart, first_radius=first, second_radius=second) == pytest.approx(nearest)


@pytest.mark.parametrize(("along", "up"), [(3.0, 4.0), (10.668, 2.5), (0.0, 7.0)])
def test_the_straight_distance_is_that_of_two_points_in_space(along: float, up: float) -> None:
    assert straight_distance(along_floor=along, height_apart=up) == pytest.approx(euclidean([0, 0, 0], [along, 0, up]))


@pytest.mark.parametrize(
    ("first", "second", "low", "high", "barrier"),
    [(0.4, 0.4, 1.5, 1.5, 1.8), (2.0, 0.5, 0.3, 1.2, 1.524), (1.0, 3.0, 1.524, 0.0, 1.524)],
)
def test_the_way_over_a_barrier_is_the_shortest_that_crosses_it(
    first: float, second: float, low: float, high: float, barrier: float
) -> None:
    # Every way crosses the barrier's plane somewhere above its top: search for the crossing that makes it shortest.
    def way(crossing: float) -> float:
        return float(numpy.hypot(first, crossing - low) + numpy.hypot(second, crossing - high))

    found = minimize_scalar(way, bounds=(barrier, barrier + 20.0), method="bounded", options={"xatol": 1e-10})
    ours = way_over_barrier(
        first_to_barrier=first, second_to_barrier=second, first_height=low, second_height=high, barrier_height=barrier
    )
    assert ours == pytest.approx(found.fun, rel=1e-6)


def test_a_barrier_lengthens_the_way_round() -> None:
    over = way_over_barrier(
        first_to_barrier=1.0, second_to_barrier=1.0, first_height=0.5, second_height=0.5, barrier_height=1.5
    )
    assert over is not None
    assert over > (straight_distance(along_floor=2.0, height_apart=0.0) or 0.0)


@pytest.mark.parametrize("diameter", [1e-3, 2e-3, 5e-3])
def test_bubbles_carry_the_gas_that_their_pressure_and_volume_make(diameter: float) -> None:
    # Ideal gas in a soap film: pV = nRT with Young-Laplace's 8 gamma/d over both faces of it, gamma 0.03 N/m;
    # the moles that go each second, counted back at 1 atm; the film adds less than 0.3 %, which the figure leaves out.
    inside, temperature = 101_325.0 + 8.0 * 0.03 / diameter, 293.15
    moles = inside * pi * diameter**3 / 6.0 / (8.314462618 * temperature)
    volume = 0.5 * moles * 8.314462618 * temperature / 101_325.0
    plain = bubble_leak(
        bubble_diameter=diameter, bubbles_a_second=0.5, inside_pressure_abs=101_325.0, base_pressure_abs=101_325.0
    )
    assert plain == pytest.approx(volume, rel=3e-3)
    exact = bubble_leak(
        bubble_diameter=diameter, bubbles_a_second=0.5, inside_pressure_abs=inside, base_pressure_abs=101_325.0
    )
    assert exact == pytest.approx(volume, rel=1e-9)


def test_a_bubble_of_a_millimetre_a_second_is_the_leak_that_leak_testers_quote() -> None:
    # Vacuum technology handbooks (from memory): one bubble of 1 mm a second is about 5e-4 mbar L/s.
    found = bubble_leak(
        bubble_diameter=1e-3, bubbles_a_second=1.0, inside_pressure_abs=101_325.0, base_pressure_abs=100.0
    )
    assert found is not None
    assert found * 1e3 == pytest.approx(5.3e-4, rel=0.01)


def test_a_pore_of_a_micrometre_opens_at_the_bubble_point_of_filters() -> None:
    # Bubble point of membrane filters in water, ASTM F316 (from memory): a pore of 1 um opens at about 2.9 bar.
    radius = bubble_least_pore(surface_tension=0.072, inside_pressure_abs=3.88e5, outside_pressure_abs=1.0e5)
    assert radius == pytest.approx(0.5e-6, rel=0.01)
