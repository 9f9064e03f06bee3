"""Quantities: every form that people write, exact at the limit, and what is refused."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest

from rigcheck.quantity.interval import Interval, at_least, at_most, equal_to, worked_out
from rigcheck.quantity.notation import NotRead, read_day, read_quantity
from rigcheck.quantity.truth import FALSE, TRUE, UNKNOWN
from rigcheck.quantity.units import ATMOSPHERE

# 1 psi is 1 lbf/in2: 0.45359237 kg x 9.80665 m/s2 / (0.0254 m)^2, exact by definition.
PSI = Fraction("0.45359237") * Fraction("9.80665") / Fraction("0.0254") ** 2

FORMS = [  # text, dimension, low and high in base units
    ("15 m", "length", "15", "15"),
    ("6 mm", "length", "0.006", "0.006"),
    ("6mm", "length", "0.006", "0.006"),
    ("1/4 in", "length", "0.00635", "0.00635"),
    ('1/4"', "length", "0.00635", "0.00635"),
    ("1 1/2 in", "length", "0.0381", "0.0381"),
    ("20 ft", "length", "6.096", "6.096"),
    ("-1 to 1 m", "length", "-1", "1"),
    ("2.5 bar", "pressure", "250000", "250000"),
    ("  2.5 bar  ", "pressure", "250000", "250000"),
    (".5 bar", "pressure", "50000", "50000"),
    ("230 bar", "pressure", "23000000", "23000000"),
    ("1e3 Pa", "pressure", "1000", "1000"),
    ("2.5 ± 0.1 bar", "pressure", "240000", "260000"),
    ("2.5 bar ± 0.1 bar", "pressure", "240000", "260000"),
    ("2.5 bar +/- 0.1 bar", "pressure", "240000", "260000"),
    ("2 to 3 bar", "pressure", "200000", "300000"),
    ("2 bar to 3 bar", "pressure", "200000", "300000"),
    ("2 – 3 bar", "pressure", "200000", "300000"),
    ("2..3 bar", "pressure", "200000", "300000"),
    ("19.5 ± 1 deg", "angle", "18.5", "20.5"),
    ("19.5 +/- 1 deg", "angle", "18.5", "20.5"),
    ("19.5±1°", "angle", "18.5", "20.5"),
    ("3 turns", "angle", "1080", "1080"),
    ("20 degC", "temperature", "293.15", "293.15"),
    ("-5 degC", "temperature", "268.15", "268.15"),
    ("−5 °C", "temperature", "268.15", "268.15"),
    ("20 ± 1 degC", "temperature", "292.15", "294.15"),
    ("68 degF", "temperature", "293.15", "293.15"),
    ("40 L", "volume", "0.04", "0.04"),
    ("40 litres", "volume", "0.04", "0.04"),
    ("2000 cu ft", "volume", "56.633693184", "56.633693184"),
    ("7 kg", "mass", "7", "7"),
    ("12 L/min", "flow", "0.0002", "0.0002"),
    ("65 %", "share", "0.65", "0.65"),
    ("0.65", "share", "0.65", "0.65"),
    ("1/10 per h", "share_per_hour", "0.1", "0.1"),
    ("10 %/h", "share_per_hour", "0.1", "0.1"),
    ("90 min", "time", "5400", "5400"),
    ("5 year", "age", "60", "60"),
    ("18 months", "age", "18", "18"),
    ("3", "count", "3", "3"),
    ("150 N", "force", "150", "150"),
    ("100 ft/min", "speed", "0.508", "0.508"),
    ("30 m2", "area", "30", "30"),
]


@pytest.mark.parametrize(("text", "dimension", "low", "high"), FORMS)
def test_each_form_that_people_write_is_read(text: str, dimension: str, low: str, high: str) -> None:
    read = read_quantity(text, dimension)
    assert (read.lo, read.hi) == (float(Fraction(low)), float(Fraction(high)))
    assert (read.dimension, read.text) == (dimension, text.strip())


ABSOLUTE = ["2.5 bara", "2.5 bar abs", "2.5 bar absolute", "2.5 bar(a)", "2.5 bar (a)"]
GAUGE = ["2.5 bar", "2.5 barg", "2.5 bar gauge", "2.5 bar g", "2.5 bar(g)", "2.5 bar (g)"]


@pytest.mark.parametrize("text", ABSOLUTE)
def test_an_absolute_pressure_is_one_standard_atmosphere_less_as_gauge(text: str) -> None:
    assert read_quantity(text, "pressure").lo == 250_000 - ATMOSPHERE


@pytest.mark.parametrize("text", GAUGE)
def test_a_pressure_is_gauge_unless_it_says_absolute(text: str) -> None:
    assert read_quantity(text, "pressure").lo == 250_000


def test_no_pressure_at_all_may_be_written_as_absolute_zero() -> None:
    assert read_quantity("0 bar abs", "pressure").lo == -ATMOSPHERE


# --- exact at the limit, in any unit ---

LIMIT = read_quantity("15 psi", "pressure")


def test_fifteen_psi_holds_against_fifteen_psi() -> None:
    assert at_most(read_quantity("15 psi", "pressure"), LIMIT) is TRUE
    assert at_least(read_quantity("15 psi", "pressure"), LIMIT) is TRUE


@pytest.mark.parametrize("digits", range(3, 16))
def test_fifteen_psi_in_kpa_holds_cut_after_any_digit(digits: int) -> None:
    kilopascals = PSI * 15 / 1000
    cut = Fraction(int(kilopascals * 10**digits), 10**digits)
    value = read_quantity(f"{float(cut):.{min(digits, 13)}f} kPa", "pressure")
    assert at_most(value, LIMIT) is TRUE


@pytest.mark.parametrize("digits", range(4, 13))
def test_fifteen_psi_in_kpa_holds_rounded_to_four_decimals_and_more(digits: int) -> None:
    value = read_quantity(f"{float(PSI * 15 / 1000):.{digits}f} kPa", "pressure")
    assert at_most(value, LIMIT) is TRUE
    assert at_least(value, LIMIT) is TRUE
    assert equal_to(value, LIMIT) is TRUE


@pytest.mark.parametrize("text", ["103.43 kPa", "103.422 kPa", "1.0343 bar", "15.0001 psi", "15.01 psi"])
def test_what_is_written_beyond_the_limit_is_beyond_it(text: str) -> None:
    assert at_most(read_quantity(text, "pressure"), LIMIT) is FALSE


SAME = [  # the same value in two units; sources: exact definitions, NIST SP 811 App. B.8
    ("1/4 in", "6.35 mm", "length"),
    ("20 ft", "6.096 m", "length"),
    ("1.5 turn", "540 deg", "angle"),
    ("2 h", "120 min", "time"),
    ("5 year", "60 month", "age"),
    ("50 degC", "122 degF", "temperature"),
    ("1.5 bar", "150 kPa", "pressure"),
    ("300 lb", "136.077711 kg", "mass"),
    ("2000 ft3", "56.633693184 m3", "volume"),
    ("33.3 %", "0.333", "share"),
]


@pytest.mark.parametrize(("one", "other", "dimension"), SAME)
def test_one_value_in_two_units_is_at_its_own_limit(one: str, other: str, dimension: str) -> None:
    a, b = read_quantity(one, dimension), read_quantity(other, dimension)
    assert [at_most(a, b), at_most(b, a), at_least(a, b), at_least(b, a), equal_to(a, b)] == [TRUE] * 5


def test_a_grain_never_forgives_within_one_unit() -> None:
    limit = read_quantity("20 deg", "angle")
    assert at_most(read_quantity("20.000001 deg", "angle"), limit) is FALSE


def test_a_coarse_number_is_not_equal_to_a_fine_one_near_it() -> None:
    assert equal_to(read_quantity("103 kPa", "pressure"), LIMIT) is FALSE


# --- intervals ---


@pytest.mark.parametrize(
    ("text", "most", "least"),
    [
        ("18 ± 2 deg", TRUE, UNKNOWN),
        ("22 ± 2 deg", UNKNOWN, TRUE),
        ("19.5 ± 1 deg", UNKNOWN, UNKNOWN),
        ("17 ± 2 deg", TRUE, FALSE),
        ("23 ± 2 deg", FALSE, TRUE),
    ],
)
def test_an_interval_is_judged_only_where_all_of_it_lies_on_one_side(text: str, most: object, least: object) -> None:
    value, bound = read_quantity(text, "angle"), read_quantity("20 deg", "angle")
    assert at_most(value, bound) is most
    assert at_least(value, bound) is least


def test_wide_intervals_that_overlap_are_neither_equal_nor_different() -> None:
    assert equal_to(read_quantity("2 to 3 bar", "pressure"), read_quantity("2.5 bar", "pressure")) is UNKNOWN
    assert equal_to(read_quantity("2 to 3 bar", "pressure"), read_quantity("4 bar", "pressure")) is FALSE


def test_two_values_of_one_size_and_dimension_are_one_value() -> None:
    assert read_quantity("1.5 bar", "pressure") == read_quantity("150 kPa", "pressure")
    assert len({read_quantity("1.5 bar", "pressure"), read_quantity("150 kPa", "pressure")}) == 1
    assert Interval(1, 1, "length") != Interval(1, 1, "mass")
    assert Interval(1, 1, "length") != 1


# --- refused ---

REFUSED = [  # text, dimension, a word of what is wrong, a word of what to write
    ("12", "length", "no unit", "15 m"),
    ("12 bar", "length", "is a pressure", "units: m"),
    ("twelve m", "length", "is no length", "15 m"),
    ("", "length", "is no length", "15 m"),
    ("inf m", "length", "is no length", "15 m"),
    ("nan m", "length", "is no length", "15 m"),
    ("3 furlongs", "length", "is no unit", "units: m"),
    ("3 weeks", "age", "is a time", "5 year"),
    ("017 m", "length", "leading zero", "without it"),
    ("1_000 Pa", "pressure", "underscore", "without it"),
    ("1,500 bar", "pressure", "comma", "decimal point"),
    ("1:30", "time", "colon", "90 min"),
    ("3 to 2 bar", "pressure", "backwards", "smaller number first"),
    ("5 ± -1 bar", "pressure", "backwards", "smaller number first"),
    ("1/0 in", "length", "is no unit", "units: m"),
    ("-274 degC", "temperature", "colder", "-273.15"),
    ("-2 bar", "pressure", "less than no pressure", "0 bar abs"),
    ("-0.1 bar abs", "pressure", "less than no pressure", "0 bar abs"),
    ("1" + " " * 5000 + "x", "length", "too long", "15 m"),
    ("9" * 5000, "count", "too long", "3"),
]


@pytest.mark.parametrize(("text", "dimension", "wrong", "write"), REFUSED)
def test_what_is_no_quantity_is_refused_with_what_to_write(text: str, dimension: str, wrong: str, write: str) -> None:
    with pytest.raises(NotRead) as refused:
        read_quantity(text, dimension)
    assert wrong in refused.value.wrong
    assert write in refused.value.write
    assert len(refused.value.wrong) < 200


# --- days ---


@pytest.mark.parametrize(
    ("text", "first", "last"),
    [
        ("2026-11-20", date(2026, 11, 20), date(2026, 11, 20)),
        ("2026-1-5", date(2026, 1, 5), date(2026, 1, 5)),
        ("2026-11", date(2026, 11, 1), date(2026, 11, 30)),
        ("2024-02", date(2024, 2, 1), date(2024, 2, 29)),
        ("2026-02", date(2026, 2, 1), date(2026, 2, 28)),
        ("2026", date(2026, 1, 1), date(2026, 12, 31)),
        ("9999-12", date(9999, 12, 1), date(9999, 12, 31)),
    ],
)
def test_a_month_or_a_year_is_the_interval_of_its_days(text: str, first: date, last: date) -> None:
    read = read_day(text)
    assert (date.fromordinal(int(read.lo)), date.fromordinal(int(read.hi))) == (first, last)


@pytest.mark.parametrize(
    "text", ["2026-02-30", "2026-13", "2026-00", "2026-11-00", "0000", "2-11-2026", "32.13.2026", "", "soon"]
)
def test_a_day_that_no_calendar_has_is_refused(text: str) -> None:
    with pytest.raises(NotRead, match="2026-11"):
        read_day(text)


# --- computed values ---


@pytest.mark.parametrize(
    ("lo", "hi", "dimension", "shown"),
    [
        (150_000, 150_000, "pressure", "1.5 bar"),
        (100_000, 150_000, "pressure", "1 to 1.5 bar"),
        (293.15, 293.15, "temperature", "20 degC"),
        (18, 18, "age", "18 month"),
        (60, 60, "age", "5 year"),
        (13, 13, "time", "13 s"),
        (119, 120, "time", "1.983 to 2 min"),
        (7200, 7200, "time", "2 h"),
        (259_200, 259_200, "time", "3 day"),
        (6.988, 7.199, "volume", "6.988 to 7.199 m3"),
        (0.04, 0.04, "volume", "40 L"),
        (380 / 3.6e6, 380 / 3.6e6, "flow", "380 L/h"),
        (4.6 / 3600, 4.6 / 3600, "flow", "4.6 m3/h"),
        (1e-7 / 3600, 2e-7 / 3600, "flow", "0.1 to 0.2 mL/h"),
        (12_345, 12_345, "count", "12340"),
        (0.0016, 0.0016, "length", "1.6 mm"),
        (0.72, 0.8, "length", "0.72 to 0.8 m"),
        (318.8, 318.8, "pressure", "3.188 mbar"),
        (0, 0, "pressure", "0 bar"),
        (185_674, 202_349, "time", "51.58 to 56.21 h"),
        (0.65, 0.65, "share", "65 %"),
        (3, 3, "count", "3"),
        (date(2026, 11, 20).toordinal(), date(2026, 11, 20).toordinal(), "day", "2026-11-20"),
    ],
)
def test_a_computed_value_is_shown_in_the_unit_that_people_use(
    lo: float, hi: float, dimension: str, shown: str
) -> None:
    assert worked_out(lo, hi, dimension).text == shown
