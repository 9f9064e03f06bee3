"""The holding test: what leaks, and what the gauge could show at all."""

from __future__ import annotations

from itertools import product
from typing import Any

from rigcheck.facts.figure import Figure, Look, Used, Wants, Way
from rigcheck.facts.topics.gathering import BASE, collected, values_of
from rigcheck.physics.intervals import Span, added, carried
from rigcheck.physics.leak import (
    GAS_WARMTH,
    HOSE_SWELLING,
    PART_SPACE,
    charge_volume,
    leak_from_decay,
)
from rigcheck.quantity.interval import Interval
from rigcheck.rig.thing import Thing

__all__ = ["FIGURES"]

_charge = carried(charge_volume)

_UNREAD = 0.008  # share of the absolute pressure: GAS_WARMTH at each reading, of a gas at 250 K or more


# --- the space that is shut in ---


def _hoses(line: Thing, look: Look) -> Any:
    """Gather bore and length of every hose of a line."""
    hoses = [part for part in line.facts.get("parts", ()) if "hose" in part.kind.lineage]
    bores, lengths = collected(hoses, "bore", look, "D"), collected(hoses, "length", look, "L")
    if isinstance(bores, Wants) or isinstance(lengths, Wants):
        return Wants([one for side in (bores, lengths) if isinstance(side, Wants) for one in side])
    return tuple(used for pair in zip(bores, lengths, strict=True) for used in pair) or None


def _volume(gathered: tuple[Used, ...]) -> Span | None:
    pairs = zip(values_of(gathered, "D"), values_of(gathered, "L"), strict=True)
    each = [_charge(bore=bore, length=length) for bore, length in pairs]
    return None if None in each else added([one for one in each if one is not None])


def _other_parts(line: Thing, look: Look) -> Any:
    """Gather how many parts beside the hoses stand under the pressure that is held, the torches among them."""
    parts = [part for part in line.facts.get("parts", ()) if not {"hose", "supplies"} & {*part.kind.lineage}]
    torches = [end for end in line.facts.get("torch_end", ()) if end.facts.get("downstream") is not None]
    count = len(parts) + len(torches)
    return (Used("n", line, "parts", Interval(count, count, "count", str(count))),)


def _with_parts(hoses: Span, gathered: tuple[Used, ...]) -> Span:
    return hoses[0], hoses[1] * (1.0 + HOSE_SWELLING) + gathered[0].value.hi * PART_SPACE


# --- how far the pressure fell ---


def _corrected(start: Span, end: Span, start_warmth: Span, end_warmth: Span, step: Span, air: Span) -> Span:
    """Return the fall that warmth does not explain; each reading good to half a step, each warmth to GAS_WARMTH."""
    half, warm = step[1] / 2.0, GAS_WARMTH
    cooled, warmed = (
        (start_warmth[1] + warm) / (end_warmth[0] - warm),
        (start_warmth[0] - warm) / (end_warmth[1] + warm),
    )
    low = min(start[0] - half - ((end[1] + half + one) * cooled - one) for one in air)
    high = max(start[1] + half - ((end[0] - half + one) * warmed - one) for one in air)
    return low, high


def _plain_fall(start: Span, end: Span, step: Span, air: Span) -> Span:
    return _uncertain((start[0] - end[1], start[1] - end[0]), start, step, air)


def _uncertain(fall: Span, pressure: Span, step: Span, air: Span) -> Span:
    """Return a fall give or take a step, and what the gas may have cooled or warmed without anybody reading it."""
    margin = step[1] + _UNREAD * (pressure[1] + air[1])
    return fall[0] - margin, fall[1] + margin


def _seen_fall(line: Thing, look: Look) -> Any:
    """Gather a fall that was seen; None where the gauge stood still or nobody said."""
    fall = look.fact(line, "pressure_drop")
    return (Used("fall", line, "pressure_drop", fall),) if type(fall) is Interval and fall.lo > 0.0 else None


# --- what leaks ---


def _leak(
    volume: Span, start: Span, end: Span, start_warmth: Span, end_warmth: Span, time: Span, step: Span, air: Span
) -> Span | None:
    """Return the leak over all corners, each reading good to half a step and GAS_WARMTH; not below 0."""
    half, warm = step[1] / 2.0, GAS_WARMTH
    first, last = (start[0] - half, start[1] + half), (end[1] + half, end[0] - half)
    corners = [
        leak_from_decay(
            volume=space,
            start_pressure_abs=max(0.0, first[side] + around),
            end_pressure_abs=max(0.0, last[side] + around),
            start_temperature=(start_warmth[1] + warm, start_warmth[0] - warm)[side],
            end_temperature=(end_warmth[0] - warm, end_warmth[1] + warm)[side],
            time=seconds,
            base_pressure_abs=BASE.pressure_abs,
            base_temperature=BASE.temperature,
        )
        for space, seconds, side, around in product(volume, time, (0, 1), air)
    ]
    known = [corner for corner in corners if corner is not None]
    return (max(0.0, min(known)), max(0.0, *known)) if len(known) == len(corners) else None


