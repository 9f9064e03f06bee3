"""Distances against numerical geometry, bubbles against the gas law and the trade of filters."""

from __future__ import annotations

from math import pi

import numpy
import pytest

from rigcheck.physics.leak import bubble_least_pore


def circle(centre: float, radius: float) -> numpy.ndarray:
    turn = numpy.linspace(0.0, 2.0 * pi, 721)
    return numpy.column_stack([centre + radius * numpy.cos(turn), radius * numpy.sin(turn)])


@pytest.mark.outside("leak.bubble_least_pore", by="ASTM F316, from memory")
def test_a_pore_of_a_micrometre_opens_at_the_bubble_point_of_filters() -> None:
    # Bubble point of membrane filters in water, ASTM F316 (from memory): a pore of 1 um opens at about 2.9 bar.
    radius = bubble_least_pore(surface_tension=0.072, inside_pressure_abs=3.88e5, outside_pressure_abs=1.0e5)
    assert radius == pytest.approx(0.5e-6, rel=0.01)
