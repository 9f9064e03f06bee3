"""Units: a closed table, found by any of its spellings, and never by a guess."""

from __future__ import annotations

import pytest

from rigcheck.quantity.units import UNITS, find_unit, units_of


@pytest.mark.parametrize("spelling", sorted(UNITS))
def test_every_spelling_finds_its_own_unit_exactly(spelling: str) -> None:
    assert find_unit(spelling) is UNITS[spelling]


@pytest.mark.parametrize(
    ("spelling", "name"),
    [("BAR", "bar"), ("Psi", "psi"), ("KPA", "kPa"), ("LITRES", "L"), ("DegC", "degC"), ("Mm", "mm")],
)
def test_case_does_not_count_where_the_meaning_is_clear(spelling: str, name: str) -> None:
    found = find_unit(spelling)
    assert found is not None
    assert found.name == name


@pytest.mark.parametrize("spelling", ["", "b", "furlong", "bar ", "kilo", "m4"])
def test_an_unknown_spelling_is_no_unit(spelling: str) -> None:
    assert find_unit(spelling) is None


def test_a_folded_spelling_never_means_two_different_units() -> None:
    folded: dict[str, set[str]] = {}
    for spelling, unit in UNITS.items():
        folded.setdefault(spelling.casefold(), set()).add(unit.name)
    for spelling, names in folded.items():
        found = find_unit(spelling.upper())
        if len(names) > 1 and spelling.upper() not in UNITS:
            assert found is None


def test_the_units_of_a_dimension_are_named_once_each_in_the_order_of_the_table() -> None:
    assert units_of("pressure") == ["Pa", "kPa", "MPa", "bar", "mbar", "psi", "atm", "kgf/cm2"]
    assert units_of("age") == ["month", "year"]
    assert units_of("nothing") == []


def test_every_factor_is_positive_and_every_name_is_a_spelling_of_itself() -> None:
    for unit in UNITS.values():
        assert unit.factor > 0
        assert UNITS[unit.name] is unit
