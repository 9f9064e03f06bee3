"""A figure as it is written in the pack: its formula, its letters, and where each comes from. Plain data."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from msgspec import Struct

__all__ = ["FIGURES", "LetterRange", "WrittenFigure", "WrittenWay"]

FIGURES = "figures"
"""The folder of figures."""

LetterRange = tuple[float, float]
"""The least and greatest, in base units, between which a formula holds."""


class WrittenWay(Struct, frozen=True):
    """One way to work a figure out.

    `formula`: its text; empty where a stated fact, `stated`, is taken as it is (`alone`: as no witness of it).
    `letters`: letter to the path of a fact, or of a limit (`limit:name`); `constants`: letter to its text and range.
    `measures`: letter to its measure; `valid`: letter to the range in which the formula holds.
    """

    formula: str
    letters: Mapping[str, str]
    constants: Mapping[str, tuple[str, LetterRange]]
    measures: Mapping[str, str]
    valid: Mapping[str, LetterRange]
    only: Mapping[str, tuple[Any, ...]]
    source: str
    validity: str
    stated: str = ""
    alone: bool = False
    asks: bool = True


class WrittenFigure(Struct, frozen=True):
    """A computed fact of a kind of thing, and its ways, tried in order; `file` is where it stands."""

    kind: str
    name: str
    measure: str
    file: str
    ways: tuple[WrittenWay, ...]
    tolerance: float = 0.0
    because: str = ""
