"""Formulas over ranges: what any values inside the ranges come to lies inside what the ranges come to."""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcheck.facts.written_figures import way_range
from rigcheck.quantity.formula import read_formula
from rigcheck.quantity.formula_range import formula_range
from rigcheck.rules.pack import Pack
from rigcheck.rules.written_figure import WrittenWay

LETTERS = ("a", "b", "c")
ends = st.tuples(st.floats(-5.0, 5.0), st.floats(0.0, 3.0)).map(lambda of: (of[0], of[0] + of[1]))


def grown(inner: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
    two = st.tuples(inner, st.sampled_from("+-*/"), inner).map(lambda of: f"({of[0]} {of[1]} {of[2]})")
    power = st.tuples(inner, st.sampled_from(["2", "3", "-1"])).map(lambda of: f"({of[0]})^({of[1]})")
    single = st.tuples(st.sampled_from(["abs", "sqrt", "exp", "ln", "sin", "cos", "atan", "up"]), inner)
    several = st.tuples(st.sampled_from(["min", "max"]), inner, inner).map(lambda of: f"{of[0]}({of[1]}, {of[2]})")
    return two | power | single.map(lambda of: f"{of[0]}({of[1]})") | several


formulas = st.recursive(st.sampled_from([*LETTERS, "2", "0.5", "pi"]), grown, max_leaves=6)


@settings(max_examples=80, deadline=None)
@given(right=formulas, spans=st.tuples(ends, ends, ends), seed=st.integers(0, 2**32))
def test_any_formula_of_values_inside_lies_inside(
    right: str, spans: tuple[tuple[float, float], ...], seed: int
) -> None:
    formula, random = read_formula(f"v = {right}"), Random(seed)
    ranges = dict(zip(LETTERS, spans, strict=True))
    try:
        low, high = formula_range(formula, ranges)
    except (ArithmeticError, ValueError):
        return
    for _ in range(12):
        inside = {name: random.choice((lo, hi, random.uniform(lo, hi))) for name, (lo, hi) in ranges.items()}
        found = formula_range(formula, {name: (value, value) for name, value in inside.items()})
        slack = 1e-9 * max(abs(low), abs(high), 1.0) if abs(low) + abs(high) < float("inf") else 0.0
        assert low - slack <= found[0] <= found[1] <= high + slack


def ways(pack: Pack) -> list[tuple[str, str, WrittenWay]]:
    return [(name, one.measure, way) for name, one in pack.figures.items() for way in one.ways if way.formula]


def test_every_figure_of_the_pack_holds_the_corners_of_its_ranges_and_no_more(pack: Pack) -> None:
    # Not listed: a figure that is added is tried with the others, around the values of numbers like its own.
    random = Random(20261127)
    usual = {"temperature": 290.0, "pressure": 3e5, "angle": 12.0, "volume": 40.0, "flow": 4e-4, "share": 0.3}
    tried = 0
    for name, measure, way in ways(pack):
        for _ in range(20):
            spans = {}
            for letter in way.letters:
                least, greatest = way.valid.get(letter, (0.0, float("inf")))
                middle = usual.get(way.measures[letter], 2.0) * random.uniform(0.9, 1.1)
                middle = min(max(middle, least), greatest)
                width = random.choice((0.0, 0.02, 0.1)) * middle
                spans[letter] = max(least, middle - width), min(greatest, middle + width)
            found = way_range(way, measure, spans)
            if found is None:
                continue
            for _ in range(6):
                inside = {key: random.choice((*span, random.uniform(*span))) for key, span in spans.items()}
                one = way_range(way, measure, {key: (value, value) for key, value in inside.items()})
                assert one is not None, name
                slack = 1e-9 * max(abs(found[0]), abs(found[1])) + 1e-12
                assert found[0] - slack <= one[0] <= one[1] <= found[1] + slack, name
                tried += 1
    assert tried > 20 * len(ways(pack))


@pytest.mark.parametrize("text", ["v = (a - b)/a", "v = a/(a + b)", "v = a*exp(-b*a)", "v = b*a^2 - a"])
def test_where_it_only_rises_or_falls_the_range_is_that_of_the_corners(text: str) -> None:
    formula, ranges = read_formula(text), {"a": (2.0, 2.2), "b": (1.0, 1.1)}
    corners = [formula_range(formula, {"a": (a, a), "b": (b, b)})[0] for a in ranges["a"] for b in ranges["b"]]
    assert formula_range(formula, ranges) == pytest.approx((min(corners), max(corners)), rel=1e-12)
