"""The holding test: what leaks, and what the gauge could show at all."""

from __future__ import annotations

from itertools import product
from typing import Any

from rigcheck.facts.figure import Figure, Look, Used, Wants, Way
from rigcheck.facts.topics.spans import ATMOSPHERE, BASE, added, as_stated, collected, values_of
from rigcheck.physics.intervals import Span, by_end_points, directions_of
from rigcheck.physics.leak import charge_volume, leak_from_decay, least_leak_seen
from rigcheck.rig.thing import Thing

__all__ = ["FIGURES"]

_charge = by_end_points(charge_volume, *directions_of(charge_volume))
_seen = by_end_points(least_leak_seen, *directions_of(least_leak_seen))


def _hoses(line: Thing, look: Look) -> Any:
    """Gather bore and length of every hose of a line."""
    hoses = [part for part in line.facts.get("parts", ()) if part.kind.name == "hose"]
    bores, lengths = collected(hoses, "bore", look, "D"), collected(hoses, "length", look, "L")
    if isinstance(bores, Wants) or isinstance(lengths, Wants):
        return Wants([one for side in (bores, lengths) if isinstance(side, Wants) for one in side])
    return tuple(used for pair in zip(bores, lengths, strict=True) for used in pair) or None


def _volume(gathered: tuple[Used, ...]) -> Span | None:
    pairs = zip(values_of(gathered, "D"), values_of(gathered, "L"), strict=True)
    each = [_charge(bore=bore, length=length) for bore, length in pairs]
    return None if None in each else added([one for one in each if one is not None])


def _within_a_step(fall: Span, step: Span) -> Span:
    """Return the fall with 0 for either end that the gauge could not show; an end that it could show stays."""
    low = 0.0 if -step[0] <= fall[0] <= step[1] else fall[0]
    high = 0.0 if -step[1] <= fall[1] <= step[0] else fall[1]
    return low, high


def _corrected(start: Span, end: Span, start_warmth: Span, end_warmth: Span, step: Span) -> Span | None:
    low = _one_fall(start[0], end[1], start_warmth[1], end_warmth[0])
    high = _one_fall(start[1], end[0], start_warmth[0], end_warmth[1])
    return _within_a_step((low, high), step)


def _one_fall(start: float, end: float, start_warmth: float, end_warmth: float) -> float:
    return start - ((end + ATMOSPHERE) * start_warmth / end_warmth - ATMOSPHERE)


def _plain_fall(start: Span, end: Span) -> Span:
    return start[0] - end[1], start[1] - end[0]


def _leak(
    volume: Span, start: Span, end: Span, start_warmth: Span, end_warmth: Span, time: Span, step: Span
) -> Span | None:
    """Return the leak over all corners, each reading good to half a step; not below 0."""
    half = step[1] / 2.0
    first = max(-ATMOSPHERE, start[0] - half), start[1] + half
    last = max(-ATMOSPHERE, end[0] - half), end[1] + half
    corners = [
        leak_from_decay(
            volume=space,
            start_pressure_abs=(first[0], first[1])[side] + ATMOSPHERE,
            end_pressure_abs=(last[1], last[0])[side] + ATMOSPHERE,
            start_temperature=(start_warmth[1], start_warmth[0])[side],
            end_temperature=(end_warmth[0], end_warmth[1])[side],
            time=seconds,
            base_pressure_abs=BASE.pressure_abs,
            base_temperature=BASE.temperature,
        )
        for space, seconds, side in product(volume, time, (0, 1))
    ]
    known = [corner for corner in corners if corner is not None]
    return (max(0.0, min(known)), max(0.0, *known)) if len(known) == len(corners) else None


def _leak_of_fall(volume: Span, fall: Span, time: Span, step: Span) -> Span | None:
    if not time[0] > 0.0:
        return None
    drop = max(0.0, fall[0] - step[1]), max(0.0, fall[1] + step[1])
    return volume[0] * drop[0] / (ATMOSPHERE * time[1]), volume[1] * drop[1] / (ATMOSPHERE * time[0])


def _least_seen(volume: Span, step: Span, time: Span) -> Span | None:
    return _seen(volume=volume, pressure_step=step, time=time, base_pressure_abs=BASE.pressure_abs)


_READINGS = {"start": "hold_start_pressure", "end": "hold_end_pressure"}
_WARMTH = {"start_warmth": "hold_start_temperature", "end_warmth": "hold_end_temperature"}
_TEST = {"volume": "hose_volume", "time": "hold_time", "step": "hold_gauge_step"}
_SHUT = "knob backed off, so that nothing follows from the cylinder; the gas has the temperature that is given"

FIGURES: tuple[Figure, ...] = (
    Figure(
        "line",
        "hose_volume",
        (
            Way(
                "V = sum of pi/4 D^2 L",
                "geometry",
                _volume,
                gather=_hoses,
                validity="a hose under pressure swells a little; regulator and torch add a little",
            ),
        ),
    ),
    Figure(
        "line",
        "hold_fall",
        (
            Way(
                "fall = p1 - ((p2 + 1 atm) T1/T2 - 1 atm); 0 where it is less than the gauge can show",
                "Gay-Lussac's law",
                _corrected,
                inputs=_READINGS | _WARMTH | {"step": "hold_gauge_step"},
                validity=_SHUT,
                asks=False,
            ),
            Way(
                "fall = p1 - p2",
                "arithmetic",
                _plain_fall,
                inputs=_READINGS,
                validity="one temperature all through",
                asks=False,
            ),
            as_stated("pressure_drop", asks=True),
        ),
    ),
    Figure(
        "line",
        "leak_rate",
        (
            Way(
                "q = V T_b/(p_b t) (p1/T1 - p2/T2), absolute, p_b = 1 atm, T_b = 15 degC, "
                "each reading good to half a gauge step; not below 0",
                "40 CFR 1065.644, eq. 1065.644-1",
                _leak,
                inputs=_TEST | _READINGS | _WARMTH,
                validity="every corner of the readings; " + _SHUT,
                asks=False,
            ),
            Way(
                "q = V (fall give or take a gauge step)/(1 atm t); not below 0",
                "Boyle's law",
                _leak_of_fall,
                inputs=_TEST | {"fall": "hold_fall"},
                validity="one temperature all through; " + _SHUT,
            ),
        ),
    ),
    Figure(
        "line",
        "least_leak_seen",
        (
            Way(
                "q = V step/(1 atm t)",
                "Boyle's law",
                _least_seen,
                inputs=_TEST,
                validity="one temperature all through: 5 K of cooling look like 1.7 % of the absolute pressure lost",
            ),
        ),
    ),
)
"""The figures of this topic."""
