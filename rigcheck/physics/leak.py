"""How much a rig leaks, by how fast its pressure falls, and what a gauge can see at all.

A gas amount is counted as n, mol, or as its volume at a base state: "standard" is 101325 Pa and a named temperature.
All here treat the gas as ideal: at hose pressure an error of about 1 %, and for a change in pressure it cancels.
"""

from __future__ import annotations

from math import erf, isfinite, pi, sqrt

from rigcheck.physics.intervals import Span, monotone
from rigcheck.physics.validity import above_zero, from_zero

__all__ = [
    "FLUID_SHOWS",
    "GAS_WARMTH",
    "HOSE_SWELLING",
    "LEAK_FLUID_TENSION",
    "PART_SPACE",
    "bubble_leak",
    "bubble_least_pore",
    "charge_volume",
    "leak_drop",
    "leak_from_decay",
    "leak_uncertainty",
    "least_leak_seen",
    "share_within_limit",
    "waiting_time",
    "warmth_pressure_change",
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


def leak_uncertainty(
    *,
    volume: float,
    start_pressure_abs: float,
    end_pressure_abs: float,
    start_temperature: float,
    end_temperature: float,
    time: float,
    base_pressure_abs: float,
    base_temperature: float,
    volume_uncertainty: float,
    pressure_uncertainty: float,
    temperature_uncertainty: float,
    time_uncertainty: float,
) -> float | None:
    """Return the standard uncertainty of `leak_from_decay`, m3/s at the base state.

    u^2 = sum of (dq/dx u(x))^2: the law of propagation for inputs that do not depend on each other.
    The first eight as there; the rest: standard uncertainties of the volume (m3), of each pressure reading (Pa),
    of each gas temperature (K) and of the time (s), from 0.
    A gauge read to half a division either way has u = division/sqrt(12).
    A steady error of the one gauge cancels between two readings and is better left out of `pressure_uncertainty`.
    Source: JCGM 100:2008 (GUM), 5.1.2, eq. 10.
    """
    leak = leak_from_decay(
        volume=volume,
        start_pressure_abs=start_pressure_abs,
        end_pressure_abs=end_pressure_abs,
        start_temperature=start_temperature,
        end_temperature=end_temperature,
        time=time,
        base_pressure_abs=base_pressure_abs,
        base_temperature=base_temperature,
    )
    if leak is None or not from_zero(
        volume_uncertainty, pressure_uncertainty, temperature_uncertainty, time_uncertainty
    ):
        return None
    scale = volume * base_temperature / (base_pressure_abs * time)
    parts = (
        leak / volume * volume_uncertainty,
        leak / time * time_uncertainty,
        scale / start_temperature * pressure_uncertainty,
        scale / end_temperature * pressure_uncertainty,
        scale * start_pressure_abs / start_temperature**2 * temperature_uncertainty,
        scale * end_pressure_abs / end_temperature**2 * temperature_uncertainty,
    )
    return sqrt(sum(part**2 for part in parts))


@monotone(rises=("leak", "time", "base_pressure_abs"), falls=("volume",))
def leak_drop(*, volume: float, leak: float, time: float, base_pressure_abs: float) -> float | None:
    """Return how far a steady leak lowers the pressure of a closed volume, Pa: dp = pb q t/V.

    `volume`: m3, above 0; `leak`: m3/s at the base pressure and the gas's own temperature, from 0; `time`: s, from 0;
    `base_pressure_abs`: Pa, above 0.
    Assumes one temperature, and a drop that is small beside the test pressure, so that the leak stays as it is.

    8 cm3/h out of 10 m of 6.3 mm hose lowers it by 2 mbar in five minutes: less than a gauge shows.
    >>> round(leak_drop(volume=311.725e-6, leak=8e-6 / 3600, time=300.0, base_pressure_abs=101325.0))
    217
    """
    if not above_zero(volume, base_pressure_abs) or not from_zero(leak, time):
        return None
    return base_pressure_abs * leak * time / volume


@monotone(rises=("volume", "pressure_step"), falls=("time", "base_pressure_abs"))
def least_leak_seen(*, volume: float, pressure_step: float, time: float, base_pressure_abs: float) -> float | None:
    """Return the least leak that moves a gauge by one readable step in a time, m3/s at the base: V dp/(pb t).

    `volume`: m3, above 0; `pressure_step`: least change that the gauge shows, Pa, above 0; `time`: s, above 0;
    `base_pressure_abs`: Pa, above 0.
    The inverse of `leak_drop`; a change in temperature hides as much as `warmth_pressure_change` says.

    >>> round(least_leak_seen(volume=311.725e-6, pressure_step=0.1e5, time=600.0, base_pressure_abs=101325.0) * 3.6e9)
    185
    """
    if not above_zero(volume, pressure_step, time, base_pressure_abs):
        return None
    return volume * pressure_step / (base_pressure_abs * time)


@monotone(rises=("volume", "pressure_step"), falls=("leak", "base_pressure_abs"))
def waiting_time(*, volume: float, pressure_step: float, leak: float, base_pressure_abs: float) -> float | None:
    """Return how long to wait until a leak moves a gauge by one readable step, s: V dp/(pb q).

    Arguments as `least_leak_seen`; `leak`: m3/s at the base, above 0.
    """
    if not above_zero(volume, pressure_step, leak, base_pressure_abs):
        return None
    return volume * pressure_step / (base_pressure_abs * leak)


@monotone(rises=("end_temperature",), falls=("start_temperature",))
def warmth_pressure_change(*, pressure_abs: float, start_temperature: float, end_temperature: float) -> float | None:
    """Return the change in pressure of a tight volume by temperature alone, Pa: p (T2/T1 - 1).

    `pressure_abs`: at the start, Pa, from 0; temperatures of the gas: K, above 0.
    A fall looks like a leak, a rise hides one.
    Source: Charles's law (Gay-Lussac), any text on gases.

    >>> round(warmth_pressure_change(pressure_abs=6e5, start_temperature=293.15, end_temperature=298.15))
    10234
    """
    if not (from_zero(pressure_abs) and above_zero(start_temperature, end_temperature)):
        return None
    return pressure_abs * (end_temperature / start_temperature - 1.0)


@monotone(rises=("bubble_diameter", "bubbles_a_second", "inside_pressure_abs"), falls=("base_pressure_abs",))
def bubble_leak(
    *,
    bubble_diameter: float,
    bubbles_a_second: float,
    inside_pressure_abs: float,
    base_pressure_abs: float,
) -> float | None:
    """Return the leak that feeds a train of bubbles, m3/s at the base pressure: pi/6 d^3 f p/pb.

    `bubble_diameter`: m when it lets go, above 0; `bubbles_a_second`: 1/s, from 0;
    `inside_pressure_abs`: of the gas in the bubble, Pa, close to that around it; `base_pressure_abs`: Pa; above 0.
    With the slowest train that an inspector waits for, this is the least leak that a bubble test shows.
    Source: volume of a sphere and Boyle's law.

    One bubble of 1 mm every ten seconds:
    >>> q = bubble_leak(bubble_diameter=1e-3, bubbles_a_second=0.1, inside_pressure_abs=101325.0,
    ...     base_pressure_abs=101325.0)
    >>> round(q * 3.6e9, 2)
    0.19
    """
    if not above_zero(bubble_diameter, inside_pressure_abs, base_pressure_abs) or not from_zero(bubbles_a_second):
        return None
    return pi / 6.0 * bubble_diameter**3 * bubbles_a_second * inside_pressure_abs / base_pressure_abs


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


@monotone(rises=("limit",), falls=("leak",))
def share_within_limit(*, leak: float, standard_uncertainty: float, limit: float) -> float | None:
    """Return the probability that the true leak is at most the limit (no unit).

    Phi((limit - leak)/u): a measured value with a normal spread and no earlier knowledge.
    All three in the same unit; `standard_uncertainty` above 0.
    Source: JCGM 106:2012, 7.3.2 (from memory).

    >>> share_within_limit(leak=8.0, standard_uncertainty=1.0, limit=8.0)
    0.5
    """
    if not above_zero(standard_uncertainty) or not (isfinite(leak) and isfinite(limit)):
        return None
    return 0.5 * (1.0 + erf((limit - leak) / (standard_uncertainty * sqrt(2.0))))
