"""What a formula comes to over ranges: from the least to the greatest, with nothing left out.

Where each letter stands once, the range is exact. A letter that stands more than once is taken at the end that makes
the value least or greatest, if the slope in it has one sign over all of the ranges, and that is exact too; if not,
the range may be wider than it must be, and is never narrower.
Source: Introduction to Interval Analysis (SIAM, 2009), ch. 5 and 6 (from memory).
"""

from __future__ import annotations

import ast
from collections.abc import Callable, Mapping
from itertools import pairwise
from math import atan, ceil, cos, degrees, exp, floor, inf, log, pi, radians, sin, sqrt, tan

from rigcheck.quantity.formula import Formula

__all__ = ["formula_range"]

Span = tuple[float, float]
_Given = Mapping[str, Span]

_SLACK = 1e-9  # relative; a whole number that arithmetic pushed up by a rounding error is still whole


def formula_range(formula: Formula, given: _Given) -> Span:
    """Return the least and greatest of a formula; `given`: (least, greatest) of each letter, in SI.

    Raises ArithmeticError or ValueError where some value in the ranges has no result: a quotient by nothing.
    """
    least, greatest = dict(given), dict(given)
    turned = False
    for name in formula.repeated:
        low, high = given[name]
        if low == high:
            continue
        way = _way(formula.body, given, name)
        if way:
            turned = True
            least[name], greatest[name] = ((low, low), (high, high)) if way > 0 else ((high, high), (low, low))
    found = _value(formula.body, least)
    return (found[0], _value(formula.body, greatest)[1]) if turned else found


def _value(node: ast.expr, given: _Given) -> Span:
    if isinstance(node, ast.Constant):
        assert isinstance(node.value, int | float)
        return float(node.value), float(node.value)
    if isinstance(node, ast.Name):
        return (pi, pi) if node.id == "pi" else given[node.id]
    if isinstance(node, ast.UnaryOp):
        return _minus(_value(node.operand, given))
    if isinstance(node, ast.BinOp):
        return _BINARY[type(node.op)](_value(node.left, given), _value(node.right, given))
    assert isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
    values = [_value(one, given) for one in node.args]
    if node.func.id in _SEVERAL:
        choose = _SEVERAL[node.func.id]
        return choose(low for low, _ in values), choose(high for _, high in values)
    return _SINGLE[node.func.id](values[0])


# --- the four rules, powers and functions, over ranges ---


def _minus(one: Span) -> Span:
    return -one[1], -one[0]


def _plus(one: Span, other: Span) -> Span:
    return one[0] + other[0], one[1] + other[1]


def _times(one: Span, other: Span) -> Span:
    products = [_product(first, second) for first in one for second in other]
    return min(products), max(products)


def _product(one: float, other: float) -> float:
    return one * other if one and other else 0.0  # nothing times a slope without end is nothing


def _over(one: Span, other: Span) -> Span:
    if other[0] <= 0.0 <= other[1]:
        raise ZeroDivisionError
    return _times(one, (1.0 / other[1], 1.0 / other[0]))


def _power(base: Span, power: Span) -> Span:
    if power[0] != power[1]:
        low, high = _times(_ln(base), power)
        return exp(low), exp(high)
    number = power[0]
    if base[0] < 0.0 and not number.is_integer():
        raise ValueError("a root of what is below nothing")
    if base[0] <= 0.0 <= base[1] and number < 0.0:
        raise ZeroDivisionError
    ends = sorted((base[0] ** number, base[1] ** number))
    return (0.0, ends[1]) if base[0] < 0.0 < base[1] and number % 2 == 0 else (ends[0], ends[1])


def _ln(one: Span) -> Span:
    return log(one[0]), log(one[1])


def _abs(one: Span) -> Span:
    least = 0.0 if one[0] <= 0.0 <= one[1] else min(abs(one[0]), abs(one[1]))
    return least, max(abs(one[0]), abs(one[1]))


def _sin(one: Span) -> Span:
    return _wave(sin, one, 90.0)


def _cos(one: Span) -> Span:
    return _wave(cos, one, 0.0)


def _wave(function: Callable[[float], float], one: Span, top: float) -> Span:
    """Return a sine or cosine over angles in degrees; `top`: an angle at which it is 1."""
    ends = [function(radians(end)) for end in one]
    tops, bottoms = (floor((one[1] - at) / 360.0) >= (one[0] - at) / 360.0 for at in (top, top + 180.0))
    return (-1.0 if bottoms else min(ends)), (1.0 if tops else max(ends))


def _tan(one: Span) -> Span:
    if not -90.0 < one[0] <= one[1] < 90.0:
        raise ZeroDivisionError
    return tan(radians(one[0])), tan(radians(one[1]))


