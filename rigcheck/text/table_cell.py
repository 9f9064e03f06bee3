"""Cells of tables that people open in a spreadsheet, which takes some of them for formulas and reckons with them."""

from __future__ import annotations

__all__ = ["guarded", "is_formula", "unguarded"]

_FORMULA = ("=", "+", "-", "@", "＝", "＋", "－", "＠")


def is_formula(cell: str) -> bool:
    """Whether a spreadsheet takes a cell for a formula.

    >>> is_formula(" =1+1"), is_formula("8 mm"), is_formula("'-5 degC")
    (True, False, False)
    """
    return cell.lstrip().startswith(_FORMULA)


def guarded(cell: str) -> str:
    """Return a cell with an apostrophe before it where a spreadsheet would reckon with it; `unguarded` takes it back.

    >>> guarded("=1+1"), guarded("8 mm"), guarded("'=1")
    ("'=1+1", '8 mm', "''=1")
    """
    return f"'{cell}" if is_formula(cell.lstrip().lstrip("'")) else cell


def unguarded(cell: str) -> str:
    """Return what a guarded cell says.

    >>> unguarded("'-5 degC"), unguarded("'quoted'")
    ('-5 degC', "'quoted'")
    """
    return cell[1:] if cell.startswith("'") and guarded(cell[1:]) == cell else cell
