"""A frame with two axes: ticks at round numbers, units, and where a value stands on the paper."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import floor, log10
from xml.etree.ElementTree import Element

from rigcheck.report.drawing.svg import Point, line, words

__all__ = ["Axes", "ticks"]

_STEPS = (1.0, 2.0, 5.0, 10.0)
_GRID = {"stroke": "#cccccc", "stroke_width": "0.7"}


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


@dataclass(frozen=True, slots=True)
class Axes:
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

    def point(self, across: float, up: float) -> Point:
        """Return the place of a pair of values on the paper."""
        x = (across - self.across[0]) / (self.across[1] - self.across[0])
        y = (up - self.up[0]) / (self.up[1] - self.up[0])
        return self.left + x * self.width, self.top + (1.0 - y) * self.height

    def upright(self, unit: str, least: float) -> Iterator[Element]:
        """Yield the upright axis: grid and numbers from `least` up, and its unit above."""
        for value in ticks(least, self.up[1], 5):
            x, y = self.point(self.across[0], value)
            yield line((x, y), (self.left + self.width, y), **_GRID)
            yield words((x - 5, y + 4), f"{value:g}", size=11, anchor="end")
        yield words((self.left - 36, self.top - 9), unit, size=11)
        yield line((self.left, self.top), (self.left, self.top + self.height))

    def level(self, unit: str) -> Iterator[Element]:
        """Yield the level axis: numbers and its unit."""
        foot = self.top + self.height
        for value in ticks(*self.across, 8):
            x, _ = self.point(value, self.up[0])
            yield line((x, foot), (x, foot + 4))
            yield words((x, foot + 16), f"{value:g}", size=11, anchor="middle")
        yield words((self.left + self.width, foot + 30), unit, size=11, anchor="end")
        yield line((self.left, foot), (self.left + self.width, foot))
