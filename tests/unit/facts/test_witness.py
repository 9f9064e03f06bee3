"""Witnesses of one fact, together."""

from __future__ import annotations

from math import inf

import pytest

from rigcheck.facts.witness import Basis, Witness, settled
from rigcheck.quantity.alternatives import OneOf
from rigcheck.quantity.interval import Interval
from rigcheck.quantity.notation import read_quantity
from rigcheck.rig.thing import Thing
from rigcheck.rules.pack import Pack


@pytest.fixture
def trolley(pack: Pack) -> Thing:
    return Thing(pack.vocabulary.kinds["trolley"], "trolley", None, 1, 1)


def says(thing: Thing, value: object, basis: Basis = "written") -> Witness:
    return Witness(value, basis, (thing, "loaded_mass"))


def mass(text: str) -> Interval:
    return read_quantity(text, "mass")


def worked(lo: float, hi: float) -> Interval:
    return Interval(lo, hi, "mass")


def test_words_agree_where_they_are_the_same(trolley: Thing) -> None:
    assert settled([says(trolley, "tight"), says(trolley, "tight")]) == ("tight", True)


def test_words_that_differ_are_one_of_them(trolley: Thing) -> None:
    found, agree = settled([says(trolley, "tight"), says(trolley, "leaks"), says(trolley, "tight")])
    assert (found, agree) == (OneOf(("tight", "leaks")), False)


def test_of_two_quantities_that_agree_the_better_known_counts(trolley: Thing) -> None:
    found, agree = settled([says(trolley, mass("170 kg")), says(trolley, worked(157.0, 174.7))])
    assert agree
    assert (found.lo, found.hi) == (170.0, 170.0)


def test_overlap_is_weaker_than_agreement(trolley: Thing) -> None:
    # ISO 13528 (E_n, from memory): |10.0 - 10.9| / sqrt(0.5^2 + 0.5^2) = 1.27 > 1, though they share 10.4 to 10.5.
    found, agree = settled([says(trolley, worked(9.5, 10.5)), says(trolley, worked(10.4, 11.4))])
    assert not agree
    assert (found.lo, found.hi) == (9.5, 11.4)


def test_quantities_that_agree_are_never_known_better_than_by_the_better_of_them(trolley: Thing) -> None:
    found, agree = settled([says(trolley, worked(9.0, 11.0)), says(trolley, worked(9.8, 11.2))])
    assert agree
    assert (found.lo, found.hi) == (9.8, 11.2)


def test_what_is_written_is_as_good_as_its_digits(trolley: Thing) -> None:
    _, agree = settled([says(trolley, mass("10.0 kg")), says(trolley, worked(10.04, 10.04))])
    assert agree
    _, agree = settled([says(trolley, mass("10.0 kg")), says(trolley, worked(10.06, 10.06))])
    assert not agree


def test_the_tolerance_of_the_model_counts_into_the_agreement(trolley: Thing) -> None:
    witnesses = [says(trolley, mass("180 kg")), says(trolley, worked(157.0, 174.7))]
    assert not settled(witnesses)[1]
    assert settled(witnesses, 0.1)[1]


def test_a_bound_agrees_with_what_lies_beyond_it_and_says_nothing_more(trolley: Thing) -> None:
    least = Interval(36.0, inf, "age")
    found, agree = settled([says(trolley, Interval(40.0, 40.0, "age")), says(trolley, least)])
    assert agree
    assert found.lo == 40.0
    assert not settled([says(trolley, Interval(12.0, 12.0, "age")), says(trolley, least)])[1]


def test_the_order_of_witnesses_does_not_matter(trolley: Thing) -> None:
    listed = [says(trolley, mass("100 kg")), says(trolley, worked(157.0, 174.7))]
    first, second = settled(listed), settled(list(reversed(listed)))
    assert (first[0].lo, first[0].hi, first[1]) == (second[0].lo, second[0].hi, second[1])
