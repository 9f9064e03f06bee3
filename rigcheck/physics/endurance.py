"""How long the gas lasts, which gas runs out first, and how many cylinders a job needs."""

from __future__ import annotations

from collections.abc import Mapping
from math import ceil, inf

from rigcheck.physics.intervals import monotone
from rigcheck.physics.validity import above_zero, from_zero, within

__all__ = [
    "cylinders_needed",
    "endurance",
    "first_to_run_out",
    "mean_flow",
]


_SLACK = 1e-9  # relative; a whole number that arithmetic pushed up by a rounding error is still whole


@monotone(rises=("flow", "duty"))
def mean_flow(*, flow: float, duty: float) -> float | None:
    """Return the flow averaged over the shift, in the unit of the flow (m3/s or kg/s).

    `flow`: while the torch burns, from 0; `duty`: the share of the shift that it burns, 0 to 1.

    >>> mean_flow(flow=4.0, duty=0.25)
    1.0
    """
    return flow * duty if from_zero(flow) and within(duty, 0.0, 1.0) else None


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


def first_to_run_out(*, times: Mapping[str, float | None]) -> str | None:
    """Return the name of the gas that runs out first.

    `times`: endurance (s) of each gas by its name.
    Returns None if any is unknown, if two share the shortest time, or if none ever runs out.

    >>> first_to_run_out(times={"oxygen": 9000.0, "acetylene": 14000.0})
    'oxygen'
    """
    known = {name: time for name, time in times.items() if time is not None}
    if len(known) < len(times) or not known:
        return None
    shortest = min(known.values())
    names = [name for name, time in known.items() if time == shortest]
    return names[0] if len(names) == 1 and shortest < inf else None


@monotone(rises=("flow", "time"), falls=("usable_each",))
def cylinders_needed(*, flow: float, time: float, usable_each: float) -> int | None:
    """Return how many full cylinders a job uses up, one after another.

    n = ceil(q t / V).
    `flow`: from 0, m3/s or kg/s; `time`: of burning, s, from 0; `usable_each`: of one full cylinder, above 0, m3 or kg.

    >>> cylinders_needed(flow=4 / 3600, time=8 * 3600, usable_each=10.0)
    4
    """
    if not (from_zero(flow, time) and above_zero(usable_each)):
        return None
    return ceil(flow * time / usable_each * (1.0 - _SLACK))
