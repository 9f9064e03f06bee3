"""A formula as it is printed, read once: `v = Q/(2*pi*x^2)`.

Its right side is arithmetic over letters, numbers and the functions of `FUNCTIONS`; it is read by Python's own
grammar, of which nothing else is let through. Dimensions are checked before any rig is.
"""

from __future__ import annotations

import ast
import re
from collections import Counter
from collections.abc import Mapping
from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

from rigcheck.quantity.dimension import DIMENSIONS, PURE, Dimension, dimension_words
from rigcheck.quantity.notation import NotRead

__all__ = ["FUNCTIONS", "Formula", "formula_dimension", "read_formula"]

FUNCTIONS: Mapping[str, str] = {
    "min": "the least of several",
    "max": "the greatest of several",
    "abs": "the size without the sign",
    "sqrt": "the square root",
    "exp": "e to a power",
    "ln": "the natural logarithm",
    "sin": "of an angle",
    "cos": "of an angle",
    "tan": "of an angle",
    "atan": "the angle of a slope",
    "up": "rounded up to a whole number",
}
"""Every function of a formula, and what it is."""

_ANGLE = DIMENSIONS["angle"]
_SEVERAL = ("min", "max")
_OPERATORS: Mapping[type, str] = {ast.Add: "+", ast.Sub: "-", ast.Mult: "*", ast.Div: "/", ast.Pow: "^"}
_LONGEST = 300


class Formula(NamedTuple):
    """A formula: its text, the letter of its result, its right side, the letters in it, those that stand twice."""

    text: str
    result: str
    body: ast.expr
    letters: tuple[str, ...]
    repeated: tuple[str, ...]


@lru_cache(maxsize=2048)
def read_formula(text: str) -> Formula:
    """Return the formula of a text. Raises `NotRead`."""
    result, _, right = (part.strip() for part in text.partition("="))
    if not right or not result.isidentifier() or len(text) > _LONGEST:
        raise NotRead("This is no formula.", "Write it as 'v = Q/(2*pi*x^2)'.")
    if "**" in right or "//" in right:
        raise NotRead("'**' and '//' are no signs of a formula.", "Write '^' for a power, '/' for a quotient.")
    try:
        body = ast.parse(right.replace("^", "**"), mode="eval").body
    except (SyntaxError, ValueError, RecursionError, MemoryError):
        raise NotRead("This is no formula.", "Write it as 'v = Q/(2*pi*x^2)', each '*' and each bracket.") from None
    _check(body)
    named = [node.func for node in ast.walk(body) if isinstance(node, ast.Call)]
    letters = Counter(
        node.id
        for node in ast.walk(body)
        if isinstance(node, ast.Name) and not any(node is one for one in named) and node.id != "pi"
    )
    return Formula(text, result, body, tuple(letters), tuple(name for name, often in letters.items() if often > 1))


def _check(node: ast.expr) -> None:
    """Let arithmetic through and nothing else."""
    if isinstance(node, ast.BinOp) and type(node.op) in _OPERATORS:
        _check(node.left)
        _check(node.right)
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        _check(node.operand)
    elif isinstance(node, ast.Call):
        _check_call(node)
    elif not isinstance(node, ast.Name) and not (isinstance(node, ast.Constant) and type(node.value) in (int, float)):
        raise NotRead(f"{_shown(node)!r} is no arithmetic.", "Write numbers, letters, + - * / ^ and functions.")


def _check_call(node: ast.Call) -> None:
    name = node.func.id if isinstance(node.func, ast.Name) else ""
    if name not in FUNCTIONS or node.keywords:
        raise NotRead(f"{_shown(node.func)!r} is no function.", f"Write one of: {', '.join(FUNCTIONS)}.")
    if len(node.args) < 2 if name in _SEVERAL else len(node.args) != 1:
        raise NotRead(f"{name!r} is {FUNCTIONS[name]}.", "Give it as many values as that takes.")
    for argument in node.args:
        _check(argument)


def _shown(node: ast.expr) -> str:
    return re.sub(r"\s*\*\*\s*", "^", ast.unparse(node))


# --- dimensions ---


def formula_dimension(formula: Formula, given: Mapping[str, Dimension]) -> Dimension | None:
    """Return the dimension of the right side; None where it is nothing but 0, which has any.

    `given`: that of every letter. Raises `NotRead` where metres meet seconds, KeyError for a letter without one.
    """
    return _dimension(formula.body, given)


def _dimension(node: ast.expr, given: Mapping[str, Dimension]) -> Dimension | None:
    if isinstance(node, ast.Constant):
        return None if node.value == 0 else PURE
    if isinstance(node, ast.Name):
        return PURE if node.id == "pi" else given[node.id]
    if isinstance(node, ast.UnaryOp):
        return _dimension(node.operand, given)
    if isinstance(node, ast.Call):
        return _of_function(node, given)
    assert isinstance(node, ast.BinOp)
    if isinstance(node.op, ast.Pow):
        return _of_power(node, given)
    left, right = _dimension(node.left, given), _dimension(node.right, given)
    if isinstance(node.op, ast.Add | ast.Sub):
        return _same(node, left, right)
    return (left or PURE).times(right or PURE, 1 if isinstance(node.op, ast.Mult) else -1)


def _same(node: ast.expr, *found: Dimension | None) -> Dimension | None:
    known = [one for one in found if one is not None]
    for one in known[1:]:
        if one != known[0]:
            read = f"{_shown(node)!r} puts {dimension_words(known[0])} together with {dimension_words(one)}."
            raise NotRead(read, "Add, subtract and compare only what has one dimension.")
    return known[0] if known else None


def _of_power(node: ast.BinOp, given: Mapping[str, Dimension]) -> Dimension:
    base, power = _dimension(node.left, given) or PURE, _dimension(node.right, given)
    number = _number(node.right)
    if number is not None:
        return PURE.times(base, number)
    if base != PURE or power not in (PURE, None):
        read = f"{_shown(node)!r} is {dimension_words(base)} to the power of what is no number."
        raise NotRead(read, "Write a number as the power, or divide both by what has their dimension.")
    return PURE


def _number(node: ast.expr) -> Fraction | None:
    if isinstance(node, ast.UnaryOp):
        inner = _number(node.operand)
        return None if inner is None else -inner
    if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Div):
        upper, lower = _number(node.left), _number(node.right)
        return upper / lower if upper is not None and lower else None
    return Fraction(str(node.value)) if isinstance(node, ast.Constant) and isinstance(node.value, int | float) else None


def _of_function(node: ast.Call, given: Mapping[str, Dimension]) -> Dimension | None:
    assert isinstance(node.func, ast.Name)
    name, found = node.func.id, [_dimension(one, given) for one in node.args]
    if name in _SEVERAL or name == "abs":
        return _same(node, *found)
    if name == "sqrt":
        return PURE.times(found[0] or PURE, Fraction(1, 2))
    wanted, gives = (_ANGLE, PURE) if name in ("sin", "cos", "tan") else (PURE, _ANGLE if name == "atan" else PURE)
    if found[0] not in (wanted, None):
        words = dimension_words(found[0] or PURE)
        raise NotRead(f"{_shown(node)!r} takes {dimension_words(wanted)}, here {words}.", "Mend what stands in it.")
    return gives
