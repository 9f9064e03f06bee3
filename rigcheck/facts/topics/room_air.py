"""What purges, leaks and whole supplies do to the air of the room; how long a purge lasts."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from rigcheck.facts.figure import Figure, Gather, Used, Way
from rigcheck.facts.topics.gas_data import amount, lower_limit_of
from rigcheck.physics.air import cloud_volume, share_after_release, share_at_time
from rigcheck.physics.intervals import Span, divided

__all__ = ["FIGURES"]

_CLEAN_AIR = 0.209  # oxygen in clean air, volume share: ISO 2533 gives 20.95 % dry; damp air has a little less


# --- shares of the room ---


def _filled(released: Span, room: Span, inside: float, before: float) -> Span | None:
    """Return the share after a release; it rises with the release, falls with the room."""
    low = share_after_release(room_volume=room[1], released=released[0], released_share=inside, start_share=before)
    high = share_after_release(room_volume=room[0], released=released[1], released_share=inside, start_share=before)
    return None if low is None or high is None else (low, high)


@lru_cache(maxsize=512)
def _leaked(leak: Span, room: Span, fresh: Span, time: Span, before: float) -> Span | None:
    """Return the share after a steady leak; it rises with leak and time, falls with room and fresh air."""
    ends = [
        share_at_time(
            room_volume=room[1 - end],
            leak=leak[end],
            leak_share=1.0,
            fresh_air=fresh[1 - end],
            fresh_share=before,
            start_share=before,
            mixing=1.0,
            time=time[end],
        )
        if leak[end] + fresh[1 - end] > 0.0
        else before
        for end in (0, 1)
    ]
    return None if ends[0] is None or ends[1] is None else (ends[0], ends[1])


def _of_lower(share: Span | None, gathered: tuple[Used, ...]) -> Span | None:
    lower = amount(gathered, "L")
    return None if share is None or lower is None else divided(share, lower)


def _purge_explosive(released: Span, room: Span, gathered: tuple[Used, ...]) -> Span | None:
    return _of_lower(_filled(released, room, 1.0, 0.0), gathered)


def _purge_oxygen(released: Span, room: Span) -> Span | None:
    return _filled(released, room, 1.0, _CLEAN_AIR)


def _leak_explosive(
    leak: Span, room: Span, time: Span, gathered: tuple[Used, ...], fresh: Span = (0.0, 0.0)
) -> Span | None:
    return _of_lower(_leaked(leak, room, fresh, time, 0.0), gathered)


def _leak_oxygen(leak: Span, room: Span, time: Span, fresh: Span = (0.0, 0.0)) -> Span | None:
    return _leaked(leak, room, fresh, time, _CLEAN_AIR)


def _fuel_cloud(released: Span, gathered: tuple[Used, ...]) -> Span | None:
    lower = amount(gathered, "L")
    return None if lower is None else _cloud(released, 0.0, lower)


def _oxygen_cloud(released: Span, limit: Span) -> Span | None:
    return _cloud(released, _CLEAN_AIR, limit)


def _cloud(released: Span, before: float, limit: Span) -> Span | None:
    low = cloud_volume(released=released[0], released_share=1.0, start_share=before, limit_share=limit[1])
    high = cloud_volume(released=released[1], released_share=1.0, start_share=before, limit_share=limit[0])
    return None if low is None or high is None else (low, high)


_LIMITS = (
    "lower explosive limit: the lower of IEC 60079-20-1 (2010) and NFPA 497 (2008); methylacetylene-mix by "
    "US Army TC 9-237, natural gas by Le Chatelier's rule: figures/flammability.py"
)
_STIRRED = "air of the room well stirred: nearer to the leak, low down or high up there is more"
_ROOM = {"room": "rig.site.air_volume"}
_FUEL: dict[str, tuple[Any, ...]] = {"fuel": (True,)}
_OXYGEN: dict[str, tuple[Any, ...]] = {"gas": ("oxygen",)}


def _purged(name: str, formula: str, source: str, work_out: Any, only: Any, gather: Gather | None) -> Figure:
    inputs = {"released": "purge_gas"} | _ROOM
    way = Way(formula, source, work_out, inputs, only, gather, validity="no fresh air; " + _STIRRED)
    return Figure("line", name, (way,))


def _leaking(name: str, source: str, work_out: Any, only: Any, gather: Gather | None, of: str) -> Figure:
    inputs = {"leak": "leak_rate", "time": "rig.job.hours_per_day"} | _ROOM
    aired = f"c = c_s + (c_0 - c_s) exp(-(q + Q) t/V), c_s = (q + Q c_0)/(q + Q), t = a day's work{of}"
    still = f"c = 1 + (c_0 - 1) exp(-q t/V), t = a day's work{of}"
    return Figure(
        "line",
        name,
        (
            Way(
                aired,
                source,
                work_out,
                inputs=inputs | {"fresh": "rig.site.fresh_air"},
                only=only,
                gather=gather,
                validity=_STIRRED,
                asks=False,
            ),
            Way(still, source, work_out, inputs, only, gather, validity="no fresh air; " + _STIRRED),
        ),
    )


def _clouds(name: str, released: str) -> Figure:
    return Figure(
        "line",
        name,
        (
            Way(
                "V = v/L, L = lower explosive limit",
                _LIMITS,
                _fuel_cloud,
                inputs={"released": released},
                only=_FUEL,
                gather=lower_limit_of,
                validity="all of it mixed evenly",
            ),
            Way(
                "V = v (1 - 20.9 %)/(limit - 20.9 %)",
                "mass balance",
                _oxygen_cloud,
                inputs={"released": released, "limit": "limit:oxygen_content_high"},
                only=_OXYGEN,
                validity="all of it mixed evenly",
            ),
        ),
    )


_BALANCE = "mass balance of a stirred room"

FIGURES: tuple[Figure, ...] = (
    _purged(
        "purge_explosive_share",
        "share = (1 - exp(-v/V))/L, L = lower explosive limit",
        _LIMITS,
        _purge_explosive,
        _FUEL,
        lower_limit_of,
    ),
    _purged("purge_oxygen_content", "c = 1 - (1 - 20.9 %) exp(-v/V)", _BALANCE, _purge_oxygen, _OXYGEN, None),
    _leaking(
        "leak_explosive_share",
        _LIMITS,
        _leak_explosive,
        _FUEL,
        lower_limit_of,
        ", c_0 = 0; share = c/L, L = lower explosive limit",
    ),
    _leaking("leak_oxygen_content", _BALANCE, _leak_oxygen, _OXYGEN, None, ", c_0 = 20.9 %"),
    _clouds("purge_cloud", "purge_gas"),
    _clouds("supply_cloud", "content"),
)
"""The figures of this topic."""
