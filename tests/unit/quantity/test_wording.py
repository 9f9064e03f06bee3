"""How values are said: no more figures than their width bears out."""

from __future__ import annotations

from math import inf

import pytest

from rigcheck.quantity.wording import rounded_value


@pytest.mark.parametrize(
    ("ends", "dimension", "told"),
    [
        # JCGM 100:2008, 7.2.6: an uncertainty of at most two figures, and the value to its last one.
        ((0.7887, 2.83), "volume", "0.7 to 2.9 m3"),
        ((112.5, 113.9), "length", "112.5 to 113.9 m"),
        ((20.9049, 20.9951), "mass", "20.9 to 21 kg"),
        ((-0.2321e5, 0.2321e5), "pressure", "-0.24 to 0.24 bar"),
        ((0.0, 3.268e-3 / 3600), "flow", "0 to 3.3 L/h"),
        ((12.0, 12.0), "mass", "12 kg"),
        ((1.0, 2.0), "count", "1 to 2"),
        ((3600.0, inf), "time", "at least 60 min"),
        ((inf, inf), "time", "without end"),
        ((-0.0, -0.0), "count", "0"),
    ],
)
def test_ends_are_told_to_two_figures_of_half_the_width(ends: tuple[float, float], dimension: str, told: str) -> None:
    assert rounded_value(*ends, dimension) == told


@pytest.mark.parametrize("ends", [(0.1, 0.3), (17.31, 18.9999), (-4.0, 1e-3), (998.0, 1003.7)])
def test_a_rounded_range_holds_the_range(ends: tuple[float, float]) -> None:
    low, high = map(float, rounded_value(*ends, "mass").removesuffix(" kg").split(" to "))
    assert low <= ends[0] < ends[1] <= high
