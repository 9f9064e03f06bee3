"""Laws of quantities: reading and showing, units there and back, and comparison."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from hypothesis import assume, given
from hypothesis import strategies as st

from rigcheck.quantity.interval import Interval, at_least, at_most, equal_to, worked_out
from rigcheck.quantity.notation import read_day, read_quantity
from rigcheck.quantity.truth import FALSE, TRUE, UNKNOWN, negation
from rigcheck.quantity.units import UNITS, Unit, units_of

NAMED = sorted({unit.name: unit for unit in UNITS.values()}.values())
UNIT = st.sampled_from(NAMED)
NUMBERS = st.decimals(0, 100_000, places=3).map(str)


@given(NUMBERS, UNIT)
def test_a_quantity_keeps_its_text_and_is_read_from_it_as_the_same(number: str, unit: Unit) -> None:
    read = read_quantity(f"{number} {unit.name}", unit.dimension)
    again = read_quantity(read.text, unit.dimension)
    assert again == read
    assert read.lo == float((Fraction(number) + unit.offset) * unit.factor)


@given(NUMBERS, st.decimals(0, 100, places=2).map(str), UNIT)
def test_a_measured_value_is_read_alike_in_all_of_its_forms(number: str, give: str, unit: Unit) -> None:
    low, high = Fraction(number) - Fraction(give), Fraction(number) + Fraction(give)
    assume(low >= 0)
    forms = [f"{number} ± {give} {unit.name}", f"{number} +/- {give} {unit.name}", f"{number}+-{give}{unit.name}"]
    forms.append(f"{float(low):.3f} to {float(high):.3f} {unit.name}")
    first, *others = (read_quantity(form, unit.dimension) for form in forms)
    assert all(other == first for other in others)


@st.composite
def _two_units(draw: st.DrawFn) -> tuple[Unit, Unit]:
    one = draw(UNIT)
    return one, UNITS[draw(st.sampled_from(units_of(one.dimension)))]


@given(NUMBERS, _two_units())
def test_a_value_taken_to_another_unit_and_back_is_the_same_value(number: str, units: tuple[Unit, Unit]) -> None:
    one, other = units
    base = (Fraction(number) + one.offset) * one.factor
    there = base / other.factor - other.offset
    assert ((there + other.offset) * other.factor / one.factor - one.offset) == Fraction(number)


@given(st.integers(1, 10**6), _two_units())
def test_a_value_written_in_another_unit_to_twelve_figures_equals_itself(number: int, units: tuple[Unit, Unit]) -> None:
    one, other = units
    there = (Fraction(number) + one.offset) * one.factor / other.factor - other.offset
    assume(10**-3 < there < 10**12)
    text = f"{float(there):.12g} {other.name}"
    assume("e" not in text.split()[0])
    assert equal_to(read_quantity(f"{number} {one.name}", one.dimension), read_quantity(text, one.dimension)) is TRUE


@given(st.decimals("0.5", 300, places=2).map(str))
def test_gauge_and_absolute_are_one_standard_atmosphere_apart(number: str) -> None:
    gauge, absolute = (read_quantity(f"{number} {unit}", "pressure").lo for unit in ("bar", "bara"))
    assert round(gauge - absolute, 6) == 101_325


@given(st.floats(0.01, 1e6), st.sampled_from(["pressure", "length", "volume", "mass", "flow", "share", "force"]))
def test_a_computed_value_as_shown_is_read_as_nearly_the_same(value: float, dimension: str) -> None:
    shown = worked_out(value, value, dimension).text
    assert abs(read_quantity(shown, dimension).lo - value) <= value * 5.1e-4  # four figures


ENDS = st.tuples(st.integers(-50, 50), st.integers(0, 20)).map(lambda one: Interval(one[0], one[0] + one[1], "count"))


@given(ENDS, ENDS)
def test_comparisons_of_intervals_are_mirror_images(one: Interval, other: Interval) -> None:
    assert at_most(one, other) is at_least(other, one)
    assert equal_to(one, other) is equal_to(other, one)


@given(ENDS, ENDS)
def test_an_interval_is_settled_only_as_all_of_its_points_are(one: Interval, other: Interval) -> None:
    points = [
        float(a) <= b for a in range(int(one.lo), int(one.hi) + 1) for b in range(int(other.lo), int(other.hi) + 1)
    ]
    expected = TRUE if all(points) else UNKNOWN if any(points) else FALSE
    assert at_most(one, other) is expected


@given(ENDS, ENDS, st.integers(0, 10), st.integers(0, 10))
def test_a_sharper_measurement_never_turns_a_settled_comparison(
    one: Interval, other: Interval, below: int, above: int
) -> None:
    wide = Interval(one.lo - below, one.hi + above, "count")
    for compare in (at_most, at_least, equal_to):
        assert compare(wide, other) in (UNKNOWN, compare(one, other))


@given(ENDS, st.integers(-50, 70))
def test_more_than_is_the_negation_of_at_most(one: Interval, number: int) -> None:
    bound = Interval(number, number, "count")
    above = TRUE if one.lo > number else FALSE if one.hi <= number else UNKNOWN
    assert negation(at_most(one, bound)) is above


@given(st.dates())
def test_every_day_is_read_from_its_own_text(day: date) -> None:
    read = read_day(day.isoformat())
    assert read.lo == read.hi == day.toordinal()


@given(st.dates(), st.dates())
def test_a_month_holds_just_its_own_days(day: date, other: date) -> None:
    month = read_day(f"{day.year:04}-{day.month:02}")
    same = (day.year, day.month) == (other.year, other.month)
    assert (month.lo <= other.toordinal() <= month.hi) is same
