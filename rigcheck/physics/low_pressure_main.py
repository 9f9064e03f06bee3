"""Historic formulas for the bore of a pipe that carries acetylene near atmospheric pressure.

Source of all: Leeds & Butterfield, Acetylene: The Principles of Its Generation and Use, 2nd ed., ch. VII.
They stand here as a check on `hose_flow` and for old installations; a new line is sized by `hose_sizing`.
"""

from __future__ import annotations

from math import sqrt

from rigcheck.physics.intervals import monotone

__all__ = ["bernat_bore", "gravity_constant", "morel_bore"]


_WATER_COLUMN = 9.80665
"""Pa of 1 mm of water at 1000 kg/m3: the conventional millimetre of water (ISO 80000-4, from memory)."""
_INCH = 0.0254
_FOOT = 0.3048
_HOUR = 3600.0


@monotone(rises=("volume_flow", "length"), falls=("pressure_drop",))
def morel_bore(*, volume_flow: float, length: float, pressure_drop: float) -> float | None:
    """Return the bore of an acetylene main by Morel's formula, m.

    D = 1.155 (Q^2 l/h)^(1/5), with D in cm, Q in m3/h, l in m, h in mm of water.
    `volume_flow`: m3/s, above 0; `length`: m, above 0; `pressure_drop`: Pa, above 0 and below 5000
    (a low-pressure service).
    Assumes turbulent acetylene near atmospheric pressure.

    >>> round(morel_bore(volume_flow=1 / 3600, length=100.0, pressure_drop=98.0665) * 100, 3)
    1.831
    """
    if not (volume_flow > 0.0 and length > 0.0 and 0.0 < pressure_drop < 5000.0):
        return None
    head = pressure_drop / _WATER_COLUMN
    return float(0.01155 * ((volume_flow * _HOUR) ** 2 * length / head) ** 0.2)


@monotone(rises=("volume_flow", "length"), falls=("pressure_drop",))
def bernat_bore(*, volume_flow: float, length: float, pressure_drop: float) -> float | None:
    """Return the bore of an acetylene main by Bernat's formula, m.

    d = 0.05552 (Q^2 l/h)^(1/5), with d in inches, Q in ft3/h, l in ft, h in inches of water.
    Arguments as `morel_bore`; the book prefers Morel's, which asks for a fifth less bore.

    >>> round(bernat_bore(volume_flow=85 * 0.3048**3 / 3600, length=350 * 0.3048,
    ...     pressure_drop=1.5 * 25.4 * 9.80665) / 0.0254, 3)
    0.977
    """
    if not (volume_flow > 0.0 and length > 0.0 and 0.0 < pressure_drop < 5000.0):
        return None
    cubic_feet = volume_flow * _HOUR / _FOOT**3
    inches_of_water = pressure_drop / (_WATER_COLUMN * 25.4)
    return float(0.05552 * _INCH * (cubic_feet**2 * (length / _FOOT) / inches_of_water) ** 0.2)


@monotone(rises=("constant_unit_gravity",), falls=("specific_gravity",))
def gravity_constant(*, constant_unit_gravity: float, specific_gravity: float) -> float | None:
    """Return a pipe formula's flow constant for a gas of another density.

    C = C1/sqrt(s): at one drop, a heavier gas flows slower.
    `constant_unit_gravity`: the constant for a gas as dense as air, above 0, in any unit;
    `specific_gravity`: density over that of air, above 0.

    >>> round(gravity_constant(constant_unit_gravity=1313.5, specific_gravity=0.91), 1)
    1376.9
    """
    if not (constant_unit_gravity > 0.0 and specific_gravity > 0.0):
        return None
    return constant_unit_gravity / sqrt(specific_gravity)