def _leak_of_fall(volume: Span, fall: Span, time: Span) -> Span | None:
    if not time[0] > 0.0:
        return None
    drop = max(0.0, fall[0]), max(0.0, fall[1])
    return volume[0] * drop[0] / (BASE.pressure_abs * time[1]), volume[1] * drop[1] / (BASE.pressure_abs * time[0])


_READINGS = {"start": "hold_start_pressure", "end": "hold_end_pressure"}
_WARMTH = {"start_warmth": "hold_start_temperature", "end_warmth": "hold_end_temperature"}
_STEP = {"step": "hold_gauge_step"}
_TEST = {"volume": "held_volume", "time": "hold_time"}
_SHUT = "knob backed off, so that nothing follows from the cylinder"
_NEAR = "T1, T2 each give or take 1 K: gas in a hose is never quite as warm as the thermometer beside it"
_AIR = {"air": "rig.site.air_pressure"}
_UNSEEN = "0.8 % of p + p_air for 1 K of the gas at each reading, since no temperature was read"

FIGURES: tuple[Figure, ...] = (
    Figure(
        "line",
        "hose_volume",
        (Way("V = sum of pi/4 D^2 L", "geometry", _volume, gather=_hoses, validity="hoses without pressure"),),
    ),
    Figure(
        "line",
        "held_volume",
        (
            Way(
                "V = V_hoses to 1.05 V_hoses + 30 mL n; n = other parts behind the cylinder, torches among them",
                "geometry; swelling of a hose and space in a part from memory",
                _with_parts,
                inputs={"hoses": "hose_volume"},
                gather=_other_parts,
                validity="5 % for a hose that swells under pressure, 0 to 30 mL in a regulator, arrester or torch",
            ),
        ),
    ),
    Figure(
        "line",
        "hold_fall",
        (
            Way(
                "fall = p1 - ((p2 + p_air) T1/T2 - p_air), each reading give or take half a gauge step; " + _NEAR,
                "Gay-Lussac's law; 1 K common practice",
                _corrected,
                inputs=_READINGS | _WARMTH | _STEP | _AIR,
                validity=_SHUT,
                asks=False,
            ),
            Way(
                "fall = p1 - p2, give or take a gauge step and " + _UNSEEN,
                "arithmetic; 1 K common practice",
                _plain_fall,
                inputs=_READINGS | _STEP | _AIR,
                validity=_SHUT,
                asks=False,
            ),
            Way(
                "fall as stated, give or take a gauge step and " + _UNSEEN,
                "arithmetic; 1 K common practice",
                _uncertain,
                inputs={"fall": "pressure_drop", "pressure": "set_pressure"} | _STEP | _AIR,
                validity="held at the pressure that is set; " + _SHUT,
            ),
        ),
    ),
    Figure(
        "line",
        "fall_shown",
        (
            # How fine the gauge is and what was set never takes back that somebody saw it fall.
            Way(
                "yes where somebody saw the gauge fall",
                "stated",
                lambda gathered: True,
                gather=_seen_fall,
                validity="however little it fell, and whatever the cause: " + _SHUT,
            ),
            Way(
                "yes where the least fall is above 0",
                "arithmetic",
                lambda fall: fall[0] > 0.0,
                inputs={"fall": "hold_fall"},
                validity="no is no proof that the line is tight: a gauge shows no leak that is finer than its step",
            ),
        ),
    ),
    Figure(
        "line",
        "leak_rate",
        (
            Way(
                "q = V T_b/(p_b t) (p1/T1 - p2/T2), absolute, p_b = 1 atm, T_b = 15 degC, "
                "each reading give or take half a gauge step; not below 0; " + _NEAR,
                "40 CFR 1065.644, eq. 1065.644-1; 1 K common practice",
                _leak,
                inputs=_TEST | _READINGS | _WARMTH | _STEP | _AIR,
                validity="every corner of the readings; " + _SHUT,
                asks=False,
            ),
            Way(
                "q = V fall/(1 atm t); not below 0",
                "Boyle's law",
                _leak_of_fall,
                inputs=_TEST | {"fall": "hold_fall"},
                validity="one temperature all through, but for what the fall allows for; " + _SHUT,
            ),
        ),
    ),
)
"""The figures of this topic."""
