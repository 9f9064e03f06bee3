"""Three values: they join as Kleene's strong tables say, and never stand in for a bool."""

from __future__ import annotations

import pytest

from rigcheck.quantity.truth import FALSE, TRUE, UNKNOWN, Truth, all_of, any_of, as_truth, negation


@pytest.mark.parametrize("truth", list(Truth))
def test_a_truth_refuses_to_be_a_bool(truth: Truth) -> None:
    with pytest.raises(TypeError, match="three values"):
        bool(truth)


def test_what_is_known_is_true_or_false() -> None:
    assert (as_truth(True), as_truth(False)) == (TRUE, FALSE)


def test_the_conjunction_of_nothing_is_true_and_the_disjunction_false() -> None:
    assert (all_of([]), any_of([])) == (TRUE, FALSE)


def test_one_false_settles_a_conjunction_wherever_it_stands() -> None:
    assert all_of([UNKNOWN, TRUE, FALSE]) is FALSE
    assert all_of([FALSE, UNKNOWN]) is FALSE


def test_one_true_settles_a_disjunction_wherever_it_stands() -> None:
    assert any_of([UNKNOWN, FALSE, TRUE]) is TRUE
    assert any_of([TRUE, UNKNOWN]) is TRUE


def test_unknown_stays_where_nothing_settles_it() -> None:
    assert all_of([TRUE, UNKNOWN, TRUE]) is UNKNOWN
    assert any_of([FALSE, UNKNOWN, FALSE]) is UNKNOWN
    assert negation(UNKNOWN) is UNKNOWN


def test_a_conjunction_asks_no_further_once_it_is_settled() -> None:
    asked = iter([FALSE, TRUE])
    assert all_of(asked) is FALSE
    assert next(asked) is TRUE
