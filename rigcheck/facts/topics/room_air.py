"""What a leak does to the air of the room in a day."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from math import inf
from typing import Any

from rigcheck.facts.figure import Figure, Way
from rigcheck.facts.topics.gas_data import lower_limit
from rigcheck.physics.air import share_at_time, time_to_share
from rigcheck.physics.intervals import Span, divided, multiplied

__all__ = ["FIGURES"]

_CLEAN_AIR = 0.209  # oxygen in clean air, volume share: ISO 2533 gives 20.95 % dry; damp air has a little less


# --- shares of the room ---


@lru_cache(maxsize=512)
def _leaked(leak: Span, room: Span, fresh: Span, time: Span, before: float) -> Span | None:
    """Return the share after a steady leak, not below that before; rising with leak and time, falling with the rest."""
    ends = [
        share_at_time(
            room_volume=room[1 - end],
            leak=leak[end],
            leak_share=1.0,
            fresh_air=fresh[1 - end],
            fresh_share=before,
            start_share=before,
            time=time[end],
        )
        if leak[end] + fresh[1 - end] > 0.0
        else before
        for end in (0, 1)
    ]
    if ends[0] is None or ends[1] is None:
        return None
    least = max(before, ends[0])  # what the last digit of a float takes away is no gas
    return least, max(least, ends[1])


def _lower(gas: str) -> Span | None:
    found = lower_limit(gas)
    return None if found is None else (found, found)


def _leak_explosive(
    leak: Span, room: Span, time: Span, expansion: Span, limit: Span, fresh: Span = (0.0, 0.0)
) -> Span | None:
    share = _leaked(multiplied(leak, expansion), room, fresh, time, 0.0)
    return share and divided(share, limit)


def _leak_oxygen(leak: Span, room: Span, time: Span, expansion: Span, fresh: Span = (0.0, 0.0)) -> Span | None:
    return _leaked(multiplied(leak, expansion), room, fresh, time, _CLEAN_AIR)


def _reached(leak: Span, room: Span, expansion: Span, limit: Span, before: float, fresh: Span) -> Span | None:
    """Return the time to a limit: least for the greatest leak in the smallest room with the least air."""
    flow = multiplied(leak, expansion)
    ends = [
        time_to_share(
            room_volume=room[end],
            leak=flow[1 - end],
            leak_share=1.0,
            fresh_air=fresh[end],
            fresh_share=before,
            start_share=before,
            limit_share=limit[end],
        )
        if flow[1 - end] > 0.0
        else inf
        for end in (0, 1)
    ]
    return None if ends[0] is None or ends[1] is None else (ends[0], ends[1])


def _to_explosive(
    leak: Span, room: Span, expansion: Span, lower: Span, share: Span, fresh: Span = (0.0, 0.0)
) -> Span | None:
    return _reached(leak, room, expansion, multiplied(lower, share), 0.0, fresh)


def _to_rich(leak: Span, room: Span, expansion: Span, limit: Span, fresh: Span = (0.0, 0.0)) -> Span | None:
    return _reached(leak, room, expansion, limit, _CLEAN_AIR, fresh)


_LIMITS = (
    "lower explosive limit: the lower of IEC 60079-20-1 (2010) and NFPA 497 (2008); methylacetylene-mix by "
    "US Army TC 9-237, natural gas by Le Chatelier's rule"
)
_STIRRED = "air of the room well stirred: nearer to the leak, low down or high up there is more"
_FUEL: dict[str, tuple[Any, ...]] = {"fuel": (True,)}
_OXYGEN: dict[str, tuple[Any, ...]] = {"gas": ("oxygen",)}


def _leaking(name: str, work_out: Any, only: Any, further: dict[str, str], of: str) -> Figure:
    inputs = {"leak": "leak_rate", "time": "rig.job.hours_per_day", "room": "rig.site.air_volume"}
    inputs |= {"expansion": "rig.site.gas_expansion"} | further
    aired = f"c = c_s + (c_0 - c_s) exp(-(q + Q) t/V), c_s = (q + Q c_0)/(q + Q), q = leak x expansion, {_DAY}{of}"
    still = f"c = 1 + (c_0 - 1) exp(-q t/V), q = leak x expansion, {_DAY}{of}"
    fresh = inputs | {"fresh": "rig.site.stirred_air"}
    return Figure(
        "line",
        name,
        (
            Way(aired, _BALANCE, work_out, inputs=fresh, only=only, validity=_STIRRED, asks=False),
            Way(still, _BALANCE, work_out, inputs=inputs, only=only, validity="no fresh air; " + _STIRRED),
        ),
    )


_DAY = "t = a day's work"
_BALANCE = "mass balance of a stirred room"


def _times() -> Iterator[Way]:
    """Yield the ways to the time to a limit: of fuel and of oxygen, with fresh air where it is known."""
    plain = {"leak": "leak_rate", "room": "rig.site.air_volume", "expansion": "rig.site.gas_expansion"}
    lower = {"lower": "lower_explosive_limit", "share": "limit:explosive_share"}
    formula = "t = V/(q + Q) ln((c_s - c_0)/(c_s - c_1)), c_s = (q + Q c_0)/(q + Q), q = leak x expansion; "
    for work_out, only, further, words in (
        (_to_explosive, _FUEL, lower, "c_0 = 0, c_1 = share x lower"),
        (_to_rich, _OXYGEN, {"limit": "limit:oxygen_content_high"}, "c_0 = 20.9 %, c_1 = limit"),
    ):
        inputs = plain | further
        fresh = inputs | {"fresh": "rig.site.stirred_air"}
        yield Way(formula + words, _BALANCE, work_out, fresh, only, validity=_STIRRED, asks=False)
        still = "no fresh air; " + _STIRRED
        yield Way(formula + words + ", Q = 0", _BALANCE, work_out, inputs, only, validity=still, asks=False)


FIGURES: tuple[Figure, ...] = (
    Figure(
        "line",
        "lower_explosive_limit",
        (Way("L = the lowest that is published", _LIMITS, _lower, inputs={"gas": "gas"}, only=_FUEL),),
    ),
    _leaking(
        "leak_explosive_share",
        _leak_explosive,
        _FUEL,
        {"limit": "lower_explosive_limit"},
        ", c_0 = 0; share = c/L, L = lower explosive limit",
    ),
    _leaking("leak_oxygen_content", _leak_oxygen, _OXYGEN, {}, ", c_0 = 20.9 %"),
    Figure("line", "time_to_limit", tuple(_times())),
)
"""The figures of this topic."""
