"""Laws of three-valued logic, tried on every combination of values."""

from __future__ import annotations

from itertools import product

import pytest

from rigcheck.quantity.truth import FALSE, TRUE, UNKNOWN, Truth, all_of, any_of, negation

VALUES = tuple(Truth)
PAIRS = list(product(VALUES, repeat=2))
TRIPLES = list(product(VALUES, repeat=3))


def _both(*truths: Truth) -> Truth:
    return all_of(truths)


def _either(*truths: Truth) -> Truth:
    return any_of(truths)


def test_true_is_the_identity_of_both_and_false_of_either() -> None:
    for p in VALUES:
        assert _both(p, TRUE) is p
        assert _either(p, FALSE) is p


def test_false_settles_both_and_true_settles_either() -> None:
    for p in VALUES:
        assert _both(p, FALSE) is FALSE
        assert _either(p, TRUE) is TRUE


def test_negating_twice_changes_nothing() -> None:
    assert [negation(negation(p)) for p in VALUES] == list(VALUES)


@pytest.mark.parametrize(("p", "q"), PAIRS)
def test_de_morgan(p: Truth, q: Truth) -> None:
    assert negation(_both(p, q)) is _either(negation(p), negation(q))
    assert negation(_either(p, q)) is _both(negation(p), negation(q))


@pytest.mark.parametrize(("p", "q"), PAIRS)
def test_order_and_repetition_do_not_count(p: Truth, q: Truth) -> None:
    assert _both(p, q) is _both(q, p)
    assert _either(p, q) is _either(q, p)
    assert _both(p, p) is _either(p, p) is p


@pytest.mark.parametrize(("p", "q", "r"), TRIPLES)
def test_distributivity_and_grouping(p: Truth, q: Truth, r: Truth) -> None:
    assert _both(p, _either(q, r)) is _either(_both(p, q), _both(p, r))
    assert _either(p, _both(q, r)) is _both(_either(p, q), _either(p, r))
    assert _both(p, q, r) is _both(_both(p, q), r)
    assert _either(p, q, r) is _either(_either(p, q), r)


@pytest.mark.parametrize(("p", "q"), PAIRS)
def test_absorption(p: Truth, q: Truth) -> None:
    assert _both(p, _either(p, q)) is p
    assert _either(p, _both(p, q)) is p


def _learned(truth: Truth) -> tuple[Truth, ...]:
    """Return what a truth may become when more is known."""
    return (TRUE, FALSE, UNKNOWN) if truth is UNKNOWN else (truth,)


@pytest.mark.parametrize("truths", TRIPLES)
def test_more_knowledge_never_turns_a_settled_truth(truths: tuple[Truth, ...]) -> None:
    for more in product(*map(_learned, truths)):
        for join in (all_of, any_of):
            assert join(truths) in (UNKNOWN, join(more))


def test_the_excluded_middle_does_not_hold_for_what_is_unknown() -> None:
    assert _either(UNKNOWN, negation(UNKNOWN)) is UNKNOWN
