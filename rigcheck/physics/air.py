"""What a released gas does to the air of a room or a line.

One balance carries all: gas and fresh air come in, as much of the mixture goes out, the room is mixed by a factor.
    V dc/dt = K (q cg + Q cf - (q + Q) c)
Shares are volume shares from 0 to 1 of the gas that is watched: fuel against its lower limit, or oxygen.
A room is never mixed evenly: near the leak there is more.
Natural gas and hydrogen rise, propane sinks and lies in pits, acetylene is about as heavy as air.
"""

from __future__ import annotations

from math import exp, inf, log

from rigcheck.physics.intervals import monotone
from rigcheck.physics.validity import above_zero, from_zero, within

__all__ = [
    "air_needed",
    "clearing_time",
    "cloud_volume",
    "settled_share",
    "share_after_release",
    "share_at_time",
    "share_of_limit",
    "small_source_rise_time",
    "time_to_share",
]


@monotone(rises=("share",), falls=("limit_share",))
def share_of_limit(*, share: float, limit_share: float) -> float | None:
    """Return how much of a limit a share is (no unit): c/L; 0.1 is "10 % of the lower limit".

    `share`: from 0 to 1; `limit_share`: above 0, to 1.

    Methylacetylene's IDLH of 1700 ppm is a tenth of its lower limit (NIOSH):
    >>> round(share_of_limit(share=1700e-6, limit_share=0.017), 3)
    0.1
    """
    return share / limit_share if within(share, 0.0, 1.0) and 0.0 < limit_share <= 1.0 else None


@monotone(rises=("released", "released_share", "start_share"), falls=("limit_share",))
def cloud_volume(*, released: float, released_share: float, start_share: float, limit_share: float) -> float | None:
    """Return the volume of mixture that a release can bring just to a limit, m3.

    v (cg - c0)/(c1 - c0): the released gas stirred evenly into air that had c0.
    `released`: m3 at the state of the room, from 0; shares: in the released gas, in the air before, at the limit;
    the limit above the start, and the released at least the limit.

    100 litres of acetylene bring 4 m3 to a lower limit of 2.5 %:
    >>> round(cloud_volume(released=0.1, released_share=1.0, start_share=0.0, limit_share=0.025), 9)
    4.0
    """
    if not from_zero(released) or not 0.0 <= start_share < limit_share <= released_share <= 1.0:
        return None
    return released * (released_share - start_share) / (limit_share - start_share)


@monotone(rises=("released_share", "start_share"))
def share_after_release(
    *, room_volume: float, released: float, released_share: float, start_share: float
) -> float | None:
    """Return the share in a closed room after a release, mixed all the while (no unit).

    cg + (c0 - cg) exp(-v/V): as much of the mixture is pushed out as gas comes in.
    `room_volume`: m3, above 0; `released`: m3 at the state of the room, from 0; shares: 0 to 1.
    With `released_share` 0 it gives the oxygen that is left when another gas pushes air out.

    >>> round(share_after_release(room_volume=30.0, released=1.0, released_share=1.0, start_share=0.209), 3)
    0.235
    """
    if not above_zero(room_volume) or not from_zero(released):
        return None
    if not (within(released_share, 0.0, 1.0) and within(start_share, 0.0, 1.0)):
        return None
    return released_share + (start_share - released_share) * exp(-released / room_volume)


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
    mixing: float,
    time: float,
) -> float | None:
    """Return the share in a ventilated room some time after a leak began (no unit).

    c = cs + (c0 - cs) exp(-K (q + Q) t/V), cs as `settled_share`.
    `room_volume`: m3, above 0; `leak`, `fresh_air`: m3/s, from 0; shares: 0 to 1;
    `mixing`: K, above 0 to 1; 1 is perfect, 0.1 to 0.5 is usual (common practice); `time`: s, from 0.
    A low `mixing` slows the filling as well as the clearing: for the time to a danger use 1.
    """
    settled = settled_share(leak=leak, leak_share=leak_share, fresh_air=fresh_air, fresh_share=fresh_share)
    if settled is None or not above_zero(room_volume) or not from_zero(time):
        return None
    if not (0.0 < mixing <= 1.0 and within(start_share, 0.0, 1.0)):
        return None
    return settled + (start_share - settled) * exp(-mixing * (leak + fresh_air) * time / room_volume)


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
    mixing: float,
) -> float | None:
    """Return how long a ventilated room takes from one share to another, s; infinity where it never gets there.

    t = V/(K (q + Q)) ln((cs - c0)/(cs - c1)): `share_at_time` solved for time.
    Arguments as there; `limit_share`: 0 to 1.

    60 L/min of oxygen into 30 m3 without ventilation, from 20.9 % to 23.5 %:
    >>> round(time_to_share(room_volume=30.0, leak=1e-3, leak_share=1.0, fresh_air=0.0, fresh_share=0.209,
    ...     start_share=0.209, limit_share=0.235, mixing=1.0) / 60, 2)
    16.71
    """
    settled = settled_share(leak=leak, leak_share=leak_share, fresh_air=fresh_air, fresh_share=fresh_share)
    if settled is None or not above_zero(room_volume) or not 0.0 < mixing <= 1.0:
        return None
    if not (within(start_share, 0.0, 1.0) and within(limit_share, 0.0, 1.0)):
        return None
    if start_share == limit_share:
        return 0.0
    if not min(start_share, settled) < limit_share < max(start_share, settled):
        return inf
    return room_volume / (mixing * (leak + fresh_air)) * log((settled - start_share) / (settled - limit_share))


