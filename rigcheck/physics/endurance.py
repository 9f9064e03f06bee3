"""How long the gas lasts, which gas runs out first, and how many cylinders a job needs."""

from __future__ import annotations

from math import inf

from rigcheck.physics.intervals import monotone
from rigcheck.physics.validity import from_zero

__all__ = [
    "endurance",
]


@monotone(rises=("usable",), falls=("flow",))
def endurance(*, usable: float, flow: float) -> float | None:
    """Return how long a usable content lasts at a steady flow, s; infinite at no flow.

    t = V/q.
    `usable`: content above the residual pressure (`contents.usable_content`), from 0, m3 or kg;
    `flow`: m3/s at the same base state, or kg/s, from 0.
    Isothermal end states: a cylinder drawn fast is cold, reads low and stops early; the rest comes back with warmth.

    >>> round(endurance(usable=10.0949, flow=4 / 3600) / 60, 1)
    151.4
    """
    if not from_zero(usable, flow):
        return None
    return usable / flow if flow > 0.0 else inf