def _up(one: Span) -> Span:
    low, high = (float(ceil(end - _SLACK * max(1.0, abs(end)))) for end in one)
    return low, high


_BINARY: Mapping[type, Callable[[Span, Span], Span]] = {
    ast.Add: _plus,
    ast.Sub: lambda one, other: _plus(one, _minus(other)),
    ast.Mult: _times,
    ast.Div: _over,
    ast.Pow: _power,
}
_SEVERAL: Mapping[str, Callable[..., float]] = {"min": min, "max": max}
_SINGLE: Mapping[str, Callable[[Span], Span]] = {
    "abs": _abs,
    "sqrt": lambda one: (sqrt(one[0]), sqrt(one[1])),
    "exp": lambda one: (exp(one[0]), exp(one[1])),
    "ln": _ln,
    "sin": _sin,
    "cos": _cos,
    "tan": _tan,
    "atan": lambda one: (degrees(atan(one[0])), degrees(atan(one[1]))),
    "up": _up,
}

# --- slopes ---

_PIECES = 8  # into which a range is cut, where the slope over all of it at once has both signs
_FLAT: Span = (0.0, 0.0)
_DEGREE = pi / 180.0


def _way(body: ast.expr, given: _Given, name: str) -> int:
    """Return 1 where a formula only rises in a letter, -1 where it only falls, 0 where that is not sure."""
    slope = _slope(body, given, name)
    if slope[0] >= 0.0 or slope[1] <= 0.0:
        return 1 if slope[0] >= 0.0 else -1
    low, high = given[name]
    cuts = [low + (high - low) * piece / _PIECES for piece in range(_PIECES)] + [high]
    slopes = [_slope(body, {**given, name: ends}, name) for ends in pairwise(cuts)]
    if all(one[0] >= 0.0 for one in slopes):
        return 1
    return -1 if all(one[1] <= 0.0 for one in slopes) else 0


def _slope(node: ast.expr, given: _Given, name: str) -> Span:
    """Return the range of the derivative in one letter; of a step (rounding up) from flat to as steep as can be."""
    if isinstance(node, ast.Constant):
        return _FLAT
    if isinstance(node, ast.Name):
        return (1.0, 1.0) if node.id == name else _FLAT
    if isinstance(node, ast.UnaryOp):
        return _minus(_slope(node.operand, given, name))
    if isinstance(node, ast.BinOp):
        return _slope_of_two(node, given, name)
    assert isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
    slopes = [_slope(one, given, name) for one in node.args]
    if node.func.id in _SEVERAL:
        return min(low for low, _ in slopes), max(high for _, high in slopes)
    if slopes[0] == _FLAT:
        return _FLAT
    return _times(_OUTER[node.func.id](_value(node.args[0], given)), slopes[0])


def _slope_of_two(node: ast.BinOp, given: _Given, name: str) -> Span:
    first, second = _slope(node.left, given, name), _slope(node.right, given, name)
    if first == _FLAT and second == _FLAT:
        return _FLAT
    if isinstance(node.op, ast.Add | ast.Sub):
        return _plus(first, second if isinstance(node.op, ast.Add) else _minus(second))
    one, other = _value(node.left, given), _value(node.right, given)
    if isinstance(node.op, ast.Mult):
        return _plus(_times(first, other), _times(one, second))
    if isinstance(node.op, ast.Div):
        return _over(_plus(_times(first, other), _minus(_times(one, second))), _power(other, (2.0, 2.0)))
    if second == _FLAT and other[0] == other[1]:
        return _times(_times(other, _power(one, (other[0] - 1.0, other[0] - 1.0))), first)
    rise = _plus(_times(second, _ln(one)), _times(other, _over(first, one)))
    return _times(_power(one, other), rise)


def _sign(one: Span) -> Span:
    return (1.0 if one[0] >= 0.0 else -1.0), (-1.0 if one[1] <= 0.0 else 1.0)


_OUTER: Mapping[str, Callable[[Span], Span]] = {
    "abs": _sign,
    "sqrt": lambda one: (0.5 / sqrt(one[1]), 0.5 / sqrt(one[0]) if one[0] > 0.0 else inf),
    "exp": lambda one: (exp(one[0]), exp(one[1])),
    "ln": lambda one: (1.0 / one[1], 1.0 / one[0]) if one[0] > 0.0 else (0.0, inf),
    "sin": lambda one: _times(_cos(one), (_DEGREE, _DEGREE)),
    "cos": lambda one: _times(_minus(_sin(one)), (_DEGREE, _DEGREE)),
    "tan": lambda one: (_DEGREE, inf),
    "atan": lambda one: (0.0, 1.0 / _DEGREE),
    "up": lambda one: (0.0, inf),
}
"""The slope of each function; a bound of it for some."""
