"""Slow laws try a part of what there is by default, and all of it by hand: `pytest -m 'whole or not whole'`."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import pytest

__all__ = ["sampled"]


def sampled(cases: Iterable[Any], one_in: int, begin: int = 0) -> list[Any]:
    """Return the cases as parameters of a test; all but each `one_in`th are tried only when the whole is asked for.

    `begin`: the first of them; several tests of the same rigs take others each.
    """
    rows = (case if isinstance(case, tuple) else (case,) for case in cases)
    return [
        pytest.param(*row, marks=() if number % one_in == begin else pytest.mark.whole)
        for number, row in enumerate(rows)
    ]
