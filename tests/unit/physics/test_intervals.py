"""Intervals carried through a figure by its end points."""

from __future__ import annotations

from rigcheck.physics import endurance
from rigcheck.physics.intervals import added, carried, directions_of, divided, give_or_take, hull, multiplied


def test_a_falling_argument_gives_its_greatest_to_the_least_result() -> None:
    lasting = carried(endurance.endurance)
    assert lasting(usable=(8.0, 12.0), flow=(2.0, 4.0)) == (2.0, 6.0)


def test_a_number_among_intervals_is_an_interval_of_no_width() -> None:
    lasting = carried(endurance.endurance)
    assert lasting(usable=8.0, flow=(2.0, 4.0)) == (2.0, 4.0)


def test_declared_directions_are_found_by_the_function() -> None:
    assert directions_of(endurance.endurance) == (("usable",), ("flow",))


def test_a_rough_figure_is_widened_by_its_share_on_both_sides() -> None:
    assert give_or_take(-10.0, 0.1) == (-11.0, -9.0)
    assert give_or_take(None, 0.1) is None


def test_sums_products_quotients_and_hulls_take_the_ends_that_are_farthest_out() -> None:
    assert added([(1.0, 2.0), (10.0, 20.0)]) == (11.0, 22.0)
    assert multiplied((1.0, 2.0), (3.0, 4.0)) == (3.0, 8.0)
    assert divided((1.0, 2.0), (4.0, 8.0)) == (0.125, 0.5)
    assert divided((1.0, 2.0), (0.0, 8.0)) is None
    assert hull([(3.0, 4.0), (1.0, 2.0)]) == (1.0, 4.0)
