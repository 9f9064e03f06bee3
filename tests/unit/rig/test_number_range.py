"""What a stated number can mean: beyond its ends it is refused, beyond the usual it is asked whether it is meant."""

from __future__ import annotations

from typing import Any

import pytest

from rigcheck.quantity.notation import NotRead
from rigcheck.rig.fact import Fact
from rigcheck.rig.vocabulary_file import FactEntry


def _fact(measure: Any = "length", **entry: Any) -> Fact:
    return Fact("length", FactEntry(measure=measure, means="Length.", ask="How long?", **entry))


_HOSE = {"least": "5 cm", "greatest": "1 km", "likely": ["30 cm", "100 m"]}


@pytest.mark.parametrize("text", ["5 cm", "50 mm", "1 km", "1000 m", "3280.84 ft", "20 ± 10 m"])
def test_a_number_at_its_ends_is_read_in_any_unit(text: str) -> None:
    _fact(**_HOSE).read(text)


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("4.9 cm", "'4.9 cm' is less than 5 cm, which cannot be meant."),
        ("0 m", "'0 m' is less than 5 cm, which cannot be meant."),
        ("10 km", "'10 km' is more than 1 km, which cannot be meant."),
        ("3281 ft", "'3281 ft' is more than 1 km, which cannot be meant."),
        ("1 ± 2 m", "'1 ± 2 m' reaches beyond 5 cm, which cannot be meant."),
        ("900 ± 200 m", "'900 ± 200 m' reaches beyond 1 km, which cannot be meant."),
    ],
)
def test_a_number_of_which_an_end_cannot_be_meant_is_refused(text: str, wrong: str) -> None:
    with pytest.raises(NotRead) as refused:
        _fact(**_HOSE).read(text)
    assert refused.value.wrong == wrong
    assert refused.value.write == "Look at the number and its unit, and write a value from 5 cm to 1 km."


def test_a_day_has_its_ends_too() -> None:
    made = _fact("day", least="1900-01-01", greatest="2099-12-31")
    assert made.read("2099") is not None
    for text in ("2999-01-01", "1899"):
        with pytest.raises(NotRead, match="cannot be meant"):
            made.read(text)


def test_absolute_and_gauge_pressure_are_held_against_the_same_ends() -> None:
    pressure = _fact("pressure", least="0 bar", greatest="10 bar")
    assert pressure.read("1.013 25 bar abs".replace(" 2", "2")) is not None
    for text in ("0.9 bar abs", "-0.9 bar", "11.1 bar abs"):
        with pytest.raises(NotRead, match="cannot be meant"):
            pressure.read(text)


def test_what_is_counted_is_whole() -> None:
    welders = _fact("count", least="0", greatest="10", whole=True)
    assert welders.read("3 ± 1") is not None
    with pytest.raises(NotRead) as refused:
        welders.read("2.5")
    assert (refused.value.wrong, refused.value.write) == (
        "'2.5' is no whole number.",
        "Look at the number and its unit, and write a whole number from 0 to 10.",
    )


@pytest.mark.parametrize(
    ("text", "ends"), [("-25 deg", (25, 25)), ("-25 ± 1 deg", (24, 26)), ("-1 ± 3 deg", (0, 4)), ("2 ± 1 deg", (1, 3))]
)
def test_the_sign_of_an_angle_of_lean_says_the_direction_only(text: str, ends: tuple[float, float]) -> None:
    value = _fact("angle", least="0 deg", greatest="90 deg", by_size=True).read(text)
    assert (value.lo, value.hi) == pytest.approx(ends)  # type: ignore[union-attr]


def test_what_is_unusual_is_read_and_told_every_time() -> None:
    fact = _fact(**_HOSE)
    for text in ("300 m", "20 cm", "90 ± 20 m"):
        assert not fact.is_usual(fact.read(text))
        assert text not in fact.known
    assert fact.is_usual(fact.read("100 m")) and "100 m" in fact.known
