"""What measures are made of: powers of kilogram, metre, second, kelvin and degree of angle."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import NamedTuple

__all__ = ["DIMENSIONS", "PURE", "SCALES", "Dimension", "dimension_words"]


class Dimension(NamedTuple):
    """Powers of the base units; angles are apart, so that a sine of metres is refused."""

    kg: Fraction = Fraction(0)
    m: Fraction = Fraction(0)
    s: Fraction = Fraction(0)
    K: Fraction = Fraction(0)
    deg: Fraction = Fraction(0)

    def times(self, other: Dimension, power: Fraction | int = 1) -> Dimension:
        """Return the dimension of a product with a power of another."""
        return Dimension(*(one + power * two for one, two in zip(self, other, strict=True)))


def _of(kg: int = 0, m: int = 0, s: int = 0, kelvin: int = 0, deg: int = 0) -> Dimension:
    return Dimension(*map(Fraction, (kg, m, s, kelvin, deg)))


PURE = Dimension()
"""A number without a unit."""

DIMENSIONS: Mapping[str, Dimension] = {
    "angle": _of(deg=1),
    "area": _of(m=2),
    "count": PURE,
    "flow": _of(m=3, s=-1),
    "force": _of(kg=1, m=1, s=-2),
    "length": _of(m=1),
    "mass": _of(kg=1),
    "power": _of(kg=1, m=2, s=-3),
    "pressure": _of(kg=1, m=-1, s=-2),
    "share": PURE,
    "share_per_hour": _of(s=-1),
    "speed": _of(m=1, s=-1),
    "temperature": _of(kelvin=1),
    "time": _of(s=1),
    "volume": _of(m=3),
}
"""The dimension of each measure that arithmetic can be done with."""

SCALES: Mapping[str, float] = {"share_per_hour": 3600.0}
"""What a value in base units is divided by to be in SI, where that is not 1."""


def dimension_words(dimension: Dimension) -> str:
    """Return a dimension as a measure's name, or as its powers: `kg m^-1 s^-2`."""
    named = [name for name, known in DIMENSIONS.items() if known == dimension and name != "count"]
    if named:
        return "a plain number" if dimension == PURE else named[0]
    powers = zip(dimension._fields, dimension, strict=True)
    return " ".join(unit if power == 1 else f"{unit}^{power}" for unit, power in powers if power)
