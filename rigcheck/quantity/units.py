"""The closed table of units: each with its dimension, its exact factor and where that is from.

Base units: Pa, m, m2, m3, kg, K, m3/s, s, N, W, m/s, deg (angles), month (ages), 1 (shares, counts).
Factors of inch, foot, pound, and what follows from them are exact by definition
(NIST SP 811, 2008 edition, Appendix B.8: bold factors; international yard and pound of 1959).
"""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

__all__ = ["ATMOSPHERE", "UNITS", "Unit", "find_unit", "units_of"]

ATMOSPHERE = 101_325
"""Pa; the standard atmosphere (NIST SP 811, B.8), by which an absolute pressure becomes gauge."""


class Unit(NamedTuple):
    """A unit: value in base units = (number + `offset`) x `factor`."""

    name: str
    dimension: str
    factor: Fraction
    offset: Fraction = Fraction(0)


_SPELLINGS: dict[str, Unit] = {}
_FOLDED: dict[str, Unit | None] = {}


def _declare(dimension: str, name: str, factor: object, *others: str, offset: object = 0) -> None:
    unit = Unit(name, dimension, Fraction(str(factor)), Fraction(str(offset)))
    for spelling in (name, *others):
        _SPELLINGS[spelling] = unit
        folded = spelling.casefold()
        rival = _FOLDED.setdefault(folded, unit)
        if rival is not None and rival != unit:
            _FOLDED[folded] = None


_INCH = Fraction("0.0254")
_FOOT = Fraction("0.3048")
_POUND = Fraction("0.45359237")
_GRAVITY = Fraction("9.80665")  # m/s2, standard acceleration of free fall (NIST SP 811, B.8)
_POUND_FORCE = _POUND * _GRAVITY
_LITRE = Fraction(1, 1000)

_declare("pressure", "Pa", 1, "pascal", "pascals")
_declare("pressure", "kPa", 1_000)
_declare("pressure", "MPa", 1_000_000)
_declare("pressure", "bar", 100_000, "bars")
_declare("pressure", "mbar", 100, "millibar")
_declare("pressure", "psi", _POUND_FORCE / _INCH**2, "lbf/in2", "lb/in2")
_declare("pressure", "atm", ATMOSPHERE)
_declare("pressure", "kgf/cm2", _GRAVITY * 10_000, "kg/cm2")
_declare("length", "m", 1, "metre", "metres", "meter", "meters")
_declare("length", "mm", "0.001", "millimetre", "millimetres", "millimeter", "millimeters")
_declare("length", "cm", "0.01", "centimetre", "centimetres", "centimeter", "centimeters")
_declare("length", "km", 1000)
_declare("length", "in", _INCH, "inch", "inches", '"')
_declare("length", "ft", _FOOT, "foot", "feet")
_declare("length", "yd", 3 * _FOOT, "yard", "yards")
_declare("area", "m2", 1, "m²")
_declare("area", "cm2", "0.0001", "cm²")
_declare("area", "mm2", "0.000001", "mm²")
_declare("area", "ft2", _FOOT**2, "sq ft", "ft²")
_declare("area", "in2", _INCH**2, "sq in", "in²")
_declare("volume", "m3", 1, "m³", "cubic metre", "cubic metres")
_declare("volume", "L", _LITRE, "l", "litre", "litres", "liter", "liters")
_declare("volume", "mL", _LITRE / 1000, "ml", "cm3", "cm³")
_declare("volume", "ft3", _FOOT**3, "cu ft", "cubic foot", "cubic feet", "ft³")
_declare("mass", "kg", 1, "kgs", "kilos", "kilogram", "kilograms")
_declare("mass", "g", "0.001")
_declare("mass", "t", 1000, "tonne", "tonnes")
_declare("mass", "lb", _POUND, "lbs", "pound", "pounds")
_declare("temperature", "degC", 1, "°C", "C", "celsius", offset="273.15")
_declare("temperature", "degF", Fraction(5, 9), "°F", "F", "fahrenheit", offset="459.67")
_declare("temperature", "K", 1, "kelvin")
_declare("flow", "m3/h", Fraction(1, 3600), "m³/h", "m3/hr", "m³/hr")
_declare("flow", "m3/min", Fraction(1, 60), "m³/min")
_declare("flow", "m3/s", 1, "m³/s")
_declare("flow", "L/min", _LITRE / 60, "l/min", "lpm", "litres per minute", "liters per minute")
_declare("flow", "L/h", _LITRE / 3600, "l/h", "L/hr", "l/hr", "litres per hour", "liters per hour")
_declare("flow", "L/s", _LITRE, "l/s")
_declare("flow", "mL/min", _LITRE / 60_000, "ml/min", "cm3/min")
_declare("flow", "mL/h", _LITRE / 3_600_000, "ml/h", "cm3/h")
_declare("flow", "ft3/h", _FOOT**3 / 3600, "cfh", "scfh", "ft³/h", "ft3/hr", "cu ft/h", "cu ft/hr")
_declare("flow", "ft3/min", _FOOT**3 / 60, "cfm", "scfm", "ft³/min", "cu ft/min")
_declare("time", "s", 1, "sec", "second", "seconds")
_declare("time", "min", 60, "mins", "minute", "minutes")
_declare("time", "h", 3600, "hr", "hrs", "hour", "hours")
_declare("time", "day", 86_400, "d", "days")
_declare("time", "week", 604_800, "weeks")
_declare("age", "month", 1, "months")
_declare("age", "year", 12, "years", "yr", "yrs", "y", "a")
_declare("angle", "deg", 1, "°", "degree", "degrees")
_declare("angle", "turn", 360, "turns", "rev")
_declare("force", "N", 1)
_declare("force", "kN", 1000)
_declare("force", "lbf", _POUND_FORCE)
_declare("force", "kgf", _GRAVITY)
_declare("power", "W", 1)
_declare("power", "kW", 1000)
_declare("speed", "m/s", 1)
_declare("speed", "m/min", Fraction(1, 60))
_declare("speed", "mm/min", Fraction(1, 60_000))
_declare("speed", "ft/min", _FOOT / 60)
_declare("share", "%", "0.01", "percent", "per cent")
_declare("share", "ppm", "0.000001")
_declare("share_per_hour", "per h", 1, "/h", "per hour", "1/h")
_declare("share_per_hour", "%/h", "0.01", "% per h", "% per hour", "percent per hour")

UNITS = _SPELLINGS
"""Every spelling of every unit. A share or a count may also be a plain number."""


def find_unit(spelling: str) -> Unit | None:
    """Return the unit of a spelling: exactly, or else without regard to case if that is clear."""
    return _SPELLINGS.get(spelling) or _FOLDED.get(spelling.casefold())


def units_of(dimension: str) -> list[str]:
    """Return the names of the units of a dimension, in the order of the table."""
    return list(dict.fromkeys(u.name for u in _SPELLINGS.values() if u.dimension == dimension))
