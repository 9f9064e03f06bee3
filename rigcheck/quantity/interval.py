"""A value that is known to lie between two ends, and the comparison of two such values.

JCGM 106:2012, simple acceptance: true or false only where the whole interval lies on one side.
Where the units differ and the written digits cannot hold the value exactly (15 psi in kPa),
values that agree to the last written digit count as equal.
"""

from __future__ import annotations

from math import isinf

from msgspec import Struct

from rigcheck.quantity.truth import FALSE, TRUE, UNKNOWN, Truth
from rigcheck.quantity.wording import rounded_value, spoken_value

__all__ = ["Interval", "at_least", "at_most", "equal_to", "worked_out"]


class Interval(Struct, gc=False, eq=False, omit_defaults=True):
    """A value known to lie between `lo` and `hi`, in base units of its `dimension`.

    `text` is what was written, `unit` the unit it was written in, `grain` half a unit of
    the last written digit (base units, at most a millionth of the value).
    """

    lo: float
    hi: float
    dimension: str
    _text: str = ""
    unit: str = ""
    grain: float = 0.0

    @property
    def text(self) -> str:
        """What was written, or for a computed value what people would write; made when it is asked for."""
        if not self._text:
            self._text = spoken_value(self.lo, self.hi, self.dimension)
        return self._text

    @property
    def result(self) -> str:
        """What was written, or a computed value in as many figures as its width bears out."""
        return self.text if self.unit else rounded_value(self.lo, self.hi, self.dimension)

    @property
    def open_ended(self) -> bool:
        """Whether only a bound is known: at least, or at most."""
        return isinf(self.lo) or isinf(self.hi)

    def __repr__(self) -> str:
        return f"Interval({self.lo!r}, {self.hi!r}, {self.dimension!r}, {self.text!r})"

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Interval):
            return NotImplemented
        return (self.lo, self.hi, self.dimension) == (other.lo, other.hi, other.dimension)

    def __hash__(self) -> int:
        return hash((self.lo, self.hi, self.dimension))


def worked_out(lo: float, hi: float, dimension: str) -> Interval:
    """Return a computed value; it is shown in the unit that people use for it."""
    return Interval(lo, hi, dimension)


def at_most(value: Interval, bound: Interval) -> Truth:
    """Return whether `value` is at most `bound`; unknown where their intervals overlap."""
    slack = 0.0 if value.unit == bound.unit else _slack(value, bound)
    if value.hi <= bound.lo + slack:
        return TRUE
    return FALSE if value.lo > bound.hi + slack else UNKNOWN


def at_least(value: Interval, bound: Interval) -> Truth:
    """Return whether `value` is at least `bound`; unknown where their intervals overlap."""
    slack = 0.0 if value.unit == bound.unit else _slack(value, bound)
    if value.lo >= bound.hi - slack:
        return TRUE
    return FALSE if value.hi < bound.lo - slack else UNKNOWN


def equal_to(value: Interval, other: Interval) -> Truth:
    """Return whether two values are equal; unknown where wide intervals overlap."""
    slack = _slack(value, other)
    if value.hi < other.lo - slack or value.lo > other.hi + slack:
        return FALSE
    points = value.hi - value.lo <= slack and other.hi - other.lo <= slack
    return TRUE if points else UNKNOWN


def _slack(value: Interval, bound: Interval) -> float:
    """Return how far two values may lie apart and still be equal: nothing in one unit (the tests above ask first)."""
    return 0.0 if value.unit == bound.unit else max(value.grain, bound.grain)
