"""What a released gas does to the air of a room or a line.

One balance carries all: gas and fresh air come in, as much of the mixture goes out.
    V dc/dt = q cg + Q cf - (q + Q) c
Shares are volume shares from 0 to 1 of the gas that is watched: fuel against its lower limit, or oxygen.
A room is never mixed evenly: near the leak there is more.
Natural gas and hydrogen rise, propane sinks and lies in pits, acetylene is about as heavy as air.
"""

from __future__ import annotations

from math import exp, inf, log

from rigcheck.physics.intervals import monotone
from rigcheck.physics.validity import above_zero, from_zero, within

__all__ = [
    "settled_share",
    "share_at_time",
    "time_to_share",
]


@monotone(rises=("leak_share", "fresh_share"))
def settled_share(*, leak: float, leak_share: float, fresh_air: float, fresh_share: float) -> float | None:
    """Return the share that a ventilated room settles at (no unit): (q cg + Q cf)/(q + Q).

    `leak`, `fresh_air`: m3/s at the state of the room, from 0, not both 0; shares: 0 to 1.

    >>> settled_share(leak=0.15, leak_share=1.0, fresh_air=0.85, fresh_share=0.0)
    0.15
    """
    if not from_zero(leak, fresh_air) or not leak + fresh_air > 0.0:
        return None
    if not (within(leak_share, 0.0, 1.0) and within(fresh_share, 0.0, 1.0)):
        return None
    return (leak * leak_share + fresh_air * fresh_share) / (leak + fresh_air)


@monotone(rises=("leak_share", "fresh_share", "start_share"))
def share_at_time(
    *,
    room_volume: float,
    leak: float,
    leak_share: float,
    fresh_air: float,
    fresh_share: float,
    start_share: float,
    time: float,
) -> float | None:
    """Return the share in a ventilated room some time after a leak began (no unit).

    c = cs + (c0 - cs) exp(-(q + Q) t/V), cs as `settled_share`.
    `room_volume`: m3, above 0; `leak`, `fresh_air`: m3/s, from 0; shares: 0 to 1;
    `time`: s, from 0. Of a room that is badly stirred, `fresh_air` is what takes part in thinning the gas out.
    """
    settled = settled_share(leak=leak, leak_share=leak_share, fresh_air=fresh_air, fresh_share=fresh_share)
    if settled is None or not above_zero(room_volume) or not from_zero(time):
        return None
    if not (within(start_share, 0.0, 1.0)):
        return None
    return settled + (start_share - settled) * exp(-(leak + fresh_air) * time / room_volume)


# No directions: rooms can fill or clear, and each argument turns round between the two.
def time_to_share(
    *,
    room_volume: float,
    leak: float,
    leak_share: float,
    fresh_air: float,
    fresh_share: float,
    start_share: float,
    limit_share: float,
) -> float | None:
    """Return how long a ventilated room takes from one share to another, s; infinity where it never gets there.

    t = V/(q + Q) ln((cs - c0)/(cs - c1)): `share_at_time` solved for time.
    Arguments as there; `limit_share`: 0 to 1.

    60 L/min of oxygen into 30 m3 without ventilation, from 20.9 % to 23.5 %:
    >>> round(time_to_share(room_volume=30.0, leak=1e-3, leak_share=1.0, fresh_air=0.0, fresh_share=0.209,
    ...     start_share=0.209, limit_share=0.235) / 60, 2)
    16.71
    """
    settled = settled_share(leak=leak, leak_share=leak_share, fresh_air=fresh_air, fresh_share=fresh_share)
    if settled is None or not above_zero(room_volume):
        return None
    if not (within(start_share, 0.0, 1.0) and within(limit_share, 0.0, 1.0)):
        return None
    if start_share == limit_share:
        return 0.0
    if not min(start_share, settled) < limit_share < max(start_share, settled):
        return inf
    return room_volume / (leak + fresh_air) * log((settled - start_share) / (settled - limit_share))
