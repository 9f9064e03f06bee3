"""How much a rig leaks, by how fast its pressure falls, and what a gauge can see at all.

A gas amount is counted as n, mol, or as its volume at a base state: "standard" is 101325 Pa and a named temperature.
All here treat the gas as ideal: at hose pressure an error of about 1 %, and for a change in pressure it cancels.
"""

from __future__ import annotations

from math import pi

from rigcheck.physics.intervals import Span, monotone
from rigcheck.physics.validity import above_zero, from_zero

__all__ = [
    "FLUID_SHOWS",
    "GAS_WARMTH",
    "HOSE_SWELLING",
    "LEAK_FLUID_TENSION",
    "PART_SPACE",
    "bubble_least_pore",
    "charge_volume",
    "leak_from_decay",
]


FLUID_SHOWS: Span = (1e-11, 1e-10)
"""m3/s; the least leak that leak fluid shows: the normal limit of the method, and the least that operators agree on.

ASTM E515, 1e-5 and 1e-4 standard cm3/s (scope and precision statement read): 36 and 360 mm3/h.
"""

GAS_WARMTH = 1.0
"""K; how far the gas in a hose may be from the thermometer beside it (common practice)."""

PART_SPACE = 30e-6
"""m3; the most space in one regulator, arrester, valve or torch (from memory: 60 to 120 mL in the usual four)."""

HOSE_SWELLING = 0.05
"""The most that a rubber hose grows in volume under its working pressure, as a share (from memory)."""

LEAK_FLUID_TENSION: Span = (0.025, 0.035)
"""N/m; surface tension of water with a wetting agent (from memory: soap solution about 0.025, leak fluids to 0.035)."""


@monotone(rises=("bore", "length"))
def charge_volume(*, bore: float, length: float) -> float | None:
    """Return the volume of gas in a hose, m3: pi/4 D^2 L.

    `bore`, `length`: m, from 0.
    A hose under pressure swells a little: measured volume is better where it matters.

    >>> round(charge_volume(bore=6.3e-3, length=10.0) * 1e6, 1)
    311.7
    """
    return pi / 4.0 * bore**2 * length if from_zero(bore, length) else None


# Volume, time and base turn with the sign of the leak: for those, see `leak_uncertainty`.
@monotone(rises=("start_pressure_abs", "end_temperature"), falls=("end_pressure_abs", "start_temperature"))
def leak_from_decay(
    *,
    volume: float,
    start_pressure_abs: float,
    end_pressure_abs: float,
    start_temperature: float,
    end_temperature: float,
    time: float,
    base_pressure_abs: float,
    base_temperature: float,
) -> float | None:
    """Return the mean leak out of a closed volume, m3/s at the base state; negative where gas came in.

    q = V Tb/(pb t) (p1/T1 - p2/T2).
    `volume`: m3, above 0; pressures: Pa absolute, start and end from 0, base above 0; temperatures: K, above 0,
    of the gas, not of the room; `time`: s, above 0.
    With pb = R Tb the result is in mol/s.
    Falls in `time` where the leak is outward.
    Source: 40 CFR 1065.644, eq. 1065.644-1, with the sign turned round.

    The regulation's worked example, a leak into a vacuum, 0.0003 mol/s:
    >>> q = leak_from_decay(volume=0.002, start_pressure_abs=25300.0, end_pressure_abs=50600.0,
    ...     start_temperature=293.15, end_temperature=293.15, time=70.0,
    ...     base_pressure_abs=8.31447 * 293.15, base_temperature=293.15)
    >>> round(q, 6)
    -0.000297
    """
    if not above_zero(volume, start_temperature, end_temperature, time, base_pressure_abs, base_temperature):
        return None
    if not from_zero(start_pressure_abs, end_pressure_abs):
        return None
    lost = start_pressure_abs / start_temperature - end_pressure_abs / end_temperature
    return volume * base_temperature / (base_pressure_abs * time) * lost


@monotone(rises=("surface_tension", "outside_pressure_abs"), falls=("inside_pressure_abs",))
def bubble_least_pore(
    *, surface_tension: float, inside_pressure_abs: float, outside_pressure_abs: float
) -> float | None:
    """Return the least radius of a pore that gas can blow a bubble out of, m: 2 gamma/(p1 - p2).

    `surface_tension`: of the leak fluid, N/m, above 0; pressures: Pa absolute, inside above outside.
    A finer pore holds the fluid by capillarity and shows nothing.
    Source: NDT handbook, leak testing volume, bubble testing.

    >>> round(bubble_least_pore(surface_tension=0.073, inside_pressure_abs=200e3, outside_pressure_abs=100e3) * 1e6, 2)
    1.46
    """
    if not above_zero(surface_tension, inside_pressure_abs) or not from_zero(outside_pressure_abs):
        return None
    step = inside_pressure_abs - outside_pressure_abs
    return 2.0 * surface_tension / step if step > 0.0 else None
