"""A leak in the units that gauges, standards and makers write it in.

A throughput p V/t says how much gas only at a known temperature; all here that cross to mol or kg ask for it.
Sources: SI Brochure; 1 atm = 101325 Pa (CGPM 1954).
"""

from __future__ import annotations

from math import isfinite

from rigcheck.physics.gas_properties import GAS_CONSTANT
from rigcheck.physics.intervals import monotone
from rigcheck.physics.validity import above_zero

__all__ = [
    "LEAK_UNITS",
    "leak_in_pa_m3",
    "leak_in_unit",
    "molar_leak",
    "volume_leak",
]

LEAK_UNITS = {
    "Pa m3/s": 1.0,
    "mbar L/s": 0.1,
    "atm cm3/s": 0.101325,
    "atm cm3/min": 0.101325 / 60.0,
    "atm cm3/h": 0.101325 / 3600.0,
    "atm L/min": 101.325 / 60.0,
    "Torr L/s": 101325.0 / 760.0 * 1e-3,
}
"""Pa m3/s in one of each; "atm cm3" is a cm3 at 101325 Pa and the temperature of the gas."""


@monotone(rises=("value",))
def leak_in_pa_m3(*, value: float, unit: str) -> float | None:
    """Return a leak in Pa m3/s, from a unit of `LEAK_UNITS`; None for any other unit.

    >>> leak_in_pa_m3(value=1.0, unit="mbar L/s")
    0.1
    """
    factor = LEAK_UNITS.get(unit)
    return None if factor is None or not isfinite(value) else value * factor


@monotone(rises=("throughput",))
def leak_in_unit(*, throughput: float, unit: str) -> float | None:
    """Return a leak in a unit of `LEAK_UNITS`, from `throughput` in Pa m3/s: the inverse of `leak_in_pa_m3`.

    >>> round(leak_in_unit(throughput=1.0, unit="atm cm3/s"), 3)
    9.869
    """
    factor = LEAK_UNITS.get(unit)
    return None if factor is None or not isfinite(throughput) else throughput / factor


@monotone(rises=("throughput",), falls=("temperature",))
def molar_leak(*, throughput: float, temperature: float) -> float | None:
    """Return a leak in mol/s: pV/(R T).

    `throughput`: Pa m3/s; `temperature`: K, above 0, at which the throughput is counted.

    >>> round(molar_leak(throughput=1.0, temperature=273.15) * 1e6, 1)
    440.3
    """
    return throughput / (GAS_CONSTANT * temperature) if isfinite(throughput) and above_zero(temperature) else None


@monotone(rises=("throughput",), falls=("base_pressure_abs",))
def volume_leak(*, throughput: float, base_pressure_abs: float) -> float | None:
    """Return a leak as volume at a base pressure and the gas's own temperature, m3/s: pV/pb.

    `throughput`: Pa m3/s; `base_pressure_abs`: Pa, above 0.

    A leak of 0.1 Pa m3/s is about a litre of free gas every quarter of an hour:
    >>> round(volume_leak(throughput=0.1, base_pressure_abs=101325.0) * 900 * 1000, 2)
    0.89
    """
    return throughput / base_pressure_abs if isfinite(throughput) and above_zero(base_pressure_abs) else None
