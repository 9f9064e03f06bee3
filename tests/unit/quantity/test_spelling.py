"""What people write for a quantity or a day, and what is asked back since it may mean two."""

from __future__ import annotations

import pytest

from rigcheck.quantity.notation import NotRead, half_last_digit, read_day, read_quantity


@pytest.mark.parametrize(
    ("written", "plain", "dimension"),
    [
        ("2,5 bar", "2.5 bar", "pressure"),
        ("0,125 mm", "0.125 mm", "length"),
        ("¼ in", "1/4 in", "length"),
        ("1¼ in", "1 1/4 in", "length"),
        ("1-1/2 in", "1 1/2 in", "length"),
        ("1/4”", "1/4 in", "length"),
        ('3/8"', "3/8 in", "length"),
        ("150-200 bar", "150 to 200 bar", "pressure"),
        ("1,5-2,5 bar", "1.5 to 2.5 bar", "pressure"),
        ("1/4-3/8 in", "1/4 to 3/8 in", "length"),
        ("10\u00a0m", "10 m", "length"),
        ("5 ft 6 in", "66 in", "length"),
        ("5'6\"", "66 in", "length"),
        ("5′ 6½″", "66 1/2 in", "length"),
        ("5 ft 6.25 in", "66 1/4 in", "length"),
        ("33'", "33 ft", "length"),
        ("1/4''", "1/4 in", "length"),
        ("5/16 in.", "5/16 in", "length"),
        ("1 min 30 s", "90 s", "time"),
        ("1 h 30 min", "90 min", "time"),
        ("1 year 6 months", "18 months", "age"),
        ("150 bar +/- 5", "150 ± 5 bar", "pressure"),
        ("150 bar ± 10 %", "150 ± 15 bar", "pressure"),
        ("7 cu ft/hr", "7 ft3/h", "flow"),
    ],
)
def test_it_is_read_as_its_plain_form(written: str, plain: str, dimension: str) -> None:
    one, other = read_quantity(written, dimension), read_quantity(plain, dimension)
    assert (one.lo, one.hi) == (other.lo, other.hi)
    assert half_last_digit(one) == half_last_digit(other)


@pytest.mark.parametrize(
    ("written", "range_of_it"),
    [("about 150 bar", "140 to 160 bar"), ("~2.5 bar", "2.4 to 2.6 bar"), ("ca. 200 bar", "100 to 300 bar")],
)
def test_about_is_one_step_of_its_last_digit_each_way_and_is_said_back(written: str, range_of_it: str) -> None:
    value, meant = read_quantity(written, "pressure"), read_quantity(range_of_it, "pressure")
    assert (value.lo, value.hi) == (meant.lo, meant.hi)
    assert value.text == f"{written}, read as {range_of_it}"


@pytest.mark.parametrize("written", ["5 ft 13 in", "1 min 90 s", "5 m 6 in", "1/4'", "5'6", "10m50", "1 ft 2 ft"])
def test_two_units_that_do_not_go_together_are_refused(written: str) -> None:
    for dimension in ("length", "time"):
        with pytest.raises(NotRead):
            read_quantity(written, dimension)


@pytest.mark.parametrize("written", ["up to 15 m", "min 10 m", "> 10 m", "At least 10 m"])
def test_one_end_alone_is_asked_for_the_other(written: str) -> None:
    with pytest.raises(NotRead, match="one end only") as told:
        read_quantity(written, "length")
    assert "both ends, as '10 to 15 m'" in told.value.write


def test_a_comma_that_may_part_thousands_is_asked_back() -> None:
    with pytest.raises(NotRead, match="decimal or a thousands mark"):
        read_quantity("1,500 L", "volume")


@pytest.mark.parametrize(
    ("written", "plain"),
    [
        ("20 Nov 2026", "2026-11-20"),
        ("20.11.2026", "2026-11-20"),
        ("11/20/2026", "2026-11-20"),
        ("4/4/2026", "2026-04-04"),
        ("March 1, 2024", "2024-03-01"),
        ("Nov 2026", "2026-11"),
        ("11/2026", "2026-11"),
        ("2026/11/20", "2026-11-20"),
    ],
)
def test_a_day_that_can_mean_only_one_is_read(written: str, plain: str) -> None:
    assert (read_day(written).lo, read_day(written).hi) == (read_day(plain).lo, read_day(plain).hi)


@pytest.mark.parametrize("written", ["3/4/2026", "3.4.2026", "11-12-2026"])
def test_a_day_that_can_mean_two_is_asked_back(written: str) -> None:
    with pytest.raises(NotRead, match="one of two days"):
        read_day(written)
