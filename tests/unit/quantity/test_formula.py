"""Formulas: what is let through, what has which dimension, what comes out over ranges."""

from __future__ import annotations

import pytest

from rigcheck.quantity.dimension import DIMENSIONS, PURE
from rigcheck.quantity.formula import formula_dimension, read_formula
from rigcheck.quantity.formula_range import formula_range
from rigcheck.quantity.notation import NotRead

GIVEN = {"Q": DIMENSIONS["flow"], "x": DIMENSIONS["length"], "a": DIMENSIONS["angle"], "n": PURE}


@pytest.mark.parametrize(
    ("text", "measure"),
    [
        ("v = Q/(2*pi*x^2)", "speed"),
        ("V = x^3", "volume"),
        ("A = sqrt(x^4)", "area"),
        ("V = (x^2)^(3/2)", "volume"),
        ("s = sin(a)*exp(n)", "share"),
        ("t = atan(x/x)", "angle"),
        ("r = max(0, x)", "length"),
        ("r = n^n", "count"),
    ],
)
def test_a_formula_has_the_dimension_of_its_arithmetic(text: str, measure: str) -> None:
    assert formula_dimension(read_formula(text), GIVEN) == DIMENSIONS[measure]


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("v = Q + x", "'Q + x' puts flow together with length."),
        ("v = sin(x)", "'sin(x)' takes angle, here length."),
        ("v = exp(a)", "'exp(a)' takes a plain number, here angle."),
        ("v = x^n", "'x^n' is length to the power of what is no number."),
        ("v = max(x, Q)", "'max(x, Q)' puts length together with flow."),
    ],
)
def test_what_does_not_go_together_is_refused(text: str, says: str) -> None:
    with pytest.raises(NotRead) as caught:
        formula_dimension(read_formula(text), GIVEN)
    assert caught.value.wrong == says


@pytest.mark.parametrize(
    "text",
    [
        "v",
        "v =",
        "v = Q +",
        "v = Q**2",
        "v = Q.real",
        "v = Q if x else n",
        "v = [Q]",
        "v = 'Q'",
        "v = open(Q)",
        "v = __import__('os')",
        "v = min(Q)",
        "v = exp(Q, x)",
        "v = lambda: Q",
        "v = True",
        "2 = Q",
        "v = " + "(" * 2000 + "Q" + ")" * 2000,
    ],
)
def test_what_is_no_arithmetic_is_refused(text: str) -> None:
    with pytest.raises(NotRead):
        read_formula(text)


def test_a_letter_that_stands_once_gives_the_exact_range() -> None:
    ranges = {"Q": (0.1, 0.2), "x": (1.0, 2.0)}
    assert formula_range(read_formula("v = Q/x^2"), ranges) == (0.025, 0.2)


def test_a_letter_that_stands_twice_is_taken_at_one_end() -> None:
    # Taken as two letters, the quotient would run from 0 to 1.
    assert formula_range(read_formula("s = (a - b)/a"), {"a": (2.0, 4.0), "b": (1.0, 1.0)}) == (0.5, 0.75)


def test_a_letter_in_which_the_formula_turns_round_is_never_narrowed() -> None:
    low, high = formula_range(read_formula("s = a*(1 - a)"), {"a": (0.0, 1.0)})
    assert low <= 0.0 and high >= 0.25


def test_a_wave_has_its_top_between_its_ends() -> None:
    assert formula_range(read_formula("s = sin(a)"), {"a": (30.0, 150.0)}) == (pytest.approx(0.5), 1.0)


def test_rounding_up_forgives_a_rounding_error() -> None:
    assert formula_range(read_formula("n = up(a)"), {"a": (3.0000000001, 3.2)}) == (3.0, 4.0)


@pytest.mark.parametrize(
    ("text", "ranges"),
    [("v = 1/a", {"a": (-1.0, 1.0)}), ("v = ln(a)", {"a": (0.0, 1.0)}), ("v = sqrt(a)", {"a": (-1.0, 1.0)})],
)
def test_a_range_with_no_result_in_it_is_refused(text: str, ranges: dict[str, tuple[float, float]]) -> None:
    with pytest.raises((ArithmeticError, ValueError)):
        formula_range(read_formula(text), ranges)