@monotone(rises=("leak", "leak_share", "fresh_share"), falls=("limit_share", "mixing"))
def air_needed(
    *, leak: float, leak_share: float, fresh_share: float, limit_share: float, mixing: float
) -> float | None:
    """Return the fresh air that holds a room at a limit while gas leaks, m3/s: q (cg - c1)/(K (c1 - cf)).

    `leak`: m3/s at the state of the room, from 0; shares: in the leak, in the fresh air, and at the limit;
    the limit above the fresh air's; `mixing`: K, above 0 to 1.

    2 L/min of acetylene against a tenth of a lower limit of 2.5 %, in m3/h:
    >>> round(air_needed(leak=2e-3 / 60, leak_share=1.0, fresh_share=0.0, limit_share=0.0025, mixing=1.0) * 3600, 2)
    47.88
    """
    if not from_zero(leak) or not 0.0 < mixing <= 1.0:
        return None
    if not 0.0 <= fresh_share < limit_share <= leak_share <= 1.0:
        return None
    return leak * (leak_share - limit_share) / (mixing * (limit_share - fresh_share))


@monotone(rises=("room_volume", "start_over_target"), falls=("fresh_air", "mixing"))
def clearing_time(*, room_volume: float, fresh_air: float, start_over_target: float, mixing: float) -> float | None:
    """Return how long clean air takes to thin a gas out once its leak has stopped, s: V/(K Q) ln(c0/c1).

    `room_volume`: m3, `fresh_air`: m3/s, both above 0; `start_over_target`: from 1; `mixing`: K, above 0 to 1.

    >>> round(clearing_time(room_volume=30.0, fresh_air=300 / 3600, start_over_target=10.0, mixing=1.0) / 60, 2)
    13.82
    """
    if not above_zero(room_volume, fresh_air) or not 0.0 < mixing <= 1.0 or not 1.0 <= start_over_target < inf:
        return None
    return room_volume / (mixing * fresh_air) * log(start_over_target)


@monotone(rises=("room_volume", "target_share", "fresh_air"), falls=("gas_flow", "mixing"))
def small_source_rise_time(
    *, room_volume: float, gas_flow: float, fresh_air: float, target_share: float, mixing: float
) -> float | None:
    """Return the time to a share by the printed rule for a source that is small beside the fresh air, s.

    C = (G/Q)(1 - exp(-K N)), with N = (G + Q) t/V air changes.
    `room_volume`: m3; `gas_flow`: G, m3/s of pure gas; `fresh_air`: Q, m3/s; all above 0;
    `target_share`: above 0; `mixing`: K, above 0 to 1.
    It settles at G/Q instead of G/(G + Q), so it reads early: `time_to_share` is the exact balance.
    Infinity where the target is never reached; None where the gas is more than a fifth of the fresh air.
    Source: US Bureau of Reclamation, Design Guide for HVAC Systems (2006), p. 106.

    >>> round(small_source_rise_time(room_volume=1000.0, gas_flow=15 / 60, fresh_air=85 / 60, target_share=0.05,
    ...     mixing=0.2) / 60, 3)
    16.657
    """
    if not above_zero(room_volume, gas_flow, fresh_air, target_share) or not 0.0 < mixing <= 1.0:
        return None
    if gas_flow > 0.2 * fresh_air:
        return None
    filled = target_share * fresh_air / gas_flow
    if filled >= 1.0:
        return inf
    return -log(1.0 - filled) / mixing * room_volume / (gas_flow + fresh_air)
