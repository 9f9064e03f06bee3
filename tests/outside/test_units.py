"""Unit factors against NIST SP 811 (2008), Appendix B, and against the general units library pint."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml
from pint import UnitRegistry

from rigcheck.quantity.notation import read_quantity
from rigcheck.quantity.units import ATMOSPHERE, UNITS, Unit

DATA = Path(__file__).with_name("data") / "unit_factors.yaml"
ROWS = yaml.load(DATA.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)  # text, so that no digit is lost
NAMED = {unit.name: unit for unit in UNITS.values()}


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["unit"])
def test_a_factor_is_that_of_nist_sp_811_to_every_printed_figure(row: dict[str, str]) -> None:
    printed, ours = Fraction(row["factor"]), NAMED[row["unit"]].factor
    if row["exact"] == "true":
        assert ours == printed
    else:
        last = Fraction(10) ** Decimal(row["factor"]).as_tuple().exponent
        assert abs(ours - printed) <= last / 2


def test_a_degree_fahrenheit_is_converted_as_nist_sp_811_says() -> None:
    # Appendix B.8, temperature: T/K = (t/degF + 459.67)/1.8 and T/K = t/degC + 273.15, both exact.
    fahrenheit, celsius = NAMED["degF"], NAMED["degC"]
    assert (fahrenheit.factor, fahrenheit.offset) == (Fraction(10, 18), Fraction("459.67"))
    assert (celsius.factor, celsius.offset) == (1, Fraction("273.15"))


def test_the_atmosphere_between_gauge_and_absolute_is_the_standard_one() -> None:
    # NIST SP 811, Appendix B.8: standard atmosphere, 1.01325 E+05 Pa exactly.
    assert Fraction("1.01325E+05") == ATMOSPHERE


# --- pint, which knows no gauge pressure: factors only ---

IN_PINT = {  # ours where pint spells it otherwise
    "kgf/cm2": "kgf/cm**2",
    "degF": "degR",  # the size of the degree
    "degC": "kelvin",
    "K": "kelvin",
    "t": "metric_ton",
    "m": "meter",
    "g": "gram",
    "h": "hour",
    "min": "minute",
    "mL": "milliliter",
    "%": "0.01",
    "ppm": "1e-6",
    "per h": "1",
    "%/h": "0.01",
}
BASES = {
    "pressure": "Pa",
    "length": "meter",
    "area": "meter**2",
    "volume": "meter**3",
    "mass": "kilogram",
    "temperature": "kelvin",
    "flow": "meter**3/second",
    "time": "second",
    "age": "month",
    "angle": "degree",
    "force": "newton",
    "power": "watt",
    "speed": "meter/second",
    "share": "",
    "share_per_hour": "",
}


@cache
def _registry() -> UnitRegistry[Any]:
    return UnitRegistry()


def _in_pint(name: str) -> str:
    if name in IN_PINT:
        return IN_PINT[name]
    above, _, below = name.partition("/")
    powered = "".join(f"**{letter}" if letter in "23" else letter for letter in above)
    return f"{powered}/{ {'h': 'hour', 'min': 'minute', 's': 'second'}[below] }" if below else powered


@pytest.mark.parametrize("unit", sorted(NAMED.values()), ids=lambda unit: unit.name)
def test_every_unit_has_the_factor_that_pint_gives_it(unit: Unit) -> None:
    theirs = _registry().Quantity(f"1 * {_in_pint(unit.name)}").to(BASES[unit.dimension]).magnitude
    assert float(unit.factor) == pytest.approx(theirs, rel=1e-12)


@pytest.mark.parametrize("text", ["-40 degF", "0 degF", "32 degF", "68 degF", "125 degF", "212 degF"])
def test_a_temperature_in_fahrenheit_is_the_one_that_pint_gives(text: str) -> None:
    theirs = _registry().Quantity(float(text.split()[0]), "degF").to("kelvin").magnitude
    assert read_quantity(text, "temperature").lo == pytest.approx(theirs, rel=1e-12)
