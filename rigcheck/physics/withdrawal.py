"""How fast acetylene may be drawn, and how many cylinders that takes.

Acetylene leaves its acetone only so fast; drawn harder, the cylinder spits acetone and goes cold.
The greatest share an hour is a limit of the local code (a fifth, a seventh, a tenth, a fifteenth are all published),
so it comes in as an argument.
Shares here are a second, as SI has it; `PER_HOUR` turns a share an hour into one.
"""

from __future__ import annotations

from math import ceil

from rigcheck.physics.intervals import monotone
from rigcheck.physics.validity import above_zero, from_zero

__all__ = [
    "PER_HOUR",
    "cylinders_at_rate",
    "cylinders_to_couple",
    "draw_share",
    "greatest_draw",
]


PER_HOUR = 1.0 / 3600.0
"""1/s in a share of 1 per hour."""

_SLACK = 1e-9  # relative; a whole number that arithmetic pushed up by a rounding error is still whole


@monotone(rises=("flow",), falls=("content",))
def draw_share(*, flow: float, content: float) -> float | None:
    """Return the share of an acetylene cylinder's content that a flow draws, 1/s (divide by `PER_HOUR` for an hour).

    share = q/V.
    `flow`: m3/s at the base state of `content`, or kg/s, from 0; `content`: of all the coupled cylinders as the code
    counts it (full, or as weighed now), m3 or kg, above 0.

    >>> round(draw_share(flow=1.0 / 3600, content=7.0) / PER_HOUR, 3)
    0.143
    """
    return flow / content if from_zero(flow) and above_zero(content) else None


@monotone(rises=("content", "share"))
def greatest_draw(*, content: float, share: float) -> float | None:
    """Return the greatest flow that a content gives at a share of it a second, in m3/s or kg/s as the content.

    q = V share.
    `content`: from 0; `share`: 1/s, from 0 (a seventh an hour is `PER_HOUR / 7`).
    Source of the worked example: a cylinder of 225 cu ft (US Army Ordnance subcourse OD0017 p. 106) at one seventh.

    >>> round(greatest_draw(content=225.0, share=PER_HOUR / 7) * 3600, 2)
    32.14
    """
    return content * share if from_zero(content, share) else None


@monotone(rises=("flow",), falls=("content_each", "share"))
def cylinders_to_couple(*, flow: float, content_each: float, share: float) -> int | None:
    """Return how many equal acetylene cylinders must be coupled for a flow; 0 for no flow.

    n = ceil(q/(V share)).
    `flow`: from 0; `content_each`: above 0, same unit; `share`: 1/s, above 0.
    The content counted is the one now in each, where the code says so: cylinders half empty, twice as many.

    >>> cylinders_to_couple(flow=100.0 / 3600, content_each=225.0, share=PER_HOUR / 7)
    4
    """
    each = greatest_draw(content=content_each, share=share)
    return None if not each else cylinders_at_rate(flow=flow, rate_each=each)


@monotone(rises=("flow",), falls=("rate_each",))
def cylinders_at_rate(*, flow: float, rate_each: float) -> int | None:
    """Return how many cylinders must be coupled for a flow, by a fixed greatest rate for each; 0 for no flow.

    n = ceil(q/q_each).
    `flow`: m3/s, from 0; `rate_each`: m3/s, above 0.
    Source of the worked example: US Army Ordnance subcourse OD0017 p. 107, 50 cu ft an hour from one cylinder.

    >>> cylinders_at_rate(flow=150.0, rate_each=50.0)
    3
    """
    if not (from_zero(flow) and above_zero(rate_each)):
        return None
    return ceil(flow / rate_each * (1.0 - _SLACK))
