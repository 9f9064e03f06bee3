"""A frame with two axes: ticks at round numbers, units, and where a value stands on the paper.

No line of a grid runs through the frame: words stand in it.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import floor, log10
from xml.etree.ElementTree import Element

from msgspec import Struct

from rigcheck.report.drawing.svg import Point, line, words

__all__ = ["SMALL", "Axes", "ticks"]

_STEPS = (1.0, 2.0, 5.0, 10.0)
SMALL = 10.0
"""Size of the words in a plot."""


def ticks(low: float, high: float, most: int) -> list[float]:
    """Return round numbers from `low` to `high`, at most so many, steps of 1, 2 or 5.

    >>> ticks(0.0, 8.0, 5)
    [0.0, 2.0, 4.0, 6.0, 8.0]
    """
    rough = (high - low) / most
    scale = 10.0 ** floor(log10(rough))
    step = next(scale * s for s in _STEPS if scale * s >= rough * (1.0 - 1e-9))
    first, last = -floor(-low / step + 1e-9), floor(high / step + 1e-9)
    return [round(number * step, 10) for number in range(first, last + 1)]


class Axes(Struct, frozen=True):
    """Where a plot stands on the paper, and which values it spans.

    `left`, `top`, `width`, `height`: of the frame, in units of the drawing;
    `across`, `up`: least and greatest value of each axis.
    """

    left: float
    top: float
    width: float
    height: float
    across: tuple[float, float]
    up: tuple[float, float]

    @property
    def right(self) -> float:
        """The right edge of the frame."""
        return self.left + self.width

    @property
    def foot(self) -> float:
        """The lower edge of the frame."""
        return self.top + self.height

    def point(self, across: float, up: float) -> Point:
        """Return the place of a pair of values on the paper."""
        x = (across - self.across[0]) / (self.across[1] - self.across[0])
        y = (up - self.up[0]) / (self.up[1] - self.up[0])
        return self.left + x * self.width, self.top + (1.0 - y) * self.height

    def upright(self, unit: str, least: float) -> Iterator[Element]:
        """Yield the upright axis: numbers from `least` up, and its unit above."""
        for value in ticks(least, self.up[1], 5):
            _, y = self.point(self.across[0], value)
            yield line((self.left - 4, y), (self.left, y))
            yield words((self.left - 6, y + 3.5), f"{value:g}", size=SMALL, anchor="end")
        yield words((0.0, self.top - 9), unit, size=SMALL)
        yield line((self.left, self.top), (self.left, self.foot))

    def level(self, unit: str) -> Iterator[Element]:
        """Yield the level axis: numbers and its unit."""
        for value in ticks(*self.across, 8):
            x, _ = self.point(value, self.up[0])
            yield line((x, self.foot), (x, self.foot + 4))
            yield words((x, self.foot + 14), f"{value:g}", size=SMALL, anchor="middle")
        yield words((self.right, self.foot + 26), unit, size=SMALL, anchor="end")
        yield line((self.left, self.foot), (self.right, self.foot))
