"""Decisions on measured values against JCGM 106:2012 (Evaluation of measurement data, conformity).

Clause 8.2 (simple acceptance) takes the measured value for the true one; 8.3 puts a guard band of
the expanded uncertainty U between tolerance limit and acceptance limit. Guarded acceptance accepts
only where the whole interval y - U to y + U conforms (8.3.2); guarded rejection rejects only where
none of it does (8.3.3); what lies between is settled by neither. Clause numbers from memory.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcheck.condition.compiler import Judge
from rigcheck.condition.tree import Clause, LimitName, Schema
from rigcheck.quantity.interval import at_least, at_most
from rigcheck.quantity.notation import read_quantity
from rigcheck.quantity.truth import FALSE, TRUE, UNKNOWN, Truth

LIMIT = read_quantity("20 deg", "angle")


def _guarded(measured: Fraction, uncertainty: Fraction, limit: Fraction) -> Truth:
    """Return the decision for an upper tolerance limit: guarded acceptance, then guarded rejection."""
    if measured <= limit - uncertainty:
        return TRUE
    return FALSE if measured > limit + uncertainty else UNKNOWN


@pytest.mark.parametrize(
    ("measured", "decision"),
    [
        ("18.9 ± 1 deg", TRUE),  # inside the acceptance limit of 19
        ("19 ± 1 deg", TRUE),  # at it
        ("19.1 ± 1 deg", UNKNOWN),
        ("19.5 ± 1 deg", UNKNOWN),
        ("20 ± 1 deg", UNKNOWN),  # measured at the limit itself
        ("21 ± 1 deg", UNKNOWN),  # 20 still lies inside, and 20 conforms
        ("21.1 ± 1 deg", FALSE),
        ("20 deg", TRUE),  # simple acceptance: no uncertainty was stated
        ("20.1 deg", FALSE),
    ],
)
def test_an_upper_limit_is_decided_with_a_guard_band_of_the_stated_uncertainty(measured: str, decision: Truth) -> None:
    assert at_most(read_quantity(measured, "angle"), LIMIT) is decision


@pytest.mark.parametrize(
    ("measured", "decision"),
    [
        ("21 ± 1 deg", TRUE),
        ("20.9 ± 1 deg", UNKNOWN),
        ("19 ± 1 deg", UNKNOWN),
        ("18.9 ± 1 deg", FALSE),
        ("20 deg", TRUE),
        ("19.9 deg", FALSE),
    ],
)
def test_a_lower_limit_is_decided_likewise(measured: str, decision: Truth) -> None:
    assert at_least(read_quantity(measured, "angle"), LIMIT) is decision


HUNDREDTHS = st.integers(0, 4000)


@given(HUNDREDTHS, st.integers(0, 500), HUNDREDTHS)
def test_every_decision_is_that_of_the_guard_bands(measured: int, uncertainty: int, limit: int) -> None:
    y, guard, most = (Fraction(number, 100) for number in (measured, uncertainty, limit))
    value = read_quantity(f"{float(y)} ± {float(guard)} deg", "angle")
    bound = read_quantity(f"{float(most)} deg", "angle")
    assert at_most(value, bound) is _guarded(y, guard, most)
    assert at_least(value, bound) is _guarded(-y, guard, -most)


@pytest.mark.parametrize(
    ("keyword", "decisions"),
    [
        ("maximum", (TRUE, UNKNOWN, FALSE)),
        ("exclusiveMaximum", (TRUE, UNKNOWN, FALSE)),
        ("minimum", (FALSE, UNKNOWN, TRUE)),
        ("exclusiveMinimum", (FALSE, UNKNOWN, TRUE)),
    ],
)
def test_the_keywords_decide_inside_accept_outside_reject_straddling_neither(
    keyword: str, decisions: tuple[Truth, ...]
) -> None:
    check = Judge({"tilt": LIMIT}).check(Schema((Clause(keyword, LimitName("tilt")),)))
    measured = ("18 ± 1 deg", "20 ± 1 deg", "22 ± 1 deg")
    assert tuple(check(read_quantity(text, "angle"), None) for text in measured) == decisions


@pytest.mark.parametrize(
    ("keyword", "decision"),
    [("maximum", TRUE), ("minimum", TRUE), ("exclusiveMaximum", FALSE), ("exclusiveMinimum", FALSE)],
)
def test_a_value_at_the_limit_conforms_unless_the_limit_itself_is_excluded(keyword: str, decision: Truth) -> None:
    check = Judge({"tilt": LIMIT}).check(Schema((Clause(keyword, LimitName("tilt")),)))
    assert check(read_quantity("20 deg", "angle"), None) is decision
