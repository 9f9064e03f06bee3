"""Limits: their value and dimension, and which of them is in force under a code on a day."""

from __future__ import annotations

from datetime import date

import pytest

from rigcheck.quantity.notation import NotRead, read_quantity
from rigcheck.rules.limits import DatedLimit, LimitDefinition, first_day, in_force, limit_value


@pytest.mark.parametrize(
    ("text", "dimension", "value"),
    [
        ("20 deg", "angle", 20.0),
        ("-20 degC", "temperature", 253.15),
        ("1/10 per h", "share_per_hour", 0.1),
        ("1 1/2 in", "length", 0.0381),
        ("65 %", "share", 0.65),
        ("3", "count", 3.0),
        ("1.5 bar abs", "pressure", 48_675.0),
        ("30 psia", "pressure", read_quantity("30 psia", "pressure").lo),
        ("5 year", "age", 60.0),
    ],
)
def test_the_unit_of_a_limit_tells_its_dimension(text: str, dimension: str, value: float) -> None:
    read = limit_value(text)
    assert read is not None
    assert (read.dimension, read.lo, read.hi) == (dimension, value, value)


def test_none_withdraws_a_limit() -> None:
    assert limit_value("none") is None


@pytest.mark.parametrize("text", ["20 furlongs", "", "about 20 deg", "20 ± 1 deg", "10 to 20 deg"])
def test_a_limit_that_is_no_single_value_is_refused(text: str) -> None:
    with pytest.raises(NotRead):
        limit_value(text)


def _limit(code: str, since: str, value: str, layer: int = 0, name: str = "tilt") -> DatedLimit:
    return DatedLimit(name, code, first_day(since), limit_value(value), (), layer=layer)


def _in_force(limits: list[DatedLimit], code: str, day: date) -> str:
    found = in_force(limits, code, day.toordinal()).get("tilt")
    return "absent" if found is None else found.value.text if found.value else "withdrawn"


LIMITS = [
    _limit("general", "2000", "20 deg"),
    _limit("general", "2020-06-15", "15 deg"),
    _limit("us", "2010", "18 deg"),
    _limit("us", "2022", "none"),
]


@pytest.mark.parametrize(
    ("code", "day", "text"),
    [
        ("general", date(1999, 12, 31), "absent"),
        ("general", date(2000, 1, 1), "20 deg"),
        ("general", date(2020, 6, 14), "20 deg"),
        ("general", date(2020, 6, 15), "15 deg"),
        ("us", date(2009, 12, 31), "20 deg"),
        ("us", date(2010, 1, 1), "18 deg"),
        ("us", date(2021, 12, 31), "18 deg"),
        ("us", date(2022, 1, 1), "withdrawn"),
        ("uk", date(2022, 1, 1), "15 deg"),
    ],
)
def test_the_latest_value_of_the_code_is_in_force_and_general_where_it_is_silent(
    code: str, day: date, text: str
) -> None:
    assert _in_force(LIMITS, code, day) == text
    assert _in_force(LIMITS[::-1], code, day) == text


def test_a_later_folder_wins_whatever_the_day_of_its_value() -> None:
    laid = [*LIMITS, _limit("general", "1990", "10 deg", layer=1)]
    assert _in_force(laid, "general", date(2025, 1, 1)) == "10 deg"
    assert _in_force(laid[::-1], "general", date(2025, 1, 1)) == "10 deg"


def test_a_value_of_a_later_folder_waits_for_its_day() -> None:
    laid = [*LIMITS, _limit("general", "2030", "10 deg", layer=1)]
    assert _in_force(laid, "general", date(2025, 1, 1)) == "15 deg"
    assert _in_force(laid, "general", date(2030, 1, 1)) == "10 deg"


LEAN = {"tilt": LimitDefinition("tilt", "Most lean.", "low", "angle")}
DAY = date(2026, 1, 1).toordinal()


def test_a_stricter_general_limit_of_an_own_folder_binds_under_a_code_that_asks_less() -> None:
    ours, theirs = _limit("general", "2020", "10 deg", layer=1), _limit("us", "1990", "20 deg")
    assert in_force([ours, theirs], "us", DAY, LEAN)["tilt"] is ours


def test_a_looser_general_limit_of_an_own_folder_leaves_the_code_as_it_is() -> None:
    ours, theirs = _limit("general", "2020", "30 deg", layer=1), _limit("us", "1990", "20 deg")
    assert in_force([ours, theirs], "us", DAY, LEAN)["tilt"] is theirs
